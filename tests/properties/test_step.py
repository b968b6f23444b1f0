"""What holds of the day step for any planting, any weather and any hand.

Some laws hold only in the form written here: see each test. Mornings are reached by the step itself
where a law asks for it, for stores drawn freely can be such as no run of days leaves behind.
"""

from math import exp, pi

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from soakbook.reckoning.physics.ledger import held_l, imbalance_mm
from soakbook.reckoning.physics.records import Flows, Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.physics.step import next_day
from tests.properties.plantings import (
    BARE,
    GROUNDS,
    NOTHING_GIVEN,
    SKIES,
    WEEKS,
    amount,
    at_planting,
    garden,
    lived,
    plots,
)

LITRES = 1e-9
MILLIMETRES = 1e-9


def check_day(plot: Plot, sky: Sky, before: Stores, after: Stores, flows: Flows) -> None:
    """Nothing is lost, overdrawn, overfilled or below nothing."""
    roots = geometry(plot, settle(plot), after.warm_days)
    assert np.all(np.abs(imbalance_mm(plot.cell_m2, before, after, flows)) <= MILLIMETRES)
    for amount_held in (*after, *flows._replace(exchange_to_ball_l=0.0)):
        assert np.all(amount_held >= -LITRES)
    assert np.all(after.ball_store_l <= roots.ball_capacity_l + LITRES)
    assert np.all(after.reach_store_l <= roots.reach_saturation_l + LITRES)
    assert np.all(after.beyond_store_l <= roots.beyond_saturation_l + LITRES)
    assert np.all(after.bowl_skin_depletion_mm <= plot.tew_mm + MILLIMETRES)
    assert np.all(after.open_skin_depletion_mm <= plot.tew_mm + MILLIMETRES)
    assert np.all(flows.transpired_l <= flows.asked_l + LITRES)
    evaporated = flows.soil_evaporated_l + flows.mulch_evaporated_l
    kc_cell = np.maximum(sky.kc_max, plot.kcb + 0.05)
    most = kc_cell * sky.et0_mm * plot.exposure_factor * plot.cell_m2
    assert np.all(evaporated + flows.asked_l <= most + LITRES)


@given(plot=plots(), ground=GROUNDS, days=WEEKS)
def test_a_week_closes_within_all_bounds(
    plot: Plot, ground: Ground, days: list[tuple[Sky, Hand]]
) -> None:
    fixed, stores = settle(plot), at_planting(plot)
    for sky, hand in days:
        before = stores
        stores, flows = next_day(sky, hand, ground, plot, fixed, before)
        check_day(plot, sky, before, stores, flows)


def test_three_hundred_days_of_four_hundred_plantings_close() -> None:
    plot = garden(400, seed=11)
    fixed, stores = settle(plot), at_planting(plot)
    rng = np.random.default_rng(12)
    ground = Ground(rng.uniform(0, 6, 400), 1.0, rng.uniform(0.2, 1, 400), 1.0)
    for _ in range(300):
        rain = np.where(rng.random(400) < 0.3, rng.gamma(0.7, 8, 400), 0.0)
        soak = np.where(rng.random(400) < 0.3, rng.uniform(0, 0.6, 400) * plot.ball_volume_l, 0.0)
        sky = Sky(rain, rng.uniform(0, 8, 400), rng.uniform(0.3, 12, 400), 16.0, 1.2)
        before = stores
        stores, flows = next_day(sky, Hand(soak, 0.6, 0.9, 0.0, 0.8), ground, plot, fixed, before)
        check_day(plot, sky, before, stores, flows)


def test_lanes_do_not_know_their_order() -> None:
    plot = garden(50, seed=3)
    order = np.random.default_rng(4).permutation(50)
    mixed = plot._replace(**{name: value[order] for name, value in plot._asdict().items()})
    sky, hand = Sky(4.0, 5.0, 2.0, 14.0, 1.2), Hand(2.0, 0.6, 0.9, 1.0, 0.8)
    found = next_day(sky, hand, BARE, mixed, settle(mixed), at_planting(mixed))
    straight = next_day(sky, hand, BARE, plot, settle(plot), at_planting(plot))
    for one, other in zip((*found[0], *found[1]), (*straight[0], *straight[1]), strict=True):
        assert np.array_equal(np.broadcast_to(one, 50), np.broadcast_to(other, 50)[order])


NOTHINGS: list[dict[str, float]] = [
    {"ball_volume_l": 0.0, "ball_radius_m": 0.0, "ball_depth_m": 0.25},
    {"canopy_start_m2": 0.0, "canopy_full_m2": 0.0},
    {"root_density_ratio": 0.0},
    {"draw_m": 0.0},
    {"exchange_per_day": 0.0},
    {"root_lag_days": -1e6},  # rooted everywhere: nothing beyond
    {"drain_fraction": 0.0, "kcb": 0.0},
    {"canopy_shade_fraction": 1.0, "canopy_full_m2": 1.0, "canopy_days": 1.0},  # no bare ground
]


