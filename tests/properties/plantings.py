"""Plantings, weather and hands of every kind, for the laws of the day step."""

from math import exp, pi
from typing import NamedTuple

import numpy as np
from hypothesis import strategies as st
from numpy.typing import NDArray

from soakbook.reckoning.physics.records import Ground, Hand, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.physics.soil import soil_water, texture_class, total_evaporable_mm
from soakbook.reckoning.physics.step import next_day


class Bed(NamedTuple):
    """Grains and habits of a soil: REW mm, intake mm/h, e-folding days of drainage."""

    sand: float
    clay: float
    rew_mm: float
    intake_mm_h: float
    drain_days: float


BEDS = [
    Bed(0.88, 0.05, 5.0, 50.0, 0.3),
    Bed(0.65, 0.10, 8.0, 25.0, 0.6),
    Bed(0.40, 0.20, 9.0, 15.0, 1.0),
    Bed(0.20, 0.15, 9.5, 10.0, 1.2),
    Bed(0.30, 0.35, 9.5, 8.0, 2.0),
    Bed(0.25, 0.50, 10.0, 4.0, 4.0),
]


def amount(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_subnormal=False)


@st.composite
def plots(draw: st.DrawFn) -> Plot:
    """Balls of 0.5 to 200 L and bare roots in beds of all soils; rates from 0 to their most."""
    bed = draw(st.sampled_from(BEDS))
    water = soil_water(texture_class(bed.sand, bed.clay), bed.sand, bed.clay)
    tew = float(total_evaporable_mm(water.field_capacity, water.wilting_point))
    bed_depth = draw(amount(0.2, 0.6))
    volume = draw(st.one_of(st.just(0.0), amount(0.5, 200)))
    depth = min(bed_depth, draw(amount(0.08, 0.45))) if volume else 0.25
    radius = (volume / 1000 / (pi * depth)) ** 0.5
    cell = pi * radius**2 * draw(amount(1.3, 20)) if volume else draw(amount(0.05, 2.0))
    full = cell * draw(amount(0, 1))
    return Plot(
        cell_m2=cell,
        bed_depth_m=bed_depth,
        available_fraction=float(water.field_capacity - water.wilting_point),
        drainable_fraction=float(water.saturation - water.field_capacity),
        tew_mm=tew,
        rew_mm=min(bed.rew_mm, 0.8 * tew),
        intake_mm_h=bed.intake_mm_h,
        ponding_mm=draw(amount(1, 5)),
        drain_fraction=1 - exp(-1 / bed.drain_days),
        ball_volume_l=volume,
        ball_radius_m=radius,
        ball_depth_m=depth,
        ball_available_fraction=draw(amount(0.05, 0.40)),
        root_start_m=0.0 if volume else draw(amount(0, 0.12)),
        root_mm_per_warm_day=draw(amount(0, 5)),
        root_lag_days=draw(amount(0, 28)),
        root_density_ratio=draw(amount(0, 1)),
        draw_m=draw(st.one_of(st.just(0.0), amount(0.001, 0.1))),
        exchange_per_day=draw(amount(0, 1)),
        kcb=draw(amount(0, 1.2)),
        ball_p=draw(amount(0.2, 0.8)),
        bed_p=draw(amount(0.2, 0.8)),
        canopy_start_m2=full * draw(amount(0, 1)),
        canopy_full_m2=full,
        canopy_days=draw(amount(5, 120)),
        canopy_shade_fraction=draw(amount(0, 1)),
        exposure_factor=draw(amount(0.3, 1.5)),
        rain_share=draw(amount(0.05, 1.3)),
        bowl_m2=2.5 * pi * radius**2 if volume else 0.126,
    )


