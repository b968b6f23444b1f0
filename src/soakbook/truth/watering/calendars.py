"""Fixed schedules: the printed calendars as they stand, and those whose dose is fitted in hindsight.

All were read at second hand in the project's notes, not in the originals. What a calendar leaves open is said where
it is settled here.
"""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import Planting
from soakbook.reckoning.advice.dose import BOWL_MADE_DEPTH_M
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.plots import BOWL_IN_BALLS
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.trial import Trial

SHARE_OF_POT = 0.29
"""University of Minnesota Extension, "Watering newly planted trees and shrubs": a quarter to a third of the pot."""

TREE_L = 7.0
"""The same page gives trees litres by the stem's width; 7 L for the stem of a tree out of a 45 L pot."""

COUNCIL_TREE_L = 20.0
WARDEN_TREE_L = 10.0
UF_WEEKS = 20
ROUNDING_MM = 1e-6

Gap = Callable[[int], int]
"""Days to the next visit, from the days since planting on which this one falls."""


class Rainfall(NamedTuple):
    """A rule of thumb: leave off after so much rain at the gauge in so many days."""

    mm: float
    days: int


class Calendar(NamedTuple):
    """A published calendar as it stands."""

    key: str
    words: str
    gap: Gap
    litres: Callable[[Planting], float]
    ends_after: int | None = None
    leaves_off: Rainfall | None = None


def every(days: int) -> Gap:
    """A visit every so many days, the first so many days after planting."""
    return lambda _: days


def umn_gap(day: int) -> int:
    """Daily in weeks 1 and 2, every third day in weeks 3 to 12, weekly after."""
    if day < 14:
        return 1
    return 3 if day < 84 else 7


def twice_a_week(day: int) -> int:
    """Three days, then four."""
    return 3 if day % 7 == 0 else 4


def umn_litres(planting: Planting) -> float:
    """A share of the pot, or of the dug ball; a tree by its stem."""
    return TREE_L if planting.plant_class == "tree" else SHARE_OF_POT * planting.ball_volume_l


def council_litres(planting: Planting) -> float:
    """A bowlful, 5 cm deep over two and a half ball areas; a tree 20 L."""
    return COUNCIL_TREE_L if planting.plant_class == "tree" else _bowl_l(planting)


def warden_litres(planting: Planting) -> float:
    """Ten litres a tree, which is half what councils give; so half a bowlful for the others. The half is ours."""
    return WARDEN_TREE_L if planting.plant_class == "tree" else _bowl_l(planting) / 2


NOTHING = Calendar("none", "no water", every(1), lambda _: 0.0)
UMN = Calendar("umn", "Minnesota calendar", umn_gap, umn_litres)
PUBLISHED = (
    NOTHING,
    UMN,
    UMN._replace(
        key="umn_rain", words="the same, left off after 25 mm in 7 days", leaves_off=Rainfall(25, 7)
    ),
    Calendar("uf", "Florida, 20 weeks", every(4), umn_litres, ends_after=7 * UF_WEEKS),
    Calendar("councils", "councils, weekly", every(7), council_litres),
    Calendar("wardens", "tree wardens, twice a week", twice_a_week, warden_litres),
)
"""University of Minnesota Extension; University of Florida IFAS, establishment trials: the same amount every fourth
day, for the 20 weeks after which shrubs need none; councils' planting conditions (weekly, 20 L a tree) and tree
wardens' pages (5-10 L twice a week, the upper end)."""

FITTED: tuple[tuple[str, Gap], ...] = (
    ("umn", umn_gap),
    ("daily", every(1)),
    ("every 2nd day", every(2)),
    ("every 3rd day", every(3)),
    ("weekly", every(7)),
)
"""Schedules whose dose is scaled to equal thirst."""

LEAVES_OFF: tuple[Rainfall | None, ...] = (
    None,
    Rainfall(5, 2),
    Rainfall(10, 3),
    Rainfall(25, 7),
)


def visit_days(
    gap: Gap, planted: int, days: Days, ends_after: int | None = None
) -> NDArray[np.bool_]:
    """The days a schedule calls on, shape (day,); nothing on the day of planting, when it was watered in."""
    called = np.zeros(len(days), bool)
    since = gap(0)
    while planted + since < len(days) and (ends_after is None or since <= ends_after):
        called[planted + since] = True
        since += gap(since)
    return called


def rained(days: Days, rule: Rainfall | None) -> NDArray[np.bool_]:
    """The mornings that a rule of thumb leaves off on: so much in the days before, today's rain not known yet."""
    if rule is None:
        return np.zeros(len(days), bool)
    before = np.concatenate(([0.0], np.cumsum(days.rain_mm)))  # up to each morning
    lately = before[:-1] - before[np.maximum(np.arange(len(days)) - rule.days, 0)]
    return np.asarray(lately >= rule.mm - ROUNDING_MM)


def calendar_soaks(calendar: Calendar, trials: tuple[Trial, ...], days: Days) -> Floats:
    """Litres a plant that a calendar gives, shape (day, planting)."""
    skipped = rained(days, calendar.leaves_off)
    return np.stack(
        [
            calendar.litres(trial.planting)
            * (visit_days(calendar.gap, int(planted), days, calendar.ends_after) & ~skipped)
            for trial, planted in zip(trials, days.planted, strict=True)
        ],
        axis=1,
    )


def _bowl_l(planting: Planting) -> float:
    ball_m2 = np.pi * (planting.ball_diameter_m / 2) ** 2
    return float(1000 * BOWL_IN_BALLS * ball_m2 * BOWL_MADE_DEPTH_M)
