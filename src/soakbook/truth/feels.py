"""The ensemble of a record, open and squared up by feels that are made of its own readings.

All runs of a record go side by side: row 0 without feels, then one for each rhythm of feels and each hand.
Draws and weather errors are those of a garden's bed, seeded by the record's name; the update is the product's.
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


class Ensemble(NamedTuple):
    """Bands of 90 per cent and middles of every run, each evening; shape (run, day)."""

    low: Floats
    middle: Floats
    high: Floats
    theta_low: Floats
    """Of the open run, in m3/m3; shape (day,)."""
    theta_high: Floats


def run_ensemble(
    key: str,
    days: Sequence[date],
    forcing: Forcing,
    zone: Plain,
    runs: Sequence[Feels],
    members: int = MEMBERS,
) -> Ensemble:
    """A record's members, run by run through all its days.

    Parameters
    ----------
    key : str
        The record's; its draws hang on it alone.
    days, forcing : sequence of date, Forcing
        The days and what drives them.
    zone : Plain
        Its root zone, nothing drawn.
    runs : sequence of mapping
        The feels of each run; an empty one stays open. The first is the open one.
    members : int
        Length of the ensemble, member 0 undrawn.

    Returns
    -------
    Ensemble
        Wetness, the store over its capacity, after the feels of the evening.
    """
    wet = set(np.flatnonzero(forcing.rain_mm > 0).tolist())
    errors = daily_errors([f"truth {key}"], days[0], len(days), members, wet)
    lanes = _Lanes(key, zone, len(runs), members)
    bands = np.empty((3, len(runs), len(days)))
    thetas = np.empty((2, len(days)))
    peak = max(float(forcing.kcb.max()), 1e-9)
    for row, day in enumerate(days):
        if forcing.anew[row]:
            lanes.begin()
        sky = lanes.sky(forcing, errors, row)
        lanes.step(sky, float(forcing.kcb[row]) / peak, float(forcing.ground_cover[row]))
        felt = [run for run, feels in enumerate(runs) if row in feels]
        if felt:
            lanes.feel(np.array(felt), [runs[run][row] for run in felt], day)
        bands[:, :, row] = ranks(lanes.wetness(), BAND)
        thetas[:, row] = ranks(lanes.open_theta(), (BAND[0], BAND[2]))
    low, middle, high = bands
    return Ensemble(low, middle, high, *thetas)


class _Lanes:
    """The members of all runs between two days; arrays are (run, member)."""

    def __init__(self, key: str, zone: Plain, runs: int, members: int) -> None:
        self._key = key
        self._zone = zone
        self._depth_mm = 1000 * float(np.asarray(zone.plot.bed_depth_m))
        drawn = log_multipliers(f"truth {key}", OF_BED, members)
        drawn |= log_multipliers(f"truth {key} cover", OF_PLANTING, members)
        self._logs = {name: np.tile(logs, (runs, 1)) for name, logs in drawn.items()}
        order = [(*OF_BED, *OF_PLANTING).index(name) for name in LEARNT]
        least, most = bounds(side_by_side([zone]))
        self._least, self._most = least[:, order], most[:, order]
        self._et0_moved = np.zeros((runs, members))
        self._believe()
        self.begin()

    def begin(self) -> None:
        """Begin the run: what was learnt of the soil stays."""
        self._stores = first_stores(self._capacity_l)
        self._et0_moved[:] = 0.0

    def sky(self, forcing: Forcing, errors: DailyErrors, row: int) -> Sky:
        """The members' weather of a day."""
        self._et0_moved *= ET0_MEMORY
        rain = forcing.rain_mm[row] * errors.rain_factor[row] if row in errors.rain_factor else 0.0
        hours = errors.unsaid_rain_hours.get(row, 0.0)
        factor = errors.et0_factor[row]
        self._et0_drawn = np.log(factor[0])
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

    def open_theta(self) -> Floats:
        """Mean water of the root zone in the run without feels, (member,)."""
        store = np.broadcast_to(self._stores.reach_store_l, self._capacity_l.shape)[0]
        return np.asarray(self._zone.wilting_point + store / self._depth_mm)

    def feel(
        self, runs: np.ndarray[tuple[int], np.dtype[np.intp]], said: Sequence[FeltClass], day: date
    ) -> None:
        """Square some runs up by what a hand said that day."""
        readings = [reading_of(felt) for felt in said]
        reading = Reading(*(np.array(field) for field in zip(*readings, strict=True)))
        members = self._et0_moved.shape[1]
        normals = np.array(
            [felt_normals(f"truth {self._key} {run}", day, 0, members)[1] for run in runs]
        )
        wetness = np.broadcast_to(self.wetness(), self._et0_moved.shape)[runs]
        et0_error = self._et0_drawn + self._et0_moved[runs]
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
