"""When in the year what befalls: nobody there, a server that does not take mail, clocks that are wrong, two at once.

All is drawn beforehand. What holds at a moment is asked by the true time; by which clock a program then lives is part
of the answer.
"""

import random
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from typing import Literal, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.reminders.wall_times import moment_of
from tests.reminders.year.garden import Place

Kind = Literal["asleep", "gone", "refusing", "later", "hanging", "set back", "leapt", "two"]
"""asleep: the program is there and does not wake; gone: there is none. Then three ways of a server, two of a clock,
and two programs on one book."""

OFFICE_KINDS: tuple[Kind, ...] = ("refusing", "later", "hanging")
SKEW: dict[Kind, timedelta] = {"set back": timedelta(hours=-2), "leapt": timedelta(days=3)}
LONGEST_LEAP = max(SKEW.values())
CALM_DAYS = 5
"""At the end: what waits is sent, and no clock leaps past the year."""

HOURS: tuple[tuple[Kind, int, float, float], ...] = (
    ("asleep", 40, 0.3, 5),
    ("asleep", 8, 12, 40),
    ("gone", 25, 1, 16),
    ("gone", 4, 40, 90),
    ("gone", 1, 200, 240),
    ("refusing", 12, 1, 9),
    ("later", 16, 1, 14),
    ("later", 3, 30, 60),
    ("hanging", 12, 0.5, 4),
    ("set back", 14, 1, 8),
    ("leapt", 10, 0.5, 6),
    ("two", 80, 4, 24),
)
"""So often in a year, lasting from so many hours to so many."""

RESTARTS = 50
OVER_THE_HOUR = (time(6, 40), time(15, 50), time(20, 20))
"""Sleeps of up to five hours begin then, so that they cover the hour of something."""


class Trouble(NamedTuple):
    """One of them, from a true moment to another."""

    kind: Kind
    begin: datetime
    end: datetime

    def holds(self, moment: datetime) -> bool:
        """Whether it does at a true moment."""
        return self.begin <= moment < self.end

    def touches(self, begin: datetime, end: datetime) -> bool:
        """Whether any of it lies in a span."""
        return self.begin < end and begin < self.end


def troubles(place: Place, days: int, scale: float, dice: random.Random) -> tuple[Trouble, ...]:
    """Those of the first days of a year, in order."""
    return tuple(sorted(_drawn(place, days, scale, dice), key=lambda one: one.begin))


def _drawn(place: Place, days: int, scale: float, dice: random.Random) -> Iterator[Trouble]:
    zone = ZoneInfo(place.zone)
    calm = moment_of(place.first + timedelta(days=days - CALM_DAYS + 1), time(0), zone)
    for kind, often, least, most in HOURS:
        for _ in range(int(often * scale + dice.random())):
            # not on the first: what was due before anybody ever looked is nobody's
            day = place.first + timedelta(days=dice.randrange(1, days - CALM_DAYS))
            short = kind == "asleep" and most <= 5
            hour = dice.choice(OVER_THE_HOUR) if short else time(dice.randrange(24))
            begin = moment_of(day, hour, zone)
            hours = min(dice.uniform(least, most), 0.3 * days * 24)
            yield Trouble(kind, begin, min(begin + timedelta(hours=hours), calm))
    for day in changes_of_the_clock(place, days):
        midnight = moment_of(day, time(0), zone)
        if dice.random() < 0.5:
            yield Trouble("asleep", midnight - timedelta(hours=1), midnight + timedelta(hours=5))


def changes_of_the_clock(place: Place, days: int) -> Iterator[date]:
    """Days on which the clock is put on or back."""
    zone = ZoneInfo(place.zone)
    for day in place.days[: max(0, days - CALM_DAYS)]:
        begin, end = (moment_of(day + timedelta(days=n), time(0), zone) for n in (0, 1))
        if end - begin != timedelta(days=1):
            yield day


def of_kind(found: Sequence[Trouble], moment: datetime, *kinds: Kind) -> Trouble | None:
    """One of these kinds that holds at a moment."""
    return next((one for one in found if one.kind in kinds and one.holds(moment)), None)


def skew(found: Sequence[Trouble], moment: datetime) -> timedelta:
    """By how much a program's clock is wrong at a true moment."""
    wrong = of_kind(found, moment, "set back", "leapt")
    return SKEW[wrong.kind] if wrong else timedelta(0)
