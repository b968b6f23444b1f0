"""Hours become whole local days. Hours here are made."""

import math
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import WeatherError
from soakbook.weather.answers import Column, HourTable
from soakbook.weather.hour_rows import sound_rows
from soakbook.weather.hours import LocalDay, LocalDays, days_of
from soakbook.weather.reference_et import Site, wind_at_2m
from tests.weather.made_hours import GLOUCESTER, begins, changed, made_hours, only, with_columns

MAY = datetime(2031, 5, 1, tzinfo=UTC)


def found_in(table: HourTable, zone: str = "Etc/GMT", site: Site = GLOUCESTER) -> LocalDays:
    return days_of(sound_rows(table, "made"), ZoneInfo(zone), site)


def day_of(found: LocalDays, day: date) -> LocalDay:
    return next(one for one in found.days if one.day == day)


def numbered(count: int) -> Column:
    """Each hour with its own rain, so that sums tell which hours they hold."""
    return tuple(n / 100 for n in range(count))


def vapour_pressure(temperature_c: float) -> float:
    return 0.6108 * math.exp(17.27 * temperature_c / (temperature_c + 237.3))  # FAO-56 eq 11


def test_a_day_of_even_hours() -> None:
    """Two days in GMT: 10 to 20 °C, dew point 8, wind 3, radiation the upper half of a sine."""
    found = found_in(made_hours(MAY, 48, rain_mm=numbered(48)))
    assert found.findings == ()
    first, second = found.days
    inputs = first.inputs
    assert (inputs.tmin_c, inputs.tmax_c) == (10.0, 20.0)
    assert inputs.tmean_c == pytest.approx(15.0)
    assert inputs.vapour_pressure_kpa == pytest.approx(vapour_pressure(8.0), rel=1e-6)
    driest = 100 * vapour_pressure(8.0) / vapour_pressure(20.0)
    assert inputs.rhmin_percent == pytest.approx(driest, rel=1e-6)
    assert inputs.wind_2m_m_per_s == pytest.approx(wind_at_2m(3.0, 10.0))
    # the twelve hours' sines add up to 1 / tan(7.5°)
    upper_half = 500 / math.tan(math.pi / 24)
    assert inputs.radiation_mj_m2_day == pytest.approx(upper_half * 0.0036)
    assert first.rain_by_hour_mm == pytest.approx([n / 100 for n in range(24)])
    assert (first.rain_mm, second.rain_mm) == pytest.approx((2.76, 8.52))
    assert first.own_et0_mm == pytest.approx(2.4)
    assert first.inputs.cloud_fraction == pytest.approx(0.4)
    assert not first.filled


def test_the_mean_vapour_pressure_is_not_that_of_the_mean() -> None:
    dew: Column = (0.0, 12.0) * 24
    found = found_in(made_hours(MAY, 48, dew_point_c=dew, temperature_c=(20.0,) * 48))
    expected = (vapour_pressure(0.0) + vapour_pressure(12.0)) / 2
    assert found.days[0].inputs.vapour_pressure_kpa == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(
    ("zone", "first", "hours"),
    [
        ("Europe/London", datetime(2031, 3, 30, 0, tzinfo=UTC), 23),
        ("Europe/London", datetime(2031, 10, 25, 23, tzinfo=UTC), 25),
        ("Australia/Lord_Howe", datetime(2031, 10, 4, 13, tzinfo=UTC), 24),
        ("Australia/Lord_Howe", datetime(2031, 4, 5, 13, tzinfo=UTC), 24),
        ("Asia/Kolkata", datetime(2031, 5, 1, 18, tzinfo=UTC), 24),
        ("Pacific/Auckland", datetime(2031, 9, 27, 12, tzinfo=UTC), 23),
        (
            "Pacific/Kiritimati",
            datetime(2031, 5, 1, 10, tzinfo=UTC),
            24,
        ),  # 14 h ahead, across 180 degrees
        ("Pacific/Pago_Pago", datetime(2031, 5, 1, 11, tzinfo=UTC), 24),  # 11 h behind
    ],
)
def test_a_day_sums_the_hours_of_the_wall_clock(zone: str, first: datetime, hours: int) -> None:
    """From the day's first hour on, two days and a little; the first is the one looked at."""
    table = made_hours(first, 60, rain_mm=numbered(60), radiation_w_m2=(100.0,) * 60)
    one = found_in(table, zone).days[0]
    assert one.day == (first + timedelta(minutes=30)).astimezone(ZoneInfo(zone)).date()
    assert one.rain_by_hour_mm == pytest.approx([n / 100 for n in range(hours)])
    assert one.rain_mm == pytest.approx(sum(range(hours)) / 100)
    assert one.inputs.radiation_mj_m2_day == pytest.approx(hours * 0.36)
    assert one.inputs.tmean_c == pytest.approx(
        sum(filter(None, table.temperature_c[:hours])) / hours
    )


