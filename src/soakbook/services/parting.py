"""A bed parted in two: a part of its ground, with the plants on it, is a bed of its own from a day on."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden.entries import BedEntry, Loss
from soakbook.garden.records import Bed, Planting
from soakbook.garden.tables.causes import ELSEWHERE, PARTED
from soakbook.quantities import saying
from soakbook.quantities.dates import parse_day
from soakbook.reckoning.simulation.cells import least_cell_m2
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.beds import new_bed
from soakbook.services.counts import whole_number
from soakbook.services.desk import Desk, key_of, writing
from soakbook.services.losing import gone_to
from soakbook.services.pen import Pen
from soakbook.services.room import check_room
from soakbook.services.settings import put
from soakbook.services.subjects import check_open, planting_of, standing
from soakbook.services.told import Report, told
from soakbook.store.entry_rows import add_entries

A_DAY = timedelta(days=1)
PLANTS = (
    '"shrub rose, hydrangea 6": those that stand on the part, with how many where it is not all'
)


class Going(NamedTuple):
    """Plants that belong to the new bed: all of a planting, or so many of it."""

    planting: Planting
    count: int  # type: ignore[assignment]  # a tuple's own count is not asked here


def part(
    path: Path, bed: str, key: str, *, now: datetime, by: str | None = None, **typed: str
) -> Report:
    """Make a part of a bed a bed of its own. The plants stay where they stand and keep their water and their past.

    Parameters
    ----------
    path : Path
        The book.
    bed, key : str
        As typed: the bed that is parted, and the key of the new one.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed: area, the new bed's ground; plants, those that stand on it; on, the first day on which they
        are two, else today, or tomorrow where it was entered today as one; name, the new one's, if not its key.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    with writing(Pen(path, now, by)) as desk:
        whole = desk.bed(bed)
        day = _first_day(desk, whole, typed.get("on"))
        check_open(desk, whole, day, "on")
        if key_of(key, [one.key for one in desk.pages.beds]):
            raise InputError("key", key, "a key that no bed has yet")
        fresh = new_bed(
            desk, key, {name: typed[name] for name in ("area", "name") if name in typed}
        )
        if fresh.area_m2 >= whole.area_m2:
            right = f"less than the {saying.area(whole.area_m2)} of {whole.name}"
            raise InputError("area", typed["area"], right)
        going = tuple(_going(desk, whole, typed.get("plants", "")))
        _check_ground(going, typed["area"], fresh.area_m2)
        here, _ = put(desk, Bed, None, _of_part(whole, fresh, day))
        put(desk, Bed, whole, {"area_m2": whole.area_m2 - fresh.area_m2})
        lost = [gone_to(desk, here, one.planting, one.count, day, PARTED) for one in going]
        for one in going:
            put(desk, Planting, None, _over(one, here, day))
        add_entries(desk.book, lost)
        after = desk.reread()
        for each in (here, after.bed_with(whole.uid)):
            check_room(after.pages, each, "area", typed["area"])
    return told("part", here.key, _say(after, after.bed_with(whole.uid), here, going, day), {
        "entries": [one.uid for one in lost],
        "parted_from": whole.key,
        "parted_on": day.isoformat(),
        "area_m2": [after.bed_with(whole.uid).area_m2, here.area_m2],
        "plantings": [{"planting": one.planting.name, "count": one.count} for one in going],
    })  # fmt: skip


def _first_day(desk: Desk, whole: Bed, on: str | None) -> date:
    """The first day on which they are two: nothing may be entered of it as one on that day or later."""
    last = max(
        (
            local_day(one.happened_at, desk.zone)
            for one in desk.pages.entries
            if isinstance(one, BedEntry) and one.bed_uid == whole.uid and not _went_over(one)
        ),
        default=date.min,
    )
    tomorrow = desk.today + A_DAY
    if on is None:
        day = tomorrow if last >= desk.today else desk.today
    else:
        day = parse_day(on, "on", desk.today)
        if day > tomorrow:
            raise InputError("on", on, "tomorrow at the latest")
    if day <= last:
        free = saying.date_of(last + A_DAY, desk.today)
        right = f"{free} or later: until the day before, {whole.name} was entered as one bed"
        raise InputError("on", on or day.isoformat(), right)
    return day


