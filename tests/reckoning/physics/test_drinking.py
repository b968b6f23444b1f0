from math import exp

import numpy as np
import pytest

from soakbook.reckoning.physics.drinking import (
    depletion_fraction,
    drink,
    exchange_to_ball,
    thresholds,
    transpire,
)
from soakbook.reckoning.physics.records import Plot, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import settle


def stores(ball_l: float, reach_l: float) -> Stores:
    return Stores(0.0, 0.0, 0.0, ball_l, reach_l, 10.0, 0.0)


def test_above_the_threshold_all_is_given() -> None:
    assert drink(10.0, 4.0, 3.0) == 3.0


def test_a_small_ball_is_not_overdrawn() -> None:
    """1.6 L asked 0.8 L a day with p 0.5: 0.8 L on the first evening, 0.8 / e on the second."""
    first = 1.6 - drink(1.6, 0.8, 0.8)
    second = first - drink(first, 0.8, 0.8)
    assert first == pytest.approx(0.8)
    assert second == pytest.approx(0.8 * exp(-1))


@pytest.mark.parametrize(
    ("store", "threshold", "demand"), [(10, 8, 5), (3, 8, 5), (1, 0.5, 4), (0.2, 8, 1)]
)
def test_it_is_the_exact_course_of_the_day(store: float, threshold: float, demand: float) -> None:
    """Against 100,000 small steps of dS/dt = -D min(1, S / threshold)."""
    left, steps = store, 100_000
    for _ in range(steps):
        left -= demand / steps * min(1.0, left / threshold)
    assert drink(store, threshold, demand) == pytest.approx(store - left, rel=1e-4)


def test_two_halves_of_a_day_make_the_day() -> None:
    morning = drink(5.0, 4.0, 1.5)
    evening = drink(5.0 - morning, 4.0, 1.5)
    assert morning + evening == pytest.approx(drink(5.0, 4.0, 3.0))


def test_without_a_threshold_a_store_gives_all_or_nothing() -> None:
    assert drink(2.0, 0.0, 5.0) == 2.0
    assert drink(0.0, 0.0, 5.0) == 0.0


def test_at_the_rate_of_the_morning() -> None:
    assert drink(10.0, 4.0, 7.0, drink_start_of_day=True) == 7.0
    assert drink(2.0, 4.0, 3.0, drink_start_of_day=True) == 1.5
    assert drink(2.0, 4.0, 9.0, drink_start_of_day=True) == 2.0


def test_never_more_than_store_or_demand() -> None:
    store, threshold, demand = np.random.default_rng(4).uniform(0, 10, (3, 10_000))
    taken = drink(store, threshold, demand)
    assert np.all(taken <= np.minimum(store, demand) * (1 + 1e-15))
    assert np.all(taken >= 0)


@pytest.mark.parametrize("place", [0, 1, 2])
def test_what_is_not_a_number_stays_so(place: int) -> None:
    store, threshold, demand = np.where(np.arange(3) == place, np.nan, [5.0, 4.0, 3.0])
    assert np.isnan(drink(store, threshold, demand))
    assert np.isnan(drink(store, threshold, demand, drink_start_of_day=True))


def test_a_hot_day_bites_earlier(plot: Plot) -> None:
    assert depletion_fraction(0.5, np.array([0.0, 5.0, 8.0, 40.0])) == pytest.approx(
        [0.7, 0.5, 0.38, 0.1]
    )
    assert depletion_fraction(0.7, 0.0) == 0.8
    limits = thresholds(plot._replace(bed_p=0.6), kcb=0.5, et0_mm=6.0)
    assert limits.ball_depletion_fraction == pytest.approx(0.58)
    assert limits.bed_depletion_fraction == pytest.approx(0.68)


@pytest.fixture
def knitting(plot: Plot) -> Geometry:
    """Roots 0.1 m out: contact is whole, both stores count."""
    return geometry(plot, settle(plot), 47.0)


def test_with_water_enough_a_plant_drinks_what_it_asks(plot: Plot, knitting: Geometry) -> None:
    limits = thresholds(plot, 0.7, 4.0)
    full = stores(float(knitting.ball_capacity_l), float(knitting.reach_capacity_l))
    drunk = transpire(0.5, limits, knitting, full)
    assert drunk.from_ball_l == pytest.approx(0.5 * knitting.ball_share_fraction)
    assert drunk.from_ball_l + drunk.from_reach_l == pytest.approx(0.5)


