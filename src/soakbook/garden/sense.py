"""What the bounds of single fields cannot say: words that stand in no table, days out of order.

Every rule takes a record whose fields are each in bounds and names what in it cannot be right.
"""

import unicodedata
from collections.abc import Callable, Collection, Iterator
from datetime import UTC, datetime
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from soakbook.errors import InputError
from soakbook.garden.entries import Entry, Feel, MulchLaid, Rain
from soakbook.garden.records import Absence, Bed, Garden, Person, Planting, Restriction
from soakbook.garden.reminding import Reminder
from soakbook.garden.tables.balls import MIXES
from soakbook.garden.tables.mulches import MULCHES
from soakbook.garden.tables.places import PLACES
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.garden.tables.soils import SOILS, UNKNOWN

LONGEST = {
    "key": 30, "name": 60, "keeper": 60, "head": 60, "by": 60, "corrected_by": 60, "reason": 200, "note": 500,
    "text": 500,
}  # fmt: skip
"""Letters that a name or a text may have, by its field: what stands on a page in one piece."""

NO_LETTERS = ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp")
"""Categories of Unicode that no name is written with: control and format marks, ends of lines."""


class Fault(NamedTuple):
    """One field, what it holds, and what would be right."""

    field: str
    value: object
    right: str


def check_line(field: str, value: str | None) -> None:
    """Refuse a name that is no line of a page.

    Raises
    ------
    InputError
        Longer than the field may be, or with a line break or another control character.
    """
    for fault in _line(field, value):
        raise InputError(*fault)


def faults(record: object) -> list[Fault]:
    """All that cannot be right in a record, or nothing."""
    told = [fault for field in LONGEST for fault in _line(field, getattr(record, field, None))]
    told += _corrected(record) if isinstance(record, Entry) else ()
    rule = _RULES.get(type(record))
    return told if rule is None else told + list(rule(record))


def _line(field: str, value: object) -> Iterator[Fault]:
    if not isinstance(value, str):
        return
    if any(unicodedata.category(letter) in NO_LETTERS for letter in value):
        yield Fault(field, value, "letters on one line, without control characters")
    elif len(value) > LONGEST[field]:
        yield Fault(field, value, f"at most {LONGEST[field]} letters, not {len(value):,}")


def _corrected(entry: Entry) -> Iterator[Fault]:
    if entry.corrected_by is not None and entry.supersedes is None:
        yield Fault("corrected_by", entry.corrected_by, "nothing: it supersedes no other entry")


def _garden(garden: Garden) -> Iterator[Fault]:
    try:
        ZoneInfo(garden.timezone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        yield Fault("timezone", garden.timezone, "a zone such as Europe/London")
    yield from _wall_clock(garden, "round_hour")


def _reminder(reminder: Reminder) -> Iterator[Fault]:
    for field in ("hour", "quiet_from", "quiet_until"):
        yield from _wall_clock(reminder, field)
    if (reminder.quiet_from is None) != (reminder.quiet_until is None):
        yield Fault(
            "quiet_from", reminder.quiet_from, "when it is to be quiet, and until when: both"
        )
    if (reminder.whom == "named") != bool(reminder.named):
        named = " ".join(sorted(reminder.named))
        yield Fault("named", named, "who, where whom is named, and else nobody")
    if any(not uid or len(uid.split()) != 1 for uid in reminder.named):
        yield Fault("named", " ".join(sorted(reminder.named)), "uids of people, without blanks")


def _wall_clock(record: Garden | Reminder, field: str) -> Iterator[Fault]:
    hour = getattr(record, field)
    if hour is not None and hour.tzinfo is not None:
        yield Fault(field, hour.isoformat(), "an hour by the garden's own clock, such as 07:00")


def _bed(bed: Bed) -> Iterator[Fault]:
    yield from _listed("soil", bed.soil, (*SOILS, UNKNOWN))
    yield from _listed("place", bed.place, PLACES)
    sand, clay = bed.sand_fraction, bed.clay_fraction
    if (sand is None) != (clay is None):
        yield Fault("sand_fraction", sand, "sand and clay together, or neither")
    elif sand is not None and clay is not None and sand + clay > 1:
        yield Fault("sand_fraction", sand, f"with clay {clay:g} at most 1")
    if (bed.parted_from is None) != (bed.parted_on is None):
        yield Fault(
            "parted_from", bed.parted_from, "the bed it was a part of, and since when: both"
        )


def _planting(planting: Planting) -> Iterator[Fault]:
    yield from _listed("plant_class", planting.plant_class, PLANT_CLASSES)
    yield from _listed("mix", planting.mix, MIXES)
    if planting.dug_from_soil is not None:
        yield from _listed("dug_from_soil", planting.dug_from_soil, SOILS)
    if planting.origin != "bare":
        for name in ("ball_volume_l", "ball_diameter_m"):
            if getattr(planting, name) == 0:
                yield Fault(name, 0, "more than 0, unless the plant came bare-rooted")
    if planting.canopy_full_m2 < planting.canopy_start_m2:
        right = f"not less than when planted, {planting.canopy_start_m2:g} m²"
        yield Fault("canopy_full_m2", planting.canopy_full_m2, right)
    if planting.parted_on is not None:
        if planting.came_from is None:
            yield Fault("came_from", None, "the planting they were, where parted_on is said")
        if planting.parted_on < planting.planted_on:
            right = f"not before they were planted, {planting.planted_on.isoformat()}"
            yield Fault("parted_on", planting.parted_on.isoformat(), right)


def _days(record: Absence | Restriction | Person) -> Iterator[Fault]:
    if record.first is not None and record.last is not None and record.last < record.first:
        yield Fault("last", record.last.isoformat(), f"not before {record.first.isoformat()}")


def _rain(rain: Rain) -> Iterator[Fault]:
    if not isinstance(rain.happened_at, datetime):
        return
    # In UTC: where an hour comes twice, moments of one zone compare by the clock on the wall.
    if rain.began_at.astimezone(UTC) >= rain.happened_at.astimezone(UTC):
        began = rain.began_at.isoformat()
        yield Fault("began_at", began, f"before the reading at {rain.happened_at.isoformat()}")


def _feel(feel: Feel) -> Iterator[Fault]:
    if feel.ball is None and feel.bed is None:
        yield Fault("ball", None, "a feel of the ball, of the bed, or of both")


def _mulch(mulch: MulchLaid) -> Iterator[Fault]:
    yield from _listed("kind", mulch.kind, MULCHES)


def _listed(field: str, value: str, known: Collection[str]) -> Iterator[Fault]:
    if value not in known:
        yield Fault(field, value, f"one of {', '.join(known)}")


_RULES: dict[type, Callable[[Any], Iterator[Fault]]] = {
    Garden: _garden,
    Bed: _bed,
    Planting: _planting,
    Absence: _days,
    Person: _days,
    Restriction: _days,
    Reminder: _reminder,
    Rain: _rain,
    Feel: _feel,
    MulchLaid: _mulch,
}
