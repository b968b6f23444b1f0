"""Days whose weather nobody has measured: what each member is to suppose of them.

Ahead of a morning that is the newest forecast, each of its members a whole future. Behind it, where a service has
given nothing since, it is that forecast too, and beyond it days like those the book knows.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.weather import Forecast, ForecastDay, WeatherDay
from soakbook.reckoning.simulation.draws import Floats

LIKE_DAYS = 60
"""How far back days are taken that may have come again."""

FEWEST_LIKE_DAYS = 10
DRY, AS_FORECAST, WETTER = 0.35, 0.5, 0.15
"""Weights of three futures where a service tells but one: none of its rain, its rain, half as much again.
A choice, common practice, no source."""

MORE_RAIN = 1.5


class Future(NamedTuple):
    """One day in every future, the plain one first, shape (1 + future,)."""

    rain_mm: Floats
    et0_mm: Floats


def futures_of(forecast: Forecast) -> dict[date, Future]:
    """The days of a forecast that say both rain and ET0, each as its members have it."""
    count = _count(forecast)
    found = {}
    for day in forecast.days:
        if day.rain_mm is not None and day.et0_mm is not None:
            found[day.day] = _future(day, count)
    return found


def like_days(
    known: Sequence[WeatherDay], days: Sequence[date], et0_mm: float
) -> dict[date, Future]:
    """Days running of which nothing is known, as days like those that came before them.

    Parameters
    ----------
    known : sequence of WeatherDay
        Those the book has, oldest first.
    days : sequence of date
        Those it has not, one after the other.
    et0_mm : float
        What the air is taken to ask for on each, in the mean over the futures and in the plain run [mm].

    Returns
    -------
    dict of date to Future
        In future i the days are those of the book from the i-th on, in their order, so that wet spells stay whole;
        the plain run has no rain. Empty where the book knows too few days.

    Notes
    -----
    A block bootstrap of the last 60 known days, their ET0 scaled to the mean asked for. common practice, no source.
    """
    whole = [
        one for one in known[-LIKE_DAYS:] if one.rain_mm is not None and one.et0_mm is not None
    ]
    if len(whole) < FEWEST_LIKE_DAYS:
        return {}
    rain = np.array([one.rain_mm for one in whole])
    thirst = np.array([one.et0_mm for one in whole])
    thirst *= et0_mm / max(float(thirst.mean()), 1e-9)
    return {
        day: Future(
            np.concatenate(([0.0], np.roll(rain, -number))),
            np.concatenate(([et0_mm], np.roll(thirst, -number))),
        )
        for number, day in enumerate(days)
    }


def without_rain(future: Future) -> Future:
    """The same day, should none of its rain come."""
    return future._replace(rain_mm=np.zeros_like(future.rain_mm))


def rest_of(future: Future, day: ForecastDay, from_hour: int) -> Future:
    """What of a day's rain is still to come at an hour: by the forecast's own hours, else by time."""
    hours = day.rain_by_hour_mm
    total = sum(hours)
    left = sum(hours[from_hour:]) / total if total > 0 else 1 - from_hour / 24
    return future._replace(rain_mm=future.rain_mm * left)


def picked(number: NDArray[np.intp], future: Future) -> Future:
    """The day as each member supposes it, shape (member,); `number` says which future that is."""
    count = len(future.rain_mm) - 1
    which = np.where(number == 0, 0, 1 + (number - 1) % count)
    return Future(future.rain_mm[which], future.et0_mm[which])


def _count(forecast: Forecast) -> int:
    """How many members the forecast has on every day that has any; 0 without."""
    counts = [len(day.rain_members_mm) for day in forecast.days if day.rain_members_mm]
    return min(counts, default=0)


def _future(day: ForecastDay, count: int) -> Future:
    rain, thirst = float(day.rain_mm or 0.0), float(day.et0_mm or 0.0)
    if count and day.rain_members_mm:
        members = np.array(day.rain_members_mm[:count])
        asked = np.array(day.et0_members_mm[:count] or (thirst,) * count)
    else:
        count = count or len(THREE)
        spread = ((np.arange(count) + 0.5) * len(THREE) / count).astype(np.intp)
        members, asked = rain * THREE[spread], np.full(count, thirst)
    return Future(np.concatenate(([rain], members)), np.concatenate(([thirst], asked)))


THREE = np.repeat((0.0, 1.0, MORE_RAIN), [round(20 * w) for w in (DRY, AS_FORECAST, WETTER)])
"""The three futures as twenty, by their weights; for another number of futures they are spread over it."""


def days_between(first: date, last: date) -> list[date]:
    """Days from the one to the other, the last left out."""
    return [first + timedelta(days=n) for n in range((last - first).days)]
