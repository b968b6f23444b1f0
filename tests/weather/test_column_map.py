"""Which columns of a file are taken."""

import pytest

from soakbook.errors import InputError
from soakbook.weather.column_map import (
    ColumnMap,
    columns_said,
    date_column,
    rain_starts_h,
    understand,
)
from soakbook.weather.columns import Column

NOTHING = ColumnMap()


def test_a_file_that_states_its_units_needs_no_word() -> None:
    found = understand(["date", "tmin_c", "tmax_c", "rain_mm"], NOTHING)
    assert [column.text for column in found.column_map.columns] == [
        "rain=rain_mm:mm",
        "tmin=tmin_c:C",
        "tmax=tmax_c:C",
    ]
    assert found.taken[0] == "rain from 'rain_mm' in mm, from midnight to midnight"
    assert found.left_out == ()


def test_whose_day_the_rain_is_is_said_back() -> None:
    found = understand(["date", "rain_mm"], ColumnMap(rain_day="09:00 before"))
    assert found.taken == ("rain from 'rain_mm' in mm, the gauge read and booked 09:00 before",)


def test_what_was_said_counts_before_what_the_header_says() -> None:
    found = understand(["Date", "rain_mm", "Gauge"], columns_said(["rain=Gauge:in"]))
    assert found.column_map.columns == (Column("rain", "Gauge", "in"),)
    assert found.left_out == ("'rain_mm': rain is taken from 'Gauge'",)


def test_the_first_of_two_columns_is_taken_and_the_other_named() -> None:
    found = understand(["date", "wind10_ms", "wind2_ms"], NOTHING)
    assert found.column_map.columns == (Column("wind", "wind10_ms", "m/s", 10.0),)
    assert found.taken == ("wind from 'wind10_ms' in m/s, measured at 10 m",)
    assert found.left_out == ("'wind2_ms': wind is taken from 'wind10_ms'",)


def test_what_is_not_understood_is_left_out_and_said() -> None:
    found = understand(["date", "rain_mm", "UV", "et0_mm"], NOTHING)
    assert found.left_out[0] == "'UV': not understood"
    assert found.left_out[1].startswith("'et0_mm': ET0 is reckoned here")


def test_a_quantity_can_be_left_out() -> None:
    found = understand(["date", "rain_mm", "Wind"], columns_said(["wind=-"]))
    assert found.column_map.columns == (Column("rain", "rain_mm", "mm"),)
    assert found.left_out == ("'Wind': you said to leave wind out",)


def test_the_height_of_the_wind_may_be_said_for_the_file() -> None:
    found = understand(["date", "wind km/h"], ColumnMap(wind_height_m=10.0))
    assert found.column_map.columns == (Column("wind", "wind km/h", "km/h", 10.0),)


@pytest.mark.parametrize(
    ("headers", "said", "message"),
    [
        (["when", "rain_mm"], [], "a column called date or time, or date=COLUMN"),
        (
            ["date", "rain_mm"],
            ["date=Day"],
            "'Day' cannot be right; a column of the file: date, rain_mm",
        ),
        (["date", "rain_mm"], ["tmax=High:F"], "'High' cannot be right; a column of the file"),
        (
            ["date", "Rain", "TMAX"],
            [],
            "rain=Rain:mm or rain=Rain:in (or rain=- to leave it out); the same for 'TMAX'",
        ),
        (["date", "Wind"], [], "wind=Wind:m/s@2m or wind=Wind:km/h@2m"),
        (["date", "wind km/h"], [], "wind=wind km/h:km/h@2m or wind=wind km/h:km/h@10m"),
        (["date", "UV"], [], "columns: 'date, UV' cannot be right; at least one like tmin_c"),
        (["date", "T", "T"], ["tmax=T:C"], "columns 2 and 3 of the file both bear it"),
        (["date", "rain_mm", "rain_mm"], [], "columns 2 and 3 of the file both bear it"),
        (["date", "date", "rain_mm"], [], "columns 1 and 2 of the file both bear it"),
    ],
)
def test_what_cannot_be_read_is_refused(headers: list[str], said: list[str], message: str) -> None:
    with pytest.raises(InputError) as fault:
        understand(headers, columns_said(said))
    assert message in str(fault.value)


@pytest.mark.parametrize("height_m", [0.1, 500.0])
def test_wind_can_only_be_measured_between_grass_and_mast(height_m: float) -> None:
    with pytest.raises(InputError, match="height of the wind gauge"):
        understand(["date", "wind km/h"], ColumnMap(wind_height_m=height_m))


