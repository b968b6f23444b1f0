"""The flat records the day step works on: weather, hand, ground, plot, stores, flows.

Every field is a number or an array; all fields of one call broadcast against each other.
The shape is (planting, member); what members share has shape (planting, 1).
Nothing here computes. Litres are per plant, millimetres over the plant's cell unless said.
Symbols in the comments are those of DEVELOPERS.md, The balance by number.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Number = float | NDArray[np.float64]


class Sky(NamedTuple):
    """Weather of one step."""

    rain_mm: Number  # P, at the gauge, open ground [mm, >= 0]
    et0_mm: Number  # ET0 by FAO-56 Penman-Monteith [mm, >= 0]
    rain_hours: Number  # H, how long it fell [h, >= 0]
    soil_warmth_c: Number  # Ts, mean air temperature of the last ten days [degC]
    kc_max: Number  # Kcmax, FAO-56 eq 72 at plant height 0.5 m [-]


class Hand(NamedTuple):
    """Water given by hand in one step, litres a plant at the nozzle."""

    soak_l: Number  # I, under the mulch or into the bowl [L, >= 0]
    aim_fraction: Number  # share of the soak aimed at the ball [0-1]
    soak_efficiency: Number  # share of the soak that reaches the soil [0-1]
    broadcast_l: Number  # thrown over mulch and bed [L, >= 0]
    broadcast_efficiency: Number  # [0-1]


class Ground(NamedTuple):
    """Mulch and leaf as they stand on one day."""

    mulch_capacity_mm: Number  # cover x depth x take [mm]
    mulch_cover_fraction: Number  # [0-1]
    mulch_factor: Number  # (9), what evaporation keeps [0-1]
    leaf_fraction: Number  # multiplies kcb: 1, or 0.2 when bare


class Plot(NamedTuple):
    """One plant and its cell, as it was planted: what holds for the whole run."""

    cell_m2: Number  # A
    bed_depth_m: Number  # zbed
    available_fraction: Number  # FC - WP, m3/m3
    drainable_fraction: Number  # SAT - FC, m3/m3
    tew_mm: Number  # TEW, FAO-56 eq 73
    rew_mm: Number  # REW
    intake_mm_h: Number
    ponding_mm: Number
    drain_fraction: Number  # 1 - exp(-1 / drain_days)
    ball_volume_l: Number
    ball_radius_m: Number
    ball_depth_m: Number
    ball_available_fraction: Number
    root_start_m: Number
    root_mm_per_warm_day: Number  # g
    root_lag_days: Number  # warm days
    root_density_ratio: Number  # rho
    draw_m: Number
    exchange_per_day: Number  # k
    kcb: Number  # basal crop coefficient over the canopy
    ball_p: Number  # p, FAO-56 table 22
    bed_p: Number
    canopy_start_m2: Number
    canopy_full_m2: Number
    canopy_days: Number  # 5.6 x weeks to full, warm days
    canopy_shade_fraction: Number
    exposure_factor: Number
    rain_share: Number
    bowl_m2: Number


class Stores(NamedTuple):
    """State carried overnight."""

    mulch_store_mm: Number  # M
    bowl_skin_depletion_mm: Number  # Deb
    open_skin_depletion_mm: Number  # Deo
    ball_store_l: Number  # Sb, above wilting point
    reach_store_l: Number  # Sr
    beyond_store_l: Number  # Su
    warm_days: Number  # W


class Flows(NamedTuple):
    """What moved in one step, litres a plant; the first eight are the ledger of (46)."""

    rain_l: Number
    soak_l: Number
    given_lost_l: Number
    transpired_l: Number
    soil_evaporated_l: Number
    mulch_evaporated_l: Number
    drained_l: Number
    run_off_l: Number
    asked_l: Number  # T0 of (32)
    intake_mm: Number  # Pi of (18)
    ball_from_soak_l: Number  # how much of (20) the hand brought
    ball_from_rain_l: Number  # how much of (20) the rain brought
    ball_drunk_l: Number  # what plant and skin took out of the ball
    exchange_to_ball_l: Number  # (38), signed: positive into the ball
    mulch_taken_mm: Number  # (17)
