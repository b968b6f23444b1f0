"""A usual planting for the tests: a shrub from a 10 litre pot on loam, in open ground."""

from math import exp, pi

import pytest

from soakbook.reckoning.physics.records import Ground, Hand, Plot, Sky


@pytest.fixture
def plot() -> Plot:
    return Plot(
        cell_m2=0.9,
        bed_depth_m=0.35,
        available_fraction=0.143,
        drainable_fraction=0.179,
        tew_mm=21.1,
        rew_mm=9.0,
        intake_mm_h=15.0,
        ponding_mm=5.0,
        drain_fraction=1 - exp(-1.0),
        ball_volume_l=10.0,
        ball_radius_m=0.14,
        ball_depth_m=0.010 / (pi * 0.14**2),
        ball_available_fraction=0.165,
        root_start_m=0.0,
        root_mm_per_warm_day=2.5,
        root_lag_days=7.0,
        root_density_ratio=0.35,
        draw_m=0.04,
        exchange_per_day=0.05,
        kcb=0.7,
        ball_p=0.5,
        bed_p=0.5,
        canopy_start_m2=0.20,
        canopy_full_m2=0.45,
        canopy_days=14 * 5.6,
        canopy_shade_fraction=0.7,
        exposure_factor=1.0,
        rain_share=1.0,
        bowl_m2=2.5 * pi * 0.14**2,
    )


@pytest.fixture
def sky() -> Sky:
    return Sky(rain_mm=0.0, et0_mm=4.0, rain_hours=4.0, soil_warmth_c=16.0, kc_max=1.2)


@pytest.fixture
def hand() -> Hand:
    return Hand(
        soak_l=0.0,
        aim_fraction=0.6,
        soak_efficiency=0.9,
        broadcast_l=0.0,
        broadcast_efficiency=0.8,
    )


@pytest.fixture
def ground() -> Ground:
    """No mulch, in leaf."""
    return Ground(
        mulch_capacity_mm=0.0, mulch_cover_fraction=0.0, mulch_factor=1.0, leaf_fraction=1.0
    )
