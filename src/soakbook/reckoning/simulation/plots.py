"""From a bed and a planting to the parameters of the step, and to the first draw of what is uncertain in them.

What the gardener did not say comes from the tables of the trade. Constants here have their marks in DEVELOPERS.md,
The balance by number.
"""

import math
from typing import NamedTuple

from soakbook.garden.jars import Share
from soakbook.garden.records import Bed, Planting
from soakbook.garden.tables.balls import MIXES
from soakbook.garden.tables.places import PLACES
from soakbook.garden.tables.plants import PLANT_CLASSES, PlantClass
from soakbook.garden.tables.soils import HEAVY_DRAIN_DAYS, SOILS, SoilClass, soil_class
from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.physics.soil import (
    SoilWater,
    readily_evaporable_mm,
    soil_water,
    texture_class,
    total_evaporable_mm,
)
from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING, Plain
from soakbook.reckoning.simulation.draws import LOG_SD, Floats, log_multipliers

BED_DEPTH_M = 0.35
TREE_BED_DEPTH_M = 0.45
BARE_ROOT_START_M = 0.12
BARE_ROOT_DEPTH_M = 0.25
BARE_ROOT_BOWL_M2 = 0.126
BOWL_IN_BALLS = 2.5
ROOT_DENSITY_RATIO = 0.35
DRAW_M = 0.04
EXCHANGE_PER_DAY = 0.05
CANOPY_SHADE_FRACTION = 0.7
WARM_DAYS_A_WEEK = 5.6
HOLE_FAST_MM_H = 100.0
HOLE_SLOW_MM_H = 25.0
FAST_DRAIN_DAYS = 0.3
SLOW_DRAIN_DAYS = 3.0
STANDING_DRAIN_DAYS = 8.0
GUESSED_DOUBT = 2.0


class Ground(NamedTuple):
    """The soil of one bed, as entered or guessed."""

    soil: SoilClass
    water: SoilWater
    drain_days: float
    intake_mm_h: float
    guessed: bool


def ground_of(bed: Bed) -> Ground:
    """The soil of a bed: from its jar, else its class; unknown is taken as loam."""
    guessed = bed.soil == "unknown" and bed.sand_fraction is None
    if bed.sand_fraction is not None and bed.clay_fraction is not None:
        soil = SOILS[texture_class(bed.sand_fraction, bed.clay_fraction)]
        sand, clay = bed.sand_fraction, bed.clay_fraction
    else:
        soil = soil_class(bed.soil)
        sand, clay = soil.sand_fraction, soil.clay_fraction
    water = soil_water(soil.name, sand, clay, bed.organic_percent, bed.stone_fraction)
    return Ground(
        soil, water, drain_days_of(bed, soil), bed.intake_mm_h or soil.intake_mm_h, guessed
    )


def drain_days_of(bed: Bed, soil: SoilClass) -> float:
    """Days in which water above capacity falls to 1/e: the drain hole's word before the table's."""
    if bed.hole == "standing":
        return STANDING_DRAIN_DAYS
    if bed.hole_mm_h is None:
        return soil.drain_days
    if bed.hole_mm_h > HOLE_FAST_MM_H:
        return FAST_DRAIN_DAYS
    if bed.hole_mm_h >= HOLE_SLOW_MM_H:
        return soil.drain_days
    return max(SLOW_DRAIN_DAYS, soil.drain_days)


def drains_slowly(bed: Bed) -> bool:
    """Whether clay's guard is on: slow soil, or a bed of which neither soil nor drain hole is known."""
    ground = ground_of(bed)
    untried = bed.hole is None and bed.hole_mm_h is None
    return ground.drain_days >= HEAVY_DRAIN_DAYS or (ground.guessed and untried)


