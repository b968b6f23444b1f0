"""The book's history for a gardener to read: what happened, who wrote it when, and what was corrected since."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime
from functools import partial
from pathlib import Path
from typing import Literal, NamedTuple

from soakbook.garden.entries import ENTRY_TYPES, BedEntry, Kept, Soak, Void, When
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.quantities.dates import parse_day
from soakbook.reckoning.advice.report import as_json
from soakbook.reckoning.simulation.touches import moment_of
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.books import reading
from soakbook.services.change_words import change_words
from soakbook.services.desk import bed_of
from soakbook.services.entry_words import entry_words, typed_of
from soakbook.services.far_more import Habits
from soakbook.services.history import History, history_of, same_name
from soakbook.services.told import Report
from soakbook.store.changes import Change, changes
from soakbook.store.pages import read_pages
from soakbook.store.refusals import readable
from soakbook.store.texts import garden_zone

LOG_SCHEMA = "soakbook.log/1"

SCREENFUL = 20
"""So many of the newest are shown where no days are named."""


class Wanted(NamedTuple):
    """What of the history is asked for, as typed; None where nothing was said."""

    bed: str | None = None
    by: str | None = None
    since: str | None = None
    until: str | None = None
    every: bool = False
    """Whether what was corrected or taken back is shown too."""


class Earlier(NamedTuple):
    """What stood in the place of an entry before it."""

    handle: str
    uid: str
    what: str
    happened_at: str
    written_at: str
    by: str | None
    corrected_by: str | None
    say: str
    typed: str | None


class LogLine(NamedTuple):
    """An entry, or a change of a lasting thing, which has no handle."""

    of: Literal["entry", "change"]
    handle: str | None
    uid: str
    what: str
    bed: str | None
    happened_at: str
    written_at: str
    by: str | None
    corrected_by: str | None
    say: str
    typed: str | None
    note: str | None
    corrected: bool
    """Whether it stands in the place of an earlier one."""
    doubtful: str | None
    """What is odd about the amount of a soak, where nobody has said that it is meant."""
    holds: bool
    earlier: tuple[Earlier, ...]


class Log(NamedTuple):
    """The history asked for, newest last."""

    schema: str
    garden: str
    today: date
    lines: tuple[LogLine, ...]
    left_out: int
    """Older ones that are not shown."""


def log_report(path: Path, wanted: Wanted, *, now: datetime) -> Report:
    """The history of a book.

    Parameters
    ----------
    path : Path
        The book.
    wanted : Wanted
        What of it.
    now : datetime
        Zone-aware.

    Raises
    ------
    InputError
        No such bed, or a day that cannot be read.
    BookError
        The book cannot be opened, or a line of its log cannot be read.
    """
    with reading(path) as book, readable(path):
        pages = read_pages(book)
        history, changed = history_of(book, pages), changes(book)
    zone = garden_zone(pages.garden)
    today = now.astimezone(zone).date()
    bed_uid = None if wanted.bed is None else bed_of(pages, wanted.bed).uid
    first, last = (
        None if text is None else parse_day(text, name, today)
        for name, text in (("since", wanted.since), ("until", wanted.until))
    )
    with readable(path):
        found = [
            one
            for one in (
                *_entries(history, bed_uid, wanted),
                *_changes(pages, changed, bed_uid, today),
            )
            if (first or date.min) <= local_day(one.when, zone) <= (last or date.max)
            and (wanted.by is None or any(same_name(name, wanted.by) for name in one.who))
        ]
        found.sort(key=lambda one: (moment_of(one.when, pages).astimezone(UTC), one.written_at))
        shown = [one.line() for one in (found if first or last else found[-SCREENFUL:])]
    report: Report = as_json(
        Log(LOG_SCHEMA, pages.garden.name, today, tuple(shown), len(found) - len(shown))
    )
    return report


class _Found(NamedTuple):
    """What may be a line: only those that are shown are put into words."""

    when: When
    written_at: datetime
    who: tuple[str | None, ...]
    line: Callable[[], LogLine]


def _entries(history: History, bed_uid: Uid | None, wanted: Wanted) -> Iterator[_Found]:
    """A line for what stands at the end of each chain of corrections."""
    habits = Habits(history.pages)
    for last in history.written:
        if last.uid in history.later or (isinstance(last, Void) and not wanted.every):
            continue
        chain = _chain(history, last)
        what = next(one for one in chain if not isinstance(one, Void))
        of_bed = what.bed_uid if isinstance(what, BedEntry) else None
        if bed_uid is not None and of_bed != bed_uid:
            continue
        line = partial(_of_entry, history, chain, habits, every=wanted.every)
        who = (what.by, last.by, last.corrected_by)  # taken back, it is still what they did
        yield _Found(what.happened_at, last.written_at, who, line)


def _of_entry(history: History, chain: Sequence[Kept], habits: Habits, *, every: bool) -> LogLine:
    last = chain[0]
    what = next(one for one in chain if not isinstance(one, Void))
    far = habits.doubtful(last) if isinstance(last, Soak) else None
    of_bed = what.bed_uid if isinstance(what, BedEntry) else None
    say = entry_words(what, history.pages)
    return LogLine(
        of="entry",
        handle=history.handles[last.uid],
        uid=last.uid,
        what=_KINDS[type(what)],
        bed=next((one.key for one in history.pages.beds if one.uid == of_bed), None),
        happened_at=what.happened_at.isoformat(),
        written_at=last.written_at.isoformat(),
        by=last.by,
        corrected_by=last.corrected_by,
        say=f"taken back: {say}" if isinstance(last, Void) else say,
        typed=typed_of(what),
        note=what.note,
        corrected=len(chain) > 1,
        doubtful=far.say if far else None,
        holds=last is what,
        earlier=_earlier(history, chain[1:]) if every else (),
    )


def _chain(history: History, last: Kept) -> list[Kept]:
    """An entry and what it supersedes, newest first."""
    chain = [last]
    while (before := chain[-1].supersedes) is not None:
        chain.append(history.by_uid[before])
    return chain


def _earlier(history: History, chain: Sequence[Kept]) -> tuple[Earlier, ...]:
    return tuple(
        Earlier(
            handle=history.handles[one.uid],
            uid=one.uid,
            what=_KINDS[type(one)],
            happened_at=one.happened_at.isoformat(),
            written_at=one.written_at.isoformat(),
            by=one.by,
            corrected_by=one.corrected_by,
            say=entry_words(one, history.pages),
            typed=typed_of(one),
        )
        for one in chain
    )


def _changes(
    pages: Pages, changed: Sequence[Change], bed_uid: Uid | None, today: date
) -> Iterator[_Found]:
    names = {bed.uid: bed.name for bed in pages.beds} | {one.uid: one.name for one in pages.people}
    keys = {bed.uid: bed.key for bed in pages.beds}
    zone = garden_zone(pages.garden)
    for one in changed:
        beds = _beds_of(one)
        if bed_uid is not None and bed_uid not in beds:
            continue
        at = one.at.astimezone(zone)
        line = partial(_of_change, one, at, keys.get(beds[0]) if beds else None, names, today)
        yield _Found(at, at, (one.by,), line)


def _of_change(
    one: Change, at: datetime, bed: str | None, names: Mapping[Uid, str], today: date
) -> LogLine:
    return LogLine(
        of="change",
        handle=None,
        uid=one.uid,
        what=one.what,
        bed=bed,
        happened_at=at.isoformat(),
        written_at=at.isoformat(),
        by=one.by,
        corrected_by=None,
        say=change_words(one, names, today),
        typed=None,
        note=None,
        corrected=False,
        doubtful=None,
        holds=True,
        earlier=(),
    )


def _beds_of(change: Change) -> list[Uid]:
    """Uids of the beds that a change is about: of a planting that moved, both."""
    if change.what == "bed":
        return [change.uid]
    if change.what != "planting":
        return []
    return [one["bed_uid"] for one in (change.after, change.before) if one is not None]


_KINDS = {record: kind for kind, record in ENTRY_TYPES.items()}
