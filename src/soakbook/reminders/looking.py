"""One look: everything that fell due since the last one is decided and put into the outbox.

A sleep, a crash, a missed waking and a day skipped are one case: the span from the last moment decided to now. What is
decided and how far has been decided go into the book in one transaction; when another program has decided the
span meanwhile, nothing is written and it is looked at anew.
"""

from collections.abc import Sequence
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.records import Garden
from soakbook.garden.reminding import Notice, Reminder
from soakbook.quantities.dates import long_day
from soakbook.reminders.asked import SightAt
from soakbook.reminders.deciding import TOLD_DAYS, decide
from soakbook.reminders.instants import Instant, due_instants, looked_from
from soakbook.reminders.kinds import settings_of
from soakbook.reminders.sights import sights_of
from soakbook.reminders.wall_times import moment_of
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_garden, read_records
from soakbook.store.outbox import (
    Decided,
    Incident,
    add_incident,
    add_notices,
    put_decided,
    read_decided,
    read_notices,
)

SET_BACK = timedelta(minutes=5)
"""A clock may be put right by so much without a word."""

SAID_AGAIN = timedelta(hours=1)
"""How often it is written down how far was decided, where nothing fell due."""


class Looked(NamedTuple):
    """What came of a look."""

    decided: tuple[Notice, ...]
    """New in the outbox."""
    say: str = ""
    """What whoever keeps the clock should know; mostly nothing."""
    is_noted: bool = False
    """Whether that is among the book's incidents already."""


def look(path: Path, *, now: datetime, sight_at: SightAt | None = None) -> Looked:
    """Decide everything that fell due up to now, and put it into the outbox, a day at a time.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware. Where it lies more than five minutes before a moment at which it was looked before, the clock has
        been set back: nothing is decided until it has caught up.
    sight_at : callable, optional
        What was known at a moment; else it is read from the book.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    """
    now = now.astimezone(UTC)
    sight_at = sight_at or sights_of(path, now)
    found: list[Notice] = []
    say, up_to = "", None
    with open_book(path) as book:
        while up_to != now:
            garden, last = read_garden(book), read_decided(book)
            before = last or Decided(_midnight(garden, now), now)
            if now < before.greatest_now - SET_BACK:
                return Looked(tuple(found), _set_back(before.greatest_now, garden))
            since = looked_from(before.up_to, now)
            say = _slept(before.up_to, since, garden) if since > before.up_to else say
            settings = settings_of(read_records(book, Reminder), garden)
            instants = due_instants(settings, garden, since, now)
            if last and not instants and now - last.greatest_now < SAID_AGAIN:
                break
            first = _of_one_day(instants)
            until = now if len(first) == len(instants) else first[-1].at
            told = read_notices(book, since=since.date() - timedelta(days=TOLD_DAYS))
            new = decide(first, {one.kind: one for one in settings}, told, sight_at, now)
            with book.writing():
                if read_decided(book) != last:
                    continue
                put_decided(book, Decided(until, max(now, before.greatest_now)))
                add_notices(book, new)
                if since > before.up_to:
                    add_incident(book, Incident(now, say))
            found += new
            up_to = until
    return Looked(tuple(found), say, is_noted=bool(say))


def _of_one_day(instants: Sequence[Instant]) -> Sequence[Instant]:
    """The first of the instants, of one day; what falls on the same moment stays together."""
    count = sum(1 for one in instants if one.for_day == instants[0].for_day)
    while 0 < count < len(instants) and instants[count].at == instants[count - 1].at:
        count += 1
    return instants[:count]


def _midnight(garden: Garden, now: datetime) -> datetime:
    """A book of which nobody was ever reminded is looked at from this morning on."""
    zone = ZoneInfo(garden.timezone)
    return moment_of(now.astimezone(zone).date(), time(0), zone) - timedelta(seconds=1)


def _set_back(greatest: datetime, garden: Garden) -> str:
    return (
        f"The clock has been at {_on_the_clock(greatest, garden)} before: it was put back, or stood wrong. Nothing is "
        "decided until then. If it is right now: soakbook remind once --clock-is-right."
    )


def _slept(up_to: datetime, since: datetime, garden: Garden) -> str:
    return (
        f"Nobody looked from {_on_the_clock(up_to, garden)} on: what was due before "
        f"{_on_the_clock(since, garden)} is too old and was not gone through."
    )


def _on_the_clock(moment: datetime, garden: Garden) -> str:
    local = moment.astimezone(ZoneInfo(garden.timezone))
    return f"{local:%H:%M} on {long_day(local.date())}"
