"""Roots and canopy: where they stand on a morning, and how the reach grows into soil beyond it."""

from typing import NamedTuple

import numpy as np

from soakbook.reckoning.physics.records import Number, Plot, Stores
from soakbook.reckoning.physics.settling import DEEPER_BY_REACH, Fixed
from soakbook.reckoning.physics.words import greater, lesser, over

GROWTH_STARTS_C = 6.0
WARMTH_SPAN_C = 12.0
MOST_WARM_DAYS = 1.2


class Geometry(NamedTuple):
    """Where roots stand on one morning, and what the three stores can hold."""

    root_reach_m: Number  # r
    reach_radius_m: Number  # R
    reach_m2: Number  # ar
    ball_m2: Number  # ab
    reach_depth_m: Number  # z
    reach_volume_l: Number  # Vr, litres of soil
    beyond_volume_l: Number  # Vu
    ball_capacity_l: Number  # Cb
    reach_capacity_l: Number  # Cr
    beyond_capacity_l: Number  # Cu
    reach_saturation_l: Number  # Xr
    beyond_saturation_l: Number  # Xu
    contact_fraction: Number
    ball_share_fraction: Number  # fb
    beyond_m2: Number  # A - ar
    reach_in_bowl_m2: Number  # ground of the bowl that is reach and not ball


def geometry(plot: Plot, fixed: Fixed, warm_days: Number) -> Geometry:
    """Where roots stand at this age, and what ball, reach and beyond can hold there.

    Parameters
    ----------
    plot, fixed : Plot, Fixed
        The plot and what `settle` made of it.
    warm_days : number or array
        Growth clock since planting [warm days, >= 0].

    Returns
    -------
    Geometry
        Volumes are litres of soil, capacities litres of available water.

    Notes
    -----
    (10) to (15) and (34).
    """
    grown = grown_m(plot, fixed, warm_days)
    r = lesser(plot.root_start_m + grown, fixed.furthest_root_m)  # (10)
    edge, ar, z, Vr = reached_soil(plot, fixed, grown)
    Vu = fixed.soil_l - Vr  # (13)
    contact = lesser(r * fixed.per_draw + fixed.no_ball, 1.0)  # (34)
    drunk_from = plot.ball_volume_l + plot.root_density_ratio * Vr * contact
    return Geometry(
        root_reach_m=r,
        reach_radius_m=lesser(edge, fixed.cell_radius_m),  # (11)
        reach_m2=ar,
        ball_m2=fixed.ball_m2,
        reach_depth_m=z,
        reach_volume_l=Vr,
        beyond_volume_l=Vu,
        ball_capacity_l=fixed.ball_capacity_l,
        reach_capacity_l=Vr * plot.available_fraction,  # (14)
        beyond_capacity_l=Vu * plot.available_fraction,  # (14)
        reach_saturation_l=Vr * fixed.saturable_fraction,  # (14)
        beyond_saturation_l=Vu * fixed.saturable_fraction,  # (14)
        contact_fraction=contact,
        ball_share_fraction=over(plot.ball_volume_l, drunk_from),  # (34)
        beyond_m2=plot.cell_m2 - ar,
        reach_in_bowl_m2=lesser(ar, fixed.bowl_m2) - fixed.ball_in_bowl_m2,  # (15)
    )


def canopy_m2(plot: Plot, fixed: Fixed, warm_days: Number) -> Number:
    """Leaf area as seen from above on this morning [m2]."""
    share = lesser(warm_days * fixed.per_canopy_day, 1.0)
    return lesser(plot.canopy_start_m2 + fixed.canopy_gain_m2 * share, plot.cell_m2)  # (8)


def warm_days_of(soil_warmth_c: Number) -> Number:
    """How far one day moves the growth clock [warm days, 0 to 1.2]."""
    warmth = greater((soil_warmth_c - GROWTH_STARTS_C) / WARMTH_SPAN_C, 0.0)
    return lesser(warmth, MOST_WARM_DAYS)  # (39)


def grow(
    soil_warmth_c: Number, plot: Plot, fixed: Fixed, roots: Geometry, stores: Stores
) -> Stores:
    """Evening stores: the reach takes over soil from beyond, with the water in it.

    Parameters
    ----------
    soil_warmth_c : number or array
        Mean air temperature of the last ten days [degC].
    plot, fixed, roots : Plot, Fixed, Geometry
        The plot, what `settle` made of it, and the morning's geometry.
    stores : Stores
        After drinking and exchange.

    Returns
    -------
    Stores
        To be read against the capacities of the new growth clock.

    Notes
    -----
    (39).
    """
    W = stores.warm_days + warm_days_of(soil_warmth_c)  # (39)
    _, _, _, Vr = reached_soil(plot, fixed, grown_m(plot, fixed, W))
    passed = stores.beyond_store_l * over(Vr - roots.reach_volume_l, roots.beyond_volume_l)  # (39)
    return Stores(
        mulch_store_mm=stores.mulch_store_mm,
        bowl_skin_depletion_mm=stores.bowl_skin_depletion_mm,
        open_skin_depletion_mm=stores.open_skin_depletion_mm,
        ball_store_l=stores.ball_store_l,
        reach_store_l=stores.reach_store_l + passed,
        beyond_store_l=stores.beyond_store_l - passed,
        warm_days=W,
    )


def grown_m(plot: Plot, fixed: Fixed, warm_days: Number) -> Number:
    """How far roots would have grown in open soil since they began [m]."""
    return fixed.growth_m * greater(warm_days - plot.root_lag_days, 0.0)  # (10)


def reached_soil(plot: Plot, fixed: Fixed, grown: Number) -> tuple[Number, Number, Number, Number]:
    """Edge [m], area [m2], depth [m] and volume [litres of soil] of the reach.

    The area ends at the cell and the depth at the bed, so the volume needs no limit of its own.
    """
    edge = fixed.first_edge_m + grown
    ar = lesser(np.pi * edge * edge, plot.cell_m2)  # (11)
    z = lesser(fixed.ball_depth_m + DEEPER_BY_REACH * grown, fixed.deepest_m)  # (12)
    return edge, ar, z, greater(1000.0 * ar * z - plot.ball_volume_l, 0.0)  # (13)
