"""How a garden's services kept their word, read off its pages."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages, asked_at
from soakbook.garden.promises import GOOD_SHARE, JudgedPromise, Made, made_by
from soakbook.garden.records import Garden
from soakbook.garden.service_records import bar_at, record_at
from soakbook.garden.weather import Forecast, ForecastDay, WeatherDay

LONDON = ZoneInfo("Europe/London")
GARDEN = Garden("garden", "The garden", 52.3, -0.4, 62.0, "Europe/London")
WED = date(2031, 5, 14)
THU, FRI = WED + timedelta(days=1), WED + timedelta(days=2)
SERVICE = "a service"


def at(day: date, hour: int) -> datetime:
    return datetime.combine(day, time(hour), LONDON)


def shower(day: date, begins: int, ends: int, rain_mm: float) -> Rain:
    end = at(day, ends)
    return Rain(
        uid=f"rain {end}",
        happened_at=end,
        written_at=end,
        rain_mm=rain_mm,
        began_at=at(day, begins),
        typed=f"{rain_mm:g}mm",
    )


def issue(day: date, hour: int, rain_mm: float) -> Forecast:
    """Ten futures of rain on the day after the issue, all alike."""
    days = tuple(
        ForecastDay(day + timedelta(days=n), mm, rain_members_mm=(mm,) * 10)
        for n, mm in enumerate((0.0, rain_mm))
    )
    return Forecast(SERVICE, at(day, hour), days)


def day_ahead(*readings: Rain, hour: int = 7) -> JudgedPromise:
    """What came of Wednesday's promise for Wednesday and Thursday; no day was wet by its total."""
    weather = tuple(WeatherDay(WED + timedelta(days=n), 0.0, 3.0) for n in range(-2, 3))
    made = made_by([issue(WED, hour, 9.0)], LONDON)
    pages = Pages(GARDEN, entries=readings, weather=weather, promises=made)
    return next(one for one in record_at(pages, at(FRI, 7)).promises if one.lead_days == 1)


def test_rain_in_the_evening_of_the_last_day_keeps_a_promise() -> None:
    """12 mm at 20:00 on Thursday, in a step of the reckoning that is Friday's."""
    found = day_ahead(shower(THU, 19, 21, 12.0))
    assert (found.promise.last, found.outcome, found.fell_mm) == (THU, "kept", 12.0)


def test_rain_of_the_evening_before_the_issue_keeps_none() -> None:
    """12 mm at 20:00 on Tuesday, in a step that is Wednesday's."""
    found = day_ahead(shower(WED - timedelta(days=1), 19, 21, 12.0))
    assert (found.outcome, found.fell_mm) == ("broken", 0.0)


def test_what_had_fallen_by_the_hour_of_issue_keeps_none() -> None:
    before, after = shower(WED, 3, 5, 6.0), shower(WED, 9, 11, 6.0)
    assert (day_ahead(before).outcome, day_ahead(before).fell_mm) == ("broken", 0.0)
    assert (day_ahead(after).outcome, day_ahead(before, after).fell_mm) == ("kept", 6.0)
    assert day_ahead(before, hour=2).outcome == "kept"


def test_a_day_known_only_as_forecast_settles_nothing() -> None:
    """Neither by its rain nor, where another service has measured ET0, by that; a gauge that owns the day does."""
    foretold = WeatherDay(
        THU,
        0.0,
        3.0,
        sources={"rain_mm": (SERVICE, "forecast", ""), "et0_mm": ("x", "measured", "")},
    )
    made = made_by([issue(WED, 7, 9.0)], LONDON)
    pages = Pages(GARDEN, weather=(WeatherDay(WED, 0.0, 3.0), foretold), promises=made)
    assert record_at(pages, at(FRI, 7)).promises[0].outcome == "not yet known"
    gauge = (shower(THU, 0, 23, 0.0),)
    assert record_at(pages._replace(entries=gauge), at(FRI, 7)).promises[0].outcome == "broken"


def test_the_bar_is_that_of_the_service_that_spoke_last() -> None:
    """Ten days of good promises and no rain: the service must be surer, another need not."""
    days = [WED - timedelta(days=n) for n in range(12)]
    weather = tuple(WeatherDay(day, 0.0, 3.0) for day in reversed(days))
    made = tuple(Made(SERVICE, day, 1, 0.9, 8.0, at(day, 5)) for day in days[2:])
    pages = Pages(GARDEN, weather=weather, promises=made, forecasts=(issue(WED, 5, 9.0),))
    assert bar_at(pages, at(WED, 7)) == pytest.approx(0.7 * 0.8 * (10 + 10 / 3) / 8)
    other = (issue(WED, 6, 9.0)._replace(source="another"), *pages.forecasts)
    assert bar_at(pages._replace(forecasts=other), at(WED, 7)) == GOOD_SHARE
    assert bar_at(pages._replace(forecasts=()), at(WED, 7)) == GOOD_SHARE


def test_without_promises_there_is_no_record() -> None:
    found = record_at(Pages(GARDEN, weather=(WeatherDay(WED, 0.0),)), at(FRI, 7))
    assert found == ((), ())


def test_a_morning_is_asked_about_when_the_book_was_read_and_else_at_its_round_hour() -> None:
    pages = Pages(GARDEN._replace(round_hour=time(6, 30)))
    assert asked_at(pages, THU) == datetime.combine(THU, time(6, 30), LONDON)
    assert asked_at(pages._replace(known_at=at(THU, 15)), THU) == at(THU, 15)
    as_if = pages._replace(known_at=at(WED, 15))  # read the day before
    assert asked_at(as_if, THU) == datetime.combine(THU, time(6, 30), LONDON)
