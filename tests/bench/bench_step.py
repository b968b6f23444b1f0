"""How many planting-days a second the step runs: `python tests/bench/bench_step.py`.

A lane is one planting in one member. Parameters of the members differ as they do in a reckoning;
what members share has shape (planting, 1). Times are of this process alone, the best of a few runs.
"""

import time
from collections.abc import Callable, Iterator
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.physics.drinking import thresholds, transpire
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import geometry, grow
from soakbook.reckoning.physics.settling import Fixed, settle
from soakbook.reckoning.physics.skins import Air, evaporate
from soakbook.reckoning.physics.step import next_day
from soakbook.reckoning.physics.words import one_minus_exp

MEMBERS = 200
BLOCK_LANES = 6000
RUNS = 3


class Garden(NamedTuple):
    """A block of plantings on one morning."""

    plot: Plot
    fixed: Fixed
    ground: Ground
    stores: Stores


def garden(plantings: int, members: int, seed: int = 1) -> Garden:
    """Plantings of all sizes of ball on all kinds of soil, their sampled parameters by member."""
    draw = np.random.default_rng(seed)

    def each(low: float, high: float) -> Number:
        return draw.uniform(low, high, (plantings, 1))

    def sampled(low: float, high: float, sd: float) -> Number:
        return each(low, high) * np.exp(draw.normal(0, sd, (plantings, members)))

    ball_volume_l = draw.uniform(2, 40, (plantings, 1))
    radius = np.cbrt(ball_volume_l / 2000 / np.pi)
    one = np.ones((plantings, 1))
    plot = Plot(
        cell_m2=10 * np.pi * radius**2,
        bed_depth_m=0.4 * one,
        available_fraction=sampled(0.06, 0.2, 0.2),
        drainable_fraction=sampled(0.08, 0.3, 0.05),
        tew_mm=each(9, 28),
        rew_mm=each(5, 7),
        intake_mm_h=each(4, 50),
        ponding_mm=5 * one,
        drain_fraction=each(0.2, 0.96),
        ball_volume_l=ball_volume_l,
        ball_radius_m=radius,
        ball_depth_m=2 * radius,
        ball_available_fraction=sampled(0.16, 0.18, 0.2),
        root_start_m=0 * one,
        root_mm_per_warm_day=sampled(2, 2.5, 0.35),
        root_lag_days=each(7, 21),
        root_density_ratio=0.35 * one,
        draw_m=0.04 * one,
        exchange_per_day=sampled(0.05, 0.06, 0.5),
        kcb=sampled(0.45, 0.85, 0.18),
        ball_p=sampled(0.4, 0.6, 0.1),
        bed_p=sampled(0.4, 0.6, 0.1),
        canopy_start_m2=4 * radius**2,
        canopy_full_m2=12 * radius**2,
        canopy_days=each(40, 100),
        canopy_shade_fraction=0.7 * one,
        exposure_factor=sampled(0.7, 1.2, 0.1),
        rain_share=sampled(0.4, 1.0, 0.15),
        bowl_m2=2.5 * np.pi * radius**2,
    )
    fixed = settle(plot)
    ground = Ground(3 * one, one, 0.4 * one, one)
    roots = geometry(plot, fixed, 0 * one)
    full = np.ones((plantings, members))
    stores = Stores(
        0 * full,
        0 * full,
        0 * full,
        roots.ball_capacity_l * full,
        0.85 * roots.reach_capacity_l * full,
        0.85 * roots.beyond_capacity_l * full,
        0 * one,
    )
    return Garden(plot, fixed, ground, stores)


def days(plantings: int, members: int, count: int) -> Iterator[tuple[Sky, Hand]]:
    """A showery month: rain every fifth day, a soak every third, both with the members' doubt."""
    draw = np.random.default_rng(2)
    doubt = np.exp(draw.normal(0, 0.2, (plantings, members)))
    nothing = np.zeros((plantings, 1))
    for day in range(count):
        rain = 8.0 * doubt if day % 5 == 4 else nothing
        soak = 1.5 * doubt if day % 3 == 2 else nothing
        sky = Sky(rain, 4.0 * doubt, 4.0 * doubt, 16.0, 1.2)
        yield sky, Hand(soak, nothing + 0.6, nothing + 0.9, nothing, nothing + 0.8)


def seconds(work: Callable[[], object], runs: int = RUNS) -> float:
    """Processor time of the quickest of a few runs, the last result held as a season holds it."""
    took, held = [], [work()]
    for _ in range(runs):
        started = time.process_time()
        held[0] = work()
        took.append(time.process_time() - started)
    return min(took)


def rate(lanes: int, count: int) -> float:
    """Planting-days a second, in blocks of whole plantings."""
    members = min(lanes, MEMBERS)
    plantings = lanes // members
    block = max(1, min(plantings, BLOCK_LANES // members))
    start = garden(block, members)
    month = list(days(block, members, count))

    def run() -> None:
        for _ in range(plantings // block):
            stores = start.stores
            for sky, hand in month:
                stores, _ = next_day(sky, hand, start.ground, start.plot, start.fixed, stores)

    return plantings // block * block * members * count / seconds(run)


def parts(lanes: int) -> dict[str, float]:
    """Microseconds of each part of one dry day after a soak, on one block."""
    plot, fixed, ground, stores = garden(lanes // MEMBERS, MEMBERS)
    sky, hand = list(days(lanes // MEMBERS, MEMBERS, 3))[-1]
    moist, _, roots = moisten(sky, hand, ground, plot, fixed, stores)
    canopy = fixed.bowl_m2
    kcb = plot.kcb * ground.leaf_fraction
    air = Air(sky.et0_mm, 1.2 + 0 * kcb, 0.5 * kcb, canopy)
    limits = thresholds(plot, kcb, sky.et0_mm)
    works: dict[str, Callable[[], object]] = {
        "the whole day": lambda: next_day(sky, hand, ground, plot, fixed, stores),
        "geometry": lambda: geometry(plot, fixed, stores.warm_days),
        "moisten, with geometry": lambda: moisten(sky, hand, ground, plot, fixed, stores),
        "evaporate": lambda: evaporate(air, ground, plot, fixed, roots, moist),
        "transpire": lambda: transpire(canopy * kcb * 4, limits, roots, moist),
        "grow": lambda: grow(16.0, plot, fixed, roots, moist),
        "one 1 - exp(-x) of five": lambda: one_minus_exp(moist.ball_store_l),
    }
    return {name: 1e6 * seconds(work, runs=200) for name, work in works.items()}


def main() -> None:
    """Print both tables."""
    print(f"{'lanes':>9} {'planting-days a second':>24}")
    for lanes, count in ((1, 200), (100, 200), (10_000, 60), (1_000_000, 6)):
        print(f"{lanes:>9} {rate(lanes, count):>24.3g}")
    print(f"\n{'part of a day of 6000 lanes':<28} {'us':>8}")
    for name, took in parts(6000).items():
        print(f"{name:<28} {took:>8.0f}")


if __name__ == "__main__":
    main()
