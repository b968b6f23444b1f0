"""What is drawn depends on a uid and a day, and on nothing else."""

from collections import Counter
from datetime import date, timedelta
from math import erf, sqrt
from typing import NamedTuple

import numpy as np
import pytest

from soakbook.reckoning.simulation.draws import (
    DIMENSIONS,
    LOG_SD,
    Floats,
    daily_errors,
    future_numbers,
    given_factors,
    log_multipliers,
    seed_of,
)

DAY = date(2031, 5, 1)


def logs(uid: str = "roses", members: int = 201) -> dict[str, list[float]]:
    """Logs of the multipliers over their standard deviation, member 0 left out."""
    drawn = log_multipliers(uid, DIMENSIONS, members)
    return {name: (drawn[name][1:] / LOG_SD[name]).tolist() for name in DIMENSIONS}


def test_the_seed_is_eight_bytes_of_the_uid_alone() -> None:
    """Value from Python's hashlib, blake2b of 8 bytes, big-endian."""
    assert seed_of("") == 0xE4A6A0577479B2B4
    assert seed_of("roses") == seed_of("roses") != seed_of("rose")


def test_member_0_is_multiplied_by_nothing_in_every_dimension() -> None:
    drawn = log_multipliers("roses", DIMENSIONS, 8)
    assert all(drawn[name][0] == 0.0 for name in DIMENSIONS)


@pytest.mark.parametrize("name", DIMENSIONS)
def test_each_slice_of_the_hypercube_holds_one_point(name: str) -> None:
    """Probabilities come back from the normals by the error function; 200 slices, one point in each."""
    probabilities = [0.5 * (1 + erf(z / sqrt(2))) for z in logs()[name]]
    slices = Counter(min(int(p * 200), 199) for p in probabilities)
    assert slices == Counter(range(200))


def test_dimensions_are_drawn_apart() -> None:
    columns = np.array(list(logs().values()))
    between = np.corrcoef(columns)[np.triu_indices(len(DIMENSIONS), 1)]
    assert np.abs(between).max() < 0.3  # 28 pairs of 200: four standard errors


def test_the_spread_of_each_dimension() -> None:
    """DEVELOPERS.md, Constants and spread: sd of the log; a hypercube holds it to its first digits."""
    expected = {
        "aw": 0.20, "kcb": 0.18, "p": 0.10, "exposure": 0.10, "share": 0.15, "ball": 0.30, "root": 0.35,
        "exchange": 0.70,
    }  # fmt: skip
    drawn = log_multipliers("roses", DIMENSIONS, 401)
    for name, sd in expected.items():
        found = drawn[name][1:]
        assert found.std() == pytest.approx(sd, rel=0.02)
        assert found.mean() == pytest.approx(0.0, abs=0.01 * sd)


def test_asking_for_more_dimensions_changes_none() -> None:
    some = log_multipliers("roses", ("p", "root"), 40)
    every = log_multipliers("roses", DIMENSIONS, 40)
    assert set(some) == {"p", "root"}
    assert all(np.array_equal(some[name], every[name]) for name in some)


def test_another_uid_draws_another_cube() -> None:
    one, other = log_multipliers("a", ("aw",), 40)["aw"], log_multipliers("b", ("aw",), 40)["aw"]
    assert np.all(one[1:] != other[1:])


def test_one_member_is_the_plain_run() -> None:
    assert log_multipliers("roses", DIMENSIONS, 1) == {name: [0.0] for name in DIMENSIONS}


class Errors(NamedTuple):
    """The errors of one bed, every day wet, each (day, member)."""

    rain_factor: Floats
    et0_factor: Floats
    unsaid_rain_hours: Floats


def errors_of(uid: str, first: date, days: int, members: int) -> Errors:
    found = daily_errors({uid: first}, first, days, members)
    rain = np.array([found.rain_factor[row][0] for row in range(days)])
    hours = np.array([found.unsaid_rain_hours[row][0] for row in range(days)])
    et0 = np.array([found.et0_factor[row][0] for row in range(days)])
    return Errors(rain, et0, hours)


def same(one: Errors, other: Errors) -> bool:
    return all(np.array_equal(a, b) for a, b in zip(one, other, strict=True))


def cut(errors: Errors, days: slice) -> Errors:
    return Errors(*(field[days] for field in errors))


def test_a_dry_day_and_another_bed_change_no_draw() -> None:
    alone = daily_errors({"bed": DAY}, DAY, 20, 12)
    among = daily_errors({"other": DAY, "bed": DAY}, DAY, 20, 12)
    assert np.array_equal(alone.et0_factor[3][0], among.et0_factor[3][1])
    assert np.array_equal(alone.rain_factor[3][0], among.rain_factor[3][1])
    assert np.array_equal(alone.unsaid_rain_hours[3][0], among.unsaid_rain_hours[3][1])


def test_rain_is_drawn_for_a_bed_from_its_first_day_on_and_as_ever() -> None:
    ever, since = (
        daily_errors({"bed": DAY + timedelta(days=later), "other": DAY}, DAY, 9, 12)
        for later in (0, 2)
    )
    assert np.ptp(since.rain_factor[1][0]) < 0.1 < np.ptp(since.rain_factor[1][1])
    for row in (2, 5):
        assert np.array_equal(ever.rain_factor[row], since.rain_factor[row])
        assert np.array_equal(ever.unsaid_rain_hours[row], since.unsaid_rain_hours[row])
        assert np.array_equal(ever.et0_factor[row], since.et0_factor[row])


