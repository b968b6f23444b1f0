"""What weather that came together shares: a row of weather_arrival."""

import sqlite3
from datetime import datetime
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.store.rows import insert
from soakbook.store.texts import read_moment, utc_text


class Arrival(NamedTuple):
    """Where it came from and when; moments as the book writes them."""

    source: str
    kind: str
    method: str
    issued_at: str | None
    fetched_at: str


def arrival(
    source: str, kind: str, method: str, issued_at: datetime | None, fetched_at: datetime
) -> Arrival:
    """The same from moments; InputError where one lacks its zone."""
    issued = None if issued_at is None else utc_text("issued_at", issued_at)
    return Arrival(source, kind, method, issued, utc_text("fetched_at", fetched_at))


def first_arrival(connection: sqlite3.Connection, zone: ZoneInfo) -> datetime | None:
    """When weather of any kind first came into a book, on the clock of a zone; None where none has."""
    (first,) = connection.execute("SELECT min(fetched_at) FROM weather_arrival").fetchone()
    return read_moment(first, zone) if first else None


def latest_text(came_before: datetime | None) -> str:
    """What a fetching must sort before as the book writes it; without a moment every one does."""
    return "9999" if came_before is None else utc_text("came_before", came_before)


def add_arrival(connection: sqlite3.Connection, arrived: Arrival) -> int:
    """Its row's id, newly written."""
    return insert(connection, "weather_arrival", arrived._asdict())
