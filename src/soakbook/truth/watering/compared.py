"""One season compared: printed calendars, the rule in its variants, and fixed schedules at the rule's thirst."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.advice.calendars import PUBLISHED
from soakbook.truth.watering.calendars import calendar_soaks
from soakbook.truth.watering.crowds import Crowd, crowd_of, singled
from soakbook.truth.watering.days import Days, days_of
from soakbook.truth.watering.equal import GRACE, Aim, Ladder, Thriftiest, schedules_of
from soakbook.truth.watering.following import Book, Rule, followed
from soakbook.truth.watering.outcome import Outcome, outcome_of
from soakbook.truth.watering.trial import KINDS, Kind, Trial, drawn_as, trials
from soakbook.truth.watering.years import Season

TRUTHS = 16
MEMBERS = 100

RULES = (
    Rule("perfect", "perfect knowledge", perfect=True),
    Rule("no_feels", "no feels"),
    Rule("feel_3", "a feel every 3rd day", feel_every_days=3),
    Rule("feel_7", "a feel every 7th day", feel_every_days=7),
    Rule("fair_feel_7", "readiness fair, every 7th day", "fair", feel_every_days=7),
    Rule("lean_feel_3", "readiness lean, every 3rd day", "lean", feel_every_days=3),
    Rule("wrong", "soil two classes wrong, no feels", wrong_soil=True),
    Rule("wrong_feel_3", "the same, every 3rd day", feel_every_days=3, wrong_soil=True),
    Rule("wrong_feel_7", "the same, every 7th day", feel_every_days=7, wrong_soil=True),
)
AT_EQUAL_THIRST = ("perfect", "no_feels", "feel_3", "feel_7", "fair_feel_7", "lean_feel_3")


class Size(NamedTuple):
    """How much is drawn, and how far a season is run: all of it but in tests."""

    truths: int = TRUTHS
    members: int = MEMBERS
    days: int | None = None
    kinds: tuple[Kind, ...] = KINDS
    rules: tuple[Rule, ...] = RULES


WHOLE = Size()


class Opponents(NamedTuple):
    """The thriftiest of two fields of fixed schedules, chosen in hindsight."""

    fixed: Thriftiest
    after_rain: Thriftiest  # those that leave off after rain


class Compared(NamedTuple):
    """One season; outcomes are means over the truths, (planting,)."""

    season: Season
    rows: Mapping[str, Outcome]  # by the key of a calendar or a rule
    opponents: Mapping[str, Opponents]  # by the key of a rule


def compared(season: Season, size: Size = WHOLE) -> Compared:
    """One season watered in all the ways there are."""
    planted = trials(season, size.kinds)
    days = days_of(season, planted, size.days)
    truth = truths_of(planted, days, size.truths)
    rows = {}
    for calendar in PUBLISHED:
        soaks = np.repeat(calendar_soaks(calendar, planted, days), size.truths, axis=1)
        rows[calendar.key] = outcome_of(truth, days, soaks).by_case(size.truths)
    for rule in size.rules:
        book = (
            Book(planted, truth)
            if rule.perfect
            else book_of(planted, days, size.members, rule.wrong_soil)
        )
        rows[rule.key] = followed(truth, book, days, rule).by_case(size.truths)
    ladder = Ladder(truth, size.truths, days, schedules_of(planted, days))
    return Compared(season, rows, _opponents(ladder, rows, size))


def truths_of(planted: tuple[Trial, ...], days: Days, truths: int) -> Crowd:
    """Truths drawn from the spread of parameters, each a row: hidden from every rule but the perfect."""
    return singled(crowd_of([drawn_as(one, "truth") for one in planted], days, truths + 1))


def book_of(planted: tuple[Trial, ...], days: Days, members: int, wrong_soil: bool = False) -> Book:
    """The plantings as a book has them, with members of its own."""
    soils = [one.kind.thought if wrong_soil else None for one in planted]
    entered = [drawn_as(one, "book", soil) for one, soil in zip(planted, soils, strict=True)]
    return Book(tuple(entered), crowd_of(entered, days, members))


def _opponents(ladder: Ladder, rows: Mapping[str, Outcome], size: Size) -> Mapping[str, Opponents]:
    keys = [rule.key for rule in size.rules if rule.key in AT_EQUAL_THIRST]
    fields = (ladder.always, ~ladder.always)
    aims = [Aim(rows[key].drunk_share - GRACE, among) for key in keys for among in fields]
    found = iter(ladder.thriftiest(aims))
    return {key: Opponents(next(found), next(found)) for key in keys}
