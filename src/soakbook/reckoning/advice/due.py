"""Which plantings are due, when the others will be, and what leaving them would risk."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import Readiness
from soakbook.reckoning.simulation.ahead import Evening, Wetness
from soakbook.reckoning.simulation.bands import middle_of

RISK = 0.35
PATIENCE: dict[Readiness, float] = {"keen": 1.0, "fair": 0.8, "lean": 0.6}
BALL_LEADS_FROM = 0.5
BALL_AT_LEAST = 0.3

Flags = NDArray[np.bool_]


class Prospect(NamedTuple):
    """What the coming days would do to one planting if nobody came."""

    share_due: float
    wanted_on: date | None
    last_safe: date | None
    can_wait: bool
    """Whether waiting for the next visit leaves the middle member at half its threshold or above."""
    half_passed_in: int
    """Days until the middle member falls below half its threshold; the horizon's length when it does not."""
    harm_share: float


def below(evening: Wetness, patience: float) -> Flags:
    """(40): members whose leading store, or whose small ball, has fallen below its limit; (planting, member)."""
    ball_low = (evening.ball_share > BALL_LEADS_FROM) & (evening.ball < patience * BALL_AT_LEAST)
    return (evening.lead < patience * evening.lead_limit) | ball_low


def prospects(
    evenings: Sequence[Evening], visits: Sequence[date], morning: date, patience: float
) -> tuple[Prospect, ...]:
    """The prospect of every planting.

    Parameters
    ----------
    evenings : sequence of Evening
        The evenings from the morning's own to the one before the last visit, nobody coming.
    visits : sequence of date
        For each morning from this one on, the next day somebody can come after it.
    morning : date
    patience : float
        Multiplies both thresholds of (40).

    Returns
    -------
    tuple of Prospect
        In the order of the plantings.
    """
    last = len(evenings) - 1
    until = [min((visit - morning).days - 1, last) for visit in visits]
    fallen = np.array([below(evening.wetness, patience) for evening in evenings])
    share = np.logical_or.accumulate(fallen).mean(axis=2)  # (day, planting)
    halves = [half_of(evening.wetness) for evening in evenings]
    middle_held = np.logical_and.accumulate(np.array([held for held, _ in halves]))
    harmed = np.logical_or.accumulate(np.array([low for _, low in halves])).mean(axis=2)
    return tuple(
        Prospect(
            share_due=float(share[until[0], row]),
            wanted_on=_first(morning, [share[end, row] > RISK for end in until]),
            last_safe=_last_safe(morning, [bool(middle_held[end, row]) for end in until]),
            can_wait=bool(middle_held[until[0], row]),
            half_passed_in=int(middle_held[:, row].sum()),
            harm_share=float(harmed[until[0], row]),
        )
        for row in range(share.shape[1])
    )


def half_of(evening: Wetness) -> tuple[Flags, Flags]:
    """Whether the middle member stands at half its threshold or above, and which members do not."""
    held = middle_of(evening.lead) >= 0.5 * middle_of(evening.lead_limit)
    return held, evening.lead < 0.5 * evening.lead_limit


def _first(morning: date, holds: Sequence[bool]) -> date | None:
    return next((morning + timedelta(days=n) for n, one in enumerate(holds) if one), None)


def _last_safe(morning: date, holds: Sequence[bool]) -> date | None:
    """The last morning of an unbroken run on which waiting is borne; None where there is none or no end in sight."""
    broken = _first(morning, [not one for one in holds])
    if broken is None or broken == morning:
        return None
    return broken - timedelta(days=1)