@pytest.mark.parametrize("nothing", [*NOTHINGS, {key: v for n in NOTHINGS for key, v in n.items()}])
def test_where_there_is_nothing_all_stays_a_number(nothing: dict[str, float]) -> None:
    plot = one_bucket(0.7, 0.7)._replace(exchange_per_day=0.05, drain_fraction=0.6)
    plot = plot._replace(root_lag_days=7.0, canopy_start_m2=0.2)._replace(**nothing)
    fixed, stores = settle(plot), at_planting(plot)
    for rain_mm, soak_l in ((0.0, 0.0), (30.0, 0.0), (0.0, 5.0), (0.0, 0.0), (0.0, 0.0)):
        sky, hand = Sky(rain_mm, 6.0, 4.0, 18.0, 1.2), Hand(soak_l, 0.6, 0.9, 0.0, 0.8)
        before = stores
        stores, flows = next_day(sky, hand, BARE, plot, fixed, before)
        assert all(np.isfinite(value) for value in (*stores, *flows))
        check_day(plot, sky, before, stores, flows)


@given(plot=plots(), ground=GROUNDS, days=WEEKS, warmth=amount(-10, 6))
def test_without_sun_or_rain_water_only_drains_and_evens_out(
    plot: Plot, ground: Ground, days: list[tuple[Sky, Hand]], warmth: float
) -> None:
    """In the cold roots stand still; in a warm night growth only moves water from beyond to reach."""
    before = lived(plot, ground, days)
    night = Sky(0.0, 0.0, 4.0, warmth, 1.2)
    after, flows = next_day(night, NOTHING_GIVEN, ground, plot, settle(plot), before)
    moved = flows._replace(drained_l=0.0, exchange_to_ball_l=0.0)
    assert all(flow == 0.0 for flow in moved)
    assert after[:3] == before[:3]
    assert after.warm_days == before.warm_days
    assert after.ball_store_l - before.ball_store_l == pytest.approx(flows.exchange_to_ball_l)
    lost = held_l(plot.cell_m2, before) - held_l(plot.cell_m2, after)
    assert lost == pytest.approx(flows.drained_l, abs=1e-9)


@given(plot=plots(), ground=GROUNDS, days=WEEKS, sky=SKIES, more_mm=amount(0.1, 80))
def test_more_rain_leaves_no_less(
    plot: Plot, ground: Ground, days: list[tuple[Sky, Hand]], sky: Sky, more_mm: float
) -> None:
    """Total of an evening, to 0.5 mm, on a day without a soak.

    It holds where no skin is drier than the soil under it is short: a dry skin over soil that has all
    it can hold takes rain up for the sun, while as much drains below.
    """
    morning = lived(plot, ground, days)
    assume(no_skin_drier_than_its_soil(plot, morning))
    fixed = settle(plot)
    after, _ = next_day(sky, NOTHING_GIVEN, ground, plot, fixed, morning)
    wet = sky._replace(rain_mm=sky.rain_mm + more_mm)
    wetter, _ = next_day(wet, NOTHING_GIVEN, ground, plot, fixed, morning)
    more = held_l(plot.cell_m2, wetter) - held_l(plot.cell_m2, after)
    assert more / plot.cell_m2 >= -0.5


@given(plot=plots(), ground=GROUNDS, days=WEEKS, sky=SKIES, soak_l=amount(0.05, 40))
def test_a_soak_leaves_no_less_than_none(
    plot: Plot, ground: Ground, days: list[tuple[Sky, Hand]], sky: Sky, soak_l: float
) -> None:
    """Total of an evening, to 0.1 mm, with the proviso of the rain.

    On sand nearly all of an overdose drains the same day, so that what the wetter bowl gives the sun
    can outweigh what is kept: one in five thousand mornings loses up to 0.03 mm.
    """
    morning = lived(plot, ground, days)
    assume(no_skin_drier_than_its_soil(plot, morning))
    dry, fixed = sky._replace(rain_mm=0.0), settle(plot)
    after, _ = next_day(dry, NOTHING_GIVEN, ground, plot, fixed, morning)
    soaked, _ = next_day(dry, NOTHING_GIVEN._replace(soak_l=soak_l), ground, plot, fixed, morning)
    more = held_l(plot.cell_m2, soaked) - held_l(plot.cell_m2, after)
    assert more / plot.cell_m2 >= -0.1


def no_skin_drier_than_its_soil(plot: Plot, stores: Stores) -> bool:
    """Whether each skin's depletion is at most what every store under it is short, in mm."""
    fixed = settle(plot)
    roots = geometry(plot, fixed, stores.warm_days)
    of_reach = float(roots.reach_m2 - roots.ball_m2)
    ball = short_mm(roots.ball_capacity_l - stores.ball_store_l, float(roots.ball_m2))
    reach = short_mm(roots.reach_capacity_l - stores.reach_store_l, of_reach)
    beyond = short_mm(roots.beyond_capacity_l - stores.beyond_store_l, float(roots.beyond_m2))
    outside = float(fixed.bowl_m2 - roots.reach_m2)
    under_bowl = min(ball, reach, beyond if outside > 0 else np.inf)
    under_open = min(reach if outside < 0 else np.inf, beyond)
    bowl_fits = bool(stores.bowl_skin_depletion_mm <= under_bowl)
    return bowl_fits and bool(stores.open_skin_depletion_mm <= under_open)


