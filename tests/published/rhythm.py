"""How often ten plantings ask to be soaked in an unbroken dry spell, beside what the trade and its trials print.

`python tests/published/rhythm.py` prints the forty intervals. Each case is a planting in a year without rain, at
constant reference ET and temperature, with somebody at hand every day: it is soaked by the product's own rule (40)
and dose (42), plain run, patience 1, defaults as they stand.

Bands, with half a day's grace for a whole-day rhythm:
- shrubs from pots B, C, E: daily in weeks 1-2, every 2-3 days in weeks 3-12, weekly after: University of Minnesota
  Extension, "Watering newly planted trees and shrubs"; widened to 5 days at week 6 by a trade card (loam 5 days,
  clay 4-7, hence D to 7; sand 2-4, hence A and F).
- A: 3 L every 2-4 days under a rain shelter, 7 days too long, 8 enough with Florida rain, regular watering may stop
  between 12 and 28 weeks: University of Florida IFAS, establishment trials of shrubs from 3-gallon pots.
- H: two or three a week (IFAS oak), three or four a week (Colorado State Extension), weekly to ten days (councils).
- at least 7 days at week 30 for woody plants: ten days, Royal Horticultural Society; 7-14, Iowa State Extension.
- G, J: settling to week 6, knitting to week 20; I: common practice, no source.
All read at second hand in the project's notes, not in the originals.
"""

import math
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np

from soakbook.garden.records import Bed, Origin, Planting
from soakbook.garden.tables.methods import METHODS
from soakbook.garden.tables.mulches import MULCHES
from soakbook.reckoning.advice.dose import Delivery, floor_l, need_of
from soakbook.reckoning.advice.due import below
from soakbook.reckoning.advice.stages import stage_numbers, stages_of
from soakbook.reckoning.physics.drinking import thresholds
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Ground, Hand, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.physics.settling import Fixed, settle
from soakbook.reckoning.physics.step import next_day
from soakbook.reckoning.simulation.ahead import Standing, wetness_of
from soakbook.reckoning.simulation.start import starting_stores
from soakbook.reckoning.simulation.watering import aim_fraction
from tests.reckoning.gardens import plot_of, stacked

DAYS = 224
WEEKS = (1, 6, 16, 30)
GAP_DAYS = (8, 42, 112, 210)
DOSE_DAYS = (7, 42, 112, 205)
BED_AT_PLANTING = 0.8
GRACE_DAYS = 0.5

Band = tuple[float, float]


class Case(NamedTuple):
    """One planting and the published band of its interval at the four weeks [days]."""

    letter: str
    what: str
    plant_class: str
    origin: Origin
    ball_l: float
    ball_diameter_m: float | None
    cell_m2: float
    bed_depth_m: float
    soil: str
    chip_cm: float
    canopy: tuple[float, float, float]
    et0_mm: float
    air_c: float
    bands: tuple[Band, Band, Band, Band]
    exposure: float = 1.0


