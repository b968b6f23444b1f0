"""What SQLite itself finds wrong in a book, and what only its rows tell: texts that are no days, circles.

Nothing here needs the records to be readable; what they say is judged by `services.checking`.
"""

import json
import math
import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from datetime import date, datetime
from typing import NamedTuple

from soakbook.store.book_file import BookFile

MOST = 100
"""Faults of a file that are listed; a damaged file has thousands."""


class Unreadable(NamedTuple):
    """An entry, and which of its texts cannot be read."""

    uid: str
    kind: str
    text: str


class RainTwice(NamedTuple):
    """A day's rain as one source said it in one sum and hour by hour [mm]."""

    day: date
    source: str
    total_mm: float
    by_hour_mm: float


def file_faults(book: BookFile) -> list[str]:
    """What SQLite finds broken in the file, in its own words; empty for a whole one."""
    try:
        found = book.connection.execute(f"PRAGMA integrity_check({MOST})").fetchall()
    except sqlite3.DatabaseError as error:
        return [str(error)]
    return [text for (text,) in found if text != "ok"]


def lost_references(book: BookFile) -> list[str]:
    """Rows that speak of others that are not in the book: `2 rows of entry name a bed that is not there`."""
    counts: dict[tuple[str, str], int] = {}
    try:
        for table, _, parent, _ in book.connection.execute("PRAGMA foreign_key_check"):
            counts[table, parent] = counts.get((table, parent), 0) + 1
    except sqlite3.DatabaseError as error:
        return [str(error)]
    return [
        f"{count} {'row' if count == 1 else 'rows'} of {table} name a {parent} that is not there"
        for (table, parent), count in counts.items()
    ]


def unreadable_entries(book: BookFile) -> list[Unreadable]:
    """Entries, in force or not, with a time that is none."""
    with book.reading() as connection:
        rows = connection.execute(
            "SELECT uid, kind, happened_at, written_at, began_at FROM entry ORDER BY id"
        ).fetchall()
    return [
        Unreadable(uid, kind, text)
        for uid, kind, *texts in rows
        for text in texts
        if text is not None and not _is_time(text)
    ]


def circles(book: BookFile) -> list[tuple[str, ...]]:
    """Entries that supersede each other in a circle, so that none of them is in force."""
    with book.reading() as connection:
        later = dict(
            connection.execute("SELECT uid, supersedes FROM entry WHERE supersedes IS NOT NULL")
        )
    return list(rounds_in(later))


def rounds_in(leads_to: dict[str, str]) -> Iterator[tuple[str, ...]]:
    """The circles of a chain that leads from each thing to at most one other."""
    done: set[str] = set()
    for start in leads_to:
        way: list[str] = []
        at: str | None = start
        while at is not None and at not in done:
            done.add(at)
            way.append(at)
            at = leads_to.get(at)
        if at is not None and at in way:
            yield tuple(way[way.index(at) :])


def rain_said_twice(book: BookFile) -> list[RainTwice]:
    """Days whose rain one source has told both in a sum and by the hour, as it told each last."""
    with book.reading() as connection:
        sums = connection.execute(
            "SELECT day, source, kind, value FROM weather_value"
            " JOIN weather_arrival ON weather_arrival.id = arrival_id"
            " WHERE variable = 'rain_mm' ORDER BY worth, weather_value.id"
        )
        totals = {(day, source, kind): value for day, source, kind, value in sums}
        hours = connection.execute(
            "SELECT day, source, kind, numbers FROM rain_hours"
            " JOIN weather_arrival ON weather_arrival.id = arrival_id ORDER BY worth, rain_hours.id"
        )
        shapes = {(day, source, kind): numbers for day, source, kind, numbers in hours}
    return [
        RainTwice(date.fromisoformat(day), source, totals[day, source, kind], math.fsum(numbers))
        for (day, source, kind), text in sorted(shapes.items())
        if (day, source, kind) in totals and (numbers := _numbers(text)) is not None
    ]


def _numbers(text: str) -> list[float] | None:
    with suppress(ValueError, TypeError):
        return [float(one) for one in json.loads(text)]
    return None


def _is_time(text: str) -> bool:
    try:
        if "T" in text:
            return datetime.fromisoformat(text).utcoffset() is not None
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
