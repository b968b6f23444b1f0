"""A short season for the tests of the water command: De Bilt 2018 to some day of summer, few plantings, few truths."""

from functools import cache
from pathlib import Path

from soakbook.truth.watering.compared import Size
from soakbook.truth.watering.days import Days, days_of
from soakbook.truth.watering.following import Rule
from soakbook.truth.watering.trial import KINDS, Trial, trials
from soakbook.truth.watering.years import Season, seasons

DATA = Path(__file__).parents[2] / "data"
ROSE, PERENNIAL = KINDS[1], KINDS[2]
UNTIL_20_JULY = 111  # days from 1 April
PERFECT = Rule("perfect", "perfect knowledge", perfect=True)
NO_FEELS = Rule("no_feels", "no feels")
WEEKLY = Rule("feel_7", "a feel every 7th day", feel_every_days=7)
SMALL = Size(
    truths=4,
    members=12,
    days=UNTIL_20_JULY,
    kinds=(ROSE, PERENNIAL),
    rules=(PERFECT, NO_FEELS, WEEKLY),
)


@cache
def dry_summer() -> Season:
    """De Bilt 2018, when no rain fell for 43 days from 15 June."""
    (season,), _ = seasons(DATA, ("debilt-2018",))
    return season


def planted() -> tuple[Trial, ...]:
    """A rose and a perennial."""
    return trials(dry_summer(), SMALL.kinds)


@cache
def days() -> Days:
    """Their days."""
    return days_of(dry_summer(), planted(), UNTIL_20_JULY)
