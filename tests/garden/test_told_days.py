"""Days as forecasts tell them. The forecasts are made."""

from datetime import date, datetime, timedelta
from math import fsum
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.told_days import hour_shares, hours_gone, rest_of, still_to_come, stitched
from soakbook.garden.weather import Forecast, ForecastDay

LONDON = ZoneInfo("Europe/London")
DAY = date(2031, 5, 15)
FIVE = datetime(2031, 5, 15, 5, tzinfo=LONDON)


def forecast(source: str, first: date, count: int, rain_mm: float) -> Forecast:
    """An issue of some days running, all with the same rain."""
    days = tuple(ForecastDay(first + timedelta(days=n), rain_mm, 3.0) for n in range(count))
    return Forecast(source, FIVE, days)


def in_hours(**rain_mm: float) -> tuple[float, ...]:
    """A day of 24 hours, dry but for those named, `h7=2.0`."""
    return tuple(rain_mm.get(f"h{hour}", 0.0) for hour in range(24))


def test_each_day_is_told_by_the_newest_that_has_it() -> None:
    newer = forecast("B", DAY + timedelta(days=1), 2, 1.0)
    older = forecast("A", DAY - timedelta(days=1), 5, 7.0)
    told = stitched([newer, older])
    assert told is not None
    assert (told.source, told.issued_at) == ("B", FIVE)
    assert [(one.day.day, one.rain_mm) for one in told.days] == [
        (14, 7.0),
        (15, 7.0),
        (16, 1.0),
        (17, 1.0),
        (18, 7.0),
    ]
    assert stitched([]) is None


def test_one_forecast_is_told_as_it_is() -> None:
    one = forecast("A", DAY, 3, 2.0)
    assert stitched([one]) == one


def test_hours_are_shared_by_the_mean_of_the_futures_where_there_are_any() -> None:
    """The plain run has a drizzle in the night, the futures their rain in the afternoon."""
    day = ForecastDay(DAY, 0.1, 3.0, rain_by_hour_mm=in_hours(h3=0.1))
    assert hour_shares(day)[3] == 1.0
    with_futures = day._replace(rain_members_mm=(14.0, 16.0), mean_by_hour_mm=in_hours(h15=15.0))
    assert hour_shares(with_futures)[15] == 1.0
    assert hour_shares(with_futures._replace(mean_by_hour_mm=()))[0] == pytest.approx(1 / 24)


@pytest.mark.parametrize("hours", [23, 24, 25])
def test_where_no_hour_is_told_they_are_alike(hours: int) -> None:
    shares = hour_shares(ForecastDay(DAY, 5.0, 3.0), hours)
    assert len(shares) == hours
    assert fsum(shares) == pytest.approx(1.0)
    assert len(set(shares)) == 1


def test_the_rest_of_a_day_is_what_its_later_hours_have() -> None:
    day = ForecastDay(
        DAY,
        4.0,
        3.0,
        rain_by_hour_mm=in_hours(h5=3.0, h20=1.0),
        rain_members_mm=(2.0, 8.0),
        mean_by_hour_mm=in_hours(h5=1.0, h20=3.0),
    )
    rest = rest_of(day, 6)
    assert rest.rain_members_mm == (1.5, 6.0)
    assert rest.rain_by_hour_mm == in_hours(h20=1.0)
    assert rest.mean_by_hour_mm == in_hours(h20=3.0)
    assert rest.et0_mm == 3.0
    assert rest_of(day, 24).rain_members_mm == (0.0, 0.0)
    assert rest_of(day, 0) == day


def test_hours_gone_are_those_of_the_wall_clock_day() -> None:
    """In London's longest day, 26 October 2031, 02:00 winter time comes after three hours."""
    assert hours_gone(DAY, FIVE, LONDON) == 5
    assert hours_gone(DAY + timedelta(days=1), FIVE, LONDON) == 0
    assert hours_gone(DAY - timedelta(days=1), FIVE, LONDON) == 29
    long_day = date(2031, 10, 26)
    assert hours_gone(long_day, datetime(2031, 10, 26, 2, tzinfo=LONDON), LONDON) == 3


def test_still_to_come_is_the_rest_of_its_own_day_and_every_later_one() -> None:
    """At eighteen a quarter of a day is left; yesterday is over, tomorrow whole; at midnight all of the day is."""
    told = forecast("A", DAY - timedelta(days=1), 3, 8.0)
    evening = datetime(2031, 5, 15, 18, tzinfo=LONDON)
    left = still_to_come(told, evening, LONDON)
    assert (left.source, left.issued_at) == ("A", FIVE)
    assert [one.day.day for one in left.days] == [15, 16]
    assert [one.rain_mm for one in left.days] == pytest.approx([2.0, 8.0])
    midnight = datetime(2031, 5, 15, tzinfo=LONDON)
    assert [one.rain_mm for one in still_to_come(told, midnight, LONDON).days] == [8.0, 8.0]


def test_the_day_of_a_moment_is_the_gardens() -> None:
    """22:00 UTC on the 14th is eight in the morning of the 15th in Melbourne."""
    told = forecast("A", DAY - timedelta(days=1), 2, 24.0)
    moment = datetime(2031, 5, 14, 22, tzinfo=ZoneInfo("UTC"))
    (left,) = still_to_come(told, moment, ZoneInfo("Australia/Melbourne")).days
    assert left.day == DAY
    assert left.rain_mm == pytest.approx(16.0)


def test_of_a_day_that_has_begun_the_newest_tells_the_rest_and_an_older_one_what_had_gone_by() -> (
    None
):
    """2 mm before six by the older, which has the rest dry; 12 mm at ten by the newer, which has no past."""
    night = ForecastDay(DAY, 2.0, 3.0, rain_by_hour_mm=in_hours(h3=2.0), rain_members_mm=(1.0, 3.0))
    rest = ForecastDay(DAY, 12.0, rain_by_hour_mm=in_hours(h10=12.0), from_hour=6)
    older = forecast("A", DAY - timedelta(days=1), 3, 7.0)
    older = older._replace(days=(older.days[0], night, older.days[2]))
    newer = forecast("B", DAY + timedelta(days=1), 2, 1.0)._replace(begun=rest)
    told = stitched([newer, older])
    assert told is not None
    today = next(one for one in told.days if one.day == DAY)
    assert (today.rain_mm, today.et0_mm, today.from_hour) == (14.0, 3.0, 0)
    assert today.rain_by_hour_mm == in_hours(h3=2.0, h10=12.0)
    assert today.rain_members_mm == ()
    alone = stitched([newer])
    assert alone is not None
    assert [one.day.day for one in alone.days] == [
        16,
        17,
    ]  # the air's thirst of its day is not told


def test_two_issues_of_a_day_that_has_begun_leave_out_what_neither_tells() -> None:
    later = ForecastDay(DAY, 1.0, rain_by_hour_mm=in_hours(h20=1.0), from_hour=18)
    earlier = ForecastDay(DAY, 5.0, rain_by_hour_mm=in_hours(h8=2.0, h20=3.0), from_hour=6)
    ahead = forecast("B", DAY + timedelta(days=1), 2, 1.0)
    both = [ahead._replace(begun=rest) for rest in (later, earlier)]
    whole = forecast("A", DAY, 1, 0.0)
    told = stitched([*both, whole])
    assert told is not None
    assert told.days[0].rain_by_hour_mm == in_hours(h8=2.0, h20=1.0)
