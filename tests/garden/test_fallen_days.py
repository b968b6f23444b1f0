"""Rain that is known to have fallen, by calendar days and between two moments. The gardens are made."""

from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.entries import Rain
from soakbook.garden.fallen_days import Fallen, fallen_of
from soakbook.garden.pages import Pages
from soakbook.garden.records import Garden
from soakbook.garden.weather import Forecast, ForecastDay, WeatherDay, WeatherKind

LONDON = ZoneInfo("Europe/London")
WED = date(2031, 5, 14)
TUE, THU = WED - timedelta(days=1), WED + timedelta(days=1)


def at(day: date, hour: int, minute: int = 0, zone: ZoneInfo = LONDON) -> datetime:
    return datetime.combine(day, time(hour, minute), zone)


def read(until: datetime | date, rain_mm: float, since: datetime) -> Rain:
    return Rain(
        uid=f"rain {until}",
        happened_at=until,
        written_at=since,
        rain_mm=rain_mm,
        began_at=since,
        typed=f"{rain_mm:g}mm",
    )


def hours(**rain_mm: float) -> tuple[float, ...]:
    """A day of 24 hours, dry but for those named, `h7=2.0`."""
    return tuple(rain_mm.get(f"h{hour}", 0.0) for hour in range(24))


def told(
    day: date, rain_mm: float | None, kind: WeatherKind = "analysed", **fields: Any
) -> WeatherDay:
    """A day's total; of ET0 nothing better than a forecast is known."""
    return WeatherDay(
        day,
        rain_mm,
        3.0,
        sources={"rain_mm": ("a service", kind, ""), "et0_mm": ("a service", "forecast", "")},
        **fields,
    )


def fallen(
    *weather: WeatherDay,
    readings: tuple[Rain, ...] = (),
    forecasts: tuple[Forecast, ...] = (),
    now: datetime | None = None,
    timezone: str = "Europe/London",
) -> Fallen:
    garden = Garden("garden", "The garden", 52.3, -0.4, 62.0, timezone)
    pages = Pages(garden, entries=readings, weather=weather, forecasts=forecasts)
    return fallen_of(pages, now or at(THU, 7))


def test_an_evenings_rain_falls_on_its_own_day() -> None:
    """12 mm at 20:00 of Wednesday, in a step of the reckoning that is Thursday's."""
    evening = read(at(WED, 22, 30), 12.0, at(WED, 18))
    found = fallen(told(TUE, 0.0), told(WED, 0.0), readings=(evening,))
    assert found.by_day() == {TUE: 0.0, WED: 12.0}
    assert found.today_mm() == 0.0


def test_a_reading_over_midnight_is_shared_by_the_hours_and_else_by_time() -> None:
    """12 mm from 18:00 to 06:00: half on either day, where nobody knows the hours after midnight."""
    night = read(at(THU, 6), 12.0, at(WED, 18))
    by_time = fallen(told(WED, 0.0), readings=(night,))
    assert by_time.on(WED) == pytest.approx(6.0)
    assert by_time.today_mm() == pytest.approx(6.0)
    by_hours = fallen(told(WED, 8.0, rain_by_hour_mm=hours(h3=1.0, h20=7.0)), readings=(night,))
    assert by_hours.on(WED) == pytest.approx(1.0 + 6.0)
    assert by_hours.today_mm() == pytest.approx(6.0)
    dry = fallen(told(WED, 0.0, rain_by_hour_mm=hours()), readings=(night,))
    assert dry.on(WED) == 0.0
    assert dry.today_mm() == pytest.approx(12.0)


def test_a_total_counts_with_what_it_has_beyond_the_gauge() -> None:
    """8 mm at 03:00 and 20:00 alike; the gauge owns the evening and had 5. Without hours, a quarter is owned."""
    evening = read(at(WED, 23), 5.0, at(WED, 17))
    known = fallen(told(WED, 8.0, rain_by_hour_mm=hours(h3=4.0, h20=4.0)), readings=(evening,))
    assert known.on(WED) == pytest.approx(4.0 + 5.0)
    assert fallen(told(WED, 8.0), readings=(evening,)).on(WED) == pytest.approx(5 + 3 * 18 / 24)


@pytest.mark.parametrize(
    ("kind", "known"), [("measured", 4.0), ("analysed", 4.0), ("forecast", None), ("filled", None)]
)
def test_a_total_is_known_by_its_own_source(kind: WeatherKind, known: float | None) -> None:
    """Whatever ET0's may be: here a forecast's."""
    assert fallen(told(WED, 4.0, kind)).on(WED) == known


def test_a_total_that_nobody_signed_is_known() -> None:
    assert fallen(WeatherDay(WED, 4.0)).on(WED) == 4.0


@pytest.mark.parametrize(("ends", "known"), [(24, 3.0), (23, 3.0), (22, None)])
def test_a_day_is_known_where_gauges_own_all_but_an_hour_of_it(
    ends: int, known: float | None
) -> None:
    until = at(WED, 0) + timedelta(hours=ends)
    gauge = read(until, 3.0, at(WED, 0))
    for total in (told(WED, None), told(WED, 9.0, "forecast")):
        found = fallen(told(TUE, 0.0), total, readings=(gauge,))
        assert found.on(WED) == known
        assert (WED in found.by_day()) == (known is not None)


