"""The ground each planting stands on, and the day its reckoning starts.

Canopies grow and plants die; a cell does neither. A replacement takes over the cell of the planting it replaces.
"""

import math
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from itertools import groupby

from soakbook.errors import InputError
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting, Uid

LEAST_CELL_IN_BALLS = 1.25
ROOM_ROUND_A_BALL = 1.05
HALF_OF_THE_LEAVES = 0.5
ROUNDING = 1e-9
LONGEST_WAIT_FOR_WEATHER_DAYS = 14


def cells_m2(pages: Pages) -> tuple[Mapping[Uid, float], Mapping[Uid, float]]:
    """Cell areas by planting uid, and the factor by which crowded plantings were scaled down, by bed uid.

    Notes
    -----
    Entered spacing, else twice the full canopy. Where what is planted on a day asks for more ground than its bed has
    left, its cells are scaled down alike, though never below the room for its ball and half its leaves: then cells
    lie over one another. A cell once taken stays as it is. common practice, no source.
    """
    left = _with_parts_m2(pages.beds)
    cells: dict[Uid, float] = {}
    crowded: dict[Uid, float] = {}
    partings = sorted((bed for bed in pages.beds if bed.parted_on), key=_parted_on, reverse=True)
    fresh = [one for one in pages.plantings if one.replaces is None and one.parted_on is None]
    together = sorted(fresh, key=_day_and_bed)
    for (day, bed_uid), group in groupby(together, key=_day_and_bed):
        while partings and _parted_on(partings[-1]) <= day:
            _part(pages, partings.pop(), cells, left)
        planted = list(group)
        wished = {one.uid: one.cell_m2 or 2 * one.canopy_full_m2 for one in planted}
        total = sum(one.count * wished[one.uid] for one in planted)
        factor = min(1.0, max(left[bed_uid], 0.0) / total)
        factor = 1.0 if factor > 1 - ROUNDING else factor
        if factor < 1:
            crowded[bed_uid] = min(factor, crowded.get(bed_uid, 1.0))
        for one in planted:
            least_m2 = min(wished[one.uid], _standing_room_m2(one))
            cells[one.uid] = max(factor * wished[one.uid], least_m2)
            left[bed_uid] -= one.count * cells[one.uid]
    for planting in pages.plantings:
        if planting.uid not in cells:
            cells[planting.uid] = cells[first_in_cell(pages, planting).uid]
    return cells, crowded


def _with_parts_m2(beds: Sequence[Bed]) -> dict[Uid, float]:
    """The ground of each bed before anything was parted from it, by uid."""
    found = {bed.uid: bed.area_m2 for bed in beds}
    for part in sorted((bed for bed in beds if bed.parted_on), key=_parted_on, reverse=True):
        if part.parted_from in found:
            found[part.parted_from] += found[part.uid]
    return found


def _standing_room_m2(planting: Planting) -> float:
    """What a plant has of a bed that others have taken up already."""
    ball_m2 = ROOM_ROUND_A_BALL * least_cell_m2(planting.ball_diameter_m)
    return max(ball_m2, HALF_OF_THE_LEAVES * planting.canopy_full_m2)


def _part(pages: Pages, bed: Bed, cells: Mapping[Uid, float], left: dict[Uid, float]) -> None:
    """What a bed has left to plant once a part of it is a bed of its own, and what that has."""
    whole = bed.parted_from or ""
    left[whole] -= left[bed.uid]
    for one in pages.plantings_of(bed):
        if one.parted_on is not None:
            taken_m2 = one.count * cells.get(first_in_cell(pages, one).uid, 0.0)
            left[bed.uid] -= taken_m2
            left[whole] += taken_m2


def _parted_on(bed: Bed) -> date:
    return bed.parted_on or date.min


def _day_and_bed(planting: Planting) -> tuple[date, Uid]:
    return planting.planted_on, planting.bed_uid


def first_in_cell(pages: Pages, planting: Planting) -> Planting:
    """The planting that first stood where this one stands.

    Raises
    ------
    InputError
        Plantings are said to replace each other in a circle, so that none was the first.
    """
    by_uid = {one.uid: one for one in pages.plantings}
    first = planting
    for _ in by_uid:
        if first.replaces is None and first.parted_on is None:
            return first
        first = by_uid[first.replaces or first.came_from or ""]
    right = "one that does not stand in its own place again: see soakbook book check"
    raise InputError("what it stands in the place of", planting.name, right)


def least_cell_m2(ball_diameter_m: float) -> float:
    """The smallest ground a ball of this width may be given."""
    return LEAST_CELL_IN_BALLS * math.pi * (ball_diameter_m / 2) ** 2


def start_day(planting: Planting, first_weather: date) -> date | None:
    """The first day reckoned: the first in its bed, or the first weather; None when that is over 14 days late."""
    if first_weather <= planting.planted_on:
        return planting.here_from
    if first_weather - planting.planted_on > timedelta(days=LONGEST_WAIT_FOR_WEATHER_DAYS):
        return None
    return max(first_weather, planting.here_from)
