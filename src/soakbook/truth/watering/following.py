"""A season in which every soak the rule asks for is given, fingers feeling now and then."""

from typing import NamedTuple

import numpy as np

from soakbook.garden.records import Readiness
from soakbook.reckoning.advice.due import PATIENCE
from soakbook.reckoning.simulation.draws import ET0_MEMORY
from soakbook.truth.watering.crowds import Crowd, step_on
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.fingers import felt_by, squared_up
from soakbook.truth.watering.outcome import Outcome, Tally
from soakbook.truth.watering.rule import Reckoning, reckoning_of, soaks_advised
from soakbook.truth.watering.trial import Trial


class Rule(NamedTuple):
    """How the rule is followed."""

    key: str
    words: str
    readiness: Readiness = "keen"
    feel_every_days: int | None = None
    perfect: bool = False
    """Whether the reckoning is the truth itself."""
    wrong_soil: bool = False
    """Whether the book's soil is two classes off."""


def followed(
    truth: Crowd, believed: Crowd, days: Days, trials: tuple[Trial, ...], rule: Rule
) -> Outcome:
    """What a season came to, shape (row of truth,).

    Parameters
    ----------
    truth : Crowd
        Rows with one member, the truths of each planting following one another.
    believed : Crowd
        One row for each planting; the truth itself where the rule is perfect.
    days : Days
    trials : tuple of Trial
    rule : Rule

    Notes
    -----
    Without fingers nothing is learnt of a truth, so all truths of a planting are given the same.
    """
    of_truth = np.arange(truth.shape[0])
    if rule.feel_every_days:
        believed = believed.take(truth.planting)
    elif not rule.perfect:
        of_truth = truth.planting
    now, stores, tally = reckoning_of(believed), truth.start, Tally(truth, days)
    for day in range(len(days)):
        if rule.feel_every_days:
            rows = _felt_rows(truth, days, day, rule.feel_every_days)
            now = squared_up(now, rows, felt_by(truth, stores, trials, days, day), days, day)
        advised = soaks_advised(now, days, day, trials, PATIENCE[rule.readiness])
        given = advised[of_truth]
        stores, flows = step_on(truth, days, day, stores, given)
        tally.add(day, given, flows)
        now = _next(now, days, day, advised)
    return tally.outcome()


def _felt_rows(truth: Crowd, days: Days, day: int, every: int) -> np.ndarray:
    since = day - days.planted[truth.planting]
    return np.flatnonzero((since > 0) & (since % every == 0))


def _next(now: Reckoning, days: Days, day: int, soak_l: np.ndarray) -> Reckoning:
    """The next morning's reckoning: what was asked for has been entered as given."""
    evening, _ = step_on(now.crowd, days, day, now.stores, soak_l, now.et0_shift)
    return now._replace(
        stores=evening,
        et0_shift=now.et0_shift**ET0_MEMORY,
        last_soak=np.where(soak_l > 0, day, now.last_soak),
    )
