"""What is done to the programs in a year: troubles, deaths at points and at random, restarts. All is drawn before."""

import random
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.reminders.wall_times import moment_of
from tests.reminders.year.garden import Place
from tests.reminders.year.sights import span
from tests.reminders.year.troubles import RESTARTS, Trouble, troubles
from tests.reminders.year.worker import DECIDING, SENDING, Point

AT_A_POINT = 50
AT_RANDOM = 1000
WAKES = timedelta(minutes=20)
"""How often a program wakes up. `soakbook remind run` does so oftener: what is asked is the same."""
A_MINUTE = timedelta(minutes=1)
AFTER_QUIET = time(6, 1)


class Order(NamedTuple):
    """To die at a point, the first time that it is passed from a moment on."""

    point: Point
    since: datetime


class Plan(NamedTuple):
    """When programs wake up, and all that is to befall them, or nothing."""

    wakes: tuple[datetime, ...]
    troubles: tuple[Trouble, ...] = ()
    orders: tuple[Order, ...] = ()
    """The earliest first."""
    at_random: tuple[datetime, ...] = ()
    restarts: tuple[datetime, ...] = ()
    trusts: tuple[datetime, ...] = ()
    """When somebody says that the clock is right, after it had leapt and came back."""


def undisturbed(place: Place, days: int, instants: Iterable[datetime]) -> Plan:
    """Nothing befalls: awake a minute after each moment at which something may be due, and after the quiet hours.

    What is decided must not hang on when somebody looks; in the year in which all befalls programs wake otherwise.
    """
    since, until = span(place, days)
    zone = ZoneInfo(place.zone)
    mornings = (moment_of(day, AFTER_QUIET, zone) for day in place.days[:days])
    wakes = {*(at + A_MINUTE for at in instants), *mornings}
    return Plan(tuple(sorted(at for at in wakes if since < at <= until)))


def plan(
    place: Place, days: int, scale: float, moments: Sequence[datetime], dice: random.Random
) -> Plan:
    """One for the first days of a year.

    Parameters
    ----------
    place
        Where.
    days
        How many.
    scale
        Share of the kills of a whole year.
    moments
        At which something fell due in a year in which nothing befell; half of the deaths at random are then.
    dice
        What is drawn.
    """
    since, until = span(place, days)
    due = sorted(moments)

    def any_moment() -> datetime:
        return since + dice.random() * (until - since)

    orders = []
    for points in (DECIDING, SENDING):
        drawn = [point for point in points for _ in range(max(1, round(AT_A_POINT * scale)))]
        dice.shuffle(drawn)
        # the rest of the year is left over for those that had to wait
        orders += [
            Order(point, due[int(0.7 * n / len(drawn) * len(due))]) for n, point in enumerate(drawn)
        ]
    count = max(2, round(AT_RANDOM * scale))
    at_random = [dice.choice(due) if n % 2 else any_moment() for n in range(count)]
    befalls = troubles(place, days, scale, dice)
    leaps = [one.end + WAKES for one in befalls if one.kind == "leapt"]
    return Plan(
        tuple(
            since + A_MINUTE + n * WAKES for n in range(int((until - since - A_MINUTE) / WAKES) + 1)
        ),
        befalls,
        tuple(sorted(orders, key=lambda one: one.since)),
        tuple(sorted(at_random)),
        tuple(sorted(any_moment() for _ in range(max(1, round(RESTARTS * scale))))),
        tuple(leaps[::2]),
    )


def by_point(orders: Sequence[Order]) -> Counter[Point]:
    """How often each point is to be died at."""
    return Counter(one.point for one in orders)
