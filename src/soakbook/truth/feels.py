"""The ensemble of a record, open and squared up by feels that are made of its own readings.

All runs of a record go side by side. Draws and weather errors are those of a garden's bed, and each hand has its
own, the same for every record: a record's name decides nothing, and luck averages out over the hands. The update is
the product's.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

import numpy as np

from soakbook.garden.records import FeltClass
from soakbook.reckoning.physics.records import Plot, Sky
from soakbook.reckoning.physics.settling import Fixed, settle
from soakbook.reckoning.simulation.bands import ranks
from soakbook.reckoning.simulation.beliefs import (
    OF_BED,
    OF_PLANTING,
    Plain,
    believed,
    bounds,
    side_by_side,
)
from soakbook.reckoning.simulation.draws import (
    ET0_MEMORY,
    DailyErrors,
    Floats,
    daily_errors,
    felt_normals,
    log_multipliers,
)
from soakbook.reckoning.simulation.squaring import Reading, reading_of, squared_up
from soakbook.truth.bucket import Forcing, first_stores, one_day

MEMBERS = 200
BAND = (0.05, 0.5, 0.95)
LEARNT = ("aw", "kcb", "p", "exposure", "share")
"""What a feel teaches; without a ball the rest of the multipliers change nothing."""

Feels = Mapping[int, FeltClass]
"""Day's row -> what the hand says."""


class Handled(NamedTuple):
    """A run by one hand; draws hang on the hand, the hand's doubts on the name too."""

    hand: int
    name: str
    feels: Feels
    """None of them for an open run."""


class Ensemble(NamedTuple):
    """Bands of 90 per cent and middles of every run, each evening; shape (run, day)."""

    low: Floats
    middle: Floats
    high: Floats
    theta_low: Floats
    """In m3/m3."""
    theta_high: Floats


def run_ensemble(
    days: Sequence[date],
    forcing: Forcing,
    zone: Plain,
    runs: Sequence[Handled],
    members: int = MEMBERS,
) -> Ensemble:
    """A record's members, run by run through all its days.

    Parameters
    ----------
    days, forcing : sequence of date, Forcing
        The days and what drives them.
    zone : Plain
        Its root zone, nothing drawn.
    runs : sequence of Handled
        Whose hand, and what it feels.
    members : int
        Length of the ensemble, member 0 undrawn.

    Returns
    -------
    Ensemble
        Wetness, the store over its capacity, after the feels of the evening.
    """
    hands = range(1 + max(run.hand for run in runs))
    errors = daily_errors(
        dict.fromkeys(map(key_of_hand, hands), days[0]), days[0], len(days), members
    )
    lanes = _Lanes(zone, runs, members)
    bands, thetas = np.empty((3, len(runs), len(days))), np.empty((2, len(runs), len(days)))
    peak = max(float(forcing.kcb.max()), 1e-9)
    for row, day in enumerate(days):
        if forcing.anew[row]:
            lanes.begin()
        sky = lanes.sky(forcing, errors, row)
        lanes.step(sky, float(forcing.kcb[row]) / peak, float(forcing.ground_cover[row]))
        felt = [place for place, run in enumerate(runs) if row in run.feels]
        if felt:
            lanes.feel(np.array(felt), [runs[place].feels[row] for place in felt], day)
        bands[:, :, row] = ranks(lanes.wetness(), BAND)
        thetas[:, :, row] = ranks(lanes.theta(), (BAND[0], BAND[2]))
    low, middle, high = bands
    return Ensemble(low, middle, high, *thetas)


def key_of_hand(hand: int) -> str:
    """What the draws of a hand's runs, and its own errors, are seeded by."""
    return f"truth hand {hand}"


