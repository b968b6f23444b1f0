"""The garden's calendar as a file, brought up to a moment: what it was told before is in the book."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from soakbook.reminders.channels.calendar import calendar_text
from soakbook.reminders.channels.calendar_events import calendar_events
from soakbook.reminders.channels.calendar_file import write_calendar
from soakbook.reminders.channels.calendar_keeping import Kept, published
from soakbook.reminders.sight import Sight
from soakbook.store.book import open_book
from soakbook.store.calendar_rows import EventRow, put_events, read_events


def keep_calendar(
    path: Path, file: Path, *, now: datetime, sight_at: Callable[[datetime], Sight]
) -> bool:
    """Bring a calendar file up to now; whether it is another than before.

    What the file says is in the book before the file is written: killed between the two, the next look writes it.

    Parameters
    ----------
    path : Path
        The book.
    file : Path
        The calendar.
    now : datetime
        Zone-aware.
    sight_at : callable
        What is known at a moment.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    InputError
        The file cannot be written.
    """
    sight = sight_at(now)
    garden = sight.pages.garden
    zone = ZoneInfo(garden.timezone)
    events = calendar_events(
        sight.round,
        {bed.key: bed.uid for bed in sight.pages.beds},
        sight.pages.restrictions,
        garden.round_hour,
        zone,
        sight.heat,
    )
    with open_book(path) as book, book.writing():
        before = {one.uid: Kept(*one) for one in read_events(book)}
        kept = published(before, events, garden.uid, now.astimezone(zone))
        if {one.uid: one for one in kept} != before:
            put_events(
                book,
                (
                    EventRow(one.uid, one.sequence, dict(one.said), one.changed_at, one.cancelled)
                    for one in kept
                ),
            )
    return write_calendar(file, calendar_text(kept, garden.name, zone))
