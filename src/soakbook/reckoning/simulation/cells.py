"""The ground each planting stands on, and the day its reckoning starts.

Canopies grow and plants die; a cell does neither. A replacement takes over the cell of the planting it replaces.
"""

import math
from collections.abc import Mapping
from datetime import date, timedelta
from itertools import groupby

from soakbook.errors import InputError
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting, Uid

LEAST_CELL_IN_BALLS = 1.25
ROUNDING = 1e-9
LONGEST_WAIT_FOR_WEATHER_DAYS = 14


def cells_m2(pages: Pages) -> tuple[Mapping[Uid, float], Mapping[Uid, float]]:
    """Cell areas by planting uid, and the factor by which crowded plantings were scaled down, by bed uid.

    Notes
    -----
    Entered spacing, else twice the full canopy. Where what is planted on a day asks for more ground than its bed has
    left, its cells are scaled down alike; a cell once taken stays as it is. common practice, no source.
    """
    left = {bed.uid: bed.area_m2 for bed in pages.beds}
    cells: dict[Uid, float] = {}
    crowded: dict[Uid, float] = {}
    fresh = [one for one in pages.plantings if one.replaces is None]
    together = sorted(fresh, key=_bed_and_day)
    for (bed_uid, _), group in groupby(together, key=_bed_and_day):
        planted = list(group)
        wished = {one.uid: one.cell_m2 or 2 * one.canopy_full_m2 for one in planted}
        total = sum(one.count * wished[one.uid] for one in planted)
        factor = min(1.0, max(left[bed_uid], 0.0) / total)
        factor = 1.0 if factor > 1 - ROUNDING else factor
        if factor < 1:
            crowded[bed_uid] = min(factor, crowded.get(bed_uid, 1.0))
        for one in planted:
            cells[one.uid] = factor * wished[one.uid]
            left[bed_uid] -= one.count * cells[one.uid]
    for planting in pages.plantings:
        if planting.replaces is not None:
            cells[planting.uid] = cells[first_in_cell(pages, planting).uid]
    return cells, crowded


def _bed_and_day(planting: Planting) -> tuple[Uid, date]:
    return planting.bed_uid, planting.planted_on


def first_in_cell(pages: Pages, planting: Planting) -> Planting:
    """The planting that first stood where this one stands.

    Raises
    ------
    InputError
        Plantings are said to replace each other in a circle, so that none was the first.
    """
    by_uid = {one.uid: one for one in pages.plantings}
    first, seen = planting, {planting.uid}
    while first.replaces is not None:
        first = by_uid[first.replaces]
        if first.uid in seen:
            right = "one that does not stand in its own place again: see soakbook book check"
            raise InputError("what it replaces", planting.name, right)
        seen.add(first.uid)
    return first


def least_cell_m2(ball_diameter_m: float) -> float:
    """The smallest ground a ball of this width may be given."""
    return LEAST_CELL_IN_BALLS * math.pi * (ball_diameter_m / 2) ** 2


def start_day(planting: Planting, first_weather: date) -> date | None:
    """The first day reckoned: planting, or the first weather; None when that is more than 14 days late."""
    if first_weather <= planting.planted_on:
        return planting.planted_on
    if first_weather - planting.planted_on > timedelta(days=LONGEST_WAIT_FOR_WEATHER_DAYS):
        return None
    return first_weather