SKIES = st.builds(
    Sky,
    rain_mm=st.one_of(st.just(0.0), amount(0, 80)),
    et0_mm=amount(0, 12),
    rain_hours=amount(0.1, 24),
    soil_warmth_c=amount(-10, 35),
    kc_max=amount(1.0, 1.4),
)
HANDS = st.builds(
    Hand,
    soak_l=st.one_of(st.just(0.0), amount(0, 60)),
    aim_fraction=amount(0, 1),
    soak_efficiency=amount(0.5, 1),
    broadcast_l=st.one_of(st.just(0.0), amount(0, 20)),
    broadcast_efficiency=amount(0.5, 1),
)
BARE = Ground(0.0, 0.0, 1.0, 1.0)
NOTHING_GIVEN = Hand(0.0, 0.6, 0.9, 0.0, 0.8)
GROUNDS = st.builds(
    Ground,
    mulch_capacity_mm=st.one_of(st.just(0.0), amount(0, 10)),
    mulch_cover_fraction=amount(0, 1),
    mulch_factor=amount(0, 1),
    leaf_fraction=st.sampled_from([0.0, 0.2, 1.0]),
)
WEEKS = st.lists(st.tuples(SKIES, HANDS), min_size=1, max_size=7)


def at_planting(plot: Plot) -> Stores:
    """Ball full, bed at 0.85 of its capacity."""
    roots = geometry(plot, settle(plot), 0.0)
    bed = (0.85 * roots.reach_capacity_l, 0.85 * roots.beyond_capacity_l)
    return Stores(0.0, 0.0, 0.0, roots.ball_capacity_l, *bed, 0.0)


def lived(plot: Plot, ground: Ground, days: list[tuple[Sky, Hand]]) -> Stores:
    """Stores after these days from planting."""
    fixed, stores = settle(plot), at_planting(plot)
    for sky, hand in days:
        stores, _ = next_day(sky, hand, ground, plot, fixed, stores)
    return stores


def garden(plantings: int, seed: int) -> Plot:
    """Many plantings as lanes: balls of 0.5 to 200 L on all soils."""
    rng = np.random.default_rng(seed)

    def between(low: float, high: float) -> NDArray[np.float64]:
        return rng.uniform(low, high, plantings)

    beds = np.array(BEDS)[rng.integers(0, len(BEDS), plantings)].T
    waters = [soil_water(texture_class(s, c), s, c)[:3] for s, c in beds[:2].T]
    capacity, wilting, saturation = np.array(waters).T
    volume = np.exp(between(np.log(0.5), np.log(200)))
    radius = np.cbrt(volume / 2000 / pi)
    cell = pi * radius**2 * between(1.5, 15)
    full = cell * between(0.1, 1)
    tew = np.asarray(total_evaporable_mm(capacity, wilting))
    return Plot(
        cell_m2=cell,
        bed_depth_m=between(0.3, 0.7),
        available_fraction=capacity - wilting,
        drainable_fraction=saturation - capacity,
        tew_mm=tew,
        rew_mm=np.minimum(beds[2], 0.8 * tew),
        intake_mm_h=beds[3],
        ponding_mm=between(1, 5),
        drain_fraction=1 - np.exp(-1 / beds[4]),
        ball_volume_l=volume,
        ball_radius_m=radius,
        ball_depth_m=2 * radius,
        ball_available_fraction=between(0.05, 0.40),
        root_start_m=np.zeros(plantings),
        root_mm_per_warm_day=between(1.2, 5),
        root_lag_days=between(5, 28),
        root_density_ratio=between(0.1, 1),
        draw_m=between(0.02, 0.1),
        exchange_per_day=between(0, 0.3),
        kcb=between(0.3, 1.2),
        ball_p=between(0.2, 0.8),
        bed_p=between(0.2, 0.8),
        canopy_start_m2=full * between(0.2, 1),
        canopy_full_m2=full,
        canopy_days=between(30, 120),
        canopy_shade_fraction=between(0.3, 1),
        exposure_factor=between(0.55, 1.2),
        rain_share=between(0.1, 1),
        bowl_m2=2.5 * pi * radius**2,
    )
