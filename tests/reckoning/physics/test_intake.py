from math import exp, pi

import numpy as np
import pytest

from soakbook.reckoning.physics.intake import Received, moisten
from soakbook.reckoning.physics.ledger import held_l
from soakbook.reckoning.physics.records import Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import settle

MULCHED = Ground(3.0, 1.0, 0.37, 1.0)
EMPTY = Stores(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 30.0)


def morning(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground, stores: Stores = EMPTY
) -> tuple[Stores, Received, Geometry]:
    return moisten(sky, hand, ground, plot, settle(plot), stores)


def filled(plot: Plot, ball: float, reach: float, beyond: float, skin_mm: float = 0.0) -> Stores:
    """Stores at these shares of capacity, the skins at this depletion."""
    roots = geometry(plot, settle(plot), 30.0)
    return Stores(
        0.0,
        skin_mm,
        skin_mm,
        ball * roots.ball_capacity_l,
        reach * roots.reach_capacity_l,
        beyond * roots.beyond_capacity_l,
        30.0,
    )


def unaccounted_l(plot: Plot, before: Stores, after: Stores, received: Received) -> Number:
    gained = held_l(plot.cell_m2, after) - held_l(plot.cell_m2, before)
    came = received.rain_l + received.soak_l - received.given_lost_l
    return gained - (came - received.drained_l - received.run_off_l)


def test_a_dry_morning_changes_nothing(plot: Plot, sky: Sky, hand: Hand, ground: Ground) -> None:
    before = filled(plot, 0.5, 0.6, 0.7, skin_mm=4.0)
    after, received, _ = morning(plot, sky, hand, ground, before)
    assert after == before
    assert received == Received(*[0.0] * len(Received._fields))