class _Lanes:
    """The members of all runs between two days; arrays are (run, member)."""

    def __init__(self, zone: Plain, runs: Sequence[Handled], members: int) -> None:
        self._zone = zone
        self._depth_mm = 1000 * float(np.asarray(zone.plot.bed_depth_m))
        self._hands = np.array([run.hand for run in runs])
        self._doubts = [f"{key_of_hand(run.hand)} {run.name}" for run in runs]
        drawn = [_drawn(run.hand, members) for run in runs]
        self._logs = {name: np.stack([logs[name] for logs in drawn]) for name in drawn[0]}
        order = [(*OF_BED, *OF_PLANTING).index(name) for name in LEARNT]
        least, most = bounds(side_by_side([zone]))
        self._least, self._most = least[:, order], most[:, order]
        self._et0_moved = np.zeros((len(runs), members))
        self._believe()
        self.begin()

    def begin(self) -> None:
        """Begin the run: what was learnt of the soil stays."""
        self._stores = first_stores(self._capacity_l)
        self._et0_moved[:] = 0.0

    def sky(self, forcing: Forcing, errors: DailyErrors, row: int) -> Sky:
        """The members' weather of a day."""
        self._et0_moved *= ET0_MEMORY
        wet = forcing.rain_mm[row] > 0
        rain = forcing.rain_mm[row] * errors.rain_factor[row][self._hands] if wet else 0.0
        hours = errors.unsaid_rain_hours[row][self._hands] if wet else 0.0
        factor = errors.et0_factor[row][self._hands]
        self._et0_drawn = np.log(factor)
        et0 = forcing.et0_mm[row] * factor * np.exp(self._et0_moved)
        return Sky(rain, et0, hours, 0.0, float(forcing.kc_max[row]))

    def step(self, sky: Sky, kcb_share: float, ground_cover: float) -> None:
        """Go on by a day."""
        self._stores, _ = one_day(
            sky, kcb_share, ground_cover, self._plot, self._fixed, self._stores
        )

    def wetness(self) -> Floats:
        """Store over capacity."""
        return np.asarray(self._stores.reach_store_l / self._capacity_l)

    def theta(self) -> Floats:
        """Mean water of the root zone, m3/m3."""
        store = np.broadcast_to(self._stores.reach_store_l, self._capacity_l.shape)
        return np.asarray(self._zone.wilting_point + store / self._depth_mm)

    def feel(
        self, runs: np.ndarray[tuple[int], np.dtype[np.intp]], said: Sequence[FeltClass], day: date
    ) -> None:
        """Square some runs up by what a hand said that day."""
        readings = [reading_of(felt) for felt in said]
        reading = Reading(*(np.array(field) for field in zip(*readings, strict=True)))
        members = self._et0_moved.shape[1]
        normals = np.array([felt_normals(self._doubts[run], day, 0, members)[1] for run in runs])
        wetness = np.broadcast_to(self.wetness(), self._et0_moved.shape)[runs]
        et0_error = self._et0_drawn[runs] + self._et0_moved[runs]
        rows = [
            *(self._logs[name][runs] for name in LEARNT),
            et0_error,
            wetness,
        ]
        floored = np.array([name == "wetness" for name in (*LEARNT, "et0", "wetness")])
        moved = squared_up(np.stack(rows, axis=1), wetness, reading, normals, floored)
        logs = np.minimum(np.maximum(moved[:, : len(LEARNT)], self._least), self._most)
        for n, name in enumerate(LEARNT):
            self._logs[name][runs] = logs[:, n]
        self._et0_moved[runs] += moved[:, -2] - et0_error
        self._believe()
        self._fill(runs, moved[:, -1])

    def _believe(self) -> None:
        """Parameters by what the members believe now."""
        self._plot: Plot = believed(self._zone, self._logs)
        self._fixed: Fixed = settle(self._plot)
        self._capacity_l = np.asarray(self._plot.available_fraction) * self._depth_mm

    def _fill(self, runs: np.ndarray[tuple[int], np.dtype[np.intp]], wetness: Floats) -> None:
        """Stores of the runs felt, from their wetness, between empty and full."""
        store = np.array(np.broadcast_to(self._stores.reach_store_l, self._capacity_l.shape))
        most = self._depth_mm * np.asarray(self._fixed.saturable_fraction)[runs]
        store[runs] = np.minimum(np.maximum(wetness * self._capacity_l[runs], 0.0), most)
        self._stores = self._stores._replace(reach_store_l=store)


def _drawn(hand: int, members: int) -> dict[str, Floats]:
    """Log multipliers of a hand's members."""
    key = key_of_hand(hand)
    return log_multipliers(key, OF_BED, members) | log_multipliers(
        f"{key} cover", OF_PLANTING, members
    )
