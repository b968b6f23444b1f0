"""Plants dug up and moved to another bed: fewer there, and a new planting here that knows where it came from."""

from datetime import date, datetime
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.records import Bed, Planting, Uid
from soakbook.garden.tables.balls import dug_ball
from soakbook.garden.tables.causes import MOVED
from soakbook.garden.tables.soils import UNKNOWN
from soakbook.quantities import saying
from soakbook.quantities.dates import parse_day
from soakbook.services.counts import whole_number
from soakbook.services.desk import Desk, key_of, writing
from soakbook.services.losing import gone_to
from soakbook.services.pen import Pen
from soakbook.services.plant_words import Context, Fields, origin_fields
from soakbook.services.room import check_room
from soakbook.services.settings import put
from soakbook.services.subjects import check_open, free_places, planting_of, standing
from soakbook.services.told import Report
from soakbook.store.entry_rows import add_entries

AS_THEY_CAME = frozenset({"ball_volume_l", "ball_diameter_m", "canopy_start_m2", "dug_from_soil"})
"""What was said of them holds no more: the ball is cut anew, the leaves have grown."""


DUG = ("ball", "deep", "bare")
"""Options that say how they were dug up."""


def move(
    path: Path,
    bed: str,
    planting: str,
    *,
    now: datetime,
    by: str | None = None,
    **typed: str,
) -> Report:
    """Enter plants of one bed as moved to another, dug up with a ball or bare.

    Parameters
    ----------
    path : Path
        The book.
    bed, planting : str
        As typed: where they stood, and which.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed: to, the bed where they stand now; count, how many, else all that stand; on, the day, else
        today; ball, deep, bare, how they were dug, else with a ball as wide as it came; name, if the same will not do.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    from soakbook.services.move_answer import Moved, answer

    with writing(Pen(path, now, by)) as desk:
        there, here = desk.bed(bed), desk.bed(typed.get("to", ""))
        if here == there:
            raise InputError("to", typed["to"], f"another bed than {there.name}")
        old = planting_of(desk, there, planting)
        day = _day(desk, there, old, typed.get("on"))
        check_open(desk, there, day, "on")
        check_open(desk, here, day, "on")
        count = _count(desk, there, old, typed.get("count"))
        fields = _fields(desk, (there, here), old, day, typed)
        came = {"count": count, "replaces": _own_ground(desk, here, old, count)}
        new, _ = put(desk, Planting, None, {**fields, **came})
        gone = gone_to(desk, here, old, count, day, MOVED)
        add_entries(desk.book, [gone])
        after = desk.reread()
        check_room(after.pages, here, "count", count)
    return answer(after, Moved(there, old, here, new, gone), "ball" in typed)


def _day(desk: Desk, there: Bed, old: Planting, on: str | None) -> date:
    day = desk.today if on is None else parse_day(on, "on", desk.today, ahead_days=0)
    if day > desk.today:
        raise InputError("on", on, "a day that has come: enter it when they are moved")
    if day < old.here_from:
        came = saying.date_of(old.here_from, desk.today)
        raise InputError("on", on, f"not before {came}, when they came into {there.name}")
    return day


def _count(desk: Desk, there: Bed, old: Planting, typed: str | None) -> int:
    stand = standing(desk.pages, old)
    if not stand:
        right = f"plants that stand: none of the {saying.plural(old.name)} of {there.name} do"
        raise InputError("planting", old.name, right)
    count = stand if typed is None else whole_number(typed, "count", "plants moved")
    if count > stand:
        right = f"at most {stand}: so many of the {saying.plural(old.name)} of {there.name} stand"
        raise InputError("count", typed, right)
    return count


def _fields(
    desk: Desk, beds: tuple[Bed, Bed], old: Planting, day: date, typed: dict[str, str]
) -> Fields:
    """The new planting's fields: the same plants in a ball cut anew, with the leaves they have by now."""
    there, here = beds
    known = old._asdict()
    del known["uid"]
    said = {name: text for name, text in typed.items() if name in DUG}
    came = origin_fields(said, Context(desk.garden, desk.today)) or _usual_ball(old)
    soil = there.soil if there.soil != UNKNOWN and came["origin"] == "dug" else None
    own = {"ball_volume_l", "ball_diameter_m"} if said else set()
    return {
        **known,
        **came,
        "bed_uid": here.uid,
        "name": _name(desk, here, old, day, typed.get("name")),
        "planted_on": day,
        "dug_from_soil": soil,
        "canopy_start_m2": _leaves_m2(old, day),
        "watered_in": True,
        "bowl_m2": None,
        "bowl_depth_m": None,
        "ball_felt": None,
        "bed_felt": None,
        "came_from": old.uid,
        "parted_on": None,
        "said": frozenset((old.said - AS_THEY_CAME) | own),
    }


def _own_ground(desk: Desk, here: Bed, old: Planting, count: int) -> Uid | None:
    """The planting of a bed that these once left and whose places are free: moved back they stand in its ground."""
    by_uid = {one.uid: one for one in desk.pages.plantings}
    one = by_uid.get(old.came_from or "")
    for _ in by_uid:  # no further: in a damaged book they may lead in a circle
        if one is None or one.bed_uid == here.uid:
            break
        one = by_uid.get(one.came_from or "")
    return one.uid if one is not None and free_places(desk.pages, one) >= count else None


def _usual_ball(old: Planting) -> Fields:
    """As wide as it came: nobody can tell how the spade went. common practice, no source."""
    if old.origin == "bare":
        return {"origin": "bare", "ball_volume_l": 0.0, "ball_diameter_m": 0.0}
    width_m = old.ball_diameter_m
    return {"origin": "dug", "ball_volume_l": dug_ball(width_m), "ball_diameter_m": width_m}


def _leaves_m2(old: Planting, day: date) -> float:
    """Ground under the leaves of one by the weeks that it has grown, up to the full."""
    grown = min(1.0, (day - old.planted_on).days / 7 / old.weeks_to_full)
    return old.canopy_start_m2 + grown * (old.canopy_full_m2 - old.canopy_start_m2)


def _name(desk: Desk, here: Bed, old: Planting, day: date, typed: str | None) -> str:
    """What they are called in the new bed: as before, with the day where that is taken."""
    taken = [one.name for one in desk.pages.plantings_of(here)]
    name = typed or old.name
    if typed is None and key_of(name, taken):
        name = f"{name} of {saying.date_of(day, desk.today)}"
    if key_of(name, taken):
        raise InputError("name", name, f"a name that no other planting of {here.name} has")
    return name