def test_rain_wets_ball_reach_and_beyond_by_area(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    after, received, roots = morning(plot, sky._replace(rain_mm=6.0), hand, ground)
    assert after.ball_store_l == pytest.approx(6 * roots.ball_m2)
    assert after.reach_store_l == pytest.approx(6 * (roots.reach_m2 - roots.ball_m2))
    assert after.beyond_store_l == pytest.approx(6 * (0.9 - roots.reach_m2))
    assert received.rain_l == pytest.approx(5.4)
    assert received.intake_mm == 6.0
    assert received.ball_from_rain_l == after.ball_store_l
    assert received.ball_from_soak_l == 0.0


def test_a_wall_keeps_rain_off(plot: Plot, sky: Sky, hand: Hand, ground: Ground) -> None:
    sheltered = plot._replace(rain_share=0.45)
    _, received, _ = morning(sheltered, sky._replace(rain_mm=10.0), hand, ground)
    assert received.rain_l == pytest.approx(0.45 * 10 * 0.9)


def test_mulch_drinks_first_until_it_is_full(plot: Plot, sky: Sky, hand: Hand) -> None:
    wet = sky._replace(rain_mm=5.0)
    after, received, _ = morning(plot, wet, hand, MULCHED, EMPTY._replace(mulch_store_mm=1.0))
    assert after.mulch_store_mm == 3.0
    assert (received.mulch_taken_mm, received.intake_mm) == (2.0, 3.0)
    half = MULCHED._replace(mulch_cover_fraction=0.5)
    _, received, _ = morning(plot, sky._replace(rain_mm=2.0), hand, half)
    assert received.mulch_taken_mm == 1.0


def test_mulch_thinned_below_what_it_holds_takes_nothing(plot: Plot, sky: Sky, hand: Hand) -> None:
    wet = EMPTY._replace(mulch_store_mm=5.0)
    after, received, _ = morning(plot, sky._replace(rain_mm=5.0), hand, MULCHED, wet)
    assert (after.mulch_store_mm, received.mulch_taken_mm) == (5.0, 0.0)


def test_a_burst_runs_off_where_gentle_rain_goes_in(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """22.4 mm in 40 minutes on clay (4 mm/h, 5 mm of ponding): 7.7 mm go in."""
    clay = plot._replace(intake_mm_h=4.0)
    burst = sky._replace(rain_mm=22.4, rain_hours=40 / 60)
    _, received, _ = morning(clay, burst, hand, ground)
    assert received.intake_mm == pytest.approx(7.67, abs=0.01)
    assert received.run_off_l == pytest.approx((22.4 - 7.667) * 0.9, abs=0.01)
    _, received, _ = morning(clay, burst._replace(rain_hours=8.0), hand, ground)
    assert (received.intake_mm, received.run_off_l) == (22.4, 0.0)


def test_a_soak_fills_the_ball_with_what_is_aimed_at_it(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """2 L at the nozzle, 1.8 L in the ground, 1.08 L aimed at a ball that holds 1.65 L."""
    after, received, _ = morning(plot, sky, hand._replace(soak_l=2.0), ground)
    assert received.given_lost_l == pytest.approx(0.2)
    assert after.ball_store_l == pytest.approx(1.08)
    assert received.ball_from_soak_l == pytest.approx(1.08)
    assert received.ball_from_rain_l == 0.0
    assert after.reach_store_l + after.beyond_store_l == pytest.approx(0.72)


def test_a_ball_never_holds_more_than_its_capacity(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    after, received, roots = morning(plot, sky, hand._replace(soak_l=20.0), ground)
    assert after.ball_store_l == roots.ball_capacity_l
    assert received.ball_from_soak_l == pytest.approx(1.65)
    assert unaccounted_l(plot, EMPTY, after, received) == pytest.approx(0, abs=1e-12)


def test_what_misses_the_ball_goes_into_the_bowl_round_it(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """By area while the reach ends inside the bowl; all to the reach once roots are past it."""
    after, _, roots = morning(plot, sky, hand._replace(soak_l=1.0, aim_fraction=0.0), ground)
    bowl = float(plot.bowl_m2)
    in_bowl = min(float(roots.reach_m2), bowl) - float(roots.ball_m2)
    assert after.reach_store_l == pytest.approx(0.9 * in_bowl / (bowl - float(roots.ball_m2)))
    older = EMPTY._replace(warm_days=100.0)
    after, _, _ = morning(plot, sky, hand._replace(soak_l=1.0, aim_fraction=0.0), ground, older)
    assert after.reach_store_l == pytest.approx(0.9)
    assert after.beyond_store_l == pytest.approx(0, abs=1e-15)


def test_thrown_water_is_soak_in_the_ledger_and_rain_on_the_mulch(
    plot: Plot, sky: Sky, hand: Hand
) -> None:
    after, received, _ = morning(plot, sky, hand._replace(broadcast_l=9.0), MULCHED)
    assert (received.rain_l, received.soak_l) == (0.0, 9.0)
    assert received.given_lost_l == pytest.approx(1.8)
    assert after.mulch_store_mm == 3.0
    assert received.intake_mm == pytest.approx(8 - 3)
    assert received.ball_from_rain_l == 0.0
    assert received.ball_from_soak_l == after.ball_store_l


def test_rain_and_hand_share_the_credit_for_a_ball(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """Rain brings 6 mm on the ball and a hand aims 0.54 L at it."""
    both = hand._replace(soak_l=1.0)
    after, received, roots = morning(plot, sky._replace(rain_mm=6.0), both, ground)
    assert received.ball_from_rain_l == pytest.approx(6 * roots.ball_m2)
    assert received.ball_from_soak_l == pytest.approx(0.54)
    assert after.ball_store_l == pytest.approx(6 * roots.ball_m2 + 0.54)


def test_sodden_soil_sheds_what_finds_no_room(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    roots = geometry(plot, settle(plot), 30.0)
    sodden = Stores(
        0.0,
        0.0,
        0.0,
        roots.ball_capacity_l,
        roots.reach_saturation_l,
        roots.beyond_saturation_l,
        30.0,
    )
    undrained = plot._replace(drain_fraction=0.0)
    after, received, _ = morning(undrained, sky, hand._replace(soak_l=5.0), ground, sodden)
    assert received.run_off_l == pytest.approx(4.5)
    assert np.array(after) == pytest.approx(np.array(sodden))


def test_water_above_capacity_drains_by_its_share(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    """With an e-folding time of a day, 1 / e of the excess is left after one."""
    before = filled(plot, 1.0, 1.3, 1.2)
    after, received, roots = morning(plot, sky, hand, ground, before)
    excess = 0.3 * roots.reach_capacity_l + 0.2 * roots.beyond_capacity_l
    assert received.drained_l == pytest.approx(excess * (1 - exp(-1)))
    assert after.reach_store_l == pytest.approx(roots.reach_capacity_l * (1 + 0.3 * exp(-1)))
    assert after.ball_store_l == before.ball_store_l


def test_rain_wets_both_skins_and_a_soak_the_bowls(
    plot: Plot, sky: Sky, hand: Hand, ground: Ground
) -> None:
    dry = filled(plot, 0.5, 0.5, 0.5, skin_mm=12.0)
    given = hand._replace(soak_l=1.0)
    after, _, _ = morning(plot, sky._replace(rain_mm=2.0), given, ground, dry)
    assert after.open_skin_depletion_mm == 10.0
    assert after.bowl_skin_depletion_mm == pytest.approx(10 - 0.9 / (2.5 * pi * 0.14**2))
    after, _, _ = morning(plot, sky, hand._replace(soak_l=10.0), ground, dry)
    assert (after.bowl_skin_depletion_mm, after.open_skin_depletion_mm) == (0.0, 12.0)


def test_each_member_has_its_own_rain(plot: Plot, sky: Sky, hand: Hand, ground: Ground) -> None:
    many = sky._replace(rain_mm=np.array([0.0, 3.0, np.nan]))
    after, received, _ = morning(plot, many, hand, ground)
    one, _, _ = morning(plot, sky._replace(rain_mm=3.0), hand, ground)
    assert isinstance(after.ball_store_l, np.ndarray)
    assert after.ball_store_l[:2].tolist() == [0.0, one.ball_store_l]
    assert np.isnan(after.reach_store_l).tolist() == [False, False, True]
    assert np.isnan(received.rain_l).tolist() == [False, False, True]
