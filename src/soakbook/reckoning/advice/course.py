"""A season's course: every step of a run kept as arrays of (day, planting), for who reviews it afterwards.

Water is that of the plain run, so that it adds up to the ledger; how sure it is, is read off the members: of the
wetness by day, of the flows by the span's end. Nothing is advised here, and nothing is summed up over beds.
"""

from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import Planting
from soakbook.reckoning.advice.held import Flags, WetGround
from soakbook.reckoning.advice.stages import (
    DRYING_MARGIN,
    bare_of,
    stage_numbers,
    state_numbers,
)
from soakbook.reckoning.physics.ledger import held_l
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.simulation.ahead import evening_before
from soakbook.reckoning.simulation.bands import mean_of, middle_of, ranks
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import grid
from soakbook.reckoning.simulation.living import Counts, living_by_day
from soakbook.reckoning.simulation.run import Dawn, Watcher, run
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.sodden import sodden
from soakbook.reckoning.simulation.touches import Squared

FLOWS = (
    "rain_l",
    "soak_l",
    "given_lost_l",
    "transpired_l",
    "soil_evaporated_l",
    "mulch_evaporated_l",
    "drained_l",
    "run_off_l",
    "asked_l",
    "intake_mm",
)
"""Fields of `Flows` that are kept day by day."""

WENT = (
    "transpired_l",
    "soil_evaporated_l",
    "mulch_evaporated_l",
    "drained_l",
    "run_off_l",
)
"""Those that are kept for every member, summed over the span."""

SHARES = (0.1, 0.5, 0.9)


class Band(NamedTuple):
    """Where eight of ten members lie, and the middle one, each (day, planting)."""

    p10: Floats
    p50: Floats
    p90: Floats


@dataclass(frozen=True, slots=True)
class Course:
    """What every planting went through, day by day from `first` on; NaN, or 0 in counts, where it was not there.

    Litres are of one plant, in the plain run. A day's flows are those of its step, from 17:00 of the day before to
    17:00 of its own; its wetness is that of the evening they lead to, what was felt by the next morning gone in.
    """

    season: Season
    """As the last dawn leaves it, feels gone in."""
    first: date
    standing: Counts
    """(day + 1, planting): living plants on the morning of each day, the one after the last included; none before
    a planting is reckoned."""
    opening_l: Floats
    """(day, planting): what mulch, ball and soil of a cell held on the morning, feels of that dawn gone in."""
    closing_l: Floats
    """(day, planting): the same on the next morning."""
    squared_l: Floats
    """(day, planting): how much of the difference feels of that next dawn have brought (above 0) or taken."""
    flows: dict[str, Floats]
    """`FLOWS`, each (day, planting)."""
    ball: Band
    """Of the ball's available water; NaN for bare roots."""
    bed: Band
    stage: NDArray[np.int8]
    """Numbers into `stages.STAGES`, (day, planting)."""
    states: dict[str, NDArray[np.int8]]
    """Of `lead`, `ball` and `bed`: numbers into `stages.STATES`, (day, planting)."""
    wanting_share: Floats
    """Members whose leading store was wanting or parched, 0-1, (day, planting)."""
    held: Flags
    """Whether the ground was too wet for water on the morning, by most members, (day, planting)."""
    dry_bed_days: Floats
    """Days on which a leading store in a bed was wanting or parched, (bed, member)."""
    went_l: dict[str, Floats]
    """`WENT` over the span times the plants that stood, (planting, member)."""
    squared: tuple[Squared, ...]
    """What every feel of the run has changed, oldest first."""

    @property
    def plantings(self) -> tuple[Planting, ...]:
        """In the order of the arrays."""
        return self.season.plantings

    @property
    def days(self) -> int:
        """How many."""
        return len(self.opening_l)

    def here(self) -> NDArray[np.bool_]:
        """Which plantings were reckoned in the step of which day, and had a plant left, (day, planting)."""
        return np.asarray(~np.isnan(self.opening_l) & (self.standing[:-1] > 0))


def course_of(season: Season, first: date, beside: Watcher | None = None) -> Course:
    """The course of a season from a day to its morning.

    Parameters
    ----------
    season : Season
        Up to the morning after the last day.
    first : date
        The first day that is kept; where the season is younger, its own first.
    beside : callable, optional
        Told every dawn, too, of days that are not kept as well.

    Raises
    ------
    LedgerError
        When a day's water does not add up to 1e-9 mm.
    """
    keeper = _Keeper(season, max(first, season.first))

    def watch(dawn: Dawn) -> None:
        keeper.see(dawn)
        if beside is not None:
            beside(dawn)

    run(season, watch=watch)
    return keeper.course()