EVER = math.inf
CASES = (
    Case("A", "shrub 11.4 L, sand", "shrub", "pot", 11.4, None, 1.5, 0.45, "sand", 7.5, (0.2, 0.4, 20), 4.5, 26,
         ((1, 4), (2, 4), (2, 8), (7, EVER))),
    Case("B", "shrub 10 L, sandy loam, bare", "shrub", "pot", 10, None, 1, 0.35, "sandy loam", 0, (0.2, 0.45, 14), 4.5,
         20, ((1, 2), (2, 3), (5, 10), (7, EVER))),
    Case("C", "shrub 10 L, loam", "shrub", "pot", 10, None, 1, 0.35, "loam", 5, (0.2, 0.45, 14), 4, 16,
         ((1, 2), (2, 5), (4, 10), (7, EVER))),
    Case("D", "rose 5 L, clay loam", "shrub", "pot", 5, 0.22, 0.6, 0.35, "clay loam", 5, (0.1, 0.4, 12), 4, 16,
         ((1, 2), (2, 7), (4, 10), (7, EVER))),
    Case("E", "perennial 2 L, loam", "perennial", "pot", 2, 0.15, 0.24, 0.35, "loam", 5, (0.04, 0.14, 7), 4, 16,
         ((1, 2), (2, 7), (4, 10), (5, EVER))),
    Case("F", "perennial 2 L, loamy sand", "perennial", "pot", 2, 0.15, 0.24, 0.35, "loamy sand", 5, (0.04, 0.14, 7),
         4.5, 19, ((1, 2), (2, 4), (2, 7), (2, 7))),
    Case("G", "dug rose 30 L, clay", "dug_shrub", "dug", 30, 0.45, 1.2, 0.35, "clay", 4, (0.1, 0.5, 16), 3.5, 15,
         ((2, 7), (3, 7), (4, 10), (7, EVER))),
    Case("H", "tree 45 L, loam", "tree", "pot", 45, None, 3, 0.45, "loam", 7.5, (0.6, 1.2, 26), 5.5, 20,
         ((1, 3), (2, 4), (2, 10), (7, EVER))),
    Case("I", "whip bare-root, sandy loam", "whip", "bare", 0, 0.0, 0.5, 0.35, "sandy loam", 0, (0.01, 0.08, 10), 4,
         16, ((3, 14), (5, 14), (7, 21), (7, EVER))),
    Case("J", "yew 40 L dug, loam, sheltered", "conifer", "dug", 40, 0.45, 1, 0.35, "loam", 5, (0.35, 0.45, 20), 3.5,
         15, ((3, 7), (3, 10), (7, 14), (7, EVER)), exposure=0.8),
)  # fmt: skip
NOT_HELD = {("F", 6), ("I", 16), ("J", 16)}
"""The three of the forty that the specification's own table leaves outside, with its reasons."""


class Rhythm(NamedTuple):
    """What one case asked for."""

    case: Case
    gaps_days: tuple[float, ...]
    doses_l: tuple[float, ...]
    litres: float
    soaks: int

    def outside_by(self, index: int) -> float:
        """Days by which an interval lies outside its band, grace included."""
        low, high = self.case.bands[index]
        return max(
            low - GRACE_DAYS - self.gaps_days[index], self.gaps_days[index] - high - GRACE_DAYS, 0.0
        )


def rhythm(case: Case) -> Rhythm:
    """The season of one case."""
    planting, plot, fixed = _planted(case)
    ground = _ground(case)
    sky = Sky(0.0, case.et0_mm, 0.0, case.air_c, 1.2)
    stores = _start(planting, plot, fixed)
    aim = aim_fraction(planting, "lance", float(np.max(fixed.bowl_m2)))
    efficiency = METHODS["lance"].delivery_efficiency
    soaks: list[tuple[int, float]] = []
    for day in range(DAYS):
        litres = 0.0
        if day > 0 and _due(sky, ground, plot, fixed, stores):
            hours = None if not soaks else 24.0 * (day - soaks[-1][0])
            litres = _dose(planting, (sky, ground, plot, fixed), stores, (aim, efficiency), hours)
            soaks.append((day, litres))
        hand = Hand(litres, aim, efficiency, 0.0, 1.0)
        stores, _ = next_day(sky, hand, ground, plot, fixed, stores)
    days = [day for day, _ in soaks]
    return Rhythm(
        case,
        tuple(_gap(days, about) for about in GAP_DAYS),
        tuple(_mean([one for day, one in soaks if abs(day - about) <= 10]) for about in DOSE_DAYS),
        sum(one for _, one in soaks),
        len(soaks),
    )


def _planted(case: Case) -> tuple[Planting, Plot, Fixed]:
    wide = case.ball_diameter_m
    if wide is None:
        wide = (4 * case.ball_l / 1000 / math.pi) ** (1 / 3)
    start, full, weeks = case.canopy
    bed = Bed(
        "bed",
        "bed",
        "Bed",
        10.0,
        soil=case.soil,
        bed_depth_m=case.bed_depth_m,
        exposure_factor=case.exposure,
    )
    planting = Planting(
        "planting", "bed", case.what, case.plant_class, 1, case.origin, date(2031, 4, 1), case.ball_l, wide,
        canopy_start_m2=start, canopy_full_m2=full, weeks_to_full=weeks, cell_m2=case.cell_m2,
    )  # fmt: skip
    plot = stacked([plot_of(bed, planting, case.cell_m2, members=1)], members=1)
    half = np.array([[0.5]])  # the table was made with p 0.50 throughout
    plot = plot._replace(ball_p=half, bed_p=half)
    return planting, plot, settle(plot)


