"""A bed's dressing as it stands on a day: depth settles, each laying on a clock of its own."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from soakbook.garden.tables.mulches import MULCHES, MulchKind

SETTLING_DAYS = 180
SHEET_EVAPORATION_CUT = 0.65  # woven sheet or plastic: FAO-56, evaporation cut by 50 to 80 %


class Laying(NamedTuple):
    """One dressing, laid on a day."""

    laid_on: date
    kind: str
    depth_cm: float
    cover_fraction: float


class Mulch(NamedTuple):
    """What one day's step needs to know of the mulch."""

    capacity_mm: float
    cover_fraction: float
    evaporation_factor: float
    depth_cm: float


BARE = Mulch(0.0, 0.0, 1.0, 0.0)


def mulch_on(day: date, layings: Iterable[Laying]) -> Mulch:
    """The mulch of a bed on `day`, layings of that day included.

    Notes
    -----
    (9) factor = 1 - cover (1 - 2^(-depth / half)); depth falls linearly to the kind's share of it over 180 days;
    depth and depth x take are sums over layings, half their mean weighted by depth. A sheet: 1 - 0.65 cover.
    """
    depth = take = half_weight = cover = sheet_cover = 0.0
    for laying in layings:
        if laying.laid_on > day:
            continue
        kind = MULCHES[laying.kind]
        cover = max(cover, laying.cover_fraction)
        if kind.sheet:
            sheet_cover = max(sheet_cover, laying.cover_fraction)
            continue
        left = settled_depth_cm(day, laying, kind)
        depth += left
        take += left * kind.take_mm_per_cm
        half_weight += left * kind.half_cm
    if cover == 0.0:
        return BARE
    factor = 1 - SHEET_EVAPORATION_CUT * sheet_cover
    if depth > 0.0:
        factor *= 1 - cover * (1 - 2 ** (-depth * depth / half_weight))  # (9)
    return Mulch(cover * take, cover, factor, depth)


def settled_depth_cm(day: date, laying: Laying, kind: MulchKind) -> float:
    """What is left of one laying's depth."""
    age = min(1.0, (day - laying.laid_on).days / SETTLING_DAYS)
    return laying.depth_cm * (1 - (1 - kind.settles_to) * age)