def test_no_rain_is_lost_between_days() -> None:
    table = made_hours(datetime(2031, 10, 22, 23, tzinfo=UTC), 24 * 7 + 1, rain_mm=numbered(169))
    found = found_in(table, "Europe/London")
    assert len(found.days) == 7
    assert sum(one.rain_mm for one in found.days) == pytest.approx(sum(range(169)) / 100)


def test_polar_night_and_the_south() -> None:
    """At 70 N in December there is no sun and none is missed; at Hobart December is bright."""
    december = datetime(2031, 12, 20, tzinfo=UTC)
    dark = made_hours(december, 48, radiation_w_m2=(0.0,) * 48)
    night = found_in(dark, "Europe/Oslo", Site(70.0, 20.0)).days[0]
    assert night.inputs.radiation_mj_m2_day == 0.0
    bright: Column = (350.0,) * 48  # 30 MJ
    assert (
        len(found_in(made_hours(december, 48, radiation_w_m2=bright), site=Site(-42.9, 50.0)).days)
        == 2
    )
    north = found_in(made_hours(december, 48, radiation_w_m2=bright), site=Site(42.9, 50.0))
    assert north.days == ()
    assert north.findings == (
        "left out, 2031-12-20 to 2031-12-21: an hour's radiation is missing, or the day has more"
        " than the sky can send",
    )


def test_six_hours_at_a_time_are_cut_at_local_midnight() -> None:
    """Rows at 0, 6, 12, 18 UTC in Berlin, two hours ahead: of the row from 18 four hours are the old day's."""
    rows = begins(datetime(2031, 5, 1, tzinfo=UTC), 9, 6)
    table = HourTable(
        rows,
        temperature_c=(10.0, 12.0, 22.0, 16.0, 10.0, 12.0, 22.0, 16.0, 10.0),
        dew_point_c=(8.0,) * 9,
        wind_10m_m_per_s=(2.0, 4.0, 6.0, 4.0, 2.0, 4.0, 6.0, 4.0, 2.0),
        rain_mm=(0.0, 0.0, 0.0, 6.0, 1.2, 0.0, 0.0, 3.0, None),
        tmin_c=(9.0, 11.0, 17.0, 9.5, 7.0, 11.0, 17.0, 9.5, None),
        tmax_c=(13.0, 21.0, 24.0, 17.0, 12.5, 21.0, 25.0, 17.0, None),
    )
    found = found_in(table, "Europe/Berlin")
    (one,) = found.days
    assert one.day == date(2031, 5, 2)
    assert one.rain_by_hour_mm == pytest.approx([1.0] * 2 + [0.2] * 6 + [0.0] * 12 + [0.5] * 4)
    assert (one.inputs.tmin_c, one.inputs.tmax_c) == (7.0, 25.0)
    assert one.inputs.wind_2m_m_per_s == pytest.approx(wind_at_2m(4.0, 10.0))  # in straight lines
    assert one.inputs.radiation_mj_m2_day is None
    assert one.own_et0_mm is None
    assert not one.filled


@pytest.mark.parametrize(("zone", "lowest"), [("Europe/Berlin", 7.0), ("Asia/Karachi", 3.0)])
def test_the_lowest_of_a_row_is_the_days_that_holds_its_middle(zone: str, lowest: float) -> None:
    """Of the six hours from 18 UTC: the middle is 23 local time in Berlin, 2 in the morning in Karachi."""
    table = HourTable(
        begins(datetime(2031, 5, 1, tzinfo=UTC), 9, 6),
        temperature_c=(10.0,) * 9,
        rain_mm=(0.0,) * 9,
        tmin_c=(8.0, 8.0, 8.0, 3.0, 7.0, 8.0, 8.0, 8.0, 8.0),
        tmax_c=(12.0,) * 9,
    )
    assert day_of(found_in(table, zone), date(2031, 5, 2)).inputs.tmin_c == lowest


@pytest.mark.parametrize("missing", [(5,), (5, 6, 7), (0, 11, 23)])
def test_up_to_three_missing_instants_are_filled(missing: tuple[int, ...]) -> None:
    """On the second of three days; the temperature climbs steadily, so that filling finds it again."""
    steady: Column = tuple(n / 4 for n in range(72))
    holes = dict.fromkeys((24 + n for n in missing), None)
    table = made_hours(MAY, 72, dew_point_c=(-1.0,) * 72, temperature_c=changed(steady, holes))
    found = found_in(table)
    second = found.days[1]
    assert [one.filled for one in found.days] == [False, True, False]
    assert second.inputs.tmean_c == pytest.approx((24 + 47) / 8)
    assert found.findings == ("an hour or more between its neighbours, on 2031-05-02",)


