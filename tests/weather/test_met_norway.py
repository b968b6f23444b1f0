"""MET Norway's answer as a table of hours: one recorded answer, and made ones for what it does not show."""

import json
from collections.abc import Iterator
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from soakbook.weather.answers import HourTable
from soakbook.weather.hour_rows import sound_rows
from soakbook.weather.met_norway import (
    BASE_URL,
    hour_table,
    issued_at,
    question,
)

RECORDED = Path(__file__).parent / "answers" / "metno_complete_london_2020-07-20.json"
UNITS = {
    "air_temperature": "celsius",
    "air_temperature_max": "celsius",
    "air_temperature_min": "celsius",
    "cloud_area_fraction": "%",
    "dew_point_temperature": "celsius",
    "precipitation_amount": "mm",
    "wind_speed": "m/s",
}
Body = dict[str, Any]


@pytest.fixture
def recorded() -> Body:
    """The recorded body, without the status and headers it was kept with."""
    body: Body = json.loads(RECORDED.read_text(encoding="utf-8"))["data"]
    return body


def steps_of(body: Body) -> list[Body]:
    steps: list[Body] = body["properties"]["timeseries"]
    return steps


def instant(temperature_c: float = 12.0) -> Body:
    return {
        "air_temperature": temperature_c,
        "dew_point_temperature": 7.5,
        "wind_speed": 3.1,
        "cloud_area_fraction": 62.5,
    }


def made(
    *steps: tuple[int, float | None, float | None], units: dict[str, str] | None = None
) -> Body:
    """A made body: of each step its hour of 3 May 2031, the rain of the hour behind it and of the six hours."""
    series = []
    for hour, next_hour, next_six in steps:
        data: Body = {"instant": {"details": instant()}}
        if next_hour is not None:
            data["next_1_hours"] = {"details": {"precipitation_amount": next_hour}}
        if next_six is not None:
            six = {"precipitation_amount": next_six, "air_temperature_min": 9.0}
            data["next_6_hours"] = {"details": six | {"air_temperature_max": 15.0}}
        begins = datetime(2031, 5, 3, tzinfo=UTC) + timedelta(hours=hour)
        series.append({"time": f"{begins:%Y-%m-%dT%H:%M:%SZ}", "data": data})
    meta = {"updated_at": "2031-05-02T23:14:05Z", "units": UNITS if units is None else units}
    return {"type": "Feature", "properties": {"meta": meta, "timeseries": series}}


def hourly(table: HourTable) -> int:
    return sum(later - begins == timedelta(hours=1) for begins, later in pairwise(table.begins))


def test_the_recorded_answer_has_55_hours_and_then_six_hours_a_row(recorded: Body) -> None:
    table = hour_table(recorded)
    assert len(table.begins) == 82
    assert hourly(table) == 55
    assert table.begins[0] == datetime(2020, 7, 20, 11, tzinfo=UTC)
    assert table.begins[55] == datetime(2020, 7, 22, 18, tzinfo=UTC)
    assert table.begins[81] == datetime(2020, 7, 29, 6, tzinfo=UTC)
    assert {later - begins for begins, later in pairwise(table.begins[55:])} == {timedelta(hours=6)}


def test_instants_as_they_stand_in_the_recorded_answer(recorded: Body) -> None:
    """2020-07-20T11:00Z, 2020-07-22T18:00Z and the last step, read off the file."""
    table = hour_table(recorded)
    assert [table.temperature_c[row] for row in (0, 55, 81)] == [18.8, 23.3, 17.4]
    assert [table.dew_point_c[row] for row in (0, 55, 81)] == [7.2, 7.8, 15.4]
    assert [table.wind_10m_m_per_s[row] for row in (0, 55, 81)] == [2.3, 3.0, 3.7]
    assert [table.cloud_fraction[row] for row in (0, 55, 81)] == pytest.approx(
        [0.125, 0.945, 0.789]
    )
    assert None not in (*table.temperature_c, *table.cloud_fraction)


def test_what_the_service_never_says_has_an_empty_column(recorded: Body) -> None:
    table = hour_table(recorded)
    assert table.radiation_w_m2 == ()
    assert table.et0_mm == ()


