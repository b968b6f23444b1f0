import numpy as np
import pytest

from soakbook.reckoning.physics.drinking import exchange_to_ball
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.ledger import imbalance_mm
from soakbook.reckoning.physics.records import Ground, Hand, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import geometry, grow
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.physics.step import dry, next_day

EVENING = Stores(0.5, 3.0, 8.0, 1.2, 1.5, 25.0, 40.0)


def test_a_day_is_water_in_then_drying_then_growth(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    fixed = settle(plot)
    wet, given = sky._replace(rain_mm=7.0), hand._replace(soak_l=2.0)
    moist, received, roots = moisten(wet, given, ground, plot, fixed, EVENING)
    dried, lost = dry(wet, ground, plot, fixed, roots, moist)
    after, flows = next_day(wet, given, ground, plot, fixed, EVENING)
    assert after == grow(wet.soil_warmth_c, plot, fixed, roots, dried)
    moved = flows._asdict()
    for part in (received, lost):
        for name, value in part._asdict().items():
            assert moved.pop(name) == value
    assert not moved


def test_a_leafless_plant_asks_a_fifth(plot: Plot, sky: Sky, hand: Hand, ground: Ground) -> None:
    fixed = settle(plot)
    _, leafy = next_day(sky, hand, ground, plot, fixed, EVENING)
    bare_ground = ground._replace(leaf_fraction=0.2)
    _, leafless = next_day(sky, hand, bare_ground, plot, fixed, EVENING)
    assert leafless.asked_l == pytest.approx(0.2 * leafy.asked_l)


def test_demand_is_kcb_times_canopy_times_et0(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """0.7 x 0.20 m2 x 4 mm x 1.2 on the planting day at a south wall."""
    warm = plot._replace(exposure_factor=1.2)
    start = EVENING._replace(warm_days=0.0)
    _, flows = next_day(sky, hand, ground, warm, settle(warm), start)
    assert flows.asked_l == pytest.approx(0.7 * 0.20 * 4 * 1.2)


def test_a_dense_canopy_leaves_the_ground_a_twentieth(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """Kcb 1.2 over the whole cell is above Kcmax: wet ground still takes 0.05 x 4 mm."""
    closed = plot._replace(kcb=1.2, canopy_start_m2=0.9, canopy_full_m2=0.9)
    wet = Stores(0.0, 0.0, 0.0, 1.65, 4.0, 30.0, 40.0)
    _, flows = next_day(sky, hand, ground, closed, settle(closed), wet)
    assert flows.soil_evaporated_l == pytest.approx(0.05 * 4 * 0.9)


def test_the_ball_is_drunk_dried_and_topped_up(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    given = hand._replace(soak_l=0.5)
    after, flows = next_day(sky, given, ground, plot, settle(plot), EVENING)
    gained = flows.ball_from_soak_l + flows.ball_from_rain_l - flows.ball_drunk_l
    assert after.ball_store_l - EVENING.ball_store_l == pytest.approx(
        gained + flows.exchange_to_ball_l
    )


def test_exchange_stands_on_the_stores_after_drinking(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    fixed = settle(plot)
    frozen = sky._replace(soil_warmth_c=0.0)
    after, flows = next_day(frozen, hand, ground, plot, fixed, EVENING)
    roots = geometry(plot, fixed, EVENING.warm_days)
    to_ball = flows.exchange_to_ball_l
    before = (after.ball_store_l - to_ball, after.reach_store_l + to_ball)
    assert exchange_to_ball(plot, roots, *before) == pytest.approx(to_ball)


def test_every_flow_closes_the_ledger(plot: Plot, sky: Sky, hand: Hand, ground: Ground) -> None:
    wet, given = sky._replace(rain_mm=30.0), hand._replace(soak_l=4.0, broadcast_l=3.0)
    mulched = ground._replace(mulch_capacity_mm=3.0, mulch_cover_fraction=0.8)
    after, flows = next_day(wet, given, mulched, plot, settle(plot), EVENING)
    assert imbalance_mm(plot.cell_m2, EVENING, after, flows) == pytest.approx(0, abs=1e-12)


def test_what_members_share_may_have_one_column(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """Cells by planting, exposure by member, rain by bed: as if each lane had been run alone."""
    cells, exposure = np.array([[0.9], [1.4]]), np.array([[0.9, 1.0, 1.2]])
    many = plot._replace(cell_m2=cells, exposure_factor=exposure)
    wet = sky._replace(rain_mm=np.array([[3.0], [0.0]]))
    after, flows = next_day(wet, hand, ground, many, settle(many), EVENING)
    for row in range(2):
        for column in range(3):
            alone = plot._replace(
                cell_m2=float(cells[row, 0]), exposure_factor=float(exposure[0, column])
            )
            rain = sky._replace(rain_mm=[3.0, 0.0][row])
            expected = next_day(rain, hand, ground, alone, settle(alone), EVENING)
            for found, right in zip((after, flows), expected, strict=True):
                lane = [np.broadcast_to(field, (2, 3))[row, column] for field in found]
                assert lane == pytest.approx(list(right), rel=1e-14, abs=1e-15)


def test_the_stores_it_was_given_are_left_alone(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    lanes = Stores(*[np.full((2, 3), value) for value in EVENING])
    kept = Stores(*[np.copy(field) for field in lanes])
    next_day(sky._replace(rain_mm=5.0), hand, ground, plot, settle(plot), lanes)
    assert all(np.array_equal(now, then) for now, then in zip(lanes, kept, strict=True))


@pytest.mark.parametrize("field", [name for name in Plot._fields if name != "drain_fraction"])
def test_an_unknown_parameter_never_looks_like_an_answer(
    field: str, plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """A parameter that is not a number shows in what it decides, and in no other lane."""
    broken = plot._replace(**{field: np.array([np.nan, getattr(plot, field)])})
    wet, given = sky._replace(rain_mm=40.0, rain_hours=0.5), hand._replace(soak_l=3.0)
    after, flows = next_day(wet, given, ground, broken, settle(broken), EVENING)
    lanes = np.array([np.broadcast_to(value, (2,)) for value in (*after, *flows)])
    assert np.isnan(lanes[:, 0]).any()
    assert not np.isnan(lanes[:, 1]).any()
