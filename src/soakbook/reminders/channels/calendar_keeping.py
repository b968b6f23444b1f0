"""What of a calendar is new, what has changed and what is off: who subscribes sees a moved date move, not come twice.

Records in, records out. What goes into a calendar is in `calendar_events`, how it is written in `calendar`.

An event has a key (`bed 3f2a`), and of a key one event is open at a time: while it is to come, a new date or a new
text changes it. What has begun is closed and stays as it was, for what was called on a past day is not rewritten; the
next event of that key is another, with a uid of its own. Only what goes on from there, as heat that lasts longer than
it was likely to, reaches back into a closed event and changes it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import count
from typing import Any, NamedTuple
from uuid import UUID, uuid5

ONE_DAY = timedelta(days=1)

KEPT_DAYS = 30
"""So long what is past, and what is off, stays in the file. Nobody is away from a garden in its first summer for
longer and wants to read what was called, and a program that has not looked for a month is not looking; so the file
stays small. Common practice, no source."""

_UIDS = UUID("5b6cbf34-94a3-4c55-8b9a-0d5b5f6f8a11")
"""Drawn once: uids made under it are no other program's."""


class CalendarEvent(NamedTuple):
    """One thing that is to stand in a calendar: on whole days, or at an hour of one day."""

    key: str
    """Of a garden's events each has another, the same whenever this one is made again."""
    title: str
    body: str
    first: date
    last: date
    """Both days included; with an hour, its own day twice."""
    at: datetime | None = None
    """Zone-aware; None: all day."""
    minutes: int = 0
    """How long it takes from that hour."""
    alarm: datetime | None = None
    """Zone-aware; None: silent."""


class Kept(NamedTuple):
    """What the book remembers of an event that was published."""

    uid: str
    """Whose it is in every calendar for as long as it is there."""
    sequence: int
    """How often it was changed since it came."""
    said: Mapping[str, Any]
    """The event as JSON has it, moments in UTC; and `opened` and `turn`, from which the uid was made."""
    changed_at: datetime
    """In UTC, to the second."""
    cancelled: bool = False

    @property
    def last(self) -> date:
        """The last day it is on."""
        return date.fromisoformat(self.said["last"])

    def closed(self, now: datetime) -> bool:
        """Whether it has begun, as an hour, or is over, as days."""
        if self.said["at"] is not None:
            return datetime.fromisoformat(self.said["at"]) <= now
        return self.last < now.date()


def published(
    kept: Mapping[str, Kept], events: Sequence[CalendarEvent], garden_uid: str, now: datetime
) -> tuple[Kept, ...]:
    """What the book is to remember from now on, by uid: what changed has the next sequence, the rest is as it was.

    What is no longer among the events and has not begun is cancelled; days that have begun end yesterday. Asked again
    with what it gave, it gives the same.

    Parameters
    ----------
    kept
        By uid, what was published before.
    events
        What is to be in the calendar now, each key once.
    garden_uid
        Uids are made from it, and say nothing of it.
    now
        Zone-aware, in the garden's zone.

    Returns
    -------
    tuple of Kept
        All that is to be in the file; what is not in it any more may be forgotten.

    References
    ----------
    RFC 5545, 3.8.7.4 (SEQUENCE: from 0, and one more with every change that matters); RFC 7986, 5.3 (a UID is opaque,
    best a UUID in hexadecimal, and names no user, host or domain).
    """
    rows = dict(kept)
    newest = _newest(kept.values())
    for event in events:
        before = newest.pop(event.key, None)
        row = _row(before, event, now) or _opened(event, rows, garden_uid, now)
        if row is not None:
            rows[row.uid] = row
    for before in newest.values():
        rows[before.uid] = _gone(before, now)
    return tuple(rows[uid] for uid in sorted(rows) if not _forgotten(rows[uid], now.date()))


def _newest(kept: Iterable[Kept]) -> dict[str, Kept]:
    """Of each key the event that was opened last: none before it is ever changed."""
    by_age = sorted(kept, key=lambda row: (row.said["opened"], row.said["turn"]))
    return {row.said["key"]: row for row in by_age}


def _row(before: Kept | None, event: CalendarEvent, now: datetime) -> Kept | None:
    """The event that is there, as it is to be; None where another is to be opened."""
    if before is None:
        return None
    goes_on = event.first <= before.last and event.last >= now.date()
    if before.closed(now) and not goes_on:
        return None
    if not before.cancelled and before.said == {**before.said, **_as_json(event)}:
        return before
    return _changed(before, now, cancelled=False, **_as_json(event))


def _opened(
    event: CalendarEvent, rows: Mapping[str, Kept], garden_uid: str, now: datetime
) -> Kept | None:
    """A new event; None for days that are over, which nobody needs to be told of."""
    today = now.date()
    if event.last < today:
        return None
    opened = today.isoformat()
    garden = uuid5(_UIDS, garden_uid)
    for turn in count(1):
        uid = str(uuid5(garden, f"{event.key} {opened} {turn}"))
        if uid not in rows:
            break
    said = {**_as_json(event), "opened": opened, "turn": turn}
    return Kept(uid, 0, said, _stamp(now))


def _gone(before: Kept, now: datetime) -> Kept:
    """What nobody speaks of any more: called off, as far as it has not happened."""
    if before.cancelled or before.closed(now):
        return before
    today = now.date()
    if date.fromisoformat(before.said["first"]) < today:
        yesterday = (today - ONE_DAY).isoformat()
        return _changed(before, now, cancelled=False, last=yesterday)
    return _changed(before, now, cancelled=True)


def _changed(before: Kept, now: datetime, *, cancelled: bool, **said: Any) -> Kept:
    return before._replace(
        sequence=before.sequence + 1,
        said={**before.said, **said},
        changed_at=max(before.changed_at, _stamp(now)),  # a clock set back takes nothing back
        cancelled=cancelled,
    )


def _forgotten(row: Kept, today: date) -> bool:
    since = row.changed_at.date() if row.cancelled else row.last
    return today - since > KEPT_DAYS * ONE_DAY


def _as_json(event: CalendarEvent) -> dict[str, Any]:
    return dict(_plain(event))


def _plain(event: CalendarEvent) -> Iterator[tuple[str, Any]]:
    for name, value in event._asdict().items():
        if isinstance(value, datetime):
            yield name, value.astimezone(UTC).isoformat()
        elif isinstance(value, date):
            yield name, value.isoformat()
        else:
            yield name, value


def _stamp(now: datetime) -> datetime:
    return now.astimezone(UTC).replace(microsecond=0)
