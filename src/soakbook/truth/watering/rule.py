"""The product's rule on rows of members: due by (40), dosed by (42), held back where soil is fuller than it can keep.

Only the laying out is done here. What decides is `reckoning.advice`: `below`, `need_of`, `floor_l`, `rewet_pour_l`,
and the limits they are read against. Doses are as reckoned, before they are rounded to what a hand can pour.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.advice.diary import DRY_CLASSES, FELT_HOLDS_DAYS, WET_CLASSES
from soakbook.reckoning.advice.dose import (
    REWET_POURS,
    Delivery,
    Need,
    floor_l,
    need_of,
    rewet_pour_l,
)
from soakbook.reckoning.advice.due import BALL_LEADS_FROM, RISK, below
from soakbook.reckoning.advice.stages import DRYING_MARGIN, stage_numbers, stages_of
from soakbook.reckoning.physics.drinking import Thresholds, thresholds
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Ground, Hand, Sky, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.step import next_day
from soakbook.reckoning.simulation.ahead import Standing, wetness_of
from soakbook.reckoning.simulation.bands import middle_of
from soakbook.reckoning.simulation.draws import ET0_MEMORY, Floats
from soakbook.reckoning.simulation.lanes import taken
from soakbook.reckoning.simulation.sodden import sodden
from soakbook.reckoning.simulation.start import CLASS_MIDS
from soakbook.truth.watering.crowds import EFFICIENCY, Crowd, Rows
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.trial import Trial

NO_HAND = Hand(0.0, 1.0, 1.0, 0.0, 1.0)
NEVER = -1
CLASSES = tuple(CLASS_MIDS)
"""Classes of wetness from dust to sour; a feel is a place among them."""

MIDS = np.array(list(CLASS_MIDS.values()))
DRY = np.array([one in DRY_CLASSES for one in CLASSES])
WET = np.array([one in WET_CLASSES for one in CLASSES])

Flags = NDArray[np.bool_]


class Felt(NamedTuple):
    """What fingers last found, each (row,): places in `CLASSES`, and the day, `NEVER` if none."""

    ball: Rows
    bed: Rows
    day: Rows


class Reckoning(NamedTuple):
    """What is believed of some rows on a morning: all that the rule has to go by, and nothing of the truth."""

    crowd: Crowd
    stores: Stores  # of the evening before
    et0_moved: Floats  # (row, member), what fingers added to the log error of that evening's ET0
    felt: Felt
    last_soak: Rows  # (row,) the day of it, `NEVER` if none

    def et0_shift(self) -> Floats:
        """The factor on today's ET0 that is left of it."""
        return np.asarray(np.exp(ET0_MEMORY * self.et0_moved))

    def take(self, rows: Rows) -> "Reckoning":
        """Some rows of it."""
        return Reckoning(
            self.crowd.take(rows),
            taken(self.stores, rows),
            self.et0_moved[rows],
            Felt(*(field[rows] for field in self.felt)),
            self.last_soak[rows],
        )


class Look(NamedTuple):
    """What decides beside (40), each (row,)."""

    held: Flags
    dry_ball: Flags
    felt_dry: Flags
    felt_wet: Flags
    short: Floats  # the least shortfall a finger found in a leading ball


def reckoning_of(crowd: Crowd) -> Reckoning:
    """What is believed before the first day."""
    never = np.full(crowd.shape[0], NEVER)
    return Reckoning(crowd, crowd.start, np.zeros(crowd.shape), Felt(never, never, never), never)


def soaks_advised(
    now: Reckoning, days: Days, day: int, trials: tuple[Trial, ...], patience: float
) -> Floats:
    """Litres a plant that the rule asks for on a morning, shape (row,).

    Parameters
    ----------
    now : Reckoning
    days : Days
    day : int
        The day's row.
    trials : tuple of Trial
        The season's plantings.
    patience : float
        Multiplies both thresholds of (40).

    Notes
    -----
    Somebody can come every day, so (40) asks for one evening. No rain is expected, ET0 as in the last ten days.
    """
    crowd = now.crowd
    roots = geometry(crowd.plot, crowd.fixed, now.stores.warm_days)
    wanted = _share_due(now, days, day, roots, patience) > RISK
    there = days.planted[crowd.planting] < day
    may_be_sodden = sodden(now.stores, roots).mean(axis=1) > 0.5
    rows = np.flatnonzero(there & (wanted | may_be_sodden | _felt_lately(now, day)))
    litres = np.zeros(crowd.shape[0])
    if rows.size:
        litres[rows] = _judged_l(now.take(rows), days, day, trials, wanted[rows])
    return litres


