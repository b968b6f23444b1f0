"""Beds, plantings, people and rules that cannot be right, or do not go together."""

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.records import Absence, Bed, Person, Planting, Restriction
from soakbook.quantities.saying import date_of, plural, quoted
from soakbook.services.check_findings import Finding, Looked
from soakbook.services.room import check_room, crowded
from soakbook.store.soundness import rounds_in

if TYPE_CHECKING:
    from soakbook.store.sheets import Setting


def of_settings(looked: Looked) -> Iterator[Finding]:
    """All that is found in the lasting things of a garden."""
    pages = looked.pages
    records: tuple[Setting, ...] = (
        pages.garden, *pages.beds, *pages.plantings, *pages.taps, *pages.people,
        *pages.restrictions, *pages.rates,
    )  # fmt: skip
    for record in records:
        try:
            admit(type(record), **record._asdict())
        except InputError as error:
            yield _wrong(looked, record, str(error))
    for person in pages.people:
        yield from _absences(looked, person)


def of_replaced(looked: Looked) -> Iterator[Finding]:
    """Plantings that replace one another across beds, or in a circle that no ground can be found for."""
    by_uid = {one.uid: one for one in looked.pages.plantings}
    before = {
        one.uid: one.replaces or (one.came_from if one.parted_on else None)
        for one in by_uid.values()
    }
    for circle in rounds_in({uid: was for uid, was in before.items() if was}):
        names = ", ".join(plural(by_uid[uid].name) for uid in circle if uid in by_uid)
        bed = by_uid[circle[0]].bed_uid
        yield Finding(
            "replaced_in_a_circle",
            "wrong",
            f"In {looked.bed_name(bed)} these are said to stand in each other's place in a circle: {names}. "
            "The water of such a garden cannot be reckoned.",
            "Put back a copy from before.",
            looked.bed_key(bed),
        )
    wholes = {bed.uid: bed.parted_from for bed in looked.pages.beds if bed.parted_from}
    for circle in rounds_in(wholes):
        names = ", ".join(looked.bed_name(uid) for uid in circle)
        say = f"These beds are said to be parts of each other in a circle: {names}."
        yield Finding("parted_in_a_circle", "wrong", say, "Put back a copy from before.")
    for one in by_uid.values():
        replaced = by_uid.get(one.replaces or "")
        if replaced is not None and replaced.bed_uid != one.bed_uid:
            yield Finding(
                "replaced_elsewhere",
                "wrong",
                f"The {plural(one.name)} of {looked.bed_name(one.bed_uid)} are said to stand where the "
                f"{plural(replaced.name)} of {looked.bed_name(replaced.bed_uid)} stood: that is another bed.",
                "Enter the planting anew in the bed in which it stands.",
                looked.bed_key(one.bed_uid),
                one.planted_on,
            )


def of_ground(looked: Looked) -> Iterator[Finding]:
    """Beds whose plants want more ground than there is; asked only where nothing replaces in a circle."""
    for bed in looked.pages.beds:
        try:
            check_room(looked.pages, bed, "area", bed.area_m2)
        except InputError as error:
            yield _wrong(looked, bed, str(error))._replace(kind="no_room")
            continue
        say = crowded(looked.pages, bed)
        if say:
            yield Finding(
                "crowded",
                "look",
                say,
                f"Measured anew: soakbook bed {quoted(bed.key)} --area.",
                bed.key,
            )


def _wrong(looked: Looked, record: object, why: str) -> Finding:
    bed: str | None = None
    if isinstance(record, Bed):
        bed, name = record.key, record.name
        do = f"Set it right with soakbook bed {quoted(record.key)}."
    elif isinstance(record, Planting):
        bed = looked.bed_key(record.bed_uid)
        name = f"The {plural(record.name)} of {looked.bed_name(record.bed_uid)}"
        do = "Set it right with soakbook plant."
    elif isinstance(record, Restriction):
        name = f"The rule from {date_of(record.first, looked.today)}"
        do = "Enter it anew with soakbook restriction."
    else:
        word = type(record).__name__.lower()
        name = str(
            getattr(record, "name", None) or f"The {word} {getattr(record, 'key', '')}".strip()
        )
        do = f"Set it right with soakbook {word}." if word != "garden" else ""
    return Finding("out_of_bounds", "wrong", f"{name} cannot be right: {why}.", do, bed)


def _absences(looked: Looked, person: Person) -> Iterator[Finding]:
    do = f"Say it anew: soakbook person {quoted(person.name)} --away."
    for one in person.absences:
        if one.last < one.first:
            say = f"{person.name} is away from {_span(looked, one)}: it ends before it begins."
            yield Finding("absence", "wrong", say, do, None, one.first)
    for before, after in pairwise(sorted(person.absences)):
        if after.first <= before.last:
            say = (
                f"{person.name} is away from {_span(looked, before)}, and from {_span(looked, after)}: these "
                "overlap."
            )
            yield Finding("absence", "look", say, do, None, after.first)


def _span(looked: Looked, one: Absence) -> str:
    return f"{date_of(one.first, looked.today)} to {date_of(one.last, looked.today)}"
