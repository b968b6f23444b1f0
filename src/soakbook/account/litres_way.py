"""Where the water went: one season's litres, in and out, adding up to the ledger of the reckoning.

Rain and what was given mix in the soil, so no litre that was drunk is called the hand's or the rain's: the way is that
of all water on the plants' ground.
"""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
import pandas as pd

from soakbook.errors import InputError
from soakbook.reckoning.advice.course import Course
from soakbook.reckoning.simulation.bands import ranks

CLOSES_TO_L = 1e-6

CAME: Mapping[str, str] = {
    "held_first_l": "held at the start or given on the evening before, and brought with what was planted since",
    "rain_l": "rain on the plants' ground",
    "given_l": "given by hand",
    "squared_up_l": "set right by feels: more than reckoned",
}
WENT: Mapping[str, str] = {
    "drunk_l": "drunk by the plants",
    "soil_evaporated_l": "dried off the soil",
    "mulch_evaporated_l": "dried off the mulch",
    "drained_l": "drained past the roots",
    "run_off_l": "run off",
    "given_lost_l": "lost in giving: spray, splash, leaks",
    "elsewhere_l": "given where nothing is reckoned, or not yet taken up",
    "gone_l": "gone with plants that died or were moved",
    "squared_down_l": "set right by feels: less than reckoned",
    "held_last_l": "held by soil and balls at the end",
}

DOUBTED: Mapping[str, tuple[str, ...]] = {
    "drunk_l": ("transpired_l",),
    "soil_evaporated_l": ("soil_evaporated_l",),
    "mulch_evaporated_l": ("mulch_evaporated_l",),
    "drained_l": ("drained_l",),
    "run_off_l": ("run_off_l",),
}
"""What went, whose doubt is read off the members -> the flows it is made of."""


class LitresWay(NamedTuple):
    """Litres by name, `CAME` and `WENT`, each at least 0 and both with the same sum; and eight of ten sums of some."""

    came: Mapping[str, float]
    went: Mapping[str, float]
    likely: Mapping[str, tuple[float, float]]
    """Name -> a tenth of the members below, a tenth above [L]."""

    @property
    def total_l(self) -> float:
        """All that came."""
        return sum(self.came.values())


def way_of(
    days: pd.DataFrame,
    given_l: float,
    course: Course | None,
    rows: "slice | list[int]",
    evening_before_l: float = 0.0,
) -> LitresWay:
    """The way of the litres of some plantings.

    Parameters
    ----------
    days : DataFrame
        Of these plantings, as `days_frame` gives it.
    given_l : float
        What the log says they were given [L].
    course : Course or None
        From which the doubt is read off; None where nothing is reckoned.
    rows : slice or list of int
        Of the plantings in the course.
    evening_before_l : float
        Given after 17:00 on the day before the first, which that day's step takes up [L].

    Raises
    ------
    InputError
        The litres do not add up: the frame is not that of whole days.
    """
    sums = days.select_dtypes("number").sum()
    of_planting = days.groupby("planting_uid", observed=True)
    squared_l = float(sums["squared_l"])
    elsewhere_l = given_l + evening_before_l - float(sums["given_l"])
    # A part of a bed takes up what was given to the whole on the evening before they parted.
    brought_l = evening_before_l + max(0.0, -elsewhere_l)
    came = {
        "held_first_l": float(of_planting["opening_l"].first().sum()) + brought_l,
        "rain_l": float(sums["rain_l"]),
        "given_l": given_l,
        "squared_up_l": max(0.0, squared_l),
    }
    went = {name: float(sums[name]) for name in WENT if name in sums.index}
    went |= {
        "elsewhere_l": max(0.0, elsewhere_l),
        "squared_down_l": max(0.0, -squared_l),
        "held_last_l": float(of_planting["closing_l"].last().sum()),
    }
    gap_l = sum(came.values()) - sum(went.values())
    if not abs(gap_l) <= CLOSES_TO_L * max(1.0, sum(came.values()) / 1e6):
        raise InputError("days", f"{gap_l} L", "a frame of whole days, whose litres add up")
    return LitresWay(came, {name: went[name] for name in WENT}, _likely(course, rows))


def _likely(course: Course | None, rows: "slice | list[int]") -> Mapping[str, tuple[float, float]]:
    if course is None:
        return {}
    found = {}
    for name, flows in DOUBTED.items():
        members = np.sum([course.went_l[flow][rows].sum(axis=0) for flow in flows], axis=0)
        low, high = ranks(members, (0.1, 0.9))
        found[name] = (float(low), float(high))
    return found