def _share_due(now: Reckoning, days: Days, day: int, roots: Geometry, patience: float) -> Floats:
    """(40): the share of members that would fall below their limits this evening, nobody coming."""
    crowd, ground = now.crowd, now.crowd.ground(days, day)
    sky = crowd.sky(day, days.expected[day], now.et0_shift())
    evening, _ = next_day(sky, NO_HAND, ground, crowd.plot, crowd.fixed, now.stores)
    holding = geometry(crowd.plot, crowd.fixed, evening.warm_days)
    wetness = wetness_of(evening, holding, roots, _limits(crowd, sky, ground), crowd.shape)
    return np.asarray(below(wetness, patience).mean(axis=1))


def _judged_l(
    now: Reckoning, days: Days, day: int, trials: tuple[Trial, ...], wanted: Flags
) -> Floats:
    """Litres for rows that are wanted, or were felt, or may be sodden."""
    crowd = now.crowd
    morning = _standing(now, days, day)
    look = _look(now, morning, day)
    need = need_of(
        crowd.plot,
        crowd.fixed,
        morning,
        Delivery(crowd.aim, np.full_like(crowd.aim, EFFICIENCY)),
        _column(look.short),
    )
    due = look.felt_dry | (wanted & ~look.felt_wet)
    litres = np.where(due & ~look.held, _dose_l(now, day, trials, need), 0.0)
    for row in np.flatnonzero(look.held & look.dry_ball):
        planting, aim = trials[crowd.planting[row]].planting, float(crowd.aim[row, 0])
        short = float(middle_of(need.ball_l[row]))
        litres[row] = REWET_POURS * rewet_pour_l(planting, short, aim, EFFICIENCY)
    return litres


def _standing(now: Reckoning, days: Days, day: int) -> Standing:
    """The morning as it stands: what stood too high overnight has drained."""
    crowd, ground = now.crowd, now.crowd.ground(days, day)
    sky = crowd.sky(day, days.expected[day], now.et0_shift())
    moist, received, roots = moisten(sky, NO_HAND, ground, crowd.plot, crowd.fixed, now.stores)
    wetness = wetness_of(moist, roots, roots, _limits(crowd, sky, ground), crowd.shape)
    return Standing(moist, roots, wetness, sodden(moist, roots), received)


def _look(now: Reckoning, morning: Standing, day: int) -> Look:
    """What reckoning and fingers say of holding back; a finger counts until the next soak, at most two days."""
    felt, wetness = now.felt, morning.wetness
    ball_leads = middle_of(wetness.ball_share) > BALL_LEADS_FROM
    lately = _felt_lately(now, day)
    since_soak = lately & (felt.day > now.last_soak)
    leading = np.where(ball_leads, felt.ball, felt.bed)
    felt_dry = since_soak & DRY[leading]
    soil_holds = middle_of(wetness.bed) > middle_of(wetness.bed_limit)
    ball_low = middle_of(wetness.ball) < middle_of(wetness.ball_limit) + DRYING_MARGIN
    return Look(
        held=(morning.sodden.mean(axis=1) > 0.5) | (lately & WET[felt.bed] & soil_holds),
        dry_ball=(since_soak & DRY[felt.ball]) | (ball_low & ~(lately & (felt.day == day))),
        felt_dry=felt_dry,
        felt_wet=since_soak & (felt.day == day) & WET[leading],
        short=np.where(felt_dry & ball_leads, 1 - MIDS[leading], 0.0),
    )


def _dose_l(now: Reckoning, day: int, trials: tuple[Trial, ...], need: Need) -> Floats:
    """(42) with its floor, the middle member's."""
    least = _column(_floors_l(now, day, trials))
    return middle_of(np.minimum(np.maximum(need.nozzle_l, least), np.maximum(need.room_l, least)))


def _floors_l(now: Reckoning, day: int, trials: tuple[Trial, ...]) -> Floats:
    """The least worth pouring, row by row. A planting decides its stages only where it is bare-rooted: none is."""
    crowd, warm_days = now.crowd, np.asarray(now.stores.warm_days)
    numbers = stage_numbers(trials[0].planting.origin == "bare", crowd.plot, crowd.fixed, warm_days)
    floors = np.empty(crowd.shape[0])
    for row, stage in enumerate(stages_of(numbers)):
        soaked = now.last_soak[row]
        hours = None if soaked == NEVER else 24.0 * (day - soaked)
        floors[row] = floor_l(trials[crowd.planting[row]].planting, stage, hours)
    return floors


def _limits(crowd: Crowd, sky: Sky, ground: Ground) -> Thresholds:
    kcb = crowd.plot.kcb * ground.leaf_fraction
    return thresholds(crowd.plot, kcb, sky.et0_mm * crowd.plot.exposure_factor)


def _felt_lately(now: Reckoning, day: int) -> Flags:
    return np.asarray((now.felt.day != NEVER) & (day - now.felt.day < FELT_HOLDS_DAYS))


def _column(values: Floats) -> Floats:
    return values[:, np.newaxis]
