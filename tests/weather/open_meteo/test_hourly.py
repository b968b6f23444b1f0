"""Answers of forecast and archive: what is refused, and what becomes of the columns.

All bodies are made, in the documented shape, but those called recorded.
"""

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.weather.hour_rows import sound_rows
from soakbook.weather.hours import LocalDays, days_of
from soakbook.weather.open_meteo.hourly import hour_table, place_of
from tests.weather.made_hours import GLOUCESTER
from tests.weather.open_meteo.made import Made, labels, made_body, recorded

MAY = datetime(2031, 5, 1, tzinfo=UTC)


def found_in(body: Made, zone: str = "Etc/GMT") -> LocalDays:
    return days_of(sound_rows(hour_table(body), "made"), ZoneInfo(zone), GLOUCESTER)


def test_sums_stand_at_the_beginning_of_their_hour_and_instants_where_they_are() -> None:
    rain = [0.0, 0.1, 0.2, 0.3]
    body = made_body(MAY, 4, precipitation=rain, temperature_2m=[9, 8.5, 8, None])
    table = hour_table(body)
    assert table.begins[0] == datetime(2031, 5, 1, tzinfo=UTC)
    assert table.rain_mm == (0.1, 0.2, 0.3, None)
    assert table.et0_mm == (0.08, 0.08, 0.08, None)
    assert table.temperature_c == (9, 8.5, 8, None)
    assert table.cloud_fraction == (0.4,) * 4
    assert (table.tmin_c, table.tmax_c) == ((), ())


def test_rain_at_the_first_midnight_is_yesterdays() -> None:
    """5 mm labelled 00:00 of the second: fallen on the first."""
    rain = [0.0] * 24 + [5.0] + [0.0] * 24
    found = found_in(made_body(MAY, 49, precipitation=rain))
    assert {one.day: one.rain_mm for one in found.days} == {
        date(2031, 5, 1): 5.0,
        date(2031, 5, 2): 0.0,
    }
    assert found.days[0].rain_by_hour_mm[23] == 5.0


@pytest.mark.parametrize(
    ("first", "day", "hours"),
    [
        (datetime(2031, 3, 28, tzinfo=UTC), date(2031, 3, 30), 23),
        (datetime(2031, 10, 24, tzinfo=UTC), date(2031, 10, 26), 25),
    ],
)
def test_a_day_of_clock_change_in_london(first: datetime, day: date, hours: int) -> None:
    """A tenth of a millimetre in every hour: 2.3 and 2.5 mm."""
    body = made_body(first, 24 * 4, precipitation=[0.1] * 96)
    found = found_in(body, "Europe/London")
    (one,) = [each for each in found.days if each.day == day]
    assert one.rain_by_hour_mm == (0.1,) * hours
    assert one.rain_mm == pytest.approx(hours / 10)


def test_nulls_beyond_the_end_of_a_model_end_the_days() -> None:
    """From noon of the third on nothing, the evaporation a day longer."""
    cut = {
        name: column[:60] + [None] * 36
        for name, column in made_body(MAY, 96)["hourly"].items()
        if name not in ("time", "et0_fao_evapotranspiration")
    }
    found = found_in(made_body(MAY, 96, **cut))
    assert [one.day.day for one in found.days] == [1, 2]


def test_an_hour_twice_and_a_day_missing() -> None:
    """Every hour has its own rain, a label's number in hundredths; hour 30 comes twice, day three never."""
    kept = [*range(31), 30, *range(31, 48), *range(72, 121)]
    body = made_body(MAY, 121, precipitation=[n / 100 for n in range(121)])
    body["hourly"] = {name: [column[n] for n in kept] for name, column in body["hourly"].items()}
    found = found_in(body)
    assert [one.day.day for one in found.days] == [1, 4, 5]
    assert found.days[0].rain_mm == pytest.approx(sum(range(1, 25)) / 100)
    assert found.days[2].rain_mm == pytest.approx(sum(range(97, 121)) / 100)
    assert found.findings[0] == "1 hour came twice: the first of each counts"
    assert found.findings[1].startswith("left out, 2031-05-02 to 2031-05-03: ")


@pytest.mark.parametrize("name", ["cloud_cover", "et0_fao_evapotranspiration"])
def test_a_place_may_lack_cloud_and_evaporation(name: str) -> None:
    body = made_body(MAY, 48, **{name: [None] * 48})
    body["hourly_units"][name] = "undefined"
    table = hour_table(body)
    assert (table.cloud_fraction if name == "cloud_cover" else table.et0_mm) == ()


