"""What came of reminders, as `--json` gives it: what was decided and sent, what was met with. No address is in it."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.pages import Pages
from soakbook.garden.reminding import Channel, Notice, NoticeState, ReminderKind
from soakbook.reckoning.advice.report import as_json
from soakbook.services.told import Report
from soakbook.store.book import open_book
from soakbook.store.outbox import read_incidents, read_notices
from soakbook.store.pages import read_pages

REMIND_SCHEMA = "soakbook.remind/1"
NEWEST = 20


class NoticeSaid(NamedTuple):
    """One reminder: what, for whom, its text, and what became of it."""

    uid: str
    what: ReminderKind
    whom: str
    """A name; empty where nobody is entered, or the person is no longer there."""
    about: str
    for_day: str
    title: str
    body: str
    beds: tuple[str, ...]
    """Keys."""
    due_at: str
    not_after: str
    state: NoticeState
    channel: Channel | None
    tries: int
    answer: str
    settled_at: str | None


class IncidentSaid(NamedTuple):
    """What the reminders' own clock met with."""

    at: str
    say: str


class RemindReport(NamedTuple):
    """What came of reminders; moments are on the garden's clock."""

    schema: str
    garden: str
    today: str
    say: tuple[str, ...]
    notices: tuple[NoticeSaid, ...]
    incidents: tuple[IncidentSaid, ...]
    older: bool
    """Whether there is more, older than what is shown."""


def log_report(path: Path, *, now: datetime, every: bool = False) -> Report:
    """What was sent to whom, and what was met with, oldest first.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    every : bool
        All of it; else the newest twenty.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    with open_book(path, read_only=True) as book:
        newest = None if every else NEWEST + 1
        pages, notices = read_pages(book), read_notices(book, newest=newest)
        incidents = read_incidents(book, -1 if every else NEWEST)
    zone = ZoneInfo(pages.garden.timezone)
    older = not every and len(notices) > NEWEST
    shown = notices[1:] if older else notices
    report = report_of(pages, now, notices=shown)._replace(
        incidents=tuple(IncidentSaid(_local(one.at, zone), one.say) for one in incidents),
        older=older,
    )
    plain: Report = as_json(report)
    return plain


def report_of(
    pages: Pages, now: datetime, *, notices: Iterable[Notice] = (), say: Iterable[str] = ()
) -> RemindReport:
    """A report of some reminders."""
    zone = ZoneInfo(pages.garden.timezone)
    names = {one.uid: one.name for one in pages.people}
    keys = {one.uid: one.key for one in pages.beds}
    return RemindReport(
        schema=REMIND_SCHEMA,
        garden=pages.garden.name,
        today=now.astimezone(zone).date().isoformat(),
        say=tuple(say),
        notices=tuple(_said(one, names, keys, zone) for one in notices),
        incidents=(),
        older=False,
    )


def _said(
    notice: Notice, names: Mapping[str, str], keys: Mapping[str, str], zone: ZoneInfo
) -> NoticeSaid:
    return NoticeSaid(
        uid=notice.uid,
        what=notice.what,
        whom=names.get(notice.whom, ""),
        about=notice.about,
        for_day=notice.for_day.isoformat(),
        title=notice.title,
        body=notice.body,
        beds=tuple(keys[uid] for uid in notice.beds if uid in keys),
        due_at=_local(notice.due_at, zone),
        not_after=_local(notice.not_after, zone),
        state=notice.state,
        channel=notice.channel,
        tries=notice.tries,
        answer=notice.answer,
        settled_at=None if notice.settled_at is None else _local(notice.settled_at, zone),
    )


def _local(moment: datetime, zone: ZoneInfo) -> str:
    return moment.astimezone(zone).isoformat()
