"""Fixed schedules at equal thirst: the dose that lets a plant drink as much as the rule lets it."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.watering.calendars import (
    FITTED,
    LEAVES_OFF,
    rained,
    umn_litres,
    visit_days,
)
from soakbook.truth.watering.crowds import Crowd, Rows
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.outcome import Outcome, outcome_of
from soakbook.truth.watering.trial import Trial

GRACE = 0.005
"""A schedule has to let a plant drink this much less of its season than the rule does."""

SCALES = np.geomspace(0.25, 16, 13)
"""Doses tried first, as multiples of the Minnesota calendar's; none above the last."""

HALVINGS = 8


class Schedules(NamedTuple):
    """Every fixed schedule for every planting, at the Minnesota calendar's dose."""

    soaks_l: Floats  # (day, schedule, planting)
    leaves_off: NDArray[np.bool_]  # (schedule,)
    names: tuple[str, ...]


class Fitted(NamedTuple):
    """The dose at which schedules reach a share drunk: each field (schedule, planting), nan where none does."""

    scale: Floats
    litres: Floats
    visits: Floats
    drunk_share: Floats

    def thriftiest(self, which: NDArray[np.bool_]) -> tuple[Floats, Floats]:
        """Litres and visits of the thriftiest of some schedules, (planting,); nan where none reaches."""
        litres = np.where(np.isnan(self.litres[which]), np.inf, self.litres[which])
        best = litres.argmin(axis=0)
        columns = np.arange(litres.shape[1])
        reached = np.isfinite(litres[best, columns])
        visits = self.visits[which][best, columns]
        return (
            np.where(reached, litres[best, columns], np.nan),
            np.where(reached, visits, np.nan),
        )


def schedules_of(trials: tuple[Trial, ...], days: Days) -> Schedules:
    """All of them: five rhythms, each as it stands and left off after rain by three rules of thumb."""
    base = np.array([umn_litres(one.planting) for one in trials])
    soaks, leaves_off, names = [], [], []
    for name, gap in FITTED:
        calls = np.stack([visit_days(gap, int(day), days) for day in days.planted], axis=1)
        for rule in LEAVES_OFF:
            soaks.append(base * (calls & ~rained(days, rule)[:, np.newaxis]))
            leaves_off.append(rule is not None)
            after = f", not after {rule.mm:g} mm in {rule.days} days" if rule else ""
            names.append(name + after)
    return Schedules(np.stack(soaks, axis=1), np.array(leaves_off), tuple(names))


class Ladder:
    """All schedules at all the doses tried first, once for a season; then the dose that reaches any share drunk."""

    def __init__(self, truth: Crowd, truths: int, days: Days, schedules: Schedules) -> None:
        self._truth, self._truths, self._days = truth, truths, days
        self._soaks_l = schedules.soaks_l
        self._size = schedules.soaks_l.shape[1:]
        every = np.indices(self._size).reshape(2, -1)
        shares = [self._try(every, np.full(every.shape[1], one)).drunk_share for one in SCALES]
        self._shares = np.array(shares)  # (scale, job)

    def fitted(self, drunk_share: Floats) -> Fitted:
        """The smallest dose of every schedule that lets the plants drink at least so much.

        Parameters
        ----------
        drunk_share : ndarray, shape (planting,)
            What the truths are to drink of what they ask, on average.

        Notes
        -----
        More water lets a plant drink more, so the ladder brackets the dose and halving closes in on it: to a part in
        seven hundred, from above.
        """
        schedule, planting = np.indices(self._size).reshape(2, -1)
        reach = self._shares >= drunk_share[planting]
        jobs = np.flatnonzero(reach.any(axis=0))
        first = reach[:, jobs].argmax(axis=0)
        high = SCALES[first].copy()
        low = np.where(first > 0, SCALES[first - 1], 0.0)
        asked = np.stack([schedule[jobs], planting[jobs]])
        for _ in range(HALVINGS):
            middle = np.where(low > 0, np.sqrt(low * high), high / 2)
            enough = self._try(asked, middle).drunk_share >= drunk_share[planting[jobs]]
            low, high = np.where(enough, low, middle), np.where(enough, middle, high)
        found = self._try(asked, high)
        fields = (high, found.litres, found.visits, found.drunk_share)
        return Fitted(*(self._laid_out(jobs, field) for field in fields))

    def _try(self, jobs: Rows, scale: Floats) -> Outcome:
        """The outcome of (schedule, planting) pairs at a scale each, over the truths of the planting."""
        schedule, planting = jobs
        rows = (planting[:, np.newaxis] * self._truths + np.arange(self._truths)).ravel()
        soaks = self._soaks_l[:, schedule, planting] * scale
        crowd = self._truth.take(rows)
        soaks = np.repeat(soaks, self._truths, axis=1)
        return outcome_of(crowd, self._days, soaks).by_case(self._truths)

    def _laid_out(self, jobs: Rows, values: Floats) -> Floats:
        whole = np.full(self._size, np.nan)
        whole.ravel()[jobs] = values
        return whole
