"""What a season's watering came to: litres, visits, thirst."""

from typing import NamedTuple

import numpy as np

from soakbook.reckoning.physics.records import Flows
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.watering.crowds import Crowd, Rows, step_on
from soakbook.truth.watering.days import Days

SHORT_BELOW = 0.8
PARCHED_BELOW = 0.4


class Outcome(NamedTuple):
    """One season, each field (row,)."""

    litres: Floats
    visits: Floats
    short_days: Floats  # days on which the plant drank less than 0.8 of what it asked
    parched_days: Floats  # and less than 0.4
    drunk_share: Floats  # T/T0 of the season

    def by_case(self, truths: int) -> "Outcome":
        """The mean over the truths of each case: they follow one another."""
        return Outcome(*(field.reshape(-1, truths).mean(axis=1) for field in self))

    def take(self, rows: Rows) -> "Outcome":
        """Some rows."""
        return Outcome(*(field[rows] for field in self))


class Tally:
    """Adds up a season day by day, from the day each row is planted."""

    def __init__(self, crowd: Crowd, days: Days) -> None:
        rows = crowd.shape[0]
        self._planted = days.planted[crowd.planting]
        self._sums = {name: np.zeros(rows) for name in ("litres", "visits", "short", "parched")}
        self._drunk, self._asked = np.zeros(rows), np.zeros(rows)

    def add(self, day: int, soak_l: Floats, flows: Flows) -> None:
        """One day of rows with one member."""
        there = self._planted <= day
        drunk, asked = flows.transpired_l[:, 0], flows.asked_l[:, 0]  # type: ignore[index]
        self._sums["litres"] += soak_l
        self._sums["visits"] += soak_l > 0
        self._sums["short"] += there & (drunk < SHORT_BELOW * asked)
        self._sums["parched"] += there & (drunk < PARCHED_BELOW * asked)
        self._drunk += there * drunk
        self._asked += there * asked

    def outcome(self) -> Outcome:
        """What it came to."""
        return Outcome(
            self._sums["litres"],
            self._sums["visits"],
            self._sums["short"],
            self._sums["parched"],
            self._drunk / self._asked,
        )


def outcome_of(crowd: Crowd, days: Days, soaks_l: Floats) -> Outcome:
    """A season in which rows with one member are given what was settled beforehand.

    Parameters
    ----------
    crowd : Crowd
    days : Days
    soaks_l : ndarray, shape (day, row)
        Litres a plant.
    """
    tally, stores = Tally(crowd, days), crowd.start
    for day in range(len(days)):
        stores, flows = step_on(crowd, days, day, stores, soaks_l[day])
        tally.add(day, soaks_l[day], flows)
    return tally.outcome()
