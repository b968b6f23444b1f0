"""The lasting things of a garden as the book had them at a moment, told back from the log of changes.

What no change was logged of is as it stands now: the log has a row for everything that is added or
changed. A tap given a new letter takes its beds along without a row of theirs; they are led back to it.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import TypeVar

from soakbook.garden.records import Bed, Garden, Person, Planting, Rate, Restriction, Tap
from soakbook.garden.reminding import Reminder
from soakbook.store.book_file import BookFile
from soakbook.store.changes import first_changes_since
from soakbook.store.garden_rows import read_records
from soakbook.store.sheets import SHEETS, record_of

S = TypeVar("S", Garden, Bed, Planting, Tap, Person, Restriction, Rate, Reminder)


def read_then(book: BookFile, kind: type[S], before: datetime | None = None) -> tuple[S, ...]:
    """All records of one kind as `read_records` gives them, or as it would have before a moment.

    The garden itself is there always: of a moment before the book was begun it is as it stands.
    """
    records = read_records(book, kind)
    if before is None:
        return records
    with book.reading():
        then = _then(book, kind, records, before)
        letters = _letters(book, before) if kind is Bed else {}
    return tuple(_led_back(one, letters) for one in then) if letters else then


def _then(book: BookFile, kind: type[S], records: tuple[S, ...], before: datetime) -> tuple[S, ...]:
    changed = first_changes_since(book, SHEETS[kind].table, before)
    found: list[S] = []
    for record in records:
        was = changed.get(record.uid)
        if record.uid not in changed or (was is None and kind is Garden):
            found.append(record)
        elif was is not None:
            found.append(record_of(kind, was))
    return tuple(sorted(found, key=_FIRST_DAYS[kind])) if kind in _FIRST_DAYS else tuple(found)


_FIRST_DAYS = {
    Planting: lambda one: one.planted_on,
    Restriction: lambda one: one.first,
    Rate: lambda one: one.from_day,
}
"""What `SHEETS` has them in the order of; those of one day stay as they were written."""


def _letters(book: BookFile, before: datetime) -> Mapping[str, str]:
    """Letters that taps bear now and did not then -> those that they bore."""
    then = {tap.uid: tap.key for tap in _then(book, Tap, read_records(book, Tap), before)}
    return {
        tap.key: then[tap.uid]
        for tap in read_records(book, Tap)
        if tap.uid in then and then[tap.uid] != tap.key
    }


def _led_back(record: S, letters: Mapping[str, str]) -> S:
    if isinstance(record, Bed) and record.tap in letters:
        return record._replace(tap=letters[record.tap or ""])
    return record
