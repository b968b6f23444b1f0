"""Soaks shared over plantings, and booked to the step that drinks them."""

from datetime import date, datetime, timedelta
from math import pi

import numpy as np
import pytest

from soakbook.garden.entries import Loss, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import HandMethod, Planting
from soakbook.reckoning.simulation.watering import (
    Given,
    aim_fraction,
    given_by_step,
    hand_of,
    living_count,
    share_weight_l,
    soak_shares,
    soak_step,
)
from tests.reckoning.gardens import PLANTED, ZONE, at, loss, pages, roses, soak

DAY = PLANTED + timedelta(days=20)
LATE = DAY + timedelta(days=30)

ASTERS = roses(
    name="asters", uid="bed/asters", count=60, ball_volume_l=1.0, plant_class="perennial"
)
WHIPS = roses(
    name="whips", uid="bed/whips", count=4, origin="bare", ball_volume_l=0.0, ball_diameter_m=0.0
)


def shares(book: Pages, one: Soak) -> dict[str, float]:
    losses = [entry for entry in book.entries if isinstance(entry, Loss)]
    return {planting.name: litres for planting, litres in soak_shares(one, book, losses, ZONE)}


@pytest.mark.parametrize(
    ("planting", "weight_l"),
    [
        (roses(ball_volume_l=5.0), 1.25),
        (roses(ball_volume_l=1.0), 0.5),
        (WHIPS, 0.5),
        (roses(usual_dose_l=5.0), 5.0),
        (roses(usual_dose_l=0.2), 0.2),
    ],
)
def test_a_share_goes_by_usual_dose_else_a_quarter_of_the_ball_at_least_half_a_litre(
    planting: Planting, weight_l: float
) -> None:
    assert share_weight_l(planting) == weight_l


def test_a_soak_of_a_bed_is_shared_by_count_and_weight() -> None:
    """10 x 1.25 + 60 x 0.5 + 4 x 0.5 = 44.5 parts of 89 L: 2.5 L a rose, 1 L an aster, 1 L a whip."""
    book = pages([roses(), ASTERS, WHIPS])
    assert shares(book, soak(DAY, 89.0)) == pytest.approx(
        {"roses": 2.5, "asters": 1.0, "whips": 1.0}
    )


def test_a_named_planting_has_it_all_and_other_beds_none() -> None:
    book = pages([roses(), ASTERS, roses("other")])
    assert shares(book, soak(DAY, 30.0, planting_uid="bed/roses")) == {"roses": 3.0}
    assert shares(book, soak(DAY, 30.0, "other")) == {"roses": 3.0}


def test_only_what_stands_on_the_day_shares() -> None:
    """Four of ten roses were lost the week before; the asters are planted a week later."""
    book = pages(
        [roses(), ASTERS._replace(planted_on=DAY + timedelta(days=7))],
        [loss(at(DAY - timedelta(days=7), 9), 4)],
    )
    assert shares(book, soak(DAY, 30.0)) == pytest.approx({"roses": 5.0})
    assert shares(book, soak(DAY + timedelta(days=7), 30.0))["asters"] < 1.0


def test_where_nothing_stands_a_soak_goes_nowhere() -> None:
    book = pages([roses(count=3)], [loss(DAY - timedelta(days=2), 3)])
    assert shares(book, soak(DAY, 30.0)) == {}


def test_the_shares_of_a_soak_come_to_its_litres() -> None:
    book = pages([roses(usual_dose_l=5.0), ASTERS, WHIPS])
    counts = {"roses": 10, "asters": 60, "whips": 4}
    assert sum(
        counts[name] * each for name, each in shares(book, soak(DAY, 77.0)).items()
    ) == pytest.approx(77.0)


def test_plants_live_from_their_planting_to_the_day_after_their_loss() -> None:
    losses = [loss(at(DAY, 18), 3), loss(DAY + timedelta(days=5), 9)]
    days = (-21, -20, 0, 1, 5, 6)
    counts = [living_count(roses(), losses, DAY + timedelta(days=n), ZONE) for n in days]
    assert counts == [0, 10, 10, 7, 7, 0]
    assert living_count(roses("other"), losses, LATE, ZONE) == 10


@pytest.mark.parametrize(
    ("happened", "later_days"),
    [(at(DAY, 7), 0), (at(DAY, 17), 0), (at(DAY, 17, 1), 1), (at(DAY, 23, 59), 1), (DAY, 0)],
)
def test_a_soak_after_five_counts_in_the_next_days_step(
    happened: datetime | date, later_days: int
) -> None:
    assert soak_step(happened, ZONE) == DAY + timedelta(days=later_days)


