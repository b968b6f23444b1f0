"""How far reckoned stands from measured: pure sums over days that have both."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.simulation.draws import Floats

LEAST_DAYS = 3
WEEK_DAYS = 7
LEAST_DAYS_OF_A_WEEK = 4

Mask = NDArray[np.bool_]


class Score(NamedTuple):
    """Reckoned against measured."""

    n: int
    rmse: float
    bias: float
    """Reckoned less measured."""
    ub: float
    """RMSE without bias: the spread of the errors round their mean."""
    r2: float | None
    """Square of the correlation; None where either never changes."""


def score(reckoned: Floats, measured: Floats) -> Score | None:
    """Errors of some days; None with fewer than three.

    Parameters
    ----------
    reckoned, measured : ndarray, shape (day,)
        The same days, without gaps.
    """
    if reckoned.size < LEAST_DAYS:
        return None
    error = reckoned - measured
    bias = float(error.mean())
    rmse = math.sqrt(float((error * error).mean()))
    return Score(
        int(error.size), rmse, bias, float(error.std()), _squared_correlation(reckoned, measured)
    )


def covered(low: Floats, high: Floats, measured: Floats) -> float | None:
    """Share of days on which what was measured lies inside a band; None with fewer than three."""
    if measured.size < LEAST_DAYS:
        return None
    return float(((low <= measured) & (measured <= high)).mean())


def weekly(values: Floats, weeks: NDArray[np.intp], compared: Mask) -> Floats:
    """Mean of each week that has at least four compared days, weeks in order.

    Parameters
    ----------
    values : ndarray, shape (day,)
    weeks : ndarray of int, shape (day,)
        The number of each day's week.
    compared : ndarray of bool, shape (day,)
        Days that count.
    """
    kept = [compared & (weeks == week) for week in np.unique(weeks[compared])]
    return np.array([values[days].mean() for days in kept if days.sum() >= LEAST_DAYS_OF_A_WEEK])


def _squared_correlation(one: Floats, other: Floats) -> float | None:
    if min(float(np.ptp(one)), float(np.ptp(other))) < 1e-12:
        return None
    return float(np.corrcoef(one, other)[0, 1] ** 2)
