"""The water a planting starts with."""

import math

import numpy as np

from soakbook.garden.records import FeltClass, Planting
from soakbook.garden.tables.balls import MIXES
from soakbook.reckoning.physics.records import Number, Stores
from soakbook.reckoning.physics.roots import Geometry

BED_WETNESS_AT_START = 0.85

CLASS_MIDS: dict[FeltClass, float] = {
    "dust": 0.10,
    "dry": 0.35,
    "moist": 0.68,
    "wet": 0.97,
    "sour": 1.15,
}
"""Wetness that each felt class stands for; common practice, no source."""


def starting_stores(planting: Planting, roots: Geometry) -> Stores:
    """Stores on the evening before the first step.

    Parameters
    ----------
    planting : Planting
    roots : Geometry
        Its geometry at no warm days, shape (1, member) or (1, 1).

    Returns
    -------
    Stores
        Ball full when watered in, else half full, or as felt; bed at 0.85 of capacity or as felt; what the pot
        held above what it keeps in the ground goes to the reach, then beyond.
    """
    wetness = BED_WETNESS_AT_START if planting.bed_felt is None else CLASS_MIDS[planting.bed_felt]
    nothing = np.zeros((1, 1))
    return Stores(
        mulch_store_mm=nothing,
        bowl_skin_depletion_mm=nothing,
        open_skin_depletion_mm=nothing,
        ball_store_l=ball_wetness(planting) * roots.ball_capacity_l,
        reach_store_l=nothing,
        beyond_store_l=nothing,
        warm_days=nothing,
    )._replace(**_soil_l(planting, wetness, roots))


def replacing_stores(
    planting: Planting, own: Stores, taken_over: Stores, dead: Geometry, new: Geometry
) -> Stores:
    """Stores of a replacement: its own ball, the dead plant's cell at the wetness it has."""
    capacity = dead.reach_capacity_l + dead.beyond_capacity_l
    wetness = (taken_over.reach_store_l + taken_over.beyond_store_l) / np.maximum(capacity, 1e-12)
    return own._replace(
        mulch_store_mm=taken_over.mulch_store_mm,
        bowl_skin_depletion_mm=taken_over.bowl_skin_depletion_mm,
        open_skin_depletion_mm=taken_over.open_skin_depletion_mm,
        **_soil_l(planting, wetness, new),
    )


def _soil_l(planting: Planting, wetness: Number, roots: Geometry) -> dict[str, Number]:
    """Reach and beyond at a wetness, and on top what the ball spills: into the reach while it has room."""
    reach = np.minimum(wetness * roots.reach_capacity_l, roots.reach_saturation_l)
    beyond = np.minimum(wetness * roots.beyond_capacity_l, roots.beyond_saturation_l)
    spilled = pot_reserve_l(planting)
    to_reach = np.minimum(spilled, roots.reach_saturation_l - reach)
    to_beyond = np.minimum(spilled - to_reach, roots.beyond_saturation_l - beyond)
    return {"reach_store_l": reach + to_reach, "beyond_store_l": beyond + to_beyond}


def ball_wetness(planting: Planting) -> float:
    """How full the ball is when it goes in."""
    if planting.ball_felt is not None:
        return min(1.0, CLASS_MIDS[planting.ball_felt])
    return 1.0 if planting.watered_in else 0.5


def pot_reserve_l(planting: Planting) -> float:
    """What a pot's mix loses to the soil round it within hours of planting (Nelms and Spomer 1983)."""
    if planting.origin != "pot":
        return 0.0
    mix = MIXES[planting.mix]
    return math.prod((planting.ball_volume_l, mix.in_pot_fraction, 1 - mix.kept_fraction))
