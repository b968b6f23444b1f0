"""Who says that it rained."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.weather import Forecast, WeatherDay, WeatherKind
from soakbook.reckoning.advice.rounds import morning_on
from soakbook.reckoning.advice.whose_rain import whose_rain
from soakbook.reckoning.advice.why import why_of
from tests.reckoning.forecasts import foretold, issued
from tests.reckoning.gardens import PLANTED, at, pages, rain, roses, season, weather

MORNING = PLANTED + timedelta(days=10)
BEFORE = MORNING - timedelta(days=1)
EARLIER = BEFORE - timedelta(days=1)
SHOWER = rain(at(BEFORE, 20), 6.0, at(BEFORE, 18))


def hours(**rain_mm: float) -> tuple[float, ...]:
    return tuple(rain_mm.get(f"h{hour}", 0.0) for hour in range(24))


def told(
    day: date, rain_mm: float, kind: WeatherKind, source: str = "Open-Meteo", **fields: Any
) -> WeatherDay:
    whose = {"rain_mm": (source, kind, ""), "et0_mm": (source, kind, "")}
    return WeatherDay(day, rain_mm, 3.0, 8.0, 18.0, 13.0, sources=whose, **fields)


def words(
    *days: WeatherDay, entries: Sequence[AnyEntry] = (), forecasts: tuple[Forecast, ...] = ()
) -> str:
    known = {one.day: one for one in weather(PLANTED, 10)} | {one.day: one for one in days}
    of = pages((roses(),), entries, days=tuple(known.values()), forecasts=forecasts)
    return whose_rain(of, season(of, MORNING).skies)


@pytest.mark.parametrize(
    ("kind", "said"),
    [("measured", "in the gauge"), ("analysed", "by Open-Meteo"), ("forecast", "as forecast")],
)
def test_a_total_is_said_by_its_kind(kind: WeatherKind, said: str) -> None:
    assert words(told(BEFORE, 6.0, kind)) == said
    assert words(told(BEFORE, 6.0, kind, rain_by_hour_mm=hours(h9=6.0))) == said


def test_a_gauge_reading_is_in_the_gauge() -> None:
    assert words(told(BEFORE, 0.0, "analysed"), entries=[SHOWER]) == "in the gauge"


def test_where_both_tell_a_part_both_are_said() -> None:
    """The gauge the evening, the service the morning before it."""
    morning = told(BEFORE, 4.0, "analysed", rain_by_hour_mm=hours(h9=4.0))
    assert words(morning, entries=[SHOWER]) == "by Open-Meteo and gauge"
    assert words(told(BEFORE, 8.0, "forecast"), entries=[SHOWER]) == "by forecast and gauge"


def test_the_evening_of_the_day_before_is_that_days() -> None:
    """From 17:00 on it is in yesterday's step; what fell before is not spoken of."""
    evening = told(EARLIER, 6.0, "analysed", rain_by_hour_mm=hours(h20=6.0))
    noon = told(EARLIER, 6.0, "analysed", rain_by_hour_mm=hours(h12=6.0))
    assert words(evening, told(BEFORE, 0.0, "measured", "station")) == "by Open-Meteo"
    assert words(noon, told(BEFORE, 0.0, "measured", "station")) == ""
    station = told(BEFORE, 3.0, "measured", "station", rain_by_hour_mm=hours(h3=3.0))
    assert words(evening, station) == "by Open-Meteo and gauge"


def test_the_mornings_own_hours_are_told_by_a_forecast() -> None:
    today = issued(MORNING, foretold(MORNING, 6.0, rain_by_hour_mm=hours(h3=6.0)), hour=6)
    assert words(forecasts=(today,)) == "as forecast"


def test_the_why_says_it_and_credits_the_service() -> None:
    days = (*weather(PLANTED, 9), told(BEFORE, 6.0, "analysed"))
    of = why_of(morning_on(pages((roses(),), days=days), MORNING, 5), "bed")
    assert of.rain is not None
    assert of.rain.told == "by Open-Meteo"
    assert any(
        "Where the rain went: 6.0 mm by Open-Meteo; 6.0 came to the bed" in one for one in of.say
    )
    assert of.credits == ("Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0.",)
    own = why_of(morning_on(pages((roses(),), [SHOWER]), MORNING, 5), "bed")
    assert own.credits == ()
    assert any("Where the rain went: 6.0 mm in the gauge;" in one for one in own.say)
