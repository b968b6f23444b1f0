"""What is unknown, drawn once: multipliers of a season and errors of a day.

A draw depends on the uid of its bed or planting and on the day, and on nothing else, so that a planting or a
day added never changes another's numbers. Member 0 is the plain run: every multiplier 1, every error nil.
"""

from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from functools import cache, lru_cache
from hashlib import blake2b
from types import MappingProxyType
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.simulation.normal_quantile import normal_quantile

Floats = NDArray[np.float64]

DIMENSIONS = ("aw", "kcb", "p", "exposure", "share", "ball", "root", "exchange")
"""Order of a hypercube's columns, fixed for ever: the numbers depend on it."""

LOG_SD = {
    "aw": 0.20,
    "kcb": 0.18,
    "p": 0.10,
    "exposure": 0.10,
    "share": 0.15,
    "ball": 0.30,
    "root": 0.35,
    "exchange": 0.70,
}
"""Standard deviation of the log of each multiplier; bounds in DEVELOPERS.md, The balance by number."""

RAIN_LOG_SD = 0.30
ET0_LOG_SD = 0.30
ET0_MEMORY = 0.9
ET0_SHOCK = 0.131  # keeps the AR1's standard deviation at 0.30
LOG_MEAN = 0.045  # half of 0.30 squared: the factors have mean 1
RAIN_HOURS_UNSAID = 4.0  # De Bilt wet days April-September: median 3.2 h, log sd 0.76
RAIN_HOURS_LOG_SD = 0.75
GIVEN_LOG_SD = 0.10


def seed_of(uid: str) -> int:
    """The 64-bit seed of a bed or planting."""
    return int.from_bytes(blake2b(uid.encode(), digest_size=8).digest(), "big")


def log_multipliers(uid: str, dimensions: Sequence[str], members: int) -> dict[str, Floats]:
    """One log multiplier a member for each named dimension, from the Latin hypercube of `uid`.

    Parameters
    ----------
    uid : str
        Permanent uid of a bed or a planting.
    dimensions : sequence of str
        Names out of `DIMENSIONS`.
    members : int
        Length of the ensemble, member 0 included [-, >= 1].

    Returns
    -------
    dict of str to ndarray, shape (members,)
        Normal with the dimension's standard deviation and median 0; member 0 is exactly 0.

    Notes
    -----
    Each dimension has one point in each of members - 1 equal slices, the slices permuted; probabilities are cut
    at 1e-4 from either end. All columns are drawn, the named ones are returned, so that asking for one more
    never changes another.
    """
    drawn = members - 1
    source = np.random.default_rng(seed_of(uid))
    slices = {
        name: (source.permutation(drawn) + source.random(drawn)) / max(drawn, 1)
        for name in DIMENSIONS
    }
    probabilities = np.array([slices[name] for name in dimensions])
    logs = np.zeros((len(dimensions), members))
    logs[:, 1:] = normal_quantile(np.clip(probabilities, 1e-4, 1 - 1e-4))
    return {name: LOG_SD[name] * own for name, own in zip(dimensions, logs, strict=True)}


def future_numbers(issue: str, members: int) -> NDArray[np.intp]:
    """Which future each member goes with: member 0 the plain one, 0, the others 1, 2, 3 ... in an order of the issue.

    Parameters
    ----------
    issue : str
        What names one issue of one forecast: its futures are dealt anew.
    members : int
        Length of the ensemble, member 0 included [>= 1].

    Returns
    -------
    ndarray of int, shape (members,)
        To be taken modulo the number of futures.
    """
    order = np.random.default_rng(seed_of(issue)).permutation(members - 1)
    return np.concatenate(([0], 1 + order))


class DailyErrors(NamedTuple):
    """Factors on the weather of some beds, drawn when they are asked for: those on ET0 by the year, on rain by the day.

    All are by the day's row, each (bed, member).
    """

    days: int
    et0_factor: Mapping[int, Floats]
    rain_factor: Mapping[int, Floats]
    unsaid_rain_hours: Mapping[int, Floats]


class DailyNormals:
    """Standard normals of a (seed, day), from one counter-based generator wound to each in turn."""

    def __init__(self) -> None:
        self._bits = np.random.Philox(key=np.zeros(2, np.uint64))
        self._state: Any = self._bits.state  # numpy takes a list of numbers too, and faster
        self._generator = np.random.Generator(self._bits)

    def wind_to(self, seed: int, day: date) -> None:
        """Make the next draws those of this seed and day, the same whenever they are asked for."""
        self._state["state"]["key"] = [seed, day.toordinal()]
        self._bits.state = self._state

    def fill(self, out: Floats) -> None:
        """Put the next standard normals into `out`."""
        self._generator.standard_normal(out=out)