def _ground(case: Case) -> Ground:
    """Chip of constant depth."""
    chip = MULCHES["chip"]
    cover = 1.0 if case.chip_cm else 0.0
    factor = 1 - cover * (1 - 2 ** (-case.chip_cm / chip.half_cm))
    return Ground(case.chip_cm * chip.take_mm_per_cm, cover, factor, 1.0)


def _start(planting: Planting, plot: Plot, fixed: Fixed) -> Stores:
    """The product's start with the bed at 0.8 instead of 0.85 of capacity."""
    roots = geometry(plot, fixed, np.zeros((1, 1)))
    begun = starting_stores(planting, roots)
    less = BED_AT_PLANTING - 0.85
    return begun._replace(
        reach_store_l=begun.reach_store_l + less * roots.reach_capacity_l,
        beyond_store_l=begun.beyond_store_l + less * roots.beyond_capacity_l,
    )


def _due(sky: Sky, ground: Ground, plot: Plot, fixed: Fixed, stores: Stores) -> bool:
    evening, _ = next_day(sky, Hand(0.0, 1.0, 1.0, 0.0, 1.0), ground, plot, fixed, stores)
    drinking = geometry(plot, fixed, stores.warm_days)
    limits = thresholds(plot, plot.kcb * ground.leaf_fraction, sky.et0_mm * plot.exposure_factor)
    holding = geometry(plot, fixed, evening.warm_days)
    return bool(below(wetness_of(evening, holding, drinking, limits, (1, 1)), 1.0)[0, 0])


def _dose(
    planting: Planting,
    day: tuple[Sky, Ground, Plot, Fixed],
    stores: Stores,
    delivery: tuple[float, float],
    hours_since_soak: float | None,
) -> float:
    sky, ground, plot, fixed = day
    moist, received, roots = moisten(
        sky, Hand(0.0, 1.0, 1.0, 0.0, 1.0), ground, plot, fixed, stores
    )
    limits = thresholds(plot, plot.kcb, sky.et0_mm * plot.exposure_factor)
    standing = Standing(
        moist, roots, wetness_of(moist, roots, roots, limits, (1, 1)), np.zeros((1, 1)), received
    )
    aim, efficiency = (np.array([[one]]) for one in delivery)
    nothing = np.zeros((1, 1))
    need = need_of(plot, fixed, standing, Delivery(aim, efficiency), nothing)
    (stage,) = stages_of(
        stage_numbers(planting.origin == "bare", plot, fixed, np.asarray(stores.warm_days))
    )
    least = floor_l(planting, stage, hours_since_soak)
    return max(float(need.nozzle_l[0, 0]), least)


def _gap(days: Sequence[int], about: int) -> float:
    """Mean gap in the fortnight round a day where it holds three soaks, else the gap over that day."""
    near = [day for day in days if abs(day - about) <= 7]
    if len(near) >= 3:
        return (near[-1] - near[0]) / (len(near) - 1)
    before = max((day for day in days if day <= about), default=0)
    after = min((day for day in days if day > about), default=DAYS)
    return float(after - before)


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values) if values else math.nan


def table(found: Sequence[Rhythm]) -> str:
    """The forty intervals beside their bands; an asterisk marks one outside."""
    lines = [
        f"{'days between soaks at week':34}"
        + "".join(f"{week:>17}" for week in WEEKS)
        + "   litres  soaks"
    ]
    for one in found:
        cells = []
        for index, (low, high) in enumerate(one.case.bands):
            mark = "*" if one.outside_by(index) > 0 else " "
            upper = "  " if high == EVER else f"{high:g}"
            cells.append(f"{one.gaps_days[index]:7.1f}{mark} [{low:g}-{upper:>2}]".rjust(17))
        lines.append(
            f"{one.case.letter} {one.case.what:32}"
            + "".join(cells)
            + f"{one.litres:9.0f}{one.soaks:7}"
        )
    outside = sum(one.outside_by(index) > 0 for one in found for index in range(len(WEEKS)))
    lines.append(f"{4 * len(found) - outside} of {4 * len(found)} inside their bands")
    return "\n".join(lines)


if __name__ == "__main__":
    print(table([rhythm(case) for case in CASES]))
