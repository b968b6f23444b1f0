"""Days whose weather nobody has measured: what each member is to suppose of them.

Ahead of a morning that is the newest forecast, each of its members a whole future. Behind it, where a service has
given nothing since, it is that forecast too, and beyond it days like those the book knows.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.promises import PLAIN_FUTURES
from soakbook.garden.weather import Forecast, ForecastDay, WeatherDay
from soakbook.reckoning.simulation.draws import Floats

LIKE_DAYS = 60
"""How far back days are taken that may have come again."""

FEWEST_LIKE_DAYS = 10


class Future(NamedTuple):
    """One day in every future, the plain one first, shape (1 + future,)."""

    fallen_mm: Floats
    """Rain that each supposes to have fallen where and when nobody measured any."""
    coming_mm: Floats
    """Rain that is still to come."""
    et0_mm: Floats

    @property
    def rain_mm(self) -> Floats:
        """All of it."""
        return self.fallen_mm + self.coming_mm


def futures_of(forecast: Forecast) -> dict[date, Future]:
    """The days of a forecast that say both rain and ET0, each as its members have it; all rain still to come."""
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
            np.zeros(1 + len(rain)),
            np.concatenate(([0.0], np.roll(rain, -number))),
            np.concatenate(([et0_mm], np.roll(thirst, -number))),
        )
        for number, day in enumerate(days)
    }


def without_rain(future: Future) -> Future:
    """The same day, should none of its rain come that is still to come."""
    return future._replace(coming_mm=np.zeros_like(future.coming_mm))


def as_fallen(future: Future, share: float = 1.0) -> Future:
    """The same day gone by, a share of its rain in hours that nobody measured: the rest a gauge has.

    Parameters
    ----------
    future : Future
        All of its rain still to come.
    share : float
        Of the day's rain [0-1].
    """
    return parted(future, share, 0.0)


def parted(future: Future, fallen: float, coming: float) -> Future:
    """The same day with a share of its rain fallen and a share of it to come; what is over is somebody else's.

    Parameters
    ----------
    future : Future
        All of its rain still to come.
    fallen, coming : float
        Shares, together at most 1.
    """
    return future._replace(fallen_mm=fallen * future.coming_mm, coming_mm=coming * future.coming_mm)


def picked(number: NDArray[np.intp], future: Future) -> Future:
    """The day as each member supposes it, shape (member,); `number` says which future that is."""
    count = len(future.et0_mm) - 1
    which = np.where(number == 0, 0, 1 + (number - 1) % count)
    return Future(future.fallen_mm[which], future.coming_mm[which], future.et0_mm[which])


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
    coming = np.concatenate(([rain], members))
    return Future(np.zeros_like(coming), coming, np.concatenate(([thirst], asked)))


THREE = np.repeat(
    [times for times, _ in PLAIN_FUTURES], [round(20 * weight) for _, weight in PLAIN_FUTURES]
)
"""The three futures as twenty, by their weights; for another number of futures they are spread over it."""


def days_between(first: date, last: date) -> list[date]:
    """Days from the one to the other, the last left out."""
    return [first + timedelta(days=n) for n in range((last - first).days)]
