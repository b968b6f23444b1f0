"""Fixed schedules at equal thirst: the dose that lets a plant drink as much as the rule lets it."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.advice.calendars import rained, umn_litres, visit_days
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.watering.calendars import FITTED, LEAVES_OFF
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


class Aim(NamedTuple):
    """What is asked of some schedules."""

    drunk_share: Floats  # (planting,), what the truths are to drink of what they ask, on average
    among: Flags  # (schedule,), those to choose from


class Bracketed(NamedTuple):
    """(schedule, planting) pairs whose dose for an aim lies between two scales, each (pair,)."""

    aim: Rows
    schedule: Rows
    planting: Rows
    to_reach: Floats
    low: Floats  # 0 where the first scale is enough
    high: Floats


def schedules_of(trials: tuple[Trial, ...], days: Days) -> Schedules:
    """All of them: five rhythms, each as it stands and left off after rain by three rules of thumb."""
    base = np.array([umn_litres(one.planting) for one in trials])
    soaks, always, names = [], [], []
    for name, gap in FITTED:
        calls = np.stack([visit_days(gap, int(day), len(days)) for day in days.planted], axis=1)
        for rule in LEAVES_OFF:
            soaks.append(base * (calls & ~rained(days.rain_mm, rule)[:, np.newaxis]))
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
        tried = [self._outcome(pairs[0], pairs[1], np.full(pairs.shape[1], one)) for one in SCALES]
        self._drunk = np.array([one.drunk_share for one in tried])  # (scale, pair)
        self._litres = np.array([one.litres for one in tried])

    def thriftiest(self, aims: Sequence[Aim]) -> list[Thriftiest]:
        """For each aim the thriftiest schedule of each planting, at the smallest dose that reaches it.

        Notes
        -----
        More water lets a plant drink more, so the ladder brackets the dose and halving closes in on it from above, to
        a part in seven hundred. Schedules that would use more at the lower end of their bracket than another at the
        upper end of its own are not looked at further.
        """
        each = [self._bracketed(number, aim) for number, aim in enumerate(aims)]
        pairs = Bracketed(*(np.concatenate(fields) for fields in zip(*each, strict=True)))
        low, high = pairs.low, pairs.high
        for _ in range(HALVINGS if low.size else 0):
            middle = np.where(low > 0, np.sqrt(low * high), high / 2)
            drunk = self._outcome(pairs.schedule, pairs.planting, middle).drunk_share
            enough = drunk >= pairs.to_reach
            low, high = np.where(enough, low, middle), np.where(enough, middle, high)
        found = self._outcome(pairs.schedule, pairs.planting, high)
        return [
            _best(pairs, found, number, len(aim.drunk_share)) for number, aim in enumerate(aims)
        ]

    def _bracketed(self, number: int, aim: Aim) -> Bracketed:
        """The pairs that reach an aim and may be the thriftiest of their planting."""
        schedule, planting = self._pairs
        to_reach = aim.drunk_share[planting]
        reach = self._drunk >= to_reach
        first = reach.argmax(axis=0)
        below, every = np.maximum(first - 1, 0), np.arange(len(schedule))
        reached = reach.any(axis=0) & aim.among[schedule]
        at_most = np.where(reached, self._litres[first, every], np.inf)
        at_least = np.where(first > 0, self._litres[below, every], 0.0)
        least = np.full(len(aim.drunk_share), np.inf)
        np.minimum.at(least, planting, at_most)
        kept = np.flatnonzero(reached & (at_least <= least[planting]))
        low, high = np.where(first > 0, SCALES[below], 0.0)[kept], SCALES[first[kept]]
        aims = np.full(len(kept), number)
        return Bracketed(aims, schedule[kept], planting[kept], to_reach[kept], low, high)

    def _outcome(self, schedule: Rows, planting: Rows, scale: Floats) -> Outcome:
        """Outcomes of pairs at a scale each, (pair,), the mean over the truths of the planting."""
        rows = (planting[:, np.newaxis] * self._truths + np.arange(self._truths)).ravel()
        soaks = np.repeat(self._soaks_l[:, schedule, planting] * scale, self._truths, axis=1)
        return outcome_of(self._truth.take(rows), self._days, soaks).by_case(self._truths)


def _best(pairs: Bracketed, found: Outcome, number: int, plantings: int) -> Thriftiest:
    best = Thriftiest(*(np.full(plantings, np.nan) for _ in Thriftiest._fields))
    mine = np.flatnonzero(pairs.aim == number)
    for pair in mine[np.argsort(-found.litres[mine])]:  # the last written is the thriftiest
        planting = pairs.planting[pair]
        best.litres[planting] = found.litres[pair]
        best.visits[planting] = found.visits[pair]
        best.drunk_share[planting] = found.drunk_share[pair]
        best.schedule[planting] = pairs.schedule[pair]
    return best
