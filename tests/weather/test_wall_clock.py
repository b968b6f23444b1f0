"""Which hours of UTC lie in which local day. Hours here are made."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from soakbook.weather.wall_clock import HOUR_S, WallDay, wall_days


def days(zone: str, first: datetime, hours: int, without: tuple[int, ...] = ()) -> list[WallDay]:
    numbers = np.array([n for n in range(hours) if n not in without])
    return list(wall_days(first.timestamp() + HOUR_S * numbers, ZoneInfo(zone)))


def lengths(found: list[WallDay]) -> dict[str, int]:
    return {str(one.day): one.hours.stop - one.hours.start for one in found if one.whole}


@pytest.mark.parametrize(
    ("zone", "first", "expected"),
    [
        ("Europe/London", datetime(2031, 3, 29, tzinfo=UTC), {"2031-03-29": 24, "2031-03-30": 23}),
        (
            "Europe/London",
            datetime(2031, 10, 24, 23, tzinfo=UTC),
            {"2031-10-25": 24, "2031-10-26": 25},
        ),
        (
            "America/New_York",
            datetime(2031, 3, 9, 5, tzinfo=UTC),
            {"2031-03-09": 23, "2031-03-10": 24},
        ),
        (
            "Asia/Kolkata",
            datetime(2031, 5, 1, 18, tzinfo=UTC),
            {"2031-05-02": 24, "2031-05-03": 24},
        ),
        # Lord Howe goes from 10:30 to 11 h ahead on 5 October, and back on 6 April.
        (
            "Australia/Lord_Howe",
            datetime(2031, 10, 4, 13, tzinfo=UTC),
            {"2031-10-05": 24, "2031-10-06": 24},
        ),
        (
            "Australia/Lord_Howe",
            datetime(2031, 4, 5, 13, tzinfo=UTC),
            {"2031-04-06": 24, "2031-04-07": 24},
        ),
        (
            "Pacific/Kiritimati",
            datetime(2031, 5, 1, 10, tzinfo=UTC),
            {"2031-05-02": 24, "2031-05-03": 24},
        ),
        (
            "Pacific/Pago_Pago",
            datetime(2031, 5, 1, 11, tzinfo=UTC),
            {"2031-05-01": 24, "2031-05-02": 24},
        ),
    ],
)
def test_a_day_has_the_hours_that_the_clock_shows(
    zone: str, first: datetime, expected: dict[str, int]
) -> None:
    """From the first midnight on, two days and two hours more."""
    found = days(zone, first, sum(expected.values()) + 2)
    assert lengths(found) == expected


def test_every_hour_is_in_one_day() -> None:
    found = days("Europe/London", datetime(2031, 10, 20, tzinfo=UTC), 24 * 12)
    assert [one.hours.start for one in found[1:]] == [one.hours.stop for one in found[:-1]]
    assert (found[0].hours.start, found[-1].hours.stop) == (0, 24 * 12)


def test_a_hole_and_the_ends_make_a_day_less_than_whole() -> None:
    found = days("Etc/GMT", datetime(2031, 5, 1, 3, tzinfo=UTC), 24 * 4, without=(30,))
    assert {one.day: one.whole for one in found} == {
        date(2031, 5, 1): False,  # begins at three
        date(2031, 5, 2): False,  # nine in the morning is not there
        date(2031, 5, 3): True,
        date(2031, 5, 4): True,
        date(2031, 5, 5): False,
    }


def test_one_hour_of_the_short_day_at_lord_howe_cannot_be_missing() -> None:
    """The day has 23½ hours and 24 rows: the half hour must not hide a hole."""
    whole = days("Australia/Lord_Howe", datetime(2031, 10, 4, 13, tzinfo=UTC), 26)
    holed = days("Australia/Lord_Howe", datetime(2031, 10, 4, 13, tzinfo=UTC), 26, without=(12,))
    assert lengths(whole) == {"2031-10-05": 24}
    assert lengths(holed) == {}


def test_a_day_that_hours_reach_from_within_it_says_from_which() -> None:
    """Seven by London's summer clock to the next noon; a hole in the first day, and it says nothing."""
    begun, ended = days("Europe/London", datetime(2031, 5, 15, 6, tzinfo=UTC), 29)
    assert (begun.whole, begun.from_hour) == (False, 7)
    assert (ended.whole, ended.from_hour) == (False, 0)
    holed, _ = days("Europe/London", datetime(2031, 5, 15, 6, tzinfo=UTC), 29, (3,))
    assert holed.from_hour == 0


def test_a_midnight_that_the_clock_leaps_over_begins_the_day() -> None:
    """In Santiago the clock goes from 24:00 to 1:00 on 7 September 2031, and back at 24:00 on 5 April."""
    spring = days("America/Santiago", datetime(2031, 9, 6, 4, tzinfo=UTC), 24 * 3)
    autumn = days("America/Santiago", datetime(2031, 4, 5, 3, tzinfo=UTC), 24 * 3)
    assert lengths(spring) == {"2031-09-06": 24, "2031-09-07": 23, "2031-09-08": 24}
    assert lengths(autumn) == {"2031-04-05": 25, "2031-04-06": 24}


def test_a_day_that_the_calendar_leapt_over_is_not_there() -> None:
    """Samoa went from 29 to 31 December 2011."""
    found = days("Pacific/Apia", datetime(2011, 12, 29, 10, tzinfo=UTC), 48)
    assert lengths(found) == {"2011-12-29": 24, "2011-12-31": 24}
    assert date(2011, 12, 29) + timedelta(days=1) not in {one.day for one in found}
