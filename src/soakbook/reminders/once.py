"""One time round for cron: ask for weather, decide, send, tidy. The outbox is the same as if a clock had run."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.reminding import Notice
from soakbook.reckoning.advice.report import as_json
from soakbook.reminders import errands
from soakbook.reminders.report import report_of
from soakbook.services.told import Report
from soakbook.store.book import open_book
from soakbook.store.outbox import (
    WAIT_AT_MOST,
    Decided,
    Incident,
    add_incident,
    forget_ahead,
    put_decided,
    read_decided,
    read_incidents,
    read_notices,
)
from soakbook.store.pages import read_pages


def once(
    path: Path,
    clock: Callable[[], datetime],
    *,
    offline: bool = False,
    calendar: Path | None = None,
) -> Report:
    """What came of one time round, as `--json` gives it.

    Parameters
    ----------
    path : Path
        The book.
    clock : callable
        The present moment, zone-aware.
    offline : bool
        No weather is asked for.
    calendar : Path, optional
        A calendar file that is brought up.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    InputError
        The file of addresses, the calendar, or an address of a weather service cannot be right: what is due is in the
        outbox all the same, and sent where it can be.
    """
    now = clock()
    say: list[str] = []
    done: tuple[Notice, ...] = ()
    faults: list[InputError] = []
    with _gone_on(faults):
        say += () if offline else errands.fetch(path, now)
    looked = errands.decide(path, now)
    say += [looked.say] if looked.say else []
    met = _met_with(path, looked.say, now)
    with _gone_on(faults):
        done = errands.send(path, clock)
    with _gone_on(faults):
        if calendar is not None:
            errands.keep_calendar(path, calendar, now)
    errands.tidy(path, now)
    if faults:
        raise faults[0]
    with open_book(path, read_only=True) as book:
        pages, waiting = read_pages(book), read_notices(book, state="due")
    told = _told(looked.decided, done, waiting)
    report: Report = as_json(report_of(pages, now, notices=told, say=say, incidents=met))
    return report


@contextmanager
def _gone_on(faults: list[InputError]) -> Iterator[None]:
    """One errand that must not keep the others from being done: a disk that is not there, no mail is lost by."""
    try:
        yield
    except InputError as fault:
        faults.append(fault)


def trust_the_clock(path: Path, now: datetime) -> None:
    """Go on from now, though the clock has stood at a later moment before; what was not gone through yet still will be.

    What that clock let lapse of the hours to come, or has waiting for them, is forgotten, so that it is decided when
    they come; what it sent is sent. A day of what is over is gone through again, for some of what was forgotten may
    have waited for no more than the end of quiet hours.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    """
    with open_book(path) as book, book.writing():
        last = read_decided(book)
        up_to = min(last.up_to, now) if last else now
        if forget_ahead(book, now):
            up_to = min(up_to, now - WAIT_AT_MOST)
        put_decided(book, Decided(up_to, now))
        if last is None or now < last.greatest_now:
            add_incident(
                book, Incident(now, "The clock was said to be right: reminders go on from here.")
            )


def _met_with(path: Path, say: str, now: datetime) -> tuple[Incident, ...]:
    """What the clock met with, if it is new: written down once as long as it lasts."""
    if not say:
        return ()
    with open_book(path) as book, book.writing():
        last = next(iter(read_incidents(book, 1)), None)
        if last is None or last.say != say:
            last = Incident(now, say)
            add_incident(book, last)
    return (last,) if last.at == now else ()


def _told(*many: tuple[Notice, ...]) -> list[Notice]:
    """Each reminder once, as it was last heard of."""
    found = {one.uid: one for notices in many for one in notices}
    return sorted(found.values(), key=lambda one: one.due_at)
