"""How much a plant needs at the nozzle to carry ball and ring, and how a hand gives it."""

import math
from typing import NamedTuple

import numpy as np

from soakbook.garden.records import Bed, Planting
from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.simulation.ahead import Standing
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import grid

RING_GROWTH_WARM_DAYS = 11.2  # a fortnight at 0.8
LEAST_RING_SHARE = 0.2
LEAST_OF_POT = 0.25  # 0.25 to 0.33 of the pot: University of Minnesota Extension, watering newly planted shrubs
NOTHING = 1e-12
REWET_POURS = 4
WATER_IN_BARE_L = 2.5  # common practice, no source
REWET_LEAST_OF_BALL = 1 / 20
BOWL_MADE_DEPTH_M = 0.05
NO_BOWL_DEPTH_M = 0.02
TAKEN_WHILE_POURING = 1.3  # where no bowl is made: what level ground and intake take, over its 2 cm
DRY_SOIL_INTAKE = 4.0  # dry soil drinks about four times its settled rate, from memory (3 to 10)
SHORTEST_WAIT_MIN = 20.0
LONGEST_WAIT_MIN = 240.0
LEAST_BY_HOSE_L = 1.0
LEAST_BY_CAN_L = 0.5
HALVES_UP_TO_L = 2.0


class Delivery(NamedTuple):
    """How each planting's water is given, shape (planting, 1)."""

    aim_fraction: Floats
    efficiency: Floats


class Need(NamedTuple):
    """What the plantings lack this morning, each of shape (planting, member) [L a plant]."""

    ball_l: Floats  # db
    reach_l: Floats  # dr
    ring_l: Floats  # dn
    nozzle_l: Floats  # (42) without its floor
    room_l: Floats  # the most the cell can take at the nozzle


def need_of(
    plot: Plot,
    fixed: Fixed,
    morning: Standing,
    delivery: Delivery,
    felt_short_fraction: Floats,
    promised_mm: Floats | float = 0.0,
) -> Need:
    """What the plantings lack, member by member.

    Parameters
    ----------
    plot, fixed, morning, delivery : Plot, Fixed, Standing, Delivery
        Of the same plantings.
    felt_short_fraction : ndarray, shape (planting, 1)
        The least that a finger found a leading ball to lack, of its capacity; 0 where none did.

    promised_mm : float or ndarray, shape (planting, 1)
        Rain that may be counted on to go into the soil by the next visit.

    Notes
    -----
    (41) db = Cb - Sb; dr = max(0, Cr - Sr); dn, the ring, is the ground roots will have got to in a fortnight.
    (42) dose = max(db / aim, db + max(dr / fr, dr + dn)) / efficiency. A reach cannot take above saturation.
    """
    roots, stores = morning.roots, morning.stores
    db = np.maximum(
        roots.ball_capacity_l - stores.ball_store_l, felt_short_fraction * roots.ball_capacity_l
    )
    dr = np.maximum(roots.reach_capacity_l - stores.reach_store_l, 0)
    dr = np.maximum(dr - promised_mm * (roots.reach_m2 - roots.ball_m2), 0)  # (43)
    later = geometry(plot, fixed, stores.warm_days + RING_GROWTH_WARM_DAYS)
    out = np.minimum(np.maximum(fixed.bowl_m2, later.reach_m2), plot.cell_m2)
    soil_l = np.minimum(
        1000 * np.maximum(0, out - roots.reach_m2) * roots.reach_depth_m, roots.beyond_volume_l
    )
    shortage = np.maximum(
        0, 1 - stores.beyond_store_l / np.maximum(roots.beyond_capacity_l, NOTHING)
    )
    dn = soil_l * plot.available_fraction * shortage
    dn = np.maximum(dn - promised_mm * np.maximum(out - roots.reach_m2, 0), 0)  # (43)
    fr = np.maximum(reach_share_of_bowl(fixed, morning), LEAST_RING_SHARE)
    for_ball = db / np.maximum(delivery.aim_fraction, NOTHING) * (delivery.aim_fraction > 0)
    nozzle = np.maximum(for_ball, db + np.maximum(dr / fr, dr + dn)) / delivery.efficiency
    room = (
        db + np.maximum(roots.reach_saturation_l - stores.reach_store_l, 0) / fr
    ) / delivery.efficiency
    shape = np.shape(stores.ball_store_l)
    return Need(*(grid(field, shape) for field in (db, dr, dn, nozzle, room)))