def test_a_wet_reach_helps_a_dry_ball_out(plot: Plot, knitting: Geometry) -> None:
    limits = thresholds(plot, 0.7, 4.0)
    drunk = transpire(0.5, limits, knitting, stores(0.0, float(knitting.reach_capacity_l)))
    assert drunk.from_ball_l == 0.0
    assert drunk.from_reach_l == pytest.approx(0.5)


def test_a_wet_ball_helps_a_dry_reach_out(plot: Plot, knitting: Geometry) -> None:
    limits = thresholds(plot, 0.7, 4.0)
    drunk = transpire(0.3, limits, knitting, stores(float(knitting.ball_capacity_l), 0.0))
    assert drunk.from_reach_l == 0.0
    assert drunk.from_ball_l == pytest.approx(0.3)


def test_without_contact_wet_soil_is_no_help(plot: Plot) -> None:
    young = geometry(plot, settle(plot), 0.0)
    limits = thresholds(plot, 0.7, 4.0)
    drunk = transpire(0.5, limits, young, stores(0.0, float(young.reach_capacity_l)))
    assert (drunk.from_ball_l, drunk.from_reach_l) == (0.0, 0.0)


def test_help_stops_at_the_threshold(plot: Plot, knitting: Geometry) -> None:
    limits = thresholds(plot, 0.7, 4.0)
    threshold = float(knitting.reach_capacity_l * (1 - limits.bed_depletion_fraction))
    asked = 0.2
    of_reach = asked * (1 - float(knitting.ball_share_fraction))
    drunk = transpire(asked, limits, knitting, stores(0.0, threshold + of_reach + 0.01))
    assert drunk.from_reach_l == pytest.approx(of_reach + 0.01)


def test_alike_ball_and_reach_drink_as_one(plot: Plot) -> None:
    """Where roots are as dense in both, and both as wet, two stores are one of their sum."""
    alike = plot._replace(root_density_ratio=1.0, ball_available_fraction=0.143)
    roots = geometry(alike, settle(alike), 47.0)
    limits = thresholds(alike, 0.7, 4.0)
    Cb, Cr = float(roots.ball_capacity_l), float(roots.reach_capacity_l)
    whole = Cb + Cr
    for wetness in (0.9, 0.5, 0.2, 0.0):
        both = stores(wetness * Cb, wetness * Cr)
        drunk = transpire(1.2, limits, roots, both)
        threshold = whole * (1 - limits.bed_depletion_fraction)
        expected = drink(wetness * whole, threshold, 1.2)
        assert drunk.from_ball_l + drunk.from_reach_l == pytest.approx(expected)


def test_water_goes_from_wet_to_dry(plot: Plot, knitting: Geometry) -> None:
    Cb, Cr = float(knitting.ball_capacity_l), float(knitting.reach_capacity_l)
    found = exchange_to_ball(plot, knitting, 0.2 * Cb, 0.8 * Cr)
    assert found == pytest.approx(0.05 * Cb * Cr / (Cb + Cr) * 0.6)
    assert exchange_to_ball(plot, knitting, 0.8 * Cb, 0.2 * Cr) == pytest.approx(-found)
    assert exchange_to_ball(plot, knitting, 0.5 * Cb, 0.5 * Cr) == pytest.approx(0, abs=1e-15)


def test_a_full_ball_takes_nothing_from_sodden_soil(plot: Plot, knitting: Geometry) -> None:
    fast = plot._replace(exchange_per_day=1.0)
    Cb, Cr = float(knitting.ball_capacity_l), float(knitting.reach_capacity_l)
    assert exchange_to_ball(fast, knitting, Cb, 2 * Cr) == 0.0
    assert exchange_to_ball(fast, knitting, 0.9 * Cb, 5 * Cr) == pytest.approx(0.1 * Cb)


def test_no_exchange_without_a_ball_or_at_rate_nothing(plot: Plot, knitting: Geometry) -> None:
    no_ball = knitting._replace(ball_capacity_l=0.0)
    assert exchange_to_ball(plot, no_ball, 0.0, 3.0) == 0.0
    still = plot._replace(exchange_per_day=0.0)
    assert exchange_to_ball(still, knitting, 0.0, 3.0) == 0.0
