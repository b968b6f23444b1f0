"""Days nobody has measured: each member's futures, the days like those of the book, what of a day is still to come."""

from collections import Counter
from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.garden.weather import ForecastDay, WeatherDay
from soakbook.reckoning.simulation.draws import future_numbers
from soakbook.reckoning.simulation.futures import (
    Future,
    as_fallen,
    days_between,
    futures_of,
    like_days,
    parted,
    picked,
    without_rain,
)
from tests.reckoning.forecasts import foretold, in_members, issued
from tests.reckoning.gardens import PLANTED

DAY = PLANTED + timedelta(days=15)
NEXT = DAY + timedelta(days=1)


def days_of(*days: ForecastDay) -> dict[date, Future]:
    return futures_of(issued(DAY, *days))


def test_a_day_has_its_plain_value_first_and_its_members_in_their_order() -> None:
    said = in_members(DAY, (0.0, 7.0, 3.0), (4.0, 1.0, 2.5), rain_mm=5.0, et0_mm=3.0)
    future = days_of(said)[DAY]
    assert future.rain_mm.tolist() == [5.0, 0.0, 7.0, 3.0]
    assert future.et0_mm.tolist() == [3.0, 4.0, 1.0, 2.5]


def test_members_without_et0_of_their_own_have_the_forecasts() -> None:
    said = ForecastDay(DAY, rain_mm=2.0, et0_mm=3.5, rain_members_mm=(1.0, 2.0, 6.0))
    assert days_of(said)[DAY].et0_mm.tolist() == [3.5] * 4


def test_a_day_that_does_not_say_both_rain_and_et0_is_none() -> None:
    """Where nothing is known of one of them there is no future: rain and ET0 stay together."""
    whole, no_rain, no_et0 = (foretold(DAY + timedelta(days=n), 4.0) for n in range(3))
    found = days_of(whole, no_rain._replace(rain_mm=None), no_et0._replace(et0_mm=None))
    assert set(found) == {DAY}


def test_nought_is_said_and_nothing_is_not() -> None:
    assert set(days_of(foretold(DAY, 0.0, et0_mm=0.0))) == {DAY}


def test_one_value_alone_has_three_futures_by_their_weights() -> None:
    """0.35 none of it, 0.5 as said, 0.15 half as much again: 7, 10 and 3 of twenty; ET0 alike in all."""
    future = days_of(foretold(DAY, 8.0, et0_mm=3.0))[DAY]
    assert future.rain_mm[0] == 8.0
    assert Counter(future.rain_mm[1:].tolist()) == {0.0: 7, 8.0: 10, 12.0: 3}
    assert future.et0_mm.tolist() == [3.0] * 21


def test_a_future_is_dry_on_every_day_or_on_none() -> None:
    first, second = days_of(foretold(DAY, 8.0), foretold(NEXT, 2.0)).values()
    assert np.array_equal(first.rain_mm / 8.0, second.rain_mm / 2.0)


@pytest.mark.parametrize("count", [3, 18, 20, 31, 40, 50, 51])
def test_past_the_members_end_the_three_weights_hold_for_as_many_futures(count: int) -> None:
    """The forecast goes on where its members end: each weight to half a future or one more."""
    members = tuple(float(n) for n in range(count))
    found = days_of(in_members(DAY, members), foretold(NEXT, 8.0))
    assert [len(one.rain_mm) for one in found.values()] == [1 + count, 1 + count]
    many = Counter(found[NEXT].rain_mm[1:].tolist())
    for rain_mm, weight in ((0.0, 0.35), (8.0, 0.50), (12.0, 0.15)):
        assert many[rain_mm] == pytest.approx(weight * count, abs=1.0)


def test_days_of_unlike_many_members_keep_those_that_all_have() -> None:
    """A member is one future through all its days; one that ends early is left out."""
    found = days_of(in_members(DAY, (1.0, 2.0, 3.0)), in_members(NEXT, (4.0, 5.0), (1.0, 1.5)))
    assert found[DAY].rain_mm.tolist() == [3.0, 1.0, 2.0]
    assert found[NEXT].rain_mm.tolist() == [5.0, 4.0, 5.0]
    assert found[NEXT].et0_mm.tolist() == [2.0, 1.0, 1.5]


def test_each_member_picks_one_future_for_rain_and_et0_alike() -> None:
    """Member 0 the plain one; the others one future after the other, and again from the first."""
    future = Future(np.zeros(4), np.arange(4.0), 10 + np.arange(4.0))
    found = picked(np.array([0, 1, 2, 3, 4, 5, 6, 7]), future)
    assert found.rain_mm.tolist() == [0, 1, 2, 3, 1, 2, 3, 1]
    assert np.array_equal(found.et0_mm, found.rain_mm + 10)


