"""A record's balance with nothing fitted: one store, as deep as the sensors, run by the product's own day.

It is the limit of DEVELOPERS.md, The limit that is FAO-56, but with the day's drinking exact, and with the
soil's own intake and drainage. A day without rain in the record is not a dry day: each run has a twin begun
and kept as dry as it can have been and one as wet, and days on which the two still differ are not compared.
"""

import math
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.physics.records import Flows, Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.settling import Fixed, settle
from soakbook.reckoning.physics.soil import readily_evaporable_mm, total_evaporable_mm
from soakbook.reckoning.physics.step import next_day
from soakbook.reckoning.simulation.beliefs import Plain
from soakbook.reckoning.simulation.draws import RAIN_HOURS_UNSAID, Floats
from soakbook.truth.cover import Cover
from soakbook.truth.scores import Mask
from soakbook.truth.series import Series
from soakbook.truth.soil_said import Soil

ROOTED_WARM_DAYS = 10_000.0
FIRST_WETNESS = 0.85
PONDING_MM = 5.0
NO_HAND = Hand(0.0, 0.0, 1.0, 0.0, 1.0)
FLOOD_MM, FLOOD_HOURS = 100.0, 24.0
"""What may have fallen on a day of which the record knows no rain."""
ANEW_AFTER_DAYS = 30
"""So many days running without rain figures: the run is begun anew after them."""
ET0_MISSED_FROM_DAYS = 10
SETTLED_WITHIN = 0.1
"""Driest and wettest run closer than this share of what the soil holds for plants: the start is forgotten."""
PLAIN, DRIEST, WETTEST = 0, 1, 2


class Forcing(NamedTuple):
    """What drives a record's days; every field of shape (day,)."""

    rain_mm: Floats
    """0 where it is not known."""
    et0_mm: Floats
    kc_max: Floats
    kcb: Floats
    ground_cover: Floats
    blind: Mask
    """Days of which rain, or for long the evaporation, is not known."""
    anew: Mask
    """Days on which a run is begun."""


class Course(NamedTuple):
    """A balance run through a record."""

    theta: Floats
    """Mean water of the root zone each evening, m3/m3, (soil, day)."""
    wetness: Floats
    """Available water as a share of what the soil holds, (soil, day)."""
    et_mm: Floats
    drained_mm: Floats
    capacity_theta: float
    """Water of the first soil at field capacity, m3/m3."""
    settled: Mask
    """Days on which the start, and unknown rain, are forgotten; (day,), of the first soil."""


def forcing_of(series: Series, cover: Cover) -> Forcing:
    """Weather and cover of a record's days."""
    sky = series.sky
    kcb, ground = cover.on(sky.days)
    no_rain = np.isnan(sky.rain_mm)
    blind = no_rain | (_running(~np.array(sky.et0_known)) > ET0_MISSED_FROM_DAYS)
    length = np.concatenate([[0], _running(blind)[:-1]])
    anew = ~blind & (length > ANEW_AFTER_DAYS)
    anew[0] = True
    return Forcing(
        np.where(no_rain, 0.0, sky.rain_mm), sky.et0_mm, sky.kc_max, kcb, ground, blind, anew
    )


def root_zone(soil: Soil, depth_m: float, peak_kcb: float, depletion_p: float) -> Plain:
    """A square metre of soil with roots all through it and no ball, so that litres are millimetres."""
    water = soil.water
    tew_mm = float(total_evaporable_mm(water.field_capacity, water.wilting_point))
    plot = Plot(
        cell_m2=1.0,
        bed_depth_m=depth_m,
        available_fraction=water.field_capacity - water.wilting_point,
        drainable_fraction=water.saturation - water.field_capacity,
        tew_mm=tew_mm,
        rew_mm=readily_evaporable_mm(soil.soil.rew_mm, tew_mm),
        intake_mm_h=soil.soil.intake_mm_h,
        ponding_mm=PONDING_MM,
        drain_fraction=1 - math.exp(-1 / soil.soil.drain_days),
        ball_volume_l=0.0,
        ball_radius_m=0.0,
        ball_depth_m=depth_m,
        ball_available_fraction=0.0,
        root_start_m=0.0,
        root_mm_per_warm_day=2.5,
        root_lag_days=0.0,
        root_density_ratio=1.0,
        draw_m=0.04,
        exchange_per_day=0.0,
        kcb=peak_kcb,
        ball_p=depletion_p,
        bed_p=depletion_p,
        canopy_start_m2=1.0,
        canopy_full_m2=1.0,
        canopy_days=1.0,
        canopy_shade_fraction=0.0,
        exposure_factor=1.0,
        rain_share=1.0,
        bowl_m2=0.5,
    )
    return Plain(plot, water.wilting_point, water.saturation)


