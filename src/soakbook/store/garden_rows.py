"""The lasting things of a garden in the book: added, changed with a trace in the log, read back."""

import json
import sqlite3
from collections.abc import Mapping
from datetime import datetime
from typing import Any, TypeVar

from soakbook.errors import InputError
from soakbook.garden.records import (
    Absence,
    Bed,
    Flow,
    Garden,
    Person,
    Planting,
    Rate,
    Restriction,
    Tap,
    Uid,
)
from soakbook.garden.reminding import Reminder
from soakbook.store.book_file import BookFile
from soakbook.store.changes import Change, log_change, plain_text
from soakbook.store.rows import insert, update
from soakbook.store.sheets import (
    SHEETS,
    Setting,
    own_columns,
    plain_record,
    read_sheet,
    write_lists,
)

S = TypeVar("S", Garden, Bed, Planting, Tap, Person, Restriction, Rate, Reminder)


def add_record(book: BookFile, record: Setting, *, at: datetime, by: str | None = None) -> None:
    """Add a bed, planting, tap, person, restriction, rate or reminder.

    Parameters
    ----------
    book
        Open for writing.
    record
        What is added, with everything that belongs to it (a tap's flows, a person's absences).
    at, by
        When and by whom it is written, for the log of changes.

    Raises
    ------
    InputError
        When its uid or key is taken, or it refers to what is not in the book.
    """
    table = SHEETS[type(record)].table
    with book.writing() as connection:
        insert(connection, table, own_columns(record))
        write_lists(connection, record)
        log_change(connection, Change(at, by, table, record.uid, None, plain_record(record)))


def update_record(book: BookFile, record: Setting, *, at: datetime, by: str | None = None) -> None:
    """Make the stored record of the same uid equal to this one; nothing is logged if it is.

    Parameters
    ----------
    book
        Open for writing.
    record
        What it is to be from now on, whole.
    at, by
        When and by whom it is changed, for the log of changes.

    Raises
    ------
    InputError
        When there is none of that uid, its key is taken, or it refers to what is not in the book.
    """
    table = SHEETS[type(record)].table
    with book.writing() as connection:
        before = _record(connection, type(record), record.uid)
        if before == record:
            return
        update(connection, table, own_columns(record))
        write_lists(connection, record)
        log_change(
            connection,
            Change(at, by, table, record.uid, plain_record(before), plain_record(record)),
        )


def add_flow(
    book: BookFile, tap_uid: Uid, flow: Flow, *, at: datetime, by: str | None = None
) -> None:
    """Add a hose test to a tap."""
    with book.writing() as connection:
        tap: Tap = _record(connection, Tap, tap_uid)
        update_record(book, tap._replace(flows=(*tap.flows, flow)), at=at, by=by)


def add_absence(
    book: BookFile, person_uid: Uid, absence: Absence, *, at: datetime, by: str | None = None
) -> None:
    """Add days on which a person cannot come."""
    with book.writing() as connection:
        person: Person = _record(connection, Person, person_uid)
        update_record(book, person._replace(absences=(*person.absences, absence)), at=at, by=by)


def read_garden(book: BookFile) -> Garden:
    """The garden that the book keeps."""
    return read_records(book, Garden)[0]


def read_records(book: BookFile, kind: type[S]) -> tuple[S, ...]:
    """All records of one kind: by their first day where they have one, else as they were written.

    A tap's flows come oldest test first, a person's absences earliest first.
    """
    with book.reading() as connection:
        return tuple(read_sheet(connection, kind))


def keep_mapping(
    book: BookFile, name: str, mapping: Mapping[str, Any], *, at: datetime, by: str | None = None
) -> None:
    """Remember under a name how the columns of a weather file are read: whatever JSON can say."""
    row = {"name": name, "mapping": plain_text(mapping)}
    with book.writing() as connection:
        before = read_mapping(book, name)
        if before == mapping:
            return
        connection.execute(
            "INSERT INTO weather_mapping (name, mapping) VALUES (:name, :mapping)"
            " ON CONFLICT (name) DO UPDATE SET mapping = excluded.mapping",
            row,
        )
        log_change(connection, Change(at, by, "weather_mapping", name, before, mapping))


def read_mapping(book: BookFile, name: str) -> dict[str, Any] | None:
    """The remembered columns of a weather file, or None."""
    with book.reading() as connection:
        found = connection.execute(
            "SELECT mapping FROM weather_mapping WHERE name = ?", (name,)
        ).fetchone()
    return None if found is None else dict(json.loads(found[0]))


def keep_location(book: BookFile, name: str, location: str) -> None:
    """Remember where the file of that name is read again: a path or an address; its columns are remembered already."""
    with book.writing() as connection:
        connection.execute(
            "UPDATE weather_mapping SET location = ? WHERE name = ? AND location IS NOT ?",
            (location, name, location),
        )


def locations(book: BookFile) -> dict[str, str]:
    """Files that are read again, by name."""
    with book.reading() as connection:
        found = connection.execute(
            "SELECT name, location FROM weather_mapping WHERE location IS NOT NULL ORDER BY id"
        ).fetchall()
    return dict(found)


def _record(connection: sqlite3.Connection, kind: type[Setting], uid: Uid) -> Any:
    """The record of that uid, read inside the transaction that is to change it."""
    found = read_sheet(connection, kind, "uid = ?", (uid,))
    if not found:
        raise InputError("uid", uid, f"the uid of a {SHEETS[kind].table} in the book")
    return found[0]