def test_extremes_belong_to_the_six_hour_rows(recorded: Body) -> None:
    """2020-07-22T18:00Z: 14.9 to 21.8; 2020-07-29T00:00Z: 16.5 to 17.3; the last step has none."""
    table = hour_table(recorded)
    assert set(table.tmin_c[:55]) == set(table.tmax_c[:55]) == {None}
    assert (table.tmin_c[55], table.tmax_c[55]) == (14.9, 21.8)
    assert (table.tmin_c[80], table.tmax_c[80]) == (16.5, 17.3)
    assert (table.tmin_c[81], table.tmax_c[81]) == (None, None)


def test_rain_of_the_recorded_answer_adds_up(recorded: Body) -> None:
    """By hand: dry hours, then 0.2 + 0.9 + 0.2 + 0.5 + 0.1 + 0.1 + 0.2 + 0.3 mm in six hours each."""
    rain = hour_table(recorded).rain_mm
    assert rain[81] is None
    assert sum(amount for amount in rain[:81] if amount is not None) == pytest.approx(2.5)
    assert rain.count(None) == 1


def amounts_within(body: Body) -> Iterator[float]:
    """The rain of the next hour of every step that has it, and of the six hours of the others."""
    for step in steps_of(body):
        for span in ("next_1_hours", "next_6_hours"):
            if "details" in step["data"].get(span, {}):
                yield step["data"][span]["details"]["precipitation_amount"]
                break


def test_rain_is_never_counted_twice(recorded: Body) -> None:
    """The recorded answer made wet: a millimetre in every hour, six in every six of them."""
    wet = deepcopy(recorded)
    for step in steps_of(wet):
        for span, amount_mm in (("next_1_hours", 1.0), ("next_6_hours", 6.0)):
            if "details" in step["data"].get(span, {}):
                step["data"][span]["details"]["precipitation_amount"] = amount_mm
    rain = [amount for amount in hour_table(wet).rain_mm if amount is not None]
    first, last = (steps_of(wet)[row]["time"] for row in (0, -1))
    hours = (datetime.fromisoformat(last) - datetime.fromisoformat(first)) / timedelta(hours=1)
    assert sum(rain) == hours == 211
    assert sum(rain) == sum(amounts_within(wet))


def test_the_last_hours_have_only_the_next_hour() -> None:
    table = hour_table(made((16, 0.4, 9.9), (17, 0.6, None), (18, None, 2.0), (24, None, None)))
    assert table.rain_mm == (0.4, 0.6, 2.0, None)


def test_a_step_with_both_before_six_hours_rains_for_six_hours() -> None:
    """Where the row itself is six hours long, the next hour is only part of it."""
    assert hour_table(made((11, 0.1, 3.0), (12, 0.5, 3.0), (18, None, 1.0))).rain_mm == (
        0.1,
        3.0,
        1.0,
    )


def test_an_hour_without_its_own_rain_takes_none_of_the_six_hours() -> None:
    assert hour_table(made((9, None, 6.0), (10, 1.0, 5.0), (11, 1.0, 4.0))).rain_mm == (
        None,
        1.0,
        1.0,
    )


def test_rain_behind_a_missing_step_is_not_known() -> None:
    """Of 10:00 to 12:00 only the first hour is told: nought for the second would be a guess."""
    assert hour_table(made((9, 1.0, None), (10, 1.0, None), (12, 1.0, None))).rain_mm[1] is None


def test_one_step_alone_lasts_an_hour() -> None:
    assert hour_table(made((9, 0.3, 2.0))).rain_mm == (0.3,)


def test_details_may_be_missing_at_any_step() -> None:
    body = made((9, 0.0, 0.0), (10, 0.0, 0.0), (11, 0.0, 0.0))
    first, second, third = (step["data"] for step in steps_of(body))
    del first["instant"]["details"]["dew_point_temperature"]
    del second["instant"]["details"]
    third["instant"]["details"]["cloud_area_fraction"] = None
    third["next_1_hours"] = {"summary": {"symbol_code": "cloudy"}}
    table = hour_table(body)
    assert table.dew_point_c == (None, None, 7.5)
    assert table.temperature_c == (12.0, None, 12.0)
    assert table.cloud_fraction == (0.625, None, None)
    assert table.rain_mm == (0.0, 0.0, None)


def test_times_with_an_offset_are_brought_to_utc() -> None:
    body = made((9, 0.0, None), (10, 0.0, None))
    steps_of(body)[0]["time"] = "2031-05-03T11:00:00+02:00"
    assert hour_table(body).begins[0] == datetime(2031, 5, 3, 9, tzinfo=UTC)


