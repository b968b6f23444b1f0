"""Where a plant stands on its way out of the ball, by reckoned roots, and how its stores are called."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import Planting
from soakbook.reckoning.advice.report import Stage, State
from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.physics.roots import canopy_m2, geometry, warm_days_of
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.simulation.bands import middle_of
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import plain_columns
from soakbook.reckoning.simulation.season import Season

SETTLED_ROOT_M = 0.02
BARE_KNIT_ROOT_M = 0.10
KNIT_BALL_SHARE = 0.33
OWN_FEET_CANOPIES = 1.5
OWN_FEET_WARM_DAYS = 200.0
LONGEST_LOOK_DAYS = 364
SOON_DAYS = 42  # ten days' warmth says nothing of a stage further off

STAGES: tuple[Stage, ...] = ("settling", "knitting", "rooting_out", "own_feet")
STATES: tuple[State, ...] = ("sodden", "holding", "drying", "wanting", "parched")

HOLDING_FROM = 0.70
DRYING_MARGIN = 0.05


def stage_numbers(
    bare: bool | NDArray[np.bool_], plot: Plot, fixed: Fixed, warm_days: Floats
) -> Floats:
    """The stage of each lane as a number into `STAGES`, the stages following one another.

    Parameters
    ----------
    bare : bool or ndarray, shape (planting, 1)
        Whether a planting is bare-rooted.
    plot, fixed : Plot, Fixed
    warm_days : ndarray, shape (planting, member)
        The growth clock.

    Notes
    -----
    Settling until roots stand 2 cm outside the ball (bare root: until the lag is over); knitting until the ball's
    share of the drinking falls below 0.33 (bare root: until roots have grown 10 cm); rooting out until the reach
    is 1.5 canopy radii, or all of the cell, and 200 warm days have passed. common practice, no source.
    """
    roots = geometry(plot, fixed, warm_days)
    settled = np.where(bare, warm_days >= plot.root_lag_days, roots.root_reach_m >= SETTLED_ROOT_M)
    grown_out = roots.root_reach_m - plot.root_start_m >= BARE_KNIT_ROOT_M
    knit = np.where(bare, grown_out, roots.ball_share_fraction < KNIT_BALL_SHARE)
    wide = OWN_FEET_CANOPIES * np.sqrt(canopy_m2(plot, fixed, warm_days) / np.pi)
    spread = roots.reach_radius_m >= np.minimum(wide, fixed.cell_radius_m)
    rooted = spread & (warm_days >= OWN_FEET_WARM_DAYS)
    crossed = settled & knit
    return np.asarray(settled.astype(np.float64) + crossed + (crossed & rooted))


def stages_of(numbers: Floats) -> list[Stage]:
    """The stage of each planting's middle member, from the (planting, member) of `stage_numbers`."""
    return [STAGES[int(number)] for number in middle_of(numbers)]


def coming_stages(
    season: Season, rows: slice, warm_days: Floats, look_days: int = LONGEST_LOOK_DAYS
) -> list[tuple[Stage, int] | None]:
    """The stage after this one and the days until it, if air stays as in the last ten days; None beyond `look_days`.

    It is that of the plain run.

    Parameters
    ----------
    season : Season
    rows : slice
        Of the plantings asked for.
    warm_days : ndarray, shape (planting,)
        Their growth clocks.
    look_days : int
        How far to look.
    """
    plot, fixed = plain_columns(season.plot, rows), plain_columns(season.fixed, rows)
    daily = float(warm_days_of(season.skies.ahead.soil_warmth_c))
    days = np.arange(look_days + 1, dtype=np.float64)
    clock = warm_days[:, np.newaxis] + daily * days
    numbers = stage_numbers(bare_of(season.plantings[rows]), plot, fixed, clock)
    found: list[tuple[Stage, int] | None] = []
    for of_one in numbers:
        later = np.flatnonzero(of_one > of_one[0])
        day = int(later[0]) if later.size else 0
        found.append((STAGES[int(of_one[day])], day) if later.size else None)
    return found


def coming_stage(
    season: Season, row: int, warm_days: float, look_days: int = LONGEST_LOOK_DAYS
) -> tuple[Stage, int] | None:
    """The same for one planting."""
    return coming_stages(season, slice(row, row + 1), np.array([warm_days]), look_days)[0]


def bare_of(plantings: Sequence[Planting]) -> NDArray[np.bool_]:
    """Which plantings are bare-rooted, (planting, 1)."""
    return np.array([[one.origin == "bare"] for one in plantings])


def state_of(wetness: float, limit: float, sodden: bool) -> State:
    """How a store is called, by the middle member's wetness and today's threshold.

    Parameters
    ----------
    wetness : float
        Store over capacity [-, >= 0].
    limit : float
        1 - p of today [0.2-0.9].
    sodden : bool
        Whether the cell is fuller than it can keep.
    """
    if sodden:
        return "sodden"
    if wetness >= max(HOLDING_FROM, limit + DRYING_MARGIN):
        return "holding"
    if wetness >= limit + DRYING_MARGIN:
        return "drying"
    return "wanting" if wetness >= 0.5 * limit else "parched"


def state_numbers(wetness: Floats, limit: Floats, sodden: NDArray[np.bool_]) -> NDArray[np.int8]:
    """`state_of` for many stores at once, as numbers into `STATES`, all of one shape; no number at all is parched."""
    drying = limit + DRYING_MARGIN
    falls = (
        sodden,
        wetness >= np.maximum(HOLDING_FROM, drying),
        wetness >= drying,
        wetness >= 0.5 * limit,
    )
    return np.select(falls, [0, 1, 2, 3], default=4).astype(np.int8)