class _Keeper:
    """Told every dawn of a run."""

    def __init__(self, season: Season, first: date) -> None:
        self._first = first
        self._days = max(0, (season.morning - first).days)
        shape = self._days, len(season.plantings)
        self._shape = shape
        self._season, self._squared = season, ()  # type: Season, tuple[Squared, ...]
        self._standing = living_by_day(
            season.pages, season.plantings, season.starts, first, self._days + 1
        )
        self._ground = WetGround(season.pages)
        self._bare = bare_of(season.plantings)
        self._opening, self._closing, self._moved, self._share = (_unknown(shape) for _ in range(4))
        self._flows = {name: _unknown(shape) for name in FLOWS}
        self._bands = [[_unknown(shape) for _ in SHARES] for _ in range(2)]
        self._stage = np.zeros(shape, np.int8)
        self._states = {name: np.zeros(shape, np.int8) for name in ("lead", "ball", "bed")}
        self._held = np.zeros(shape, bool)
        self._dry = np.zeros((len(season.beds), season.members))
        self._went = {name: np.zeros((shape[1], season.members)) for name in WENT}

    def see(self, dawn: Dawn) -> None:
        """Keep the step that a dawn comes out of, and how the day of the dawn opens."""
        self._season, self._squared = dawn.season, dawn.squared
        day = (dawn.day - self._first).days
        plot, _ = dawn.season.parameters(slice(0, dawn.size))
        held = grid(held_l(plot.cell_m2, dawn.stores), (dawn.size, dawn.season.members))[:, 0]
        if day >= 1 and dawn.flows is not None:
            self._keep(day - 1, dawn, held)
        if 0 <= day < self._days:
            self._opening[day, : dawn.size] = held
            self._held[day, : dawn.size] = self._ground.on(dawn)

    def _keep(self, day: int, dawn: Dawn, held: Floats) -> None:
        flows = dawn.flows
        assert flows is not None
        there = int(np.shape(flows.asked_l)[0])
        cut = (day, slice(0, there))
        members = (there, dawn.season.members)
        self._closing[cut] = held[:there]
        self._moved[cut] = dawn.corrected_l[:there, 0]
        for name, kept in self._flows.items():
            kept[cut] = grid(getattr(flows, name), members)[:, 0]
        standing = self._standing[day, :there, np.newaxis]
        for name, total in self._went.items():
            total[:there] += standing * grid(getattr(flows, name), members)
        self._keep_wetness(cut, dawn, there)

    def _keep_wetness(self, cut: tuple[int, slice], dawn: Dawn, there: int) -> None:
        """How the evening left every planting that was there by day."""
        season, rows = dawn.season, slice(0, there)
        evening = evening_before(dawn)
        plot, fixed = season.parameters(slice(0, dawn.size))
        roots = geometry(plot, fixed, dawn.stores.warm_days)
        wet = evening.wetness
        lead_short = wet.lead < wet.lead_limit + DRYING_MARGIN
        self._share[cut] = mean_of(lead_short[rows].astype(np.float64))
        full = sodden(dawn.stores, roots)[rows]
        too_wet = mean_of(full) > 0.5
        living = self._standing[cut][:, np.newaxis] > 0
        self._count_dry_beds(season, lead_short[rows] & (full == 0) & living)
        bands = [ranks(wet.ball[rows], SHARES), ranks(wet.bed[rows], SHARES)]
        for kept, found in zip(self._bands, bands, strict=True):
            for one, values in zip(kept, found, strict=True):
                one[cut] = np.maximum(0.0, values)  # a store may stand a rounding below nothing
        bare = self._bare[rows, 0]
        for one in self._bands[0]:
            one[cut][bare] = np.nan
        stores = {
            "lead": (middle_of(wet.lead[rows]), wet.lead_limit),
            "ball": (bands[0][1], wet.ball_limit),
            "bed": (bands[1][1], wet.bed_limit),
        }
        for name, (wetness, limit) in stores.items():
            self._states[name][cut] = state_numbers(wetness, middle_of(limit[rows]), too_wet)
        numbers = stage_numbers(
            self._bare[: dawn.size], plot, fixed, np.asarray(dawn.stores.warm_days)
        )
        self._stage[cut] = middle_of(numbers[rows]).astype(np.int8)

    def _count_dry_beds(self, season: Season, dry: Flags) -> None:
        """A bed is dry on a day, for a member, when any of its plantings is."""
        bed_of = season.bed_index[: len(dry)]
        order = np.argsort(bed_of, kind="stable")
        begins = np.flatnonzero(np.diff(bed_of[order], prepend=-1))
        self._dry[bed_of[order[begins]]] += np.logical_or.reduceat(dry[order], begins, axis=0)

    def course(self) -> Course:
        """What was kept."""
        return Course(
            season=self._season,
            first=self._first,
            standing=self._standing,
            opening_l=self._opening,
            closing_l=self._closing,
            squared_l=self._moved,
            flows=self._flows,
            ball=Band(*self._bands[0]),
            bed=Band(*self._bands[1]),
            stage=self._stage,
            states=self._states,
            wanting_share=self._share,
            held=self._held,
            dry_bed_days=self._dry,
            went_l=self._went,
            squared=self._squared,
        )


def _unknown(shape: tuple[int, int]) -> Floats:
    return np.full(shape, np.nan)