def first_stores(capacity_l: Number, wetness: Number = FIRST_WETNESS) -> Stores:
    """Stores of a run's first morning: wet skins over soil at a share of its capacity."""
    return Stores(0.0, 0.0, 0.0, 0.0, wetness * capacity_l, 0.0, ROOTED_WARM_DAYS)


def one_day(
    sky: Sky, kcb_share: float, ground_cover: float, plot: Plot, fixed: Fixed, stores: Stores
) -> tuple[Stores, Flows]:
    """The product's own day over ground so far covered; `kcb_share` is the day's part of the plot's kcb."""
    ground = Ground(0.0, 0.0, 1.0, kcb_share)
    shaded = plot._replace(canopy_shade_fraction=ground_cover)
    return next_day(sky, NO_HAND, ground, shaded, fixed, stores)


def run_plain(forcing: Forcing, zones: list[Plain], depth_m: float) -> Course:
    """The balance of one record on some soils, nothing drawn and nothing fitted.

    Parameters
    ----------
    forcing : Forcing
        Weather and cover.
    zones : list of Plain
        By `root_zone`, of one depth.
    depth_m : float
        That depth [m].

    Returns
    -------
    Course
    """
    plot = _beside_each_other([zone.plot for zone in zones])
    dry = np.array([[zone.wilting_point] for zone in zones], np.float64)
    fixed = settle(plot)
    capacity = 1000 * depth_m * np.asarray(plot.available_fraction)
    first = first_stores(capacity, np.array([[FIRST_WETNESS, 0.0, 1.0]]))
    peak = max(float(forcing.kcb.max()), 1e-9)
    stores, kept = first, np.empty((3, len(forcing.rain_mm), len(zones), 3))
    flood = np.array([[0.0, 0.0, FLOOD_MM]])
    for day, rain in enumerate(forcing.rain_mm):
        if forcing.anew[day]:
            stores = first
        blind = forcing.blind[day]
        sky = Sky(
            rain + flood if blind else float(rain),
            float(forcing.et0_mm[day]),
            FLOOD_HOURS if blind else RAIN_HOURS_UNSAID,
            0.0,
            float(forcing.kc_max[day]),
        )
        share = float(forcing.kcb[day]) / peak
        stores, flows = one_day(sky, share, float(forcing.ground_cover[day]), plot, fixed, stores)
        kept[0, day] = stores.reach_store_l
        kept[1, day] = flows.transpired_l + flows.soil_evaporated_l
        kept[2, day] = flows.drained_l
    store, et, drained = np.moveaxis(kept, 2, 1)[..., PLAIN]
    apart = kept[0, :, 0, WETTEST] - kept[0, :, 0, DRIEST]
    return Course(
        theta=dry + store / (1000 * depth_m),
        wetness=store / capacity,
        et_mm=et,
        drained_mm=drained,
        capacity_theta=float(dry[0, 0] + capacity[0, 0] / (1000 * depth_m)),
        settled=(apart <= SETTLED_WITHIN * capacity[0, 0]) & ~forcing.blind,
    )


def _beside_each_other(plots: list[Plot]) -> Plot:
    """Plots as one, a row each."""
    columns = (
        np.array([[value] for value in field], np.float64) for field in zip(*plots, strict=True)
    )
    return Plot(*columns)


def _running(missing: Mask) -> Floats:
    """How many days running, this one included, have been missing."""
    found = np.zeros(missing.size)
    count = 0
    for day, gone in enumerate(missing):
        count = count + 1 if gone else 0
        found[day] = count
    return found
