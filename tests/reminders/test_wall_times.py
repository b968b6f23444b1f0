"""One moment for every hour of every day. Changes of the clocks are those of the tz database, as scheduling facts."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.reminders.wall_times import how_shown, in_calendar, moment_of
from tests.reminders.clock_walk import YEARS, walked


@pytest.mark.parametrize(
    ("zone", "wall", "moment", "shown"),
    [
        ("Europe/London", "2026-01-05T07:00", "2026-01-05T07:00Z", "once"),
        ("Europe/London", "2026-07-05T07:00", "2026-07-05T06:00Z", "once"),
        # London: 01:00 -> 02:00 on 29 March, 02:00 -> 01:00 on 25 October
        ("Europe/London", "2026-03-29T00:59", "2026-03-29T00:59Z", "once"),
        ("Europe/London", "2026-03-29T01:00", "2026-03-29T01:00Z", "missing"),
        ("Europe/London", "2026-03-29T01:30", "2026-03-29T01:00Z", "missing"),
        ("Europe/London", "2026-03-29T01:59:59.5", "2026-03-29T01:00Z", "missing"),
        ("Europe/London", "2026-03-29T02:00", "2026-03-29T01:00Z", "once"),
        ("Europe/London", "2026-10-25T00:59", "2026-10-24T23:59Z", "once"),
        ("Europe/London", "2026-10-25T01:30", "2026-10-25T00:30Z", "doubled"),
        ("Europe/London", "2026-10-25T02:00", "2026-10-25T02:00Z", "once"),
        # Lord Howe: 02:00 -> 02:30 on 4 October, 02:00 -> 01:30 on 5 April
        ("Australia/Lord_Howe", "2026-10-04T02:15", "2026-10-03T15:30Z", "missing"),
        ("Australia/Lord_Howe", "2026-10-04T02:30", "2026-10-03T15:30Z", "once"),
        ("Australia/Lord_Howe", "2026-04-05T01:45", "2026-04-04T14:45Z", "doubled"),
        # Havana: 00:00 -> 01:00 on 8 March, 01:00 -> 00:00 on 1 November
        ("America/Havana", "2026-03-08T00:30", "2026-03-08T05:00Z", "missing"),
        ("America/Havana", "2026-11-01T00:30", "2026-11-01T04:30Z", "doubled"),
        # St John's: Sunday 00:01 -> Saturday 23:01 on 7 November 2010
        ("America/St_Johns", "2010-11-07T00:00", "2010-11-07T02:30Z", "doubled"),
        ("America/St_Johns", "2010-11-07T00:01", "2010-11-07T03:31Z", "once"),
        # Samoa: Thursday 29 December 2011, then Saturday
        ("Pacific/Apia", "2011-12-30T00:00", "2011-12-30T10:00Z", "missing"),
        ("Pacific/Apia", "2011-12-30T18:00", "2011-12-30T10:00Z", "missing"),
        ("Pacific/Apia", "2011-12-31T00:00", "2011-12-30T10:00Z", "once"),
    ],
)
def test_an_hour_has_one_moment(zone: str, wall: str, moment: str, shown: str) -> None:
    on_clock = datetime.fromisoformat(wall)
    asked = (on_clock.date(), on_clock.time(), ZoneInfo(zone))
    assert moment_of(*asked) == datetime.fromisoformat(moment)
    assert how_shown(*asked) == shown


def test_an_hour_marked_as_the_second_of_a_doubled_one_is_read_like_any() -> None:
    marked = time(1, 30, fold=1)
    assert moment_of(date(2026, 10, 25), marked, ZoneInfo("Europe/London")) == (
        datetime.fromisoformat("2026-10-25T00:30Z")
    )


@pytest.mark.parametrize(("zone", "year"), YEARS)
def test_the_days_that_there_are(zone: str, year: int) -> None:
    days = [date(year, 1, 1) + timedelta(days=n) for n in range(366)]
    there = {day for day in days if in_calendar(day, ZoneInfo(zone))}
    assert there == walked(zone, year).days & set(days)
    assert len(set(days) - there) == (1 if zone == "Pacific/Apia" else 0)


@given(
    st.sampled_from(YEARS),
    st.integers(0, 364 * 24 * 60),
    st.integers(0, 2 * 24 * 60),
)
def test_a_later_hour_is_never_an_earlier_moment(
    zone_year: tuple[str, int], minute: int, later: int
) -> None:
    zone, year = ZoneInfo(zone_year[0]), zone_year[1]
    first = datetime(year, 1, 1) + timedelta(minutes=minute)  # noqa: DTZ001
    second = first + timedelta(minutes=later)
    moments = [moment_of(wall.date(), wall.time(), zone) for wall in (first, second)]
    walk = walked(*zone_year)
    assert moments == sorted(moments)
    assert moments == [walk.moment(wall.date(), wall.time()) for wall in (first, second)]