def changed(part: str, name: str, value: Any) -> Callable[[], Made]:
    """A made body with another entry in one of its parts; in the body itself where part is ""."""

    def body() -> Made:
        made = made_body(MAY, 48)
        (made[part] if part else made)[name] = value
        return made

    return body


@pytest.mark.parametrize(
    ("body", "say"),
    [
        (lambda: [made_body(MAY, 2)], "not the answer for one place"),
        (lambda: {"error": True, "reason": "No data is available"}, "No data is available"),
        (dict, "no hourly columns with their units"),
        (changed("", "utc_offset_seconds", 3600), "times 3600 s off UTC"),
        (changed("hourly", "time", []), "no times"),
        (changed("hourly", "time", [1] * 48), "a time that is no text"),
        (changed("hourly", "time", ["soon"] * 48), "soon"),
        (changed("hourly", "time", ["2031-05-01T00:00+02:00"] * 48), "an offset of its own"),
        (
            changed("hourly", "time", labels(datetime(1800, 1, 1, tzinfo=UTC), 48)),
            "a time in the year 1800",
        ),
        (changed("hourly", "precipitation", None), "no column precipitation"),
        (changed("hourly", "precipitation", [0.0] * 47), "has 47 values for 48 times"),
        (changed("hourly", "precipitation", ["0.0"] * 48), "a value that is no number"),
        (changed("hourly", "precipitation", [True] * 48), "a value that is no number"),
        (changed("hourly", "precipitation", [10**400] * 48), "a number that is too large"),
        (changed("hourly", "dew_point_2m", [None] * 48), "dew_point_2m says nothing"),
        (changed("hourly_units", "wind_speed_10m", "km/h"), "in km/h, not in m/s"),
        (changed("hourly_units", "temperature_2m", "°F"), "in °F, not in °C"),
        (changed("hourly_units", "precipitation", "inch"), "in inch, not in mm"),
        (changed("hourly_units", "shortwave_radiation", None), "in None, not in W/m²"),
        (changed("hourly_units", "cloud_cover", "undefined"), "in undefined, not in %"),
    ],
)
def test_a_body_that_is_no_answer_is_refused(body: Callable[[], Any], say: str) -> None:
    with pytest.raises(ValueError, match=say):
        hour_table(body())


def test_the_recorded_forecast_is_refused_for_its_hours_and_its_wind() -> None:
    """It was asked for in local time and without a unit of wind."""
    body = recorded("openmeteo_forecast_2026-10-03.json")
    with pytest.raises(ValueError, match="times 7200 s off UTC"):
        hour_table(body)
    with pytest.raises(ValueError, match="wind_speed_10m is in km/h, not in m/s"):
        hour_table(body | {"utc_offset_seconds": 0})


def test_the_recorded_forecast_read_as_if_asked_for_rightly() -> None:
    """Its offset and its wind are brought to what we ask for; all else is as it came."""
    body = recorded("openmeteo_forecast_2026-10-03.json") | {"utc_offset_seconds": 0}
    body["hourly"]["wind_speed_10m"] = [value / 3.6 for value in body["hourly"]["wind_speed_10m"]]
    body["hourly_units"]["wind_speed_10m"] = "m/s"
    table = hour_table(body)
    assert table.temperature_c == (11.8, 11.2, 11.0)
    assert table.wind_10m_m_per_s == pytest.approx((9.0 / 3.6, 8.3 / 3.6, 6.8 / 3.6))
    assert table.cloud_fraction == (0.01, 0.48, 0.47)
    assert table.et0_mm == (0.0, 0.0, None)


@pytest.mark.parametrize(
    "name", ["openmeteo_forecast_2026-10-03.json", "openmeteo_archive_1953.json"]
)
def test_the_place_of_recorded_answers(name: str) -> None:
    assert place_of(recorded(name)) == (29.0, "Europe/Amsterdam")


@pytest.mark.parametrize(
    ("body", "say"),
    [
        ([], "not the answer for one place"),
        ({"error": True, "reason": "Invalid timezone"}, "Invalid timezone"),
        ({"timezone": "GMT"}, "no height"),
        ({"elevation": True, "timezone": "GMT"}, "no height"),
        ({"elevation": float("nan"), "timezone": "GMT"}, "height of the place of nan m"),
        ({"elevation": 42.0}, "no time zone"),
    ],
)
def test_a_place_without_height_or_zone_is_refused(body: Any, say: str) -> None:
    with pytest.raises(ValueError, match=say):
        place_of(body)