def test_a_gauge_alone_is_enough() -> None:
    """No service, no weather of these days at all."""
    two_days = read(at(THU, 7), 31.0, at(TUE, 0))
    found = fallen(readings=(two_days,))
    assert found.by_day() == {TUE: pytest.approx(31 * 24 / 55), WED: pytest.approx(31 * 24 / 55)}
    assert found.today_mm() == pytest.approx(31 * 7 / 55)


def test_what_the_moment_cannot_know_is_left_out() -> None:
    """A gauge read at eight, and the weather of days to come."""
    later = read(at(THU, 8), 24.0, at(WED, 0))
    found = fallen(told(WED, 1.0), told(THU, 9.0, "measured"), readings=(later,))
    assert found.by_day() == {WED: 1.0}
    assert found.today_mm() == 0.0
    assert found.on(THU) is None
    assert fallen(told(WED, 1.0), readings=(later,), now=at(THU, 8)).on(WED) == pytest.approx(18.0)


def test_a_reading_without_a_time_counts_on_its_day() -> None:
    undated = read(THU, 31.0, at(WED, 0))
    assert fallen(readings=(undated,), now=at(THU, 6)).on(WED) == pytest.approx(24.0)
    assert fallen(readings=(undated,), now=at(WED, 23)).today_mm() == 0.0


def issue(moment: datetime, day: date, rain_by_hour_mm: tuple[float, ...]) -> Forecast:
    return Forecast("a service", moment, (ForecastDay(day, 9.0, rain_by_hour_mm=rain_by_hour_mm),))


def test_of_today_counts_what_the_newest_issue_had_behind_it() -> None:
    """2 mm at three, 7 at six: issued at five, the second is a promise; issued yesterday, both are."""
    wet = hours(h3=2.0, h6=7.0)
    assert fallen(forecasts=(issue(at(THU, 5), THU, wet),)).today_mm() == 2.0
    assert fallen(forecasts=(issue(at(THU, 7), THU, wet),)).today_mm() == 9.0
    assert fallen(forecasts=(issue(at(WED, 23), THU, wet),)).today_mm() == 0.0
    assert fallen(forecasts=(issue(at(THU, 8), THU, wet),)).today_mm() == 0.0
    without_today = Forecast("another", at(THU, 6), ())
    both = (without_today, issue(at(THU, 5), THU, wet))
    assert fallen(forecasts=both).today_mm() == 2.0


def test_the_gauge_owns_its_hours_of_today() -> None:
    gauge = read(at(THU, 4), 1.0, at(THU, 2))
    told_of = issue(at(THU, 7), THU, hours(h3=2.0, h6=7.0))
    assert fallen(readings=(gauge,), forecasts=(told_of,)).today_mm() == pytest.approx(8.0)


def test_between_two_moments() -> None:
    """By the hours where they are told, else in proportion to time; from nine on Tuesday to seven on Thursday."""
    weather = (told(TUE, 24.0), told(WED, 5.0, rain_by_hour_mm=hours(h4=3.0, h5=2.0)))
    found = fallen(*weather)
    assert found.between(at(TUE, 9), at(THU, 7)) == pytest.approx(15.0 + 5.0)
    assert found.between(at(WED, 4, 30), at(WED, 5)) == pytest.approx(1.5)
    assert found.between(at(WED, 6), at(THU, 23)) == 0.0
    assert found.between(at(WED, 5), at(WED, 5)) == 0.0


@pytest.mark.parametrize(
    ("day", "length"), [(date(2031, 3, 30), 23), (date(2031, 4, 1), 24), (date(2031, 10, 26), 25)]
)
def test_days_at_clock_changes_are_whole(day: date, length: int) -> None:
    midnight, following = at(day, 0), at(day + timedelta(days=1), 0)
    gauge = read(following, float(length), midnight)
    found = fallen(readings=(gauge,), now=following + timedelta(hours=7))
    assert found.on(day) == pytest.approx(length)
    assert found.between(midnight, at(day, 12)) == pytest.approx(length - 12)


def test_days_are_the_gardens() -> None:
    """20:00 in Melbourne is ten in the morning by UTC, and 08:00 of its Friday still Thursday there."""
    melbourne = ZoneInfo("Australia/Melbourne")
    shower = read(at(WED, 8, 30, melbourne), 6.0, at(WED, 7, 30, melbourne))
    found = fallen(
        told(WED, 0.0),
        readings=(shower,),
        now=at(THU, 7, zone=melbourne),
        timezone="Australia/Melbourne",
    )
    assert found.by_day() == {WED: 6.0}


def test_days_asked_from_one_on() -> None:
    found = fallen(told(TUE, 2.0), told(WED, 0.0))
    assert found.by_day(WED) == {WED: 0.0}
    assert fallen().by_day() == {}
