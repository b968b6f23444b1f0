"""Heat by the published thresholds, and the heat ahead."""

from collections.abc import Sequence
from datetime import date, timedelta

import pytest

from soakbook.errors import InputError
from soakbook.garden.heat import (
    HEAT_C,
    HeatSpell,
    dutch_heatwaves,
    extremes_of,
    heat_ahead,
    heatwaves,
    is_summer_day,
    is_tropical_night,
)
from soakbook.garden.runs import Run
from soakbook.garden.weather import ForecastDay, WeatherDay
from soakbook.quantities.names import QUANTITIES

TODAY = date(2031, 7, 7)


def highs(values: Sequence[float | None], first: date = TODAY) -> dict[date, float | None]:
    return {first + timedelta(days=place): value for place, value in enumerate(values)}


def ahead(
    values: Sequence[float | None], heat_c: float = HEAT_C, begun_days: int = 0, low_c: float = 15.0
) -> HeatSpell | None:
    """Heat by highest temperatures from so many days before today on."""
    first = TODAY - timedelta(days=begun_days)
    return heat_ahead(
        {day: (low_c, high) for day, high in highs(values, first).items()}, TODAY, heat_c
    )


def day(n: int) -> date:
    return TODAY + timedelta(days=n)


def test_on_the_eve_of_heat() -> None:
    assert ahead([24, 27, 34.2, 30, 26]) == HeatSpell(day(1), day(3), 34.2, 0, True, False)


def test_heat_later_in_the_week_is_no_eve_and_may_outlast_the_forecast() -> None:
    found = ahead([24, 26, 28, 29, 31], low_c=20.5)
    assert found == HeatSpell(day(2), day(4), 31, 3, False, True)


def test_of_heat_that_has_begun_the_peak_is_of_what_is_to_come() -> None:
    """Two hot days and today, cooler tomorrow: 35 was the day before yesterday."""
    found = ahead([35, 33, 29, 24, 28, 28, 28], begun_days=2, low_c=21)
    assert found == HeatSpell(day(-2), day(0), 29, 1, False, False)


def test_heat_that_lasted_to_yesterday_may_go_on_where_nothing_is_known_of_today() -> None:
    """A thermometer alone: 33 yesterday. Once today is known to be cooler, or yesterday was, it is over."""
    found = ahead([30, 31, 33], begun_days=3)
    assert found == HeatSpell(day(-3), day(-1), 33, 0, False, True)
    assert ahead([30, 31, 33, 24], begun_days=3) is None
    assert ahead([30, 31, 33, None], begun_days=4) is None
    assert ahead([30, 33], begun_days=2) is None


def test_heat_that_is_over_is_not_ahead() -> None:
    assert ahead([30, 30, 30, 24, 24], begun_days=3) is None


@pytest.mark.parametrize("values", [[30, 30, 26, 30, 30], [30, 30, None, 30, 30], [26.9] * 7, []])
def test_fewer_than_three_days_running_are_no_heat(values: list[float | None]) -> None:
    assert ahead(values) is None


def test_the_threshold_is_a_setting_and_is_itself_heat() -> None:
    assert ahead([25, 25, 25]) is None
    found = ahead([25, 25, 25], heat_c=25)
    assert found is not None
    assert found.first == TODAY
    assert QUANTITIES["heat_c"].holds(HEAT_C)


@pytest.mark.parametrize("heat_c", [19.9, 40.1, float("nan"), 80])
def test_a_threshold_that_cannot_be_right_is_refused(heat_c: float) -> None:
    with pytest.raises(InputError, match=r"^heat: .*from 20 to 40 °C"):
        ahead([25, 25, 25], heat_c=heat_c)


def test_every_spell_of_a_record_oldest_first() -> None:
    found = heatwaves(highs([27, 27, 27, 20, None, 28, 28, 28, 28]))
    assert found == (Run(day(0), day(2)), Run(day(5), day(8)))


@pytest.mark.parametrize(
    ("values", "days"),
    [
        ([30, 30, 30, 25, 25], [5]),
        ([25, 30, 25, 31, 25, 30], [6]),
        ([30, 30, 29.9, 25, 25], []),  # two tropical days only
        ([30, 30, 30, 30], []),  # four days only
        ([30, 30, 30, 24.9, 25, 25], []),
    ],
)
def test_the_dutch_rule(values: list[float | None], days: list[int]) -> None:
    assert [run.days for run in dutch_heatwaves(highs(values))] == days


def test_summer_days_and_tropical_nights_lie_above_their_limits() -> None:
    assert [is_summer_day(25.0), is_summer_day(25.1)] == [False, True]
    assert [is_tropical_night(20.0), is_tropical_night(20.1)] == [False, True]


def test_extremes_of_known_and_of_forecast_days() -> None:
    known, coming = (
        WeatherDay(day(-1), tmin_c=12.0, tmax_c=24.0),
        ForecastDay(day(0), tmax_c=28.0),
    )
    assert extremes_of([known, coming]) == {day(-1): (12.0, 24.0), day(0): (None, 28.0)}
