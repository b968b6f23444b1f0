"""Rows brought in from elsewhere, with the uids, moments and log that they had there.

Everything here is written inside the caller's transaction, and nothing is logged but what comes with its own log.
What may come in is checked before (`services.importing`); what the book refuses all the same is said in words.
"""

import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

from soakbook.errors import InputError
from soakbook.garden.entries import Kept
from soakbook.store.arrivals import Arrival, add_arrival
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import COLUMNS, entry_row
from soakbook.store.refusals import plain_errors, refusal
from soakbook.store.rows import insert, update
from soakbook.store.sheets import SHEETS, Setting, own_columns, write_lists
from soakbook.store.whole_tables import ARRIVED, CHANGE, TOLD


class Known(NamedTuple):
    """What the book has of some entries: their rows by uid, and which entry supersedes which."""

    rows: Mapping[str, Mapping[str, Any]]
    superseded_by: Mapping[str, str]


class RowError(InputError):
    """A row that the book refuses: `row` is its place among those that were to be written."""

    def __init__(self, row: int, fault: InputError) -> None:
        super().__init__(fault.field, fault.value, fault.right)
        self.row = row


def copy_aside(book: BookFile, target: Path) -> None:
    """A copy of a book, of the moment, to try something out on; it may be read-only itself.

    Raises
    ------
    BookError
        It cannot be written.
    """
    with plain_errors(target), closing(sqlite3.connect(target)) as copy:
        book.connection.backup(copy)


def put_record(book: BookFile, record: Setting, *, new: bool) -> None:
    """Add a lasting record, or make the one of the same uid equal to it, without a word in the log."""
    table = SHEETS[type(record)].table
    with book.writing() as connection:
        # A planting may stand before the one that it replaces.
        connection.execute("PRAGMA defer_foreign_keys = ON")
        (insert if new else update)(connection, table, own_columns(record))
        write_lists(connection, record)


def put_mapping(book: BookFile, name: str, mapping: str, location: str | None) -> None:
    """Remember a weather file and where it is read again; None leaves that as it is."""
    with book.writing() as connection:
        connection.execute(
            "INSERT INTO weather_mapping (name, mapping, location) VALUES (?, ?, ?)"
            " ON CONFLICT (name) DO UPDATE SET mapping = excluded.mapping,"
            " location = coalesce(excluded.location, location)",
            (name, mapping, location),
        )


def put_change(book: BookFile, change: Sequence[Any]) -> None:
    """A line of the log as it was written elsewhere: `whole_tables.CHANGE`."""
    with book.writing() as connection:
        insert(connection, "change", dict(zip(CHANGE, change, strict=True)))


def put_asked(book: BookFile, asked: Mapping[str, Any]) -> None:
    """What came of asking, as it was written elsewhere."""
    with book.writing() as connection:
        insert(connection, "weather_asked", asked)


def known_entries(book: BookFile, entries: Sequence[Kept]) -> Known:
    """What the book has of these uids and of what they supersede."""
    import json

    uids = json.dumps([entry.uid for entry in entries])
    superseded = json.dumps([entry.supersedes for entry in entries if entry.supersedes])
    listed = "(SELECT value FROM json_each(?))"
    with book.reading() as connection:
        found = connection.execute(
            f"SELECT kind, {', '.join(COLUMNS)} FROM entry"
            f" WHERE uid IN {listed} OR uid IN {listed}",
            (uids, superseded),
        )
        names = ("kind", *COLUMNS)
        rows = [dict(zip(names, row, strict=True)) for row in found]
        later = connection.execute(
            f"SELECT supersedes, uid FROM entry WHERE supersedes IN {listed}", (superseded,)
        ).fetchall()
    return Known({row["uid"]: row for row in rows}, dict(later))


def put_entries(book: BookFile, entries: Sequence[Kept]) -> None:
    """Add entries in their order.

    Raises
    ------
    InputError
        The first that the book refuses, as a `RowError`.
    """
    rows = [entry_row(entry) for entry in entries]
    with book.writing() as connection:
        for kind, run in groupby(rows, key=lambda row: str(row["kind"])):
            _put_run(connection, kind, list(run), rows)


def known_arrivals(book: BookFile) -> dict[Arrival, list[int]]:
    """Ids of all arrivals by what they say, each in the order of writing."""
    by_arrival: defaultdict[Arrival, list[int]] = defaultdict(list)
    with book.reading() as connection:
        for number, *said in connection.execute(
            f"SELECT id, {', '.join(ARRIVED)} FROM weather_arrival ORDER BY id"
        ):
            by_arrival[Arrival(*said)].append(number)
    return by_arrival


def put_arrival(book: BookFile, arrived: Arrival) -> int:
    """The id of an arrival, newly written."""
    with book.writing() as connection:
        return add_arrival(connection, arrived)


def put_told(book: BookFile, table: str, arrival_id: int, row: Sequence[Any]) -> None:
    """Add a row of one of `whole_tables.TOLD` to an arrival."""
    with book.writing() as connection:
        values = dict(zip(TOLD[table], row, strict=True))
        insert(connection, table, {"arrival_id": arrival_id, **values})


def has_told(book: BookFile, table: str, arrival_id: int, row: Sequence[Any]) -> bool:
    """Whether an arrival has brought a row already; an issue speaks of each day once, be it otherwise."""
    own = TOLD[table][:1] if table == "forecast_day" else TOLD[table]
    told = " AND ".join(f"{column} = ?" for column in own)
    with book.reading() as connection:
        found = connection.execute(
            f"SELECT 1 FROM {table} WHERE {told} AND arrival_id = ?",
            (*row[: len(own)], arrival_id),
        ).fetchone()
    return found is not None


def has_promise(book: BookFile, source: str, issued_on: str, lead_days: int) -> bool:
    """Whether the book knows what a service promised so far ahead on a day: by its first word it is judged."""
    with book.reading() as connection:
        found = connection.execute(
            "SELECT 1 FROM promise JOIN weather_arrival ON weather_arrival.id = arrival_id"
            " WHERE issued_on = ? AND lead_days = ? AND source = ?",
            (issued_on, lead_days, source),
        ).fetchone()
    return found is not None


def _put_run(
    connection: sqlite3.Connection,
    kind: str,
    run: Sequence[Mapping[str, Any]],
    rows: Sequence[Mapping[str, Any]],
) -> None:
    columns = ", ".join(run[0])
    values = ", ".join(f":{column}" for column in run[0])
    try:
        connection.executemany(f"INSERT INTO entry ({columns}) VALUES ({values})", run)
    except (sqlite3.IntegrityError, UnicodeEncodeError, OverflowError) as error:
        row = next(row for row in run if not _is_in(connection, row["uid"]))
        place = next(number for number, one in enumerate(rows) if one is row)
        raise RowError(place, refusal(connection, "entry", row, error)) from error


def _is_in(connection: sqlite3.Connection, uid: str) -> bool:
    try:
        found = connection.execute("SELECT 1 FROM entry WHERE uid = ?", (uid,)).fetchone()
    except UnicodeEncodeError:
        return False
    return found is not None


def uids_of(book: BookFile, kind: type[Setting]) -> Iterator[str]:
    """The uids of all lasting records of one kind."""
    with book.reading() as connection:
        for (uid,) in connection.execute(f"SELECT uid FROM {SHEETS[kind].table} ORDER BY id"):
            yield uid