class _OfEt0(dict[int, Floats]):
    """The factors on ET0 by the day's row; a row that was not asked for yet is drawn with the whole of its year.

    Of years gone by only the last is kept: a season is gone through once, and an evening is looked back on.
    """

    def __init__(self, draw: Callable[[date, date], Floats], first: date, days: int) -> None:
        super().__init__()
        self._draw, self._first, self._days = draw, first, days

    def __missing__(self, row: int) -> Floats:
        if not 0 <= row < self._days:
            raise IndexError(row)
        year = (self._first + timedelta(days=row)).year
        begin, end = date(year, 1, 1), date(year + 1, 1, 1)
        begin_row = (begin - self._first).days
        last = self._first + timedelta(days=self._days)
        factors = self._draw(begin, min(end, last))
        before = (date(year - 1, 1, 1) - self._first).days
        for gone in [one for one in self if one < before]:
            del self[gone]
        for number in range(max(0, -begin_row), len(factors)):
            self[begin_row + number] = factors[number]
        return self[row]


class _OfRain(dict[int, Floats]):
    """What is drawn for a day's rain, by its row; a row that was not asked for yet is drawn then."""

    def __init__(self, draw: Callable[[int], Floats]) -> None:
        super().__init__()
        self._draw = draw

    def __missing__(self, row: int) -> Floats:
        self[row] = drawn = self._draw(row)
        return drawn


def daily_errors(
    begins: Mapping[str, date],
    first: date,
    days: int,
    members: int,
    drawn_as: Mapping[str, str] = MappingProxyType({}),
) -> DailyErrors:
    """The errors of some beds' weather from `first` on.

    Parameters
    ----------
    begins : mapping of str to date
        The beds' uids, and from when on each one's rain is asked for: that of earlier days is not drawn.
    first : date
        First day returned.
    days, members : int
        How many of each.
    drawn_as : mapping of str to str, optional
        Beds that have the numbers of another, uid -> that one's uid.

    Returns
    -------
    DailyErrors

    Notes
    -----
    rain x exp(N(0, 0.30) - 0.045); ET0 x exp(a - 0.045) with a = 0.9 a + 0.131 N, begun at N(0, 0.30); hours of
    rain whose length nobody said 4 exp(N(0, 0.75)). A day's draws are for ET0, rain and hours, in this order. The
    error of ET0 is begun anew each 1 January, so that it does not hang on what stands in the bed, or since when.
    """
    seeds, normals = [seed_of(drawn_as.get(uid, uid)) for uid in begins], DailyNormals()
    since = list(begins.values())

    def of_et0(begin: date, end: date) -> Floats:
        calendar = [date.fromordinal(day) for day in range(begin.toordinal(), end.toordinal())]
        factor = np.empty((len(calendar), len(seeds), members))
        for row, day in enumerate(calendar):
            for bed, seed in enumerate(seeds):
                normals.wind_to(seed, day)
                normals.fill(factor[row, bed])
        _remember(factor)
        factor -= LOG_MEAN
        np.exp(factor, out=factor)
        factor[:, :, 0] = 1.0
        return factor

    @lru_cache(maxsize=2)  # a day's two factors are asked for one after the other, then never again
    def of_rain(row: int) -> Floats:
        drawn, day = np.zeros((len(seeds), 3, members)), first + timedelta(days=row)
        for bed, seed in enumerate(seeds):
            if since[bed] <= day:
                normals.wind_to(seed, day)
                normals.fill(drawn[bed])
        return drawn

    return DailyErrors(
        days,
        _OfEt0(of_et0, first, days),
        _OfRain(lambda row: _plain_first(np.exp(RAIN_LOG_SD * of_rain(row)[:, 1] - LOG_MEAN))),
        _OfRain(
            lambda row: (
                RAIN_HOURS_UNSAID * _plain_first(np.exp(RAIN_HOURS_LOG_SD * of_rain(row)[:, 2]))
            )
        ),
    )


def _plain_first(factors: Floats) -> Floats:
    factors[:, 0] = 1.0
    return factors


def given_factors(uid: str, day: date, members: int) -> Floats:
    """What a member believes was given for each litre entered that day, shape (members,)."""
    drawn = np.empty(members)
    normals = _daily_normals()
    normals.wind_to(seed_of(uid), day)
    normals.fill(drawn)
    drawn[0] = 0.0
    return np.asarray(np.exp(GIVEN_LOG_SD * drawn))


@cache
def _daily_normals() -> DailyNormals:
    """One generator for all: making one costs as much as a hundred draws, and winding it forgets what went before."""
    return DailyNormals()


def felt_normals(uid: str, day: date, number: int, members: int) -> Floats:
    """Standard normals of the hand's error, (ball or bed, member), for a day's feel of a planting by its number."""
    drawn = np.empty((number + 1, 2, members))
    normals = _daily_normals()
    normals.wind_to(seed_of(f"{uid} felt"), day)
    normals.fill(drawn)
    its_own: Floats = drawn[number]
    return its_own


def _remember(normals: Floats) -> None:
    """Make of a year's normals, (day, bed, member), the log error of ET0: each day's carries nine tenths of the last.

    In place: of a whole year another array is soon a thousand pages of memory.
    """
    normals[0] *= ET0_LOG_SD
    for row in range(1, len(normals)):
        normals[row] *= ET0_SHOCK
        normals[row] += ET0_MEMORY * normals[row - 1]