@pytest.mark.parametrize(
    ("name", "missing", "why"),
    [
        ("temperature_c", (3, 8, 13, 18), "more than 3 hours of temperature, dew point or wind"),
        ("wind_10m_m_per_s", (3, 4, 5, 6), "more than 3 hours of temperature, dew point or wind"),
        ("rain_mm", (3,), "an hour's rain is missing, which is not the same as dry"),
        ("radiation_w_m2", (12,), "an hour's radiation is missing"),
    ],
)
def test_a_day_that_lacks_more_is_left_out_and_said(
    name: str, missing: tuple[int, ...], why: str
) -> None:
    made = made_hours(MAY, 72)
    holes = dict.fromkeys((24 + n for n in missing), None)
    found = found_in(with_columns(made, {name: changed(getattr(made, name), holes)}))
    assert [one.day.day for one in found.days] == [1, 3]
    (finding,) = found.findings
    assert finding.startswith(f"left out, 2031-05-02: {why}")


def test_missing_instants_at_an_end_cannot_be_filled() -> None:
    made = made_hours(MAY, 48)
    found = found_in(made._replace(dew_point_c=changed(made.dew_point_c, {47: None})))
    assert [one.day.day for one in found.days] == [1]


def test_four_running_over_midnight_are_too_many() -> None:
    """Two on either day, which each alone would allow."""
    made = made_hours(MAY, 96)
    holed = changed(made.dew_point_c, dict.fromkeys(range(46, 50), None))
    assert [one.day.day for one in found_in(made._replace(dew_point_c=holed)).days] == [1, 4]


def test_nothing_is_filled_across_a_hole() -> None:
    """From 17:00 of the first to the end of the second no rows; the third begins without its temperature."""
    made = made_hours(MAY, 96)
    holed = made._replace(temperature_c=changed(made.temperature_c, {48: None}))
    found = found_in(only(holed, [*range(18), *range(48, 96)]))
    assert [one.day.day for one in found.days] == [4]


def test_a_missing_cloud_makes_no_day_less_whole() -> None:
    made = made_hours(MAY, 48)
    found = found_in(made._replace(cloud_fraction=changed(made.cloud_fraction, {47: None})))
    assert [one.inputs.cloud_fraction for one in found.days] == [pytest.approx(0.4), None]
    assert not any(one.filled for one in found.days)


def test_a_missing_day_is_said_and_the_ends_are_left_out_without_a_word() -> None:
    """From two at night on the first to eight in the morning of the sixth, the third missing."""
    made = made_hours(MAY + timedelta(hours=2), 24 * 5 + 6)
    kept = [n for n, begin in enumerate(made.begins) if begin.day != 3]
    found = found_in(only(made, kept))
    assert [one.day.day for one in found.days] == [4, 5]
    assert found.findings == ("left out, 2031-05-02 to 2031-05-03: hours of it are missing",)


def test_an_hour_that_came_twice_counts_once() -> None:
    made = made_hours(MAY, 48, rain_mm=numbered(48))
    twice = [*range(10), 9, *range(10, 48)]
    found = found_in(only(made, twice))
    assert found.days == found_in(made).days
    assert found.findings == ("1 hour came twice: the first of each counts",)


def test_negative_rain_is_not_dry() -> None:
    made = made_hours(MAY, 48)
    found = found_in(made._replace(rain_mm=changed(made.rain_mm, {30: -0.2})))
    assert [one.day.day for one in found.days] == [1]
    assert found.findings == (
        "values that cannot be right were left out: rain 1",
        "left out, 2031-05-02: an hour's rain is missing, which is not the same as dry",
    )


def test_a_flood_beyond_what_a_day_can_bring_is_left_out() -> None:
    found = found_in(made_hours(MAY, 48, rain_mm=(0.0,) * 24 + (30.0,) * 24))
    assert [one.day.day for one in found.days] == [1]
    assert found.findings == ("left out, 2031-05-02: more rain than a day can bring",)


def test_without_rain_no_day_is_whole() -> None:
    found = found_in(made_hours(MAY, 48, rain_mm=()))
    assert found.days == ()
    assert "an hour's rain is missing" in found.findings[0]


def test_other_units_are_no_weather() -> None:
    """Fahrenheit: a day from 50 to 68 has more than a tenth of its hours above 60."""
    made = made_hours(MAY, 48)
    fahrenheit = tuple(1.8 * value + 32 for value in made.temperature_c if value is not None)
    with pytest.raises(WeatherError, match="values of temperature cannot be right"):
        found_in(made._replace(temperature_c=fahrenheit))


def test_hours_that_never_follow_one_another_make_no_day() -> None:
    table = HourTable(begins(MAY, 2, 48), rain_mm=(0.0, 0.0))
    assert found_in(table).days == ()
