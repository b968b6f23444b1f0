"""What is unknown, drawn once: multipliers of a season and errors of a day.

A draw depends on the uid of its bed or planting and on the day, and on nothing else, so that a planting or a
day added never changes another's numbers. Member 0 is the plain run: every multiplier 1, every error nil.
"""

from collections.abc import Sequence
from datetime import date
from hashlib import blake2b
from statistics import NormalDist
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

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
"""Standard deviation of the log of each multiplier: the specification's section 2."""

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


def multipliers(uid: str, dimensions: Sequence[str], members: int) -> dict[str, Floats]:
    """One multiplier a member for each named dimension, from the Latin hypercube of `uid`.

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
        Lognormal multipliers with median 1; member 0 is exactly 1.

    Notes
    -----
    Each dimension has one point in each of members - 1 equal slices, the slices permuted; probabilities are cut
    at 1e-4 from either end. All columns are drawn, the named ones are returned, so that asking for one more
    never changes another.
    """
    drawn = members - 1
    source = np.random.default_rng(seed_of(uid))
    inverse = NormalDist().inv_cdf
    found = {}
    for name in DIMENSIONS:
        slices = (source.permutation(drawn) + source.random(drawn)) / max(drawn, 1)
        if name in dimensions:
            probabilities = np.clip(slices, 1e-4, 1 - 1e-4).tolist()
            normals = np.fromiter(map(inverse, probabilities), np.float64, drawn)
            found[name] = np.concatenate(([1.0], np.exp(LOG_SD[name] * normals)))
    return found


class DailyErrors(NamedTuple):
    """Factors on one bed's weather, shape (day, member)."""

    rain_factor: Floats
    et0_factor: Floats
    unsaid_rain_hours: Floats


class DailyNormals:
    """Standard normals of a (seed, day), from one counter-based generator wound to each in turn."""

    def __init__(self) -> None:
        self._bits = np.random.Philox(key=np.zeros(2, np.uint64))
        self._state = self._bits.state
        self._generator = np.random.Generator(self._bits)

    def of(self, seed: int, day: date, shape: tuple[int, ...]) -> Floats:
        """Standard normals for this seed and day, the same whenever they are asked for."""
        self._state["state"]["key"][:] = seed, day.toordinal()
        self._bits.state = self._state
        return self._generator.standard_normal(shape)


def daily_errors(uid: str, began: date, first: date, days: int, members: int) -> DailyErrors:
    """The errors of a bed's weather from `first` on.

    Parameters
    ----------
    uid : str
        The bed's uid.
    began : date
        Where the bed's ET0 error starts: the day of its earliest planting, not after `first`.
    first : date
        First day returned.
    days, members : int
        Shape of what is returned.

    Returns
    -------
    DailyErrors
        Each of shape (days, members).

    Notes
    -----
    rain x exp(N(0, 0.30) - 0.045); ET0 x exp(a - 0.045) with a = 0.9 a + 0.131 N, begun at N(0, 0.30); hours of
    rain whose length nobody said 4 exp(N(0, 0.75)).
    """
    seed = seed_of(uid)
    normals = DailyNormals()
    skipped = (first - began).days
    logs = np.zeros((days, 3, members))
    carried = np.zeros(members)
    for index in range(-skipped, days):
        day = date.fromordinal(first.toordinal() + index)
        drawn = normals.of(seed, day, (3, members))
        fresh = index == -skipped
        carried = ET0_LOG_SD * drawn[1] if fresh else ET0_MEMORY * carried + ET0_SHOCK * drawn[1]
        if index >= 0:
            logs[index, 0] = RAIN_LOG_SD * drawn[0] - LOG_MEAN
            logs[index, 1] = carried - LOG_MEAN
            logs[index, 2] = RAIN_HOURS_LOG_SD * drawn[2]
    logs[:, :, 0] = 0.0
    factors = np.exp(logs)
    return DailyErrors(factors[:, 0], factors[:, 1], RAIN_HOURS_UNSAID * factors[:, 2])


def given_factors(uid: str, day: date, members: int) -> Floats:
    """What a member believes was given for each litre entered that day, shape (members,)."""
    drawn = np.exp(GIVEN_LOG_SD * DailyNormals().of(seed_of(uid), day, (members,)))
    drawn[0] = 1.0
    return drawn
