"""Hands that feel a record's soil: what they say of its own readings, each with errors of its own.

Every hand errs alike in every record: what it errs by hangs on its number and the day alone.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.simulation.draws import DailyNormals, Floats, seed_of
from soakbook.reckoning.simulation.squaring import FINGER_SD, class_of
from soakbook.truth.feels import Feels, Handled, key_of_hand
from soakbook.truth.scores import Mask
from soakbook.truth.wetness import Scale

HANDS = 4
"""Runs of each rhythm, each with a hand's errors, and an ensemble, of its own."""
OPEN = "open"


class Rhythm(NamedTuple):
    """Feels on every so many days, by every hand."""

    every_days: int
    scale: Scale
    feels: tuple[Feels, ...]
    """Of each hand."""
    name: str

    def runs(self) -> list[Handled]:
        """A run for each hand."""
        return [Handled(hand, self.name, feels) for hand, feels in enumerate(self.feels)]


def open_runs() -> list[Handled]:
    """A run for each hand that keeps it in the pocket."""
    return [Handled(hand, OPEN, {}) for hand in range(HANDS)]


def rhythm(
    every_days: int, scale: Scale, days: Sequence[date], theta: Floats, there: Mask, name: str = ""
) -> Rhythm:
    """What the hands say on every so many days of the calendar.

    Parameters
    ----------
    every_days : int
        Days on which nothing can be felt are passed over, not made up for.
    scale : Scale
        What a reading is as wetness.
    days, theta : sequence of date, ndarray of shape (day,)
        Readings of the days.
    there : ndarray of bool, shape (day,)
        Days on which the soil can be felt.
    name : str
        Tells apart rhythms of the same days.
    """
    wetness = scale.wetness(theta)
    rows = [
        row for row in np.flatnonzero(there).tolist() if days[row].toordinal() % every_days == 0
    ]
    feels = []
    for hand in range(HANDS):
        felt = wetness + hand_errors(key_of_hand(hand), days)
        feels.append({row: class_of(float(felt[row])) for row in rows})
    return Rhythm(every_days, scale, tuple(feels), f"every {every_days} {name}".strip())


def hand_errors(uid: str, days: Sequence[date]) -> Floats:
    """How far a hand is out on each day, the same whenever it is asked; shape (day,)."""
    seed, normals, drawn = seed_of(f"{uid} errs"), DailyNormals(), np.empty(1)
    found = np.empty(len(days))
    for row, day in enumerate(days):
        normals.wind_to(seed, day)
        normals.fill(drawn)
        found[row] = FINGER_SD * drawn[0]
    return found
