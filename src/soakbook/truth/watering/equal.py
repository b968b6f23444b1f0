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
"""How much less of a season's thirst a schedule need quench than the rule does."""

SCALES = np.geomspace(0.25, 16, 13)
"""Doses tried first, as multiples of the Minnesota calendar's; a schedule that asks more is not reckoned to reach."""

HALVINGS = 8

Flags = NDArray[np.bool_]


class Schedules(NamedTuple):
    """Every fixed schedule for every planting, at the Minnesota calendar's dose."""

    soaks_l: Floats  # (day, schedule, planting)
    always: Flags  # (schedule,), whether it is kept to whatever has rained
    names: tuple[str, ...]


class Thriftiest(NamedTuple):
    """The schedule that reaches a share drunk on least water, each (planting,); nan where none reaches it."""

    litres: Floats
    visits: Floats
    drunk_share: Floats
    schedule: Floats  # its place among the names


class Bracketed(NamedTuple):
    """(schedule, planting) pairs whose dose lies between two scales, each (pair,)."""

    schedule: Rows
    planting: Rows
    low: Floats  # 0 where the first scale is enough
    high: Floats

    def take(self, which: Flags) -> "Bracketed":
        """Some of the pairs."""
        return Bracketed(*(field[which] for field in self))


def schedules_of(trials: tuple[Trial, ...], days: Days) -> Schedules:
    """All of them: five rhythms, each as it stands and left off after rain by three rules of thumb."""
    base = np.array([umn_litres(one.planting) for one in trials])
    soaks, always, names = [], [], []
    for name, gap in FITTED:
        calls = np.stack([visit_days(gap, int(day), days) for day in days.planted], axis=1)
        for rule in LEAVES_OFF:
            soaks.append(base * (calls & ~rained(days, rule)[:, np.newaxis]))
            always.append(rule is None)
            after = f", not after {rule.mm:g} mm in {rule.days} days" if rule else ""
            names.append(name + after)
    return Schedules(np.stack(soaks, axis=1), np.array(always), tuple(names))


class Ladder:
    """All schedules at all the doses tried first, once for a season; then the thriftiest for any share drunk."""

    def __init__(self, truth: Crowd, truths: int, days: Days, schedules: Schedules) -> None:
        self._truth, self._truths, self._days = truth, truths, days
        self._soaks_l = schedules.soaks_l
        self.always = schedules.always
        pairs = np.indices(schedules.soaks_l.shape[1:]).reshape(2, -1)
        self._pairs = pairs
        tried = [self._outcome(*pairs, np.full(pairs.shape[1], scale)) for scale in SCALES]
        self._drunk = np.array([one.drunk_share for one in tried])  # (scale, pair)
        self._litres = np.array([one.litres for one in tried])

    def thriftiest(self, drunk_share: Floats, among: Flags) -> Thriftiest:
        """The thriftiest schedule for each planting, at the smallest dose that lets it drink at least so much.

        Parameters
        ----------
        drunk_share : ndarray, shape (planting,)
            What the truths are to drink of what they ask, on average.
        among : ndarray of bool, shape (schedule,)
            The schedules to choose from.

        Notes
        -----
        More water lets a plant drink more, so the ladder brackets the dose and halving closes in on it from above, to
        a part in seven hundred. Schedules that would use more at the lower end of their bracket than another at the
        upper end of its own are not looked at further.
        """
        pairs = self._bracketed(drunk_share, among)
        low, high = pairs.low.copy(), pairs.high.copy()
        for _ in range(HALVINGS if len(low) else 0):
            middle = np.where(low > 0, np.sqrt(low * high), high / 2)
            drunk = self._outcome(pairs.schedule, pairs.planting, middle).drunk_share
            enough = drunk >= drunk_share[pairs.planting]
            low, high = np.where(enough, low, middle), np.where(enough, middle, high)
        found = self._outcome(pairs.schedule, pairs.planting, high)
        best = Thriftiest(*(np.full(len(drunk_share), np.nan) for _ in Thriftiest._fields))
        for pair in np.argsort(-found.litres):  # the last written is the thriftiest
            planting = pairs.planting[pair]
            best.litres[planting] = found.litres[pair]
            best.visits[planting] = found.visits[pair]
            best.drunk_share[planting] = found.drunk_share[pair]
            best.schedule[planting] = pairs.schedule[pair]
        return best

    def _bracketed(self, drunk_share: Floats, among: Flags) -> Bracketed:
        """The pairs that reach the share and may be the thriftiest of their planting."""
        schedule, planting = self._pairs
        reach = self._drunk >= drunk_share[planting]
        first = reach.argmax(axis=0)
        below = np.maximum(first - 1, 0)
        every = np.arange(len(schedule))
        at_most = np.where(reach.any(axis=0) & among[schedule], self._litres[first, every], np.inf)
        at_least = np.where(first > 0, self._litres[below, every], 0.0)
        least = np.full(len(drunk_share), np.inf)
        np.minimum.at(least, planting, at_most)
        kept = np.isfinite(at_most) & (at_least <= least[planting])
        low = np.where(first > 0, SCALES[below], 0.0)
        return Bracketed(schedule, planting, low, SCALES[first]).take(kept)

    def _outcome(self, schedule: Rows, planting: Rows, scale: Floats) -> Outcome:
        """Outcomes of pairs at a scale each, (pair,), the mean over the truths of the planting."""
        rows = (planting[:, np.newaxis] * self._truths + np.arange(self._truths)).ravel()
        soaks = np.repeat(self._soaks_l[:, schedule, planting] * scale, self._truths, axis=1)
        return outcome_of(self._truth.take(rows), self._days, soaks).by_case(self._truths)
