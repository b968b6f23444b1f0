"""What calendars were told of the garden's events, so that a change is told as a change."""

import json
from collections.abc import Iterable
from datetime import datetime
from typing import Any, NamedTuple

from soakbook.store.book_file import BookFile
from soakbook.store.texts import utc_text


class EventRow(NamedTuple):
    """One event that was published: how often it was changed, what it said, whether it is off."""

    uid: str
    sequence: int
    said: dict[str, Any]
    changed_at: datetime
    cancelled: bool


def read_events(book: BookFile) -> tuple[EventRow, ...]:
    """All that is remembered of events, in the order in which they came."""
    with book.reading() as connection:
        found = connection.execute(
            "SELECT uid, sequence, said, changed_at, cancelled FROM calendar_event ORDER BY id"
        ).fetchall()
    return tuple(
        EventRow(uid, sequence, json.loads(said), datetime.fromisoformat(at), bool(cancelled))
        for uid, sequence, said, at, cancelled in found
    )


def put_events(book: BookFile, events: Iterable[EventRow]) -> None:
    """Remember these events and no others."""
    rows = {one.uid: one for one in events}
    with book.writing() as connection:
        known = {uid for (uid,) in connection.execute("SELECT uid FROM calendar_event")}
        connection.executemany(
            "DELETE FROM calendar_event WHERE uid = ?", [(uid,) for uid in known - rows.keys()]
        )
        connection.executemany(
            "INSERT INTO calendar_event (uid, sequence, said, changed_at, cancelled) VALUES (?, ?, ?, ?, ?)"
            " ON CONFLICT (uid) DO UPDATE SET sequence = excluded.sequence, said = excluded.said,"
            " changed_at = excluded.changed_at, cancelled = excluded.cancelled",
            [
                (
                    one.uid,
                    one.sequence,
                    json.dumps(one.said, ensure_ascii=False, sort_keys=True),
                    utc_text("changed_at", one.changed_at),
                    int(one.cancelled),
                )
                for one in rows.values()
            ],
        )