def test_every_future_is_gone_with_by_as_many_members() -> None:
    """201 members over fifty futures: four each, whatever the order."""
    rain_mm = picked(
        future_numbers("an issue", 201), Future(np.zeros(51), np.arange(51.0), np.ones(51))
    ).rain_mm
    assert Counter(rain_mm[1:].tolist()) == dict.fromkeys(np.arange(1.0, 51.0).tolist(), 4)
    assert rain_mm[0] == 0.0


def test_without_rain_the_day_asks_for_as_much() -> None:
    future = Future(np.zeros(3), np.array([3.0, 0.0, 9.0]), np.array([2.0, 4.0, 1.0]))
    dry = without_rain(future)
    assert dry.rain_mm.tolist() == [0.0] * 3
    assert np.array_equal(dry.et0_mm, future.et0_mm)
    assert future.rain_mm.tolist() == [3.0, 0.0, 9.0]


def test_a_part_of_a_day_has_fallen_and_a_part_is_to_come() -> None:
    """A quarter is a gauge's; ET0 is the whole day's."""
    day = days_of(foretold(DAY, 8.0, et0_mm=3.0))[DAY]
    found = parted(day, 0.25, 0.5)
    assert np.allclose(found.fallen_mm, day.rain_mm / 4)
    assert np.allclose(found.coming_mm, day.rain_mm / 2)
    assert np.allclose(found.rain_mm, 0.75 * day.rain_mm)
    assert np.array_equal(found.et0_mm, day.et0_mm)


def test_a_day_gone_by_has_none_to_come() -> None:
    day = days_of(foretold(DAY, 8.0))[DAY]
    assert day.fallen_mm.max() == 0.0
    gone = as_fallen(day)
    assert np.array_equal(gone.fallen_mm, day.coming_mm)
    assert gone.coming_mm.max() == 0.0
    assert np.array_equal(without_rain(gone).rain_mm, day.rain_mm)


def known(count: int) -> list[WeatherDay]:
    """Days before DAY: rain 1, 2, 3 ... mm, ET0 twice as much."""
    days = (DAY - timedelta(days=count - n) for n in range(count))
    return [WeatherDay(day, rain_mm=1.0 + n, et0_mm=2.0 + 2 * n) for n, day in enumerate(days)]


def test_days_like_those_of_the_book_run_on_as_they_did_there() -> None:
    """In future i they are the book's from the i-th on, so that a wet spell stays whole."""
    found = like_days(known(12), [DAY, NEXT, NEXT + timedelta(days=1)], 4.0)
    rain_mm = np.array([one.rain_mm[1:] for one in found.values()])
    assert rain_mm[:, 0].tolist() == [1.0, 2.0, 3.0]
    assert rain_mm[:, 4].tolist() == [5.0, 6.0, 7.0]
    assert rain_mm[:, 11].tolist() == [12.0, 1.0, 2.0]


def test_like_days_ask_for_what_the_last_ten_did_in_the_mean_and_keep_rain_and_et0_together() -> (
    None
):
    found = like_days(known(12), [DAY, NEXT], 4.0)
    for one in found.values():
        assert one.et0_mm[1:].mean() == pytest.approx(4.0)
        assert np.allclose(one.et0_mm[1:] / one.rain_mm[1:], 4.0 / 6.5)


def test_the_plain_run_has_no_rain_on_a_like_day_and_the_mean_et0() -> None:
    for one in like_days(known(12), [DAY, NEXT], 4.0).values():
        assert (one.rain_mm[0], one.et0_mm[0]) == (0.0, 4.0)


def test_like_days_are_taken_from_the_last_sixty() -> None:
    one = like_days(known(75), [DAY], 4.0)[DAY]
    assert one.rain_mm[1:].tolist() == [16.0 + n for n in range(60)]


def test_fewer_than_ten_whole_days_are_too_few_to_be_like() -> None:
    days = known(11)
    days[3], days[5] = days[3]._replace(rain_mm=None), days[5]._replace(et0_mm=None)
    assert like_days(days, [DAY], 4.0) == {}
    assert len(like_days(days[:3] + known(8), [DAY], 4.0)[DAY].rain_mm) == 1 + 11
    assert len(like_days(known(10), [DAY], 4.0)[DAY].rain_mm) == 1 + 10


def test_like_days_that_asked_for_nothing_are_no_fault() -> None:
    frozen = [one._replace(et0_mm=0.0) for one in known(12)]
    assert like_days(frozen, [DAY], 4.0)[DAY].et0_mm[1:].tolist() == [0.0] * 12


def test_days_from_the_one_to_the_other_leave_out_the_last() -> None:
    assert days_between(DAY, DAY) == []
    assert days_between(DAY, DAY + timedelta(days=2)) == [DAY, NEXT]
    assert days_between(NEXT, DAY) == []