def test_the_hour_is_the_gardens_not_the_clocks_it_was_typed_by() -> None:
    """16:30 UTC in May is half past five at Greenwich by summer time."""
    assert soak_step(at(DAY, 16, 30), ZONE) == DAY
    assert soak_step(datetime.fromisoformat(f"{DAY}T16:30:00+00:00"), ZONE) == DAY + timedelta(
        days=1
    )


def booked(*soaks: Soak, morning: date = LATE) -> dict[date, float]:
    book = pages([roses()], soaks)
    given = given_by_step(book, book.plantings, {"bed/roses": 0.1}, morning)
    return {day: plantings["bed/roses"].soak_l for day, plantings in given.items()}


def test_an_evening_soak_is_booked_to_the_next_day_once() -> None:
    assert booked(soak(at(DAY, 19), 20.0), soak(at(DAY, 8), 10.0)) == {
        DAY: 1.0,
        DAY + timedelta(days=1): 2.0,
    }


def test_of_earlier_steps_nothing_is_gone_through_when_only_later_ones_are_asked_for() -> None:
    book = pages([roses()], [soak(at(DAY, 19), 20.0), soak(at(DAY, 8), 10.0)])
    next_day = DAY + timedelta(days=1)
    given = given_by_step(book, book.plantings, {"bed/roses": 0.1}, next_day, next_day)
    assert {day: one["bed/roses"].soak_l for day, one in given.items()} == {next_day: 2.0}


def test_on_the_day_itself_an_evening_soak_shows_in_its_own_round() -> None:
    """Asked at nine in the evening, a bed soaked at seven must not be called again."""
    assert booked(soak(at(DAY, 19), 20.0), morning=DAY) == {DAY: 2.0}


@pytest.mark.parametrize(
    ("method", "bowl", "aim"),
    [
        ("can", None, 0.6),
        ("lance", None, 0.6),
        ("drip", None, 0.9),
        ("drip", 0.2, 0.9),
        ("spray", None, pi * 0.11**2 / 0.15),
        ("spray", 0.2, pi * 0.11**2 / 0.15),
        ("can", 0.2, pi * 0.11**2 / 0.15),
        ("lance", 0.2, pi * 0.11**2 / 0.15),
    ],
)
def test_aim_is_the_methods_or_the_balls_share_of_a_filled_bowl(
    method: HandMethod, bowl: float | None, aim: float
) -> None:
    """0.6 can or lance, 0.9 drip, ball over bowl area by spray or where a bowl is made."""
    assert aim_fraction(roses(bowl_m2=bowl), method, 0.15) == pytest.approx(aim)


def test_a_ball_wider_than_its_bowl_catches_all() -> None:
    assert aim_fraction(roses(bowl_m2=0.01), "can", 0.01) == 1.0


def test_two_soaks_of_a_step_reach_and_aim_exactly_as_they_would_apart() -> None:
    """2 L by drip and 3 L by lance: reached 2 x 0.95 + 3 x 0.9, aimed 1.9 x 0.9 + 2.7 x 0.6; 4 L thrown apart."""
    given = Given().plus(2.0, "drip", 0.9).plus(3.0, "lance", 0.6).plus(4.0, "broadcast", 0.4)
    hand = hand_of([given], [roses()], DAY, 3)
    soaked = hand.soak_l * hand.soak_efficiency
    assert hand.soak_l[0, 0] == 5.0  # type: ignore[index]
    assert soaked[0, 0] == pytest.approx(2 * 0.95 + 3 * 0.9)  # type: ignore[index]
    assert (hand.aim_fraction * soaked)[0, 0] == pytest.approx(1.9 * 0.9 + 2.7 * 0.6)  # type: ignore[index]
    thrown = hand.broadcast_l * hand.broadcast_efficiency
    assert thrown[0, 0] == pytest.approx(4.0 * 0.8)  # type: ignore[index]


def test_members_doubt_what_was_given_but_not_how() -> None:
    given = Given().plus(2.0, "drip", 0.9)
    hand = hand_of([None, given], [ASTERS, roses()], DAY, 50)
    assert np.all(np.asarray(hand.soak_l)[0] == 0.0)
    assert np.ptp(np.asarray(hand.soak_l)[1]) > 0.2
    assert np.shape(hand.aim_fraction) == (2, 1)
