"""Whole tables, row by row, as the book writes them: what a copy of it in plain files is made from.

Rows are never gathered here: each function hands them on one by one. How they are put back is in `bringing`.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import COLUMNS
from soakbook.store.sheets import Setting, read_sheet

TOLD: Mapping[str, tuple[str, ...]] = {
    "weather_value": ("day", "variable", "value"),
    "forecast_day": ("day", "said"),
    "promise": ("issued_on", "lead_days", "share", "middle_mm"),
    "rain_hours": ("day", "numbers"),
}
"""Tables whose rows came with an arrival, and their own columns."""

ARRIVED = ("source", "kind", "method", "issued_at", "fetched_at")
"""What rows that came together share."""

ASKED = ("service", "what", "at", "came", "say", "not_before")
CHANGE = ("at", "by_whom", "what", "uid", "before", "after")


def records(book: BookFile, kind: type[Setting]) -> list[Setting]:
    """All lasting records of one kind, in the order of their sheet."""
    with book.reading() as connection:
        return read_sheet(connection, kind)


def entry_texts(book: BookFile) -> Iterator[tuple[Any, ...]]:
    """Every entry, superseded ones too, as it was written: its kind and `entry_rows.COLUMNS`."""
    return _rows(book, f"SELECT kind, {', '.join(COLUMNS)} FROM entry ORDER BY id")


def told_texts(book: BookFile, table: str, numbers: Mapping[int, int]) -> Iterator[tuple[Any, ...]]:
    """Every row of one of `TOLD`: the number of its arrival, `ARRIVED` and its own columns."""
    columns = ", ".join(f"told.{column}" for column in TOLD[table])
    arrived = ", ".join(f"arrival.{column}" for column in ARRIVED)
    found = _rows(
        book,
        f"SELECT told.arrival_id, {arrived}, {columns} FROM {table} AS told"
        " JOIN weather_arrival AS arrival ON arrival.id = told.arrival_id ORDER BY told.id",
    )
    return ((numbers[number], *row) for number, *row in found)


def arrival_numbers(book: BookFile) -> dict[int, int]:
    """Arrivals that brought anything, counted from 1 in the order of writing, by their id."""
    brought = " UNION ".join(f"SELECT arrival_id FROM {table}" for table in TOLD)
    found = _rows(book, f"SELECT id FROM weather_arrival WHERE id IN ({brought}) ORDER BY id")
    return {number: count for count, (number,) in enumerate(found, start=1)}


def asked_texts(book: BookFile) -> Iterator[tuple[Any, ...]]:
    """What came of asking, every time: `ASKED`."""
    return _rows(book, f"SELECT {', '.join(ASKED)} FROM weather_asked ORDER BY id")


def change_texts(book: BookFile) -> Iterator[tuple[Any, ...]]:
    """The whole log of changes: `CHANGE`."""
    return _rows(book, f"SELECT {', '.join(CHANGE)} FROM change ORDER BY id")


def mapping_texts(book: BookFile) -> Iterator[tuple[str, str, str | None]]:
    """Remembered weather files: name, its columns as JSON, where it is read again."""
    return _rows(book, "SELECT name, mapping, location FROM weather_mapping ORDER BY id")


def _rows(book: BookFile, statement: str) -> Iterator[Any]:
    with book.reading() as connection:
        yield from connection.execute(statement)
