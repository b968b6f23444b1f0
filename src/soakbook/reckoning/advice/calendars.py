"""Published calendars of watering, as they stand: how often, how much a plant, when they leave off.

All were read at second hand in the project's notes, not in the originals. What a calendar leaves open is said where
it is settled here. What comes of following one is reckoned elsewhere.
"""

from collections.abc import Callable, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import Planting
from soakbook.reckoning.advice.dose import BOWL_MADE_DEPTH_M, water_in_l
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.plots import BOWL_IN_BALLS

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
    """A share of the pot, or of the dug ball; a tree by its stem; bare roots what puddled them in.

    No page has a dose for bare roots: theirs is ours.
    """
    if planting.origin == "bare":
        return water_in_l(planting)
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

WHOSE: Mapping[str, str] = {
    "none": "",
    "umn": "University of Minnesota Extension",
    "umn_rain": "the same, with a rule of thumb",
    "uf": "University of Florida IFAS, establishment trials",
    "councils": "councils' planting conditions",
    "wardens": "tree wardens' pages",
}
"""Where each was published, for a reader."""


def visit_days(
    gap: Gap, planted: int, days: int, ends_after: int | None = None
) -> NDArray[np.bool_]:
    """The days a calendar calls on, shape (day,); nothing on the day of planting, when it was watered in.

    Parameters
    ----------
    gap : callable
        Days to the next visit, from the days since planting.
    planted : int
        Row of the day of planting; below 0 before the first row.
    days : int
        How many rows there are.
    ends_after : int, optional
        Days since planting after which it calls no more.
    """
    called = np.zeros(days, bool)
    since = gap(0)
    while planted + since < days and (ends_after is None or since <= ends_after):
        if planted + since >= 0:
            called[planted + since] = True
        since += gap(since)
    return called


def rained(rain_mm: Floats, rule: Rainfall | None) -> NDArray[np.bool_]:
    """The mornings that a rule of thumb leaves off on: so much in the days before, today's rain not known yet.

    `rain_mm` is the gauge's, (day,).
    """
    if rule is None:
        return np.zeros(len(rain_mm), bool)
    before = np.concatenate(([0.0], np.cumsum(rain_mm)))  # up to each morning
    lately = before[:-1] - before[np.maximum(np.arange(len(rain_mm)) - rule.days, 0)]
    return np.asarray(lately >= rule.mm - ROUNDING_MM)


def _bowl_l(planting: Planting) -> float:
    if planting.origin == "bare":
        return water_in_l(planting)
    ball_m2 = np.pi * (planting.ball_diameter_m / 2) ** 2
    return float(1000 * BOWL_IN_BALLS * ball_m2 * BOWL_MADE_DEPTH_M)