def plain_of(bed: Bed, planting: Planting, cell_m2: float, caught: Share | None = None) -> Plain:
    """The parameters of one planting with nothing uncertain about them, all numbers.

    Parameters
    ----------
    bed, planting : Bed, Planting
        As the book has them.
    cell_m2 : float
        Ground of one plant [m2, > ball area].
    caught : Share, optional
        The share of the rain as jars have it, instead of the bed's or the place's.

    Returns
    -------
    Plain
    """
    ground, kind, place = (
        ground_of(bed),
        PLANT_CLASSES[planting.plant_class],
        PLACES[bed.place],
    )
    capacity = available_fraction(ground.water)
    volume_l, radius_m, ball_depth_m = ball_of(planting)
    bare = planting.origin == "bare"
    usual_bowl_m2 = BARE_ROOT_BOWL_M2 if bare else BOWL_IN_BALLS * math.pi * radius_m**2
    tew_mm = float(total_evaporable_mm(ground.water.field_capacity, ground.water.wilting_point))
    plot = Plot(
        cell_m2=cell_m2,
        bed_depth_m=bed_depth_m(bed, kind),
        available_fraction=capacity,
        drainable_fraction=0.0,  # follows from the available water of each member
        tew_mm=tew_mm,
        rew_mm=readily_evaporable_mm(ground.soil.rew_mm, tew_mm),
        intake_mm_h=ground.intake_mm_h,
        ponding_mm=max(1.0, 5 * (1 - 2 * bed.slope_fraction)),
        drain_fraction=1 - math.exp(-1 / ground.drain_days),
        ball_volume_l=volume_l,
        ball_radius_m=radius_m,
        ball_depth_m=ball_depth_m,
        ball_available_fraction=ball_available_fraction(planting, capacity),
        root_start_m=BARE_ROOT_START_M if bare else 0.0,
        root_mm_per_warm_day=kind.root_mm_per_warm_day,
        root_lag_days=kind.root_lag_days_by_origin[planting.origin],
        root_density_ratio=ROOT_DENSITY_RATIO,
        draw_m=DRAW_M,
        exchange_per_day=EXCHANGE_PER_DAY,
        kcb=kind.kcb,
        ball_p=kind.p,
        bed_p=kind.p,
        canopy_start_m2=planting.canopy_start_m2,
        canopy_full_m2=planting.canopy_full_m2,
        canopy_days=WARM_DAYS_A_WEEK * planting.weeks_to_full,
        canopy_shade_fraction=CANOPY_SHADE_FRACTION,
        exposure_factor=place.exposure_factor
        if bed.exposure_factor is None
        else bed.exposure_factor,
        rain_share=caught.fraction if caught else rain_share_of(bed),
        bowl_m2=planting.bowl_m2 or usual_bowl_m2,
    )
    return Plain(plot, float(ground.water.wilting_point), float(ground.water.saturation))


def rain_share_of(bed: Bed) -> float:
    """The share of the rain that a bed gets where no jar has told: as said, else as its place has it."""
    return PLACES[bed.place].rain_share if bed.rain_share is None else bed.rain_share


def drawn_of_bed(bed: Bed, members: int, caught: Share | None = None) -> dict[str, Floats]:
    """The log multipliers of a bed."""
    logs, times = log_multipliers(bed.uid, OF_BED, members), times_the_doubt(bed, caught)
    return {name: times[name] * drawn for name, drawn in logs.items()}


def times_the_doubt(bed: Bed, caught: Share | None = None) -> dict[str, float]:
    """How many times the usual sd each log multiplier of a bed has.

    Twice that of its soil where nobody has named it, less of its share of the rain where jars have it.
    """
    return {
        "aw": GUESSED_DOUBT if ground_of(bed).guessed else 1.0,
        "exposure": PLACES[bed.place].exposure_sd_factor,
        "share": 1.0 if caught is None else caught.log_sd / LOG_SD["share"],
    }


def drawn_of_planting(planting: Planting, members: int) -> dict[str, Floats]:
    """The log multipliers of a planting."""
    return log_multipliers(planting.uid, OF_PLANTING, members)


def bed_depth_m(bed: Bed, kind: PlantClass) -> float:
    """Depth of made soil under a planting."""
    return bed.bed_depth_m or (TREE_BED_DEPTH_M if kind.key == "tree" else BED_DEPTH_M)


def ball_of(planting: Planting) -> tuple[float, float, float]:
    """Volume [L], radius [m] and depth [m] of a ball as it came."""
    if planting.origin == "bare":
        return 0.0, 0.0, BARE_ROOT_DEPTH_M
    radius = planting.ball_diameter_m / 2
    return planting.ball_volume_l, radius, planting.ball_volume_l / 1000 / (math.pi * radius**2)


def ball_available_fraction(planting: Planting, soil_capacity: float) -> float:
    """Water a ball keeps for its plant once it is in the ground, by its mix or the soil it was dug from."""
    if planting.origin != "dug":
        return MIXES[planting.mix].in_ground_fraction
    if planting.dug_from_soil is None:
        return soil_capacity
    soil = SOILS[planting.dug_from_soil]
    water = soil_water(soil.name, soil.sand_fraction, soil.clay_fraction)
    return available_fraction(water)


def available_fraction(water: SoilWater) -> float:
    """What a soil holds for plants between field capacity and wilting point, of its volume."""
    return float(water.field_capacity - water.wilting_point)
