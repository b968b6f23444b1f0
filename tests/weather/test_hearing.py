"""What a service told, parted into what is over and what is to come. All of it is made."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import WeatherError
from soakbook.garden.weather import (
    Forecast,
    ForecastDay,
    WeatherKind,
    WeatherSeries,
    WeatherValue,
)
from soakbook.weather.answers import Told
from soakbook.weather.hearing import Heard, Question, Spot, heard_of
from soakbook.weather.reference_et import Site

FETCHED = datetime(2031, 5, 15, 6, 7, tzinfo=UTC)
ISSUED = datetime(2031, 5, 15, 5, 0, tzinfo=UTC)
YESTERDAY, TODAY, TOMORROW = (date(2031, 5, day) for day in (14, 15, 16))
ASKED = (Question("forecast"), Question("ensemble", WeatherError("Made", "down", "is away")))


def value(day: date, variable: str, number: float, kind: WeatherKind = "forecast") -> WeatherValue:
    return WeatherValue(day, variable, number, "Made", kind, FETCHED)


def hours(day: date, kind: WeatherKind = "forecast") -> WeatherSeries:
    return WeatherSeries(
        day, "hours", "rain_mm", (0.0,) * 23 + (1.0,), "Made", kind, FETCHED, ISSUED
    )


def futures(day: date, variable: str, *numbers: float) -> WeatherSeries:
    return WeatherSeries(
        day, "members", variable, numbers, "Made", "forecast", FETCHED, ISSUED, "made"
    )


def heard(told: Told, *members: WeatherSeries) -> Heard:
    return heard_of("Made", told, members=members, issued_at=ISSUED, questions=ASKED)


def test_a_garden_as_the_sums_need_it() -> None:
    spot = Spot(51.88, -2.26, 42.0, ZoneInfo("Europe/London"))
    assert spot.site == Site(51.88, 42.0, coastal=False, longitude_deg=-2.26)


def test_what_is_over_stays_in_values_and_what_comes_becomes_days() -> None:
    """Every variable of a day gone by; of one to come the five that a round asks for."""
    over = (value(YESTERDAY, "rain_mm", 1.0, "analysed"), value(YESTERDAY, "wind", 2.0, "analysed"))
    coming = tuple(
        value(TODAY, name, number)
        for number, name in enumerate(("rain_mm", "et0_mm", "tmin_c", "tmax_c", "tmean_c", "wind"))
    )
    found = heard(Told((*over, *coming), (hours(YESTERDAY, "analysed"), hours(TODAY)), ("dry",)))
    assert found.service == "Made"
    assert found.values == over
    assert found.rain_hours == (hours(YESTERDAY, "analysed"),)
    assert found.findings == ("dry",)
    assert found.questions == ASKED
    assert found.forecast == Forecast(
        "Made", ISSUED, (ForecastDay(TODAY, 0, 1, 2, 3, 4, (0.0,) * 23 + (1.0,)),)
    )


def test_days_come_in_order_and_what_is_not_known_is_none() -> None:
    found = heard(Told((value(TOMORROW, "rain_mm", 2.0), value(TODAY, "et0_mm", 3.0)), ()))
    assert found.forecast is not None
    assert found.forecast.days == (
        ForecastDay(TODAY, et0_mm=3.0),
        ForecastDay(TOMORROW, rain_mm=2.0),
    )


def test_futures_meet_the_day_that_they_are_of() -> None:
    """Those of a day of which nothing plain is known have nothing to stand beside."""
    told = Told((value(TODAY, "rain_mm", 2.0), value(TOMORROW, "rain_mm", 0.0)), ())
    found = heard(
        told,
        futures(TOMORROW, "et0_mm", 3.0, 3.5),
        futures(TOMORROW, "rain_mm", 0.0, 6.0),
        futures(date(2031, 5, 17), "rain_mm", 1.0, 1.0),
        futures(date(2031, 5, 17), "et0_mm", 1.0, 1.0),
    )
    assert found.forecast is not None
    today, tomorrow = found.forecast.days
    assert (today.rain_members_mm, today.et0_members_mm) == ((), ())
    assert (tomorrow.rain_members_mm, tomorrow.et0_members_mm) == ((0.0, 6.0), (3.0, 3.5))


@pytest.mark.parametrize("variable", ["rain_mm", "et0_mm"])
def test_one_half_of_the_futures_is_none(variable: str) -> None:
    """A future is rain and evaporation together; the day's hours stay."""
    told = Told((value(TODAY, "rain_mm", 1.0),), (hours(TODAY),))
    found = heard(told, futures(TODAY, variable, 1.0, 2.0))
    assert found.forecast is not None
    (day,) = found.forecast.days
    assert (day.rain_members_mm, day.et0_members_mm) == ((), ())
    assert day.rain_by_hour_mm == hours(TODAY).numbers


def test_an_answer_of_days_gone_by_is_no_forecast() -> None:
    told = Told((value(YESTERDAY, "rain_mm", 1.0, "analysed"),), ())
    assert heard(told).forecast is None
    assert heard(Told((), ())) == Heard("Made", (), (), None, ASKED, ())