def test_a_day_more_changes_no_day() -> None:
    short = errors_of("bed", DAY, 20, 12)
    assert same(short, cut(errors_of("bed", DAY, 35, 12), slice(0, 20)))


def test_a_season_asked_for_from_its_middle_has_the_same_days() -> None:
    """The error of ET0 remembers: it is carried on from where it began, not begun anew."""
    whole = errors_of("bed", DAY, 30, 12)
    later = errors_of("bed", DAY + timedelta(days=11), 19, 12)
    assert same(later, cut(whole, slice(11, 30)))


def test_member_0_has_no_daily_error() -> None:
    errors = errors_of("bed", DAY, 20, 5)
    assert np.all(errors.rain_factor[:, 0] == 1.0)
    assert np.all(errors.et0_factor[:, 0] == 1.0)
    assert np.all(errors.unsaid_rain_hours[:, 0] == 4.0)


def test_the_order_in_which_days_are_asked_for_changes_no_draw() -> None:
    """Nor which of the two is asked for first."""
    one, other = (daily_errors({"bed": DAY, "other": DAY}, DAY, 10, 12) for _ in range(2))
    first = [(one.rain_factor[row], one.unsaid_rain_hours[row]) for row in range(10)]
    for row in (7, 2, 9):
        hours = other.unsaid_rain_hours[row]
        assert np.array_equal(first[row][0], other.rain_factor[row])
        assert np.array_equal(first[row][1], hours)


def test_et0_is_drawn_by_the_year_and_of_years_gone_by_the_last_is_kept() -> None:
    drawn = daily_errors({"bed": DAY}, DAY, 1000, 3).et0_factor
    first = drawn[0].copy()
    drawn[900], drawn[999]
    assert {(DAY + timedelta(days=row)).year for row in drawn} == {DAY.year + 2, DAY.year + 3}
    assert np.array_equal(drawn[0], first)


@pytest.mark.parametrize("row", [-1, 20])
def test_no_day_is_drawn_that_was_not_asked_for(row: int) -> None:
    with pytest.raises(IndexError):
        daily_errors({"bed": DAY}, DAY, 20, 3).et0_factor[row]


def test_the_moments_of_daily_errors() -> None:
    """Rain and ET0 factors of mean 1, log sd 0.30; hours 4 exp(N(0, 0.75)); ET0 remembers 0.9."""
    errors = errors_of("bed", DAY, 400, 101)
    rain, et0 = np.log(errors.rain_factor[:, 1:]), np.log(errors.et0_factor[:, 1:])
    hours = np.log(errors.unsaid_rain_hours[:, 1:] / 4)
    assert errors.rain_factor[:, 1:].mean() == pytest.approx(1.0, abs=0.01)
    assert errors.et0_factor[:, 1:].mean() == pytest.approx(1.0, abs=0.02)
    assert rain.std() == pytest.approx(0.30, rel=0.02)
    assert et0.std() == pytest.approx(0.30, rel=0.05)
    assert et0[0].std() == pytest.approx(0.30, rel=0.25)  # from its first day on
    assert hours.std() == pytest.approx(0.75, rel=0.02)
    assert np.corrcoef(et0[1:].ravel(), et0[:-1].ravel())[0, 1] == pytest.approx(0.9, abs=0.02)
    assert abs(np.corrcoef(rain[1:].ravel(), rain[:-1].ravel())[0, 1]) < 0.03
    assert abs(np.corrcoef(rain.ravel(), et0.ravel())[0, 1]) < 0.03


def test_what_was_given_is_doubted_by_planting_and_day() -> None:
    drawn = np.array([given_factors("roses", DAY + timedelta(days=n), 101) for n in range(60)])
    assert np.all(drawn[:, 0] == 1.0)
    assert np.log(drawn[:, 1:]).std() == pytest.approx(0.10, rel=0.03)
    assert np.array_equal(drawn[7], given_factors("roses", DAY + timedelta(days=7), 101))
    assert np.all(drawn[7, 1:] != given_factors("asters", DAY + timedelta(days=7), 101)[1:])


@pytest.mark.parametrize("members", [2, 20, 200])
def test_futures_are_dealt_one_to_a_member_and_the_plain_one_to_the_first(members: int) -> None:
    numbers = future_numbers("an issue", members)
    assert numbers[0] == 0
    assert sorted(numbers.tolist()) == list(range(members))


def test_a_garden_of_one_member_goes_with_the_plain_future() -> None:
    assert future_numbers("an issue", 1).tolist() == [0]


def test_an_issue_deals_its_futures_alike_whenever_it_is_asked_and_another_anew() -> None:
    numbers = future_numbers("an issue", 200)
    assert np.array_equal(numbers, future_numbers("an issue", 200))
    other = future_numbers("another issue", 200)
    assert np.mean(numbers[1:] == other[1:]) < 0.05
    assert numbers[1:].tolist() != sorted(numbers[1:].tolist())


def test_the_deal_is_crossed_with_the_multipliers() -> None:
    """Neither a bed's nor a planting's draw says which future a member goes with: four standard errors of 200."""
    numbers = future_numbers("an issue", 201)[1:]
    for column in logs("bed").values():
        assert abs(np.corrcoef(numbers, column)[0, 1]) < 0.3