def test_when_it_was_made(recorded: Body) -> None:
    assert issued_at(recorded) == datetime(2020, 7, 20, 1, 30, 57, tzinfo=UTC)
    del recorded["properties"]["meta"]["updated_at"]
    assert issued_at(recorded) is None


@pytest.mark.parametrize(
    "body",
    [
        None,
        [],
        "<html>",
        {},
        {"properties": None},
        {"properties": {"timeseries": []}},
        {"properties": {"timeseries": {}}},
    ],
    ids=str,
)
def test_a_body_without_steps_is_no_forecast(body: object) -> None:
    with pytest.raises(ValueError, match=r"no forecast|is no object"):
        hour_table(body)


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("air_temperature", "fahrenheit"),
        ("dew_point_temperature", "K"),
        ("wind_speed", "km/h"),
        ("cloud_area_fraction", "1"),
        ("precipitation_amount", "inch"),
        ("air_temperature_min", "fahrenheit"),
    ],
)
def test_another_unit_is_refused(name: str, unit: str) -> None:
    with pytest.raises(ValueError, match=f"unit of {name}: '{unit}'"):
        hour_table(made((9, 0.0, 0.0), units=UNITS | {name: unit}))


def test_a_unit_that_is_not_said_is_refused() -> None:
    units = {name: unit for name, unit in UNITS.items() if name != "wind_speed"}
    with pytest.raises(ValueError, match="unit of wind_speed: None, not 'm/s'"):
        hour_table(made((9, 0.0, 0.0), units=units))


@pytest.mark.parametrize("second", [9, 8], ids=["twice", "backwards"])
def test_steps_out_of_order_are_refused(second: int) -> None:
    with pytest.raises(ValueError, match="out of order: 2031-05-03T0"):
        hour_table(made((9, 0.0, 0.0), (second, 0.0, 0.0)))


@pytest.mark.parametrize(
    "value",
    ["12", True, float("nan"), float("inf"), 10**400, [12.0]],
    ids=lambda value: str(value)[:9],
)
def test_a_value_that_is_no_number_is_refused(value: object) -> None:
    body = made((9, 0.0, 0.0))
    steps_of(body)[0]["data"]["instant"]["details"]["air_temperature"] = value
    with pytest.raises(ValueError, match=r"air_temperature at 2031-05-03T09:00Z: .* not a number"):
        hour_table(body)


def test_one_value_that_no_weather_has_costs_that_value_alone() -> None:
    body = made(*((hour, 0.0, 0.0) for hour in range(24)))
    steps_of(body)[3]["data"]["instant"]["details"]["air_temperature"] = 300.0
    rows = sound_rows(hour_table(body), "made")
    assert np.flatnonzero(np.isnan(rows.columns["temperature_c"])).tolist() == [3]
    assert rows.findings == ("values that cannot be right were left out: temperature 1",)


@pytest.mark.parametrize(
    "time", [None, "", "tomorrow", "2031-05-03T09:00:00", "0001-01-01T00:00:00+12:00", 9]
)
def test_a_time_that_is_no_moment_is_refused(time: object) -> None:
    body = made((9, 0.0, 0.0))
    steps_of(body)[0]["time"] = time
    with pytest.raises(ValueError, match="not a moment like"):
        hour_table(body)


@pytest.mark.parametrize(
    "step",
    [None, {"time": "2031-05-03T10:00:00Z"}, {"time": "2031-05-03T10:00:00Z", "data": {}}],
    ids=str,
)
def test_a_step_without_an_instant_is_refused(step: object) -> None:
    body = made((9, 0.0, 0.0))
    body["properties"]["timeseries"].append(step)
    with pytest.raises(ValueError, match=r"is no object|no instant at 2031-05-03T10:00Z"):
        hour_table(body)


def test_a_place_is_asked_for_in_two_decimals_and_whole_metres() -> None:
    asked = question(51.87654, -2.2649, 41.6)
    assert asked.url == "https://api.met.no/weatherapi/locationforecast/2.0/complete"
    assert asked.params == {"lat": "51.88", "lon": "-2.26", "altitude": "42"}


def test_a_place_on_the_meridian_has_no_minus_nought() -> None:
    assert question(0.001, -0.004, -0.3).params == {"lat": "0.00", "lon": "0.00", "altitude": "0"}


def test_another_address_can_be_asked() -> None:
    assert question(51.5, 0.0, 20, "http://127.0.0.1:8080").url == "http://127.0.0.1:8080/complete"
    assert BASE_URL.startswith("https://")
