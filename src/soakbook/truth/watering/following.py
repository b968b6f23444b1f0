"""A season in which every soak the rule asks for is given, fingers feeling now and then."""

from typing import NamedTuple

import numpy as np

from soakbook.garden.records import Readiness
from soakbook.reckoning.advice.due import PATIENCE
from soakbook.reckoning.simulation.draws import ET0_MEMORY, Floats
from soakbook.truth.watering.crowds import Crowd, Rows, step_on
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.fingers import classes_felt, taught
from soakbook.truth.watering.minds import minds_of
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


class Book(NamedTuple):
    """Plantings as somebody has entered them, and the members drawn for them."""

    trials: tuple[Trial, ...]
    crowd: Crowd  # a row for each planting; where nothing is hidden, the truths themselves


def followed(truth: Crowd, book: Book, days: Days, rule: Rule) -> Outcome:
    """What a season came to, shape (row of truth,).

    Parameters
    ----------
    truth : Crowd
        Rows with one member, the truths of each planting following one another.
    book : Book
    days : Days
    rule : Rule

    Notes
    -----
    Without fingers nothing is learnt of a truth, so all truths of a planting are given the same.
    """
    if rule.feel_every_days:
        return _felt(truth, book, days, rule, rule.feel_every_days)
    own = np.arange(truth.shape[0]) if rule.perfect else truth.planting
    now, stores, tally = reckoning_of(book.crowd), truth.start, Tally(truth, days)
    for day in range(len(days)):
        advised = soaks_advised(now, days, day, book.trials, PATIENCE[rule.readiness])
        given = advised[own]
        stores, flows = step_on(truth, days, day, stores, given)
        tally.add(day, given, flows)
        now = after_day(now, days, day, advised)
    return tally.outcome()


def _felt(truth: Crowd, book: Book, days: Days, rule: Rule, every: int) -> Outcome:
    """A season in which each truth teaches a reckoning of its own."""
    now = reckoning_of(book.crowd.take(truth.planting))
    minds = minds_of(book.trials, now.crowd.shape[1]).take(truth.planting)
    stores, tally = truth.start, Tally(truth, days)
    for day in range(len(days)):
        rows = _rows_to_feel(truth, days, day, every)
        if rows.size:
            found = classes_felt(truth, stores, book.trials, days, day)
            now, minds = taught(now, minds, rows, found, days, book.trials)
        given = soaks_advised(now, days, day, book.trials, PATIENCE[rule.readiness])
        stores, flows = step_on(truth, days, day, stores, given)
        tally.add(day, given, flows)
        now = after_day(now, days, day, given)
    return tally.outcome()


def _rows_to_feel(truth: Crowd, days: Days, day: int, every: int) -> Rows:
    since = day - days.planted[truth.planting]
    return np.flatnonzero((since > 0) & (since % every == 0))


def after_day(now: Reckoning, days: Days, day: int, soak_l: Floats) -> Reckoning:
    """The next morning's reckoning: what was asked for has been entered as given."""
    evening, _ = step_on(now.crowd, days, day, now.stores, soak_l, now.et0_shift())
    return now._replace(
        stores=evening,
        et0_moved=ET0_MEMORY * now.et0_moved,
        last_soak=np.where(soak_l > 0, day, now.last_soak),
    )
