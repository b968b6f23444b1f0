"""Measured water on the scale a finger knows: 0 as dry as the record gets, 1 full after a soaking.

The soaked look is found from rain alone, by the reckoning; the sensors are read on that one day and pin
what "full" is at this place.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np

from soakbook.garden.records import FeltClass
from soakbook.reckoning.simulation.draws import DailyNormals, Floats, seed_of
from soakbook.truth.bucket import Course, Forcing
from soakbook.truth.scores import Mask

LOOK_DRAINED_MM = 10.0
LOOK_DRY_BELOW_MM = 1.0
DRAINED_FROM_DAYS, DRAINED_TO_DAYS = 4, 2
"""How many days before the look the soaking may lie, furthest and nearest."""
DRIEST_SHARE = 0.01
CUTS: tuple[tuple[float, FeltClass], ...] = (
    (0.20, "dust"),
    (0.50, "dry"),
    (0.85, "moist"),
    (1.10, "wet"),
)
"""Below each a class ends; above the last soil is sour."""
HAND_NOISE = 0.12
LEAST_RANGE = 0.02
"""Sensors that move by less, m3/m3, have nothing to feel."""
DRY_BELOW = 0.5
"""A record in which the reckoned wetness never falls so low does not say what dry is."""


class Look(NamedTuple):
    """One soaked look: the day, what the sensors read on it, and what full is by that."""

    row: int
    day: date
    theta: float
    """m3/m3"""
    full: float
    """The reading, and what by the plain reckoning the soil has lost since it was full, m3/m3."""


class Scale(NamedTuple):
    """Water of a profile at wetness 0 and at wetness 1, m3/m3."""

    driest: float
    soaked: float

    def wetness(self, theta: Floats) -> Floats:
        """Water of a profile as wetness."""
        return (theta - self.driest) / (self.soaked - self.driest)


def soaked_look(
    forcing: Forcing, course: Course, days: Sequence[date], theta: Floats, compared: Mask
) -> Look | None:
    """The first compared day that comes two to four days after a soaking; None where there is none.

    A soaking has drained at least 10 mm out of the reckoned root zone over the three days that ended two days
    before the look; on the day before the look and on its own, less than 1 mm of rain has fallen.

    Parameters
    ----------
    forcing, course : Forcing, Course
        Rain, and what the plain run made of it.
    days : sequence of date
    theta : ndarray, shape (day,)
        Measured.
    compared : ndarray of bool, shape (day,)
        Days that count.
    """
    drained = course.drained_mm[0]
    dry = (forcing.rain_mm < LOOK_DRY_BELOW_MM) & ~forcing.blind
    for row in np.flatnonzero(compared).tolist():
        first = row - DRAINED_FROM_DAYS
        if first < 0 or not (dry[row] and dry[row - 1]):
            continue
        if drained[first : row - DRAINED_TO_DAYS + 1].sum() >= LOOK_DRAINED_MM:
            lost = course.capacity_theta - float(course.theta[0, row])
            return Look(row, days[row], float(theta[row]), float(theta[row]) + lost)
    return None


def scale_of(theta: Floats, look: Look | None, reckoned: Floats) -> Scale | None:
    """The scale of a record's readings; None without a look, or where they never get dry.

    Parameters
    ----------
    theta : ndarray, shape (day,)
        Measured, of the days that count.
    look : Look or None
        What it says is full is wetness 1; the reading below which one day in a hundred lies is wetness 0.
    reckoned : ndarray, shape (day,)
        Wetness of the same days by the plain run.
    """
    if look is None or theta.size == 0 or np.quantile(reckoned, DRIEST_SHARE) > DRY_BELOW:
        return None
    driest = float(np.quantile(theta, DRIEST_SHARE))
    return Scale(driest, look.full) if look.full - driest >= LEAST_RANGE else None


def felt_class(wetness: float) -> FeltClass:
    """The class a hand would say."""
    return next((felt for below, felt in CUTS if wetness < below), "sour")


def hand_errors(uid: str, days: Sequence[date]) -> Floats:
    """How far a hand is out on each day, the same whenever it is asked; shape (day,)."""
    seed, normals, drawn = seed_of(uid), DailyNormals(), np.empty(1)
    found = np.empty(len(days))
    for row, day in enumerate(days):
        normals.wind_to(seed, day)
        normals.fill(drawn)
        found[row] = HAND_NOISE * drawn[0]
    return found
