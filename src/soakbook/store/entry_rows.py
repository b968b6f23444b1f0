"""What happened, in the book: entries are added, never changed; a later supersedes an earlier."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import UTC, date, datetime, timedelta
from typing import Any, cast
from zoneinfo import ZoneInfo

from soakbook.garden.entries import ENTRY_TYPES, AnyEntry, Kept, Soak
from soakbook.garden.records import Garden
from soakbook.store.book_file import BookFile
from soakbook.store.rows import insert
from soakbook.store.texts import (
    garden_zone,
    moment_text,
    read_moment,
    read_when,
    utc_text,
    when_text,
)


def add_entries(book: BookFile, entries: Iterable[Kept]) -> None:
    """Add entries, all or none.

    Parameters
    ----------
    book
        Open for writing.
    entries
        In the order in which they are to be written: one that supersedes another comes after it.

    Raises
    ------
    InputError
        When a uid is taken, a bed or planting is not in the book, a moment lacks its zone, or an
        entry supersedes one that is unknown or superseded already.
    """
    with book.writing() as connection:
        for entry in entries:
            insert(connection, "entry", entry_row(entry))


def entries_in_force(
    book: BookFile,
    garden: Garden,
    until: date | None = None,
    written_before: datetime | None = None,
) -> tuple[AnyEntry, ...]:
    """The entries that hold, in the order in which they happened, on the garden's clock.

    One with a bare day counts at the round hour, a soak right after it. With `until`, entries of
    later days may be left out. With `written_before` it is those that held at that moment.
    """
    zone = garden_zone(garden)
    days = "substr(happened_at, 1, 10) <= :last"
    values = {"last": _day_after(until).isoformat()}
    if written_before is None:
        source, where = "entry_in_force", days
    else:
        source, where = "entry", f"{_HELD} AND {days}"
        values["before"] = utc_text("written_before", written_before)
    with book.reading() as connection:
        found = connection.execute(
            f"SELECT kind, {', '.join(COLUMNS)} FROM {source} WHERE {where} ORDER BY id", values
        ).fetchall()
    entries = [cast("AnyEntry", _entry(kind, row, zone)) for kind, *row in found]
    return tuple(sorted(entries, key=lambda entry: order(entry, garden, zone)))


_HELD = (
    "kind <> 'void' AND written_at < :before AND NOT EXISTS (SELECT 1 FROM entry AS later"
    " WHERE later.supersedes = entry.uid AND later.written_at < :before)"
)
"""As the view `entry_in_force` has it, at a moment."""


def entries_written(book: BookFile, garden: Garden) -> tuple[Kept, ...]:
    """Every entry there is, what was corrected and every taking back among them, in the order of the book."""
    zone = garden_zone(garden)
    with book.reading() as connection:
        found = connection.execute(
            f"SELECT kind, {', '.join(COLUMNS)} FROM entry ORDER BY id"
        ).fetchall()
    return tuple(_entry(kind, row, zone) for kind, *row in found)


def order(entry: Kept, garden: Garden, zone: ZoneInfo) -> tuple[datetime, bool, datetime]:
    """What entries are sorted by in the order in which they happened."""
    at = entry.happened_at
    dated = not isinstance(at, datetime)
    moment = at if isinstance(at, datetime) else datetime.combine(at, garden.round_hour, zone)
    # In UTC: where an hour comes twice, moments of one zone compare by the clock on the wall.
    return (
        moment.astimezone(UTC),
        dated and isinstance(entry, Soak),
        entry.written_at.astimezone(UTC),
    )


def _day_after(until: date | None) -> date:
    """The last day by any clock on which it is still `until` in the garden."""
    return date.max if until is None else until + timedelta(days=1)


# The columns that are not named as their fields are.
_RENAMED = {
    "soak": {"kind": "soak_kind"},
    "rain": {"kind": "rain_kind"},
    "feel": {"ball": "felt_ball", "bed": "felt_bed"},
    "loss": {"count": "lost_count"},
    "mulch": {"kind": "mulch_kind"},
}

_KIND_OF = {record: kind for kind, record in ENTRY_TYPES.items()}

COLUMN_OF: Mapping[str, Mapping[str, str]] = {
    kind: {
        each.name: {"by": "by_whom", **_RENAMED.get(kind, {})}.get(each.name, each.name)
        for each in fields(record)
    }
    for kind, record in ENTRY_TYPES.items()
}
"""kind -> field -> the column it lies in."""

COLUMNS = tuple(dict.fromkeys(column for kind in COLUMN_OF.values() for column in kind.values()))

_POSITION_OF = {
    kind: tuple((name, COLUMNS.index(column)) for name, column in columns.items())
    for kind, columns in COLUMN_OF.items()
}

_WRITE: Mapping[str, Callable[[str, Any], str]] = {
    "happened_at": when_text,
    "written_at": utc_text,
    "began_at": moment_text,
}

_READ: Mapping[str, Callable[[Any, ZoneInfo], Any]] = {
    "happened_at": read_when,
    "written_at": read_moment,
    "began_at": read_moment,
    "began_assumed": lambda value, _: bool(value),
    "unsure": lambda value, _: bool(value),
    "upright": lambda value, _: bool(value),
    "on_wet_soil": lambda value, _: bool(value),
}


def entry_row(entry: Kept) -> dict[str, Any]:
    """The row of an entry: the columns of its kind."""
    kind = _KIND_OF[type(entry)]
    row: dict[str, Any] = {"kind": kind}
    for name, column in COLUMN_OF[kind].items():
        value = getattr(entry, name)
        row[column] = _WRITE[name](name, value) if name in _WRITE else value
    return row


def _entry(kind: str, row: Sequence[Any], zone: ZoneInfo) -> Kept:
    given = {}
    for name, position in _POSITION_OF[kind]:
        value = row[position]
        given[name] = _READ[name](value, zone) if name in _READ and value is not None else value
    return ENTRY_TYPES[kind](**given)
