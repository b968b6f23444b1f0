"""Rows put in order, and each value held to what it can be. Rows here are made."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from soakbook.errors import WeatherError
from soakbook.weather.answers import Column, HourTable
from soakbook.weather.hour_rows import sound_rows
from tests.weather.made_hours import begins, changed, made_hours, with_columns

MAY = datetime(2031, 5, 1, tzinfo=UTC)


def test_rows_in_order_pass_as_they_are() -> None:
    table = made_hours(MAY, 48)
    rows = sound_rows(table, "made")
    assert rows.findings == ()
    assert rows.begins_s.tolist() == [begin.timestamp() for begin in table.begins]
    assert set(rows.hours.tolist()) == {1}
    assert tuple(rows.columns["temperature_c"].tolist()) == table.temperature_c


def test_rows_out_of_order_are_sorted_and_of_two_the_first_counts() -> None:
    order = (2, 0, 1, 1, 3)
    table = HourTable(
        tuple(MAY + timedelta(hours=n) for n in order), rain_mm=(0.2, 0.0, 0.1, 9.0, 0.3)
    )
    rows = sound_rows(table, "made")
    assert rows.columns["rain_mm"].tolist() == [0.0, 0.1, 0.2, 0.3]
    assert rows.findings == (
        "1 hour came twice: the first of each counts",
        "the hours came out of order and were sorted",
    )


def test_a_row_lasts_until_the_next_and_a_hole_is_no_row() -> None:
    """Hours, then six at a time, then a gap of two days, then hours again."""
    moments = [*begins(MAY, 3), *begins(MAY + timedelta(hours=3), 2, 6)]
    moments += begins(MAY + timedelta(hours=63), 2)
    rows = sound_rows(HourTable(tuple(moments), rain_mm=(0.0,) * 7), "made")
    assert rows.hours.tolist() == [1, 1, 1, 6, 0, 1, 1]


@pytest.mark.parametrize(
    ("minutes", "expected"), [((0, 90, 150), [0, 1, 1]), ((0, 2880), [0, 1]), ((0,), [1])]
)
def test_what_is_no_row_of_whole_hours_is_a_hole(
    minutes: tuple[int, ...], expected: list[int]
) -> None:
    moments = tuple(MAY + timedelta(minutes=each) for each in minutes)
    rows = sound_rows(HourTable(moments, rain_mm=(0.0,) * len(moments)), "made")
    assert rows.hours.tolist() == expected


def test_rows_at_the_ends_that_say_nothing_fall_away() -> None:
    table = HourTable(begins(MAY, 6), temperature_c=(None, 9, 8, 7, None, None))
    rows = sound_rows(table._replace(rain_mm=(None, None, 0.0, 0.0, None, None)), "made")
    assert rows.begins_s[0] == (MAY + timedelta(hours=1)).timestamp()
    assert rows.columns["temperature_c"].tolist() == [9, 8, 7]


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("temperature_c", 71.0),
        ("temperature_c", float("inf")),
        ("dew_point_c", 30.0),  # above the air's own warmth
        ("wind_10m_m_per_s", -1.0),
        ("cloud_fraction", 40.0),
        ("radiation_w_m2", 1600.0),
        ("rain_mm", -0.1),
        ("rain_mm", 151.0),
        ("et0_mm", 4.0),
    ],
)
def test_a_single_value_that_cannot_be_is_dropped(name: str, value: float) -> None:
    made = made_hours(MAY, 48)
    table = with_columns(made, {name: changed(getattr(made, name), {30: value})})
    rows = sound_rows(table, "made")
    assert np.isnan(rows.columns[name]).tolist() == [n == 30 for n in range(48)]
    assert sum(np.isnan(column).sum() for column in rows.columns.values()) == 1
    if value != float("inf"):
        (finding,) = rows.findings
        assert finding.startswith("values that cannot be right were left out: ")
        assert finding.endswith(" 1")


def test_six_hours_may_bring_more_than_one() -> None:
    table = HourTable(begins(MAY, 3, 6), rain_mm=(160.0, 0.0, 901.0))
    rows = sound_rows(table, "made")
    assert rows.columns["rain_mm"].tolist()[:2] == [160.0, 0.0]
    assert len(rows.columns["rain_mm"]) == 2  # the third fell away


def test_a_lowest_above_the_highest_is_dropped() -> None:
    table = HourTable(begins(MAY, 3, 6), tmin_c=(8.0, 12.0, 9.0), tmax_c=(14.0, 11.0, 13.0))
    rows = sound_rows(table, "made")
    assert np.isnan(rows.columns["tmin_c"]).tolist() == [False, True, False]
    assert rows.findings == ("values that cannot be right were left out: lowest temperature 1",)


def test_no_negative_zero() -> None:
    rows = sound_rows(made_hours(MAY, 3, rain_mm=(-0.0, 0.0, 0.0)), "made")
    assert not np.signbit(rows.columns["rain_mm"]).any()


@pytest.mark.parametrize(
    ("bad", "rubbish"), [(4, False), (5, True)], ids=["a tenth is dropped", "more is no weather"]
)
def test_many_values_that_cannot_be_are_no_weather(bad: int, rubbish: bool) -> None:
    """Of 48 hours of wind."""
    wind: Column = (70.0,) * bad + (3.0,) * (48 - bad)
    table = made_hours(MAY, 48, wind_10m_m_per_s=wind)
    if not rubbish:
        assert sound_rows(table, "made").findings == (
            "values that cannot be right were left out: wind 4",
        )
        return
    with pytest.raises(WeatherError, match="made: 5 of 48 values of wind cannot be right") as said:
        sound_rows(table, "made")
    assert said.value.kind == "rubbish"


@pytest.mark.parametrize(
    ("table", "say"),
    [
        (HourTable(()), "it has no hours"),
        (
            made_hours(MAY, 2)._replace(begins=(MAY, MAY.replace(year=9999))),
            "an hour of it lies in the year 9999",
        ),
    ],
)
def test_no_hours_and_wild_years_are_no_weather(table: HourTable, say: str) -> None:
    with pytest.raises(WeatherError, match=say):
        sound_rows(table, "made")