def reach_share_of_bowl(fixed: Fixed, morning: Standing) -> Floats:
    """fr of (21): of the bowl outside the ball, the share that roots have reached."""
    outside = fixed.bowl_m2 - fixed.ball_in_bowl_m2
    return np.asarray(morning.roots.reach_in_bowl_m2 / np.maximum(outside, NOTHING))


def floor_l(planting: Planting, stage: str, hours_since_soak: float | None) -> float:
    """The least worth pouring on a pot's ball: a quarter of it until it roots out, if not soaked within a day."""
    young = stage in ("settling", "knitting")
    rested = hours_since_soak is None or hours_since_soak > 24
    return (
        LEAST_OF_POT * planting.ball_volume_l
        if planting.origin == "pot" and young and rested
        else 0.0
    )


def rewet_pour_l(
    planting: Planting, ball_short_l: float, aim_fraction: float, efficiency: float
) -> float:
    """One of four pours that wet a dry ball in a wet bed [L at the nozzle]."""
    pour = ball_short_l / (REWET_POURS * max(aim_fraction, NOTHING) * efficiency)
    return max(pour, planting.ball_volume_l * REWET_LEAST_OF_BALL)


def rewet_doses(pour_l: float) -> tuple[int, float]:
    """Pours and litres a plant that re-wet a ball: four, or as many half litres as a small ball needs."""
    pours = min(REWET_POURS, max(1, math.ceil(REWET_POURS * pour_l / LEAST_BY_CAN_L - 1e-6)))
    return pours, pours * rounded_l(REWET_POURS * pour_l / pours, by_can=True)


def water_in_l(planting: Planting) -> float:
    """What puddles a new planting in: a pot's volume, half a dug ball, a bowlful for bare roots."""
    if planting.origin == "bare":
        return WATER_IN_BARE_L
    return planting.ball_volume_l * (0.5 if planting.origin == "dug" else 1.0)


def rounded_l(litres: float, by_can: bool) -> float:
    """A dose a hand can give: up, to half litres below 2 L and whole ones above; by hose at least 1 L."""
    least = LEAST_BY_CAN_L if by_can else LEAST_BY_HOSE_L
    step = 0.5 if litres <= HALVES_UP_TO_L else 1.0
    return max(least, math.ceil(litres / step - 1e-6) * step)


def pours_of(
    bed: Bed, planting: Planting, bowl_m2: float, litres: float, intake_mm_h: float
) -> tuple[int, float]:
    """In how many pours a dose goes into the bowl, and the minutes between two.

    Notes
    -----
    A made bowl holds 5 cm, on a slope half of it; level ground 2 cm and a third more that sinks in meanwhile. Half a
    bowl sinks in before the next pour, at four times the settled rate, 20 min to 4 h. common practice, no source.
    """
    depth = planting.bowl_depth_m
    if depth is None:
        depth = BOWL_MADE_DEPTH_M if planting.bowl_m2 else NO_BOWL_DEPTH_M
        depth /= 2 if bed.slope_fraction > 0 else 1
    at_once_l = bowl_m2 * depth * 1000 * (1.0 if planting.bowl_m2 else TAKEN_WHILE_POURING)
    pours = max(1, math.ceil(litres / at_once_l - 1e-6))
    wait_min = 60 * (1000 * depth / 2) / (DRY_SOIL_INTAKE * intake_mm_h)
    return pours, min(max(wait_min, SHORTEST_WAIT_MIN), LONGEST_WAIT_MIN)
