"""Measured water on the scale a finger knows: 0 as dry as plants can make it, 1 full after a soaking.

The soaked look is found from rain alone, by the reckoning; the sensors are read on that one day and pin
what "full" is at this place.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.bucket import Course, Forcing
from soakbook.truth.scores import Mask

LOOK_DRAINED_MM = 10.0
LESSER_DRAINED_MM = 5.0
"""Drained before a look; the less where no soaking of the record has drained more."""
LOOK_DRY_BELOW_MM = 1.0
DRAINED_FROM_DAYS, DRAINED_TO_DAYS = 4, 2
"""How many days before the look the soaking may lie, furthest and nearest."""
DRIEST_SHARE = 0.01
LEAST_RANGE = 0.02
"""Sensors that move by less, m3/m3, have nothing to feel."""
DRY_ENOUGH = 0.15
"""Reckoned no wetter than this on its driest days, a record has been dry: they are its zero."""
NEVER_DRY = 0.8
"""Reckoned wetter than this on its driest days, a record does not say what dry is."""


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


class Scales(NamedTuple):
    """The scale of a record, and how dry by the reckoning its driest days were."""

    taken: Scale | None
    """None where the record does not say what dry is."""
    literal: Scale | None
    """Zero at the driest readings themselves; None where that is the scale taken."""
    driest_days: float


def soaked_look(
    forcing: Forcing,
    course: Course,
    days: Sequence[date],
    theta: Floats,
    among: Mask,
    drained_mm: float = LOOK_DRAINED_MM,
) -> Look | None:
    """The first of some days that comes two to four days after a soaking; None where there is none.

    A soaking has drained so much out of the reckoned root zone over the three days that ended two days before
    the look; on the day before the look and on its own, less than 1 mm of rain has fallen.

    Parameters
    ----------
    forcing, course : Forcing, Course
        Rain, and what the plain run made of it.
    days : sequence of date
    theta : ndarray, shape (day,)
        Measured.
    among : ndarray of bool, shape (day,)
        Days on which may be looked.
    drained_mm : float
        [mm]
    """
    drained = course.drained_mm[0]
    dry = (forcing.rain_mm < LOOK_DRY_BELOW_MM) & ~forcing.blind
    for row in np.flatnonzero(among).tolist():
        first = row - DRAINED_FROM_DAYS
        if first < 0 or not (dry[row] and dry[row - 1]):
            continue
        if drained[first : row - DRAINED_TO_DAYS + 1].sum() >= drained_mm:
            lost = course.capacity_theta - float(course.theta[0, row])
            return Look(row, days[row], float(theta[row]), float(theta[row]) + lost)
    return None


def scales_of(theta: Floats, look: Look, reckoned: Floats) -> Scales:
    """The scale of a record's readings.

    What the look says is full is wetness 1. Zero is the reading below which one day in a hundred lies; but where
    by the plain run those days were far from dry, it lies as much lower as they were wet.

    Parameters
    ----------
    theta : ndarray, shape (day,)
        Measured, of the days that count.
    look : Look
    reckoned : ndarray, shape (day,)
        Wetness of the same days by the plain run.
    """
    driest = float(np.quantile(theta, DRIEST_SHARE))
    wet = float(reckoned[theta <= driest].mean())
    if wet > NEVER_DRY or look.full - driest < LEAST_RANGE:
        return Scales(None, None, wet)
    literal = Scale(driest, look.full)
    if wet <= DRY_ENOUGH:
        return Scales(literal, None, wet)
    return Scales(Scale(look.full - (look.full - driest) / (1 - wet), look.full), literal, wet)