@pytest.mark.parametrize(
    "texts", [["rain=A:mm", "rain=B:mm"], ["Rain=-", "rain=B:mm"], ["wind=-", "rain=-", "rain=-"]]
)
def test_a_quantity_is_said_once(texts: list[str]) -> None:
    with pytest.raises(InputError, match=r"rain: .* one column for each quantity"):
        columns_said(texts)


def test_the_day_column_can_be_said() -> None:
    found = understand(["When", "rain_mm"], columns_said(["Date=When"]))
    assert found.column_map.date_header == "When"


@pytest.mark.parametrize(
    ("headers", "found"),
    [
        (["time", "temp_c"], "time"),
        (["Timestamp", "temp_c"], "Timestamp"),
        (["temp_c", "Date/Time"], "Date/Time"),
        (["datetime", "temp_c"], "datetime"),
        (["time", "date", "temp_c"], "date"),
    ],
)
def test_the_column_of_moments_is_found_by_its_name(headers: list[str], found: str) -> None:
    assert date_column(headers, None) == found


def test_of_two_columns_of_moments_one_has_to_be_said() -> None:
    with pytest.raises(InputError, match="'time, timestamp' cannot be right; only one, or which"):
        date_column(["time", "timestamp", "temp_c"], None)
    assert date_column(["time", "timestamp", "temp_c"], "timestamp") == "timestamp"


def test_new_words_lie_over_what_is_remembered() -> None:
    older = ColumnMap(
        columns=columns_said(["rain=Old:mm", "tmax=High:F"]).columns,
        left_out=("wind", "sun"),
        date_order="dmy",
        source="Shed roof",
    )
    newer = ColumnMap(
        columns=columns_said(["rain=New:in", "wind=Wind:m/s@2m"]).columns, source="South lawn"
    )
    found = newer.over(older)
    assert [column.text for column in found.columns] == [
        "rain=New:in",
        "wind=Wind:m/s@2m",
        "tmax=High:F",
    ]
    assert found.left_out == ("sun",)
    assert (found.date_order, found.source) == ("dmy", "South lawn")
    assert columns_said(["tmax=-"]).over(older).columns == columns_said(["rain=Old:mm"]).columns


def test_a_clock_said_lies_over_the_one_remembered() -> None:
    older = ColumnMap(clock="local")
    assert ColumnMap(clock="utc").over(older).clock == "utc"
    assert NOTHING.over(older).clock == "local"


def test_in_a_file_of_hours_a_temperature_without_more_is_each_rows() -> None:
    headers = ["date", "temp_c", "Humidity (%)"]
    found = understand(headers, NOTHING, in_parts=True)
    assert [column.text for column in found.column_map.columns] == [
        "tmean=temp_c:C",
        "rh=Humidity (%):%",
    ]
    assert "'temp_c': not understood" in understand(headers, NOTHING).left_out


def test_a_temperature_without_more_needs_its_unit_too() -> None:
    with pytest.raises(InputError, match="tmean=Temperature:C or tmean=Temperature:F"):
        understand(["date", "Temperature"], NOTHING, in_parts=True)


@pytest.mark.parametrize(
    ("rain_day", "hours"),
    [
        (None, 0.0),
        ("midnight", 0.0),
        ("09:00 before", 9.0),
        ("09:00 same", -15.0),
        ("0:00 same", 0.0),
        ("7:30 before", 7.5),
    ],
)
def test_when_the_rain_of_a_booked_day_begins(rain_day: str | None, hours: float) -> None:
    assert rain_starts_h(rain_day) == hours


@pytest.mark.parametrize("rain_day", ["noon", "09:00", "25:00 before", "09:61 same", "09:00 after"])
def test_another_rain_day_is_refused(rain_day: str) -> None:
    with pytest.raises(InputError, match="09:00 before, or 09:00 same"):
        understand(["date", "rain_mm"], ColumnMap(rain_day=rain_day))


def test_what_is_said_of_commas_lies_over_what_is_remembered() -> None:
    commas, points = ColumnMap(decimal_comma=True), ColumnMap(decimal_comma=False)
    assert NOTHING.over(commas).decimal_comma is True
    assert points.over(commas).decimal_comma is False
    assert NOTHING.over(NOTHING).decimal_comma is None
