"""The ground each planting stands on, and the day its reckoning starts.

Canopies grow and plants die; a cell does neither. A replacement takes over the cell of the planting it replaces.
"""

import math
from collections import defaultdict
from collections.abc import Mapping
from datetime import date, timedelta

from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting, Uid

LEAST_CELL_IN_BALLS = 1.25
LONGEST_WAIT_FOR_WEATHER_DAYS = 14


def cells_m2(pages: Pages) -> tuple[Mapping[Uid, float], Mapping[Uid, float]]:
    """Cell areas by planting uid, and the factor by which crowded beds were scaled down, by bed uid.

    Notes
    -----
    Entered spacing, else twice the full canopy; where the cells of a bed come to more than its area all are
    scaled down alike. common practice, no source.
    """
    wished: dict[Uid, float] = {}
    by_bed: dict[Uid, float] = defaultdict(float)
    for planting in pages.plantings:
        if planting.replaces is None:
            wished[planting.uid] = planting.cell_m2 or 2 * planting.canopy_full_m2
            by_bed[planting.bed_uid] += planting.count * wished[planting.uid]
    area = {bed.uid: bed.area_m2 for bed in pages.beds}
    crowded = {
        uid: area[uid] / total for uid, total in by_bed.items() if total > area[uid] * (1 + 1e-9)
    }
    bed_of = {planting.uid: planting.bed_uid for planting in pages.plantings}
    cells = {uid: cell * crowded.get(bed_of[uid], 1.0) for uid, cell in wished.items()}
    for planting in pages.plantings:
        if planting.replaces is not None:
            cells[planting.uid] = cells[first_in_cell(pages, planting).uid]
    return cells, crowded


def first_in_cell(pages: Pages, planting: Planting) -> Planting:
    """The planting that first stood where this one stands."""
    by_uid = {one.uid: one for one in pages.plantings}
    while planting.replaces is not None:
        planting = by_uid[planting.replaces]
    return planting


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
