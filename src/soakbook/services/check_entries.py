"""Entries that cannot be right, or contradict the plantings or each other."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import fields, replace
from datetime import UTC, date, datetime, timedelta

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import AnyEntry, BedEntry, Feel, Loss, Rain, Soak
from soakbook.garden.tables.causes import ELSEWHERE
from soakbook.quantities.saying import counted, date_of, plural
from soakbook.reckoning.simulation.watering import living_count, local_day
from soakbook.services.check_findings import AMEND, Finding, Looked
from soakbook.services.far_more import Habits

LONGEST_AHEAD = timedelta(days=1)
"""So much later than it was written an entry may be dated: clocks differ, and a day begins somewhere earlier."""

IF_MEANT = (
    f"{AMEND} If it is right, a note beside it says so: soakbook book amend HANDLE --note TEXT, "
    "HANDLE being its letters in soakbook book log."
)

UNWRITTEN = datetime.min.replace(tzinfo=UTC)


def of_entries(looked: Looked) -> Iterator[Finding]:
    """All that is found in the entries in force."""
    for entry in looked.pages.entries:
        yield from _bounds(looked, entry)
        yield from _written_before(looked, entry)
        if isinstance(entry, BedEntry):
            yield from _place(looked, entry)
    yield from _lost(looked)
    yield from _twice(looked)
    yield from _far_more(looked)


def _bounds(looked: Looked, entry: AnyEntry) -> Iterator[Finding]:
    try:
        admit(type(entry), **{one.name: getattr(entry, one.name) for one in fields(entry)})
    except InputError as error:
        yield looked.about("out_of_bounds", "wrong", entry, f"cannot be right: {error}.")


def _written_before(looked: Looked, entry: AnyEntry) -> Iterator[Finding]:
    at, written = entry.happened_at, entry.written_at
    ahead = at - written if isinstance(at, datetime) else at - local_day(written, looked.zone)
    if ahead > LONGEST_AHEAD:
        on = date_of(local_day(written, looked.zone), looked.today)
        say = f"was written {on}, before it happened: a clock was wrong, or the date is."
        yield looked.about("before_it_happened", "wrong", entry, say)


def _place(looked: Looked, entry: BedEntry) -> Iterator[Finding]:
    """Whether the bed or planting that an entry is about was there to be given anything."""
    told: AnyEntry = entry  # type: ignore[assignment]  # every kind of the union that has a bed
    day = local_day(entry.happened_at, looked.zone)
    planting = looked.planting(entry.planting_uid)
    if planting is None:
        here = [one for one in looked.pages.plantings if one.bed_uid == entry.bed_uid]
        if isinstance(entry, Feel) and entry.ball and here and not any(map(_ball, here)):
            yield looked.about(
                "no_ball", "wrong", told, "is of a ball; all there came bare-rooted."
            )
        return
    name = plural(planting.name)
    if planting.bed_uid != entry.bed_uid:
        say = f"is of another bed: the {name} stand in {looked.bed_name(planting.bed_uid)}."
        yield looked.about("other_bed", "wrong", told, say)
    if day < planting.planted_on:
        say = f"came before the {name} were planted, {looked.on(planting.planted_on)}."
        yield looked.about("not_in_the_ground", "wrong", told, say)
    elif not isinstance(entry, Loss) and not _lives(looked, entry, day):
        yield looked.about("not_in_the_ground", "look", told, "came when all of them were lost.")
    if isinstance(entry, Feel) and entry.ball and not _ball(planting):
        say = f"is of a ball, and the {name} came bare-rooted."
        yield looked.about("no_ball", "wrong", told, say)


def _ball(planting: object) -> bool:
    return getattr(planting, "origin", "") != "bare"


def _lives(looked: Looked, entry: BedEntry, day: date) -> bool:
    planting = looked.planting(entry.planting_uid)
    if planting is None:
        return False
    losses = looked.losses.get(planting.uid, [])
    return living_count(planting, losses, day, looked.zone) > 0


def _lost(looked: Looked) -> Iterator[Finding]:
    for planting in looked.pages.plantings:
        losses = looked.losses.get(planting.uid, [])
        lost = sum(one.count for one in losses)
        if lost > planting.count:
            yield Finding(
                "more_lost_than_stood",
                "wrong",
                f"Of {counted(planting.count, 'plant')}, the {plural(planting.name)} of "
                f"{looked.bed_name(planting.bed_uid)}, {lost:,} are entered as lost.",
                AMEND,
                looked.bed_key(planting.bed_uid),
                looked.day_of(losses[-1]),
                tuple(one.uid for one in losses),
            )


def _twice(looked: Looked) -> Iterator[Finding]:
    """Entries of one kind, place and moment; of a bare day only those that are alike in all they say.

    Plants moved or parted are left out: each came with a planting of its own, so that none is there twice.
    """
    alike: defaultdict[object, list[AnyEntry]] = defaultdict(list)
    for entry in looked.pages.entries:
        if isinstance(entry, Loss) and entry.cause in ELSEWHERE:
            continue
        at = entry.happened_at
        place = (getattr(entry, "bed_uid", None), getattr(entry, "planting_uid", None))
        same = at.timestamp() if isinstance(at, datetime) else repr(_said(entry))
        alike[type(entry), place, same].append(entry)
    for entries in alike.values():
        if len(entries) > 1:
            first = entries[0]
            what = "of the gauge" if isinstance(first, Rain) else "of the same bed and moment"
            yield looked.about(
                "twice", "look", first, f"stands {len(entries)} times in the book, {what}.",
                "Where it is one and the same, take the others back: soakbook book undo.",
            )._replace(entries=tuple(one.uid for one in entries))  # fmt: skip


def _far_more(looked: Looked) -> Iterator[Finding]:
    """Soaks ten times what is usual on their ground, by hindsight too."""
    habits = Habits(looked.pages)
    for entry in looked.pages.entries:
        far = habits.doubtful(entry) if isinstance(entry, Soak) else None
        if far:
            yield looked.about("far_more", "look", entry, f"is doubtful: {far.say}.", IF_MEANT)


def _said(entry: AnyEntry) -> AnyEntry:
    """An entry without what makes it this one."""
    return replace(entry, uid="", written_at=UNWRITTEN, supersedes=None)
