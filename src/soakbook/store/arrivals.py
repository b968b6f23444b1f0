"""What weather that came together shares: a row of weather_arrival."""

import sqlite3
from datetime import datetime
from typing import NamedTuple

from soakbook.store.rows import insert
from soakbook.store.texts import utc_text


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


def add_arrival(connection: sqlite3.Connection, arrived: Arrival) -> int:
    """Its row's id, newly written."""
    return insert(connection, "weather_arrival", arrived._asdict())