def short_mm(missing_l: Number, area_m2: float) -> float:
    """What a store lacks to its capacity, in mm; no limit where it has no ground."""
    return max(0.0, float(missing_l)) / area_m2 if area_m2 > 0 else np.inf


@given(
    plot=plots(),
    days=WEEKS,
    sky=SKIES,
    depths=st.tuples(amount(0, 10), amount(0, 10)).map(sorted),
    cover=amount(0, 1),
)
def test_deeper_mulch_saves_water(
    plot: Plot, days: list[tuple[Sky, Hand]], sky: Sky, depths: list[float], cover: float
) -> None:
    """From the same morning without rain: soil under dry mulch loses no more the deeper it lies.

    Mulch that holds water may leave the soil a little more of the sun where it is deeper, for it then
    gives its own more slowly; mulch and soil together never lose more.
    """
    stores, fixed = lived(plot, BARE, days), settle(plot)
    dry = sky._replace(rain_mm=0.0)

    def evaporated(depth_cm: float, mulch_store_mm: float) -> tuple[Number, Number]:
        factor = 1 - cover * (1 - 2 ** (-depth_cm / 3.5))
        ground = Ground(0.6 * depth_cm * cover, cover, factor, 1.0)
        morning = stores._replace(mulch_store_mm=mulch_store_mm)
        _, flows = next_day(dry, NOTHING_GIVEN, ground, plot, fixed, morning)
        return flows.soil_evaporated_l, flows.soil_evaporated_l + flows.mulch_evaporated_l

    shallow, deep = depths
    assert evaporated(deep, 0.0)[0] <= evaporated(shallow, 0.0)[0] + LITRES
    wet = 0.6 * shallow * cover
    assert evaporated(deep, wet)[1] <= evaporated(shallow, wet)[1] + LITRES


@given(
    wetness=amount(0, 1),
    rain_mm=amount(0, 60),
    et0_mm=amount(0, 12),
    kcb=amount(0.1, 1.2),
    shade=amount(0.3, 1),
)
def test_a_ball_in_its_own_soil_with_roots_everywhere_is_one_bucket(
    wetness: float, rain_mm: float, et0_mm: float, kcb: float, shade: float
) -> None:
    """Ball of the bed's soil, roots as dense outside: a day of FAO-56's root zone, written anew."""
    plot = one_bucket(kcb, shade)
    fixed = settle(plot)
    roots = geometry(plot, fixed, 1e4)
    whole = float(roots.ball_capacity_l + roots.reach_capacity_l)
    assert roots.beyond_volume_l == pytest.approx(0, abs=1e-9)
    stores = Stores(0.0, 25.0, 25.0, wetness * roots.ball_capacity_l, 0.0, 0.0, 1e4)
    stores = stores._replace(reach_store_l=wetness * roots.reach_capacity_l)
    sky = Sky(rain_mm, et0_mm, 24.0, 0.0, 1.2)
    after, flows = next_day(sky, NOTHING_GIVEN, BARE, plot, fixed, stores)

    bucket = min(wetness * whole + rain_mm, whole)
    bucket -= float(flows.soil_evaporated_l)
    p = min(0.8, max(0.1, 0.5 + 0.04 * (5 - kcb * et0_mm)))
    threshold, asked = (1 - p) * whole, kcb * et0_mm
    full = min(asked, max(0.0, bucket - threshold))
    drunk = full + min(bucket, threshold) * (1 - exp(-(asked - full) / threshold))
    held = float(after.ball_store_l + after.reach_store_l + after.beyond_store_l)
    assert flows.transpired_l == pytest.approx(drunk, abs=1e-9)
    assert held == pytest.approx(bucket - drunk, abs=1e-9)


def one_bucket(kcb: float, shade: float) -> Plot:
    """A square metre wholly rooted, covered by its canopy, all excess draining at once."""
    return Plot(
        cell_m2=1.0,
        bed_depth_m=0.30,
        available_fraction=0.143,
        drainable_fraction=1.0,
        tew_mm=25.0,
        rew_mm=9.0,
        intake_mm_h=1e6,
        ponding_mm=1e6,
        drain_fraction=1.0,
        ball_volume_l=30.0,
        ball_radius_m=(0.1 / pi) ** 0.5,
        ball_depth_m=0.30,
        ball_available_fraction=0.143,
        root_start_m=0.0,
        root_mm_per_warm_day=2.5,
        root_lag_days=0.0,
        root_density_ratio=1.0,
        draw_m=0.04,
        exchange_per_day=0.0,
        kcb=kcb,
        ball_p=0.5,
        bed_p=0.5,
        canopy_start_m2=1.0,
        canopy_full_m2=1.0,
        canopy_days=1.0,
        canopy_shade_fraction=shade,
        exposure_factor=1.0,
        rain_share=1.0,
        bowl_m2=0.25,
    )
