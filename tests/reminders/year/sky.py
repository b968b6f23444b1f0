"""Invented weather for one year, and what the service said of it each morning: showers, dry spells, heat, rain that was
promised and did not come. The same numbers always; only the days they fall on are the zone's.
"""

import math
import random
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.weather import Forecast, ForecastDay, WeatherValue

DAYS = 365
BEFORE_DAYS = 20
"""So long before the year the weather is known: a reckoning looks back."""
AHEAD_DAYS = 6
MEMBERS = 10

DRY = ((24, 41), (75, 102), (130, 143), (150, 171), (215, 228))
"""First and last day of spells without a drop, counted from the year's beginning, which is spring's."""
HEAT = ((62, 65), (110, 114), (165, 168))
"""Of spells of heat."""
EMPTY_PROMISES = frozenset(n for first, last in DRY for n in range(first + 3, last + 1, 3))
"""Mornings on which good rain is promised for the same day, and does not come."""
HOT_C = 31.0
DAY = timedelta(days=1)


class SkyDay(NamedTuple):
    """What came on one day."""

    day: date
    rain_mm: float
    et0_mm: float
    tmin_c: float
    tmax_c: float


def sky(first: date) -> list[SkyDay]:
    """The days of a year that begins with spring, those before it and those that its last forecasts tell of."""
    dice = random.Random(20310301)
    found = []
    for n in range(-BEFORE_DAYS, DAYS + AHEAD_DAYS):
        summer = (1 - math.cos(2 * math.pi * (n + 50) / DAYS)) / 2
        tmax = 7 + 15 * summer + dice.uniform(-2, 2)
        rain = dice.choice((0.0, 0.0, 0.0, 1.2, 6.5, 11.0))
        if _within(n, DRY):
            rain = 0.0
        if _within(n, HEAT):
            tmax, rain = HOT_C, 0.0
        found.append(
            SkyDay(
                first + n * DAY,
                rain,
                round(0.5 + 4 * summer, 1),
                round(tmax - 9, 1),
                round(tmax, 1),
            )
        )
    return found


def measured(days: list[SkyDay], zone: ZoneInfo) -> Iterator[WeatherValue]:
    """Each day as it came in at six the morning after."""
    for one in days:
        fetched = datetime.combine(one.day + DAY, time(6), zone)
        for variable, value in one._asdict().items():
            if variable != "day":
                yield WeatherValue(one.day, variable, value, "station", "measured", fetched)


def foretold(days: list[SkyDay], zone: ZoneInfo) -> Iterator[Forecast]:
    """What was said at five each morning: what came, and sometimes rain that did not."""
    for n in range(len(days) - AHEAD_DAYS):
        told = list(days[n : n + AHEAD_DAYS])
        if n - BEFORE_DAYS in EMPTY_PROMISES:
            told[0] = told[0]._replace(rain_mm=12.0)
        issued = datetime.combine(days[n].day, time(5), zone)
        yield Forecast("service", issued, tuple(_told(one) for one in told))


def _told(one: SkyDay) -> ForecastDay:
    return ForecastDay(
        one.day, one.rain_mm, one.et0_mm, one.tmin_c, one.tmax_c,
        (one.tmin_c + one.tmax_c) / 2,
        rain_members_mm=(one.rain_mm,) * MEMBERS,
        et0_members_mm=(one.et0_mm,) * MEMBERS,
    )  # fmt: skip


def _within(n: int, spells: tuple[tuple[int, int], ...]) -> bool:
    return any(first <= n <= last for first, last in spells)
