"""A clock watched minute by minute through a year: what wall times are, without reading any hour backwards."""

from array import array
from bisect import bisect_left
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from typing import NamedTuple
from zoneinfo import ZoneInfo

MINUTE = timedelta(minutes=1)
DAY_MIN = 24 * 60

YEARS = (
    ("Europe/London", 2026),
    ("Australia/Lord_Howe", 2026),  # half an hour on and back
    ("America/Havana", 2026),  # on at midnight
    ("America/St_Johns", 2010),  # back from 00:01 to 23:01 of the day before
    ("America/Nuuk", 2026),  # on at 23:00, to midnight
    ("Pacific/Apia", 2011),  # without a 30 December
    ("Asia/Kolkata", 2026),
)
"""Zones with a year of theirs that has all their changes."""


class Walk(NamedTuple):
    """What a clock showed at every minute from `begin` on, as if it stood still until it has made up what it was put
    back [minutes since 1 January of year 1], and every day that it showed."""

    begin: datetime
    walls: "array[int]"
    days: frozenset[date]

    def moment(self, day: date, hour: time) -> datetime:
        """The first minute at which the clock has come to that hour, or past it."""
        return self.begin + bisect_left(self.walls, wall_min(datetime.combine(day, hour))) * MINUTE

    def free(self, at: datetime, first: time, last: time) -> datetime:
        """The first minute from `at` on that the clock does not show between two hours."""
        begin, end = (hour.hour * 60 + hour.minute for hour in (first, last))
        place = (at - self.begin) // MINUTE
        while quiet(self.walls[place] % DAY_MIN, begin, end):
            place += 1
        return self.begin + place * MINUTE


@cache
def walked(zone_name: str, year: int) -> Walk:
    """The walk through a year, with some days before and after."""
    zone = ZoneInfo(zone_name)
    begin = datetime(year, 1, 1, tzinfo=UTC) - timedelta(days=4)
    walls, days, latest = array("q"), set(), 0
    for n in range(374 * DAY_MIN):
        shown = wall_min((begin + n * MINUTE).astimezone(zone).replace(tzinfo=None))
        days.add(shown // DAY_MIN)
        latest = max(latest, shown)
        walls.append(latest)
    return Walk(begin, walls, frozenset(date.fromordinal(day) for day in days))


def wall_min(wall: datetime) -> int:
    """Minutes of a wall time since a day before the first."""
    return wall.toordinal() * DAY_MIN + wall.hour * 60 + wall.minute


def quiet(minute: int, begin: int, end: int) -> bool:
    """Whether a minute of the day lies between two, over midnight where the first is later."""
    return begin <= minute < end if begin <= end else not end <= minute < begin