def _went_over(entry: BedEntry) -> bool:
    """Whether it only says that plants were moved or parted: of a bed two parts may be made on one day."""
    return isinstance(entry, Loss) and entry.cause in ELSEWHERE


def _going(desk: Desk, whole: Bed, plants: str) -> Iterator[Going]:
    """The plants that are named."""
    words = [word.strip() for word in plants.split(",") if word.strip()]
    if not words:
        raise InputError("plants", plants, PLANTS)
    seen: set[str] = set()
    for word in words:
        name, _, last = word.rpartition(" ")
        counted = bool(name) and last.strip("+-").replace(".", "").isdigit()
        planting = planting_of(desk, whole, name if counted else word)
        stand = standing(desk.pages, planting)
        count = whole_number(last, "plants", "plants") if counted else stand
        if planting.uid in seen:
            raise InputError("plants", word, "each planting once")
        if not 1 <= count <= stand:
            right = f"1 to {stand}: so many of the {saying.plural(planting.name)} stand" if stand else (
                f"plants that stand: none of the {saying.plural(planting.name)} do"
            )  # fmt: skip
            raise InputError("plants", word, right)
        seen.add(planting.uid)
        yield Going(planting, count)


def _check_ground(going: tuple[Going, ...], typed: str, area_m2: float) -> None:
    """Refuse a part that is smaller than the balls of its plants."""
    least_m2 = sum(one.count * least_cell_m2(one.planting.ball_diameter_m) for one in going)
    if area_m2 <= least_m2:
        right = f"more than {least_m2:.2g} m2: the balls of those plants need as much"
        raise InputError("area", typed, right)


def _of_part(whole: Bed, fresh: Bed, day: date) -> dict[str, object]:
    """The new bed's fields: the ground of the whole, its own size and name."""
    fields = whole._asdict()
    del fields["uid"]
    own = {"key": fresh.key, "name": fresh.name, "area_m2": fresh.area_m2}
    said = whole.said | fresh.said
    return {**fields, **own, "said": said, "parted_from": whole.uid, "parted_on": day}


def _over(one: Going, here: Bed, day: date) -> dict[str, object]:
    """The planting's fields in the new bed: the same plants, so many of them."""
    fields = one.planting._asdict()
    del fields["uid"]
    own = {"bed_uid": here.uid, "count": one.count, "replaces": None}
    return {**fields, **own, "came_from": one.planting.uid, "parted_on": day}


def _say(
    after: Desk, whole: Bed, here: Bed, going: tuple[Going, ...], day: date
) -> tuple[str, ...]:
    since = {after.today: "today", after.today + A_DAY: "tomorrow"}.get(
        day, saying.date_of(day, after.today)
    )
    went = saying.names([saying.plants_of(one.planting.name, one.count) for one in going])
    left = [
        saying.plants_of(one.name, count)
        for one in after.pages.plantings_of(whole)
        if (count := standing(after.pages, one)) > 0
    ]
    keeps = f"keeps {saying.names(left)}" if left else "has no plants left"
    wait = (
        ""
        if day <= after.today
        else f"Today {whole.name} is entered as one bed still, and both are on tomorrow's round."
    )
    return (
        f"{here.name}, {saying.area(here.area_m2)}, is a bed of its own from {since}, with {went}. "
        f"{whole.name}, {saying.area(whole.area_m2)}, {keeps}.",
        "Nothing happened to the plants: each has the water it had. What was given, felt and laid before is the past "
        "of both.",
        f"Soil, place and tap are as those of {whole.name}; where the part differs, say so: soakbook bed "
        f"{saying.quoted(here.key)} --soil, --place, --tap.",
        wait,
    )
