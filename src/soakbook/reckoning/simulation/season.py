"""A garden's season laid out for the step: who is reckoned from when, on what parameters, under what sky."""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.jars import Share, measured_shares
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting, Uid
from soakbook.reckoning.physics.records import Ground, Hand, Plot, Sky
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.simulation.bed_cuts import BedCut, bed_cut_of
from soakbook.reckoning.simulation.beliefs import Beliefs, Plain, side_by_side
from soakbook.reckoning.simulation.cells import cells_m2, start_day
from soakbook.reckoning.simulation.drawing import drawn_beliefs, laid_out
from soakbook.reckoning.simulation.draws import (
    RAIN_HOURS_UNSAID,
    DailyErrors,
    Floats,
    daily_errors,
    future_numbers,
)
from soakbook.reckoning.simulation.futures import picked
from soakbook.reckoning.simulation.lanes import Rows, plain, rows_of
from soakbook.reckoning.simulation.leaf import LeafDays, leaf_days, leaf_fraction
from soakbook.reckoning.simulation.mulching import Laying, Mulch, layings_by_bed, mulch_on
from soakbook.reckoning.simulation.parting import believed_on, drawn_as
from soakbook.reckoning.simulation.plots import plain_of
from soakbook.reckoning.simulation.skies import Skies, Step, skies_of
from soakbook.reckoning.simulation.touches import Touch, touches_by_dawn
from soakbook.reckoning.simulation.watering import Given, given_by_step, hand_of

MEMBERS = 200
HORIZON_DAYS = 14

FURTHEST_DAYS = 21  # the last visit that is looked at, where people come seldom


class Season(NamedTuple):
    """Everything the steps of one garden need, plantings ordered by the day they start.

    Arrays have shape (planting, member); errors, by the day's row from `first` on, (bed, member).
    """

    pages: Pages
    morning: date
    members: int
    skies: Skies
    first: date
    plantings: tuple[Planting, ...]
    beds: tuple[Bed, ...]
    shares: tuple[Share | None, ...]
    """Of the rain, by bed, where jars have told it."""
    bed_index: NDArray[np.intp]
    starts: tuple[date, ...]
    plain: Plain
    beliefs: Beliefs
    plot: Plot
    """What the beliefs make of the plain parameters."""
    fixed: Fixed
    cuts: dict[tuple[int, int], tuple[Plot, Fixed]]
    """Parameters cut to some rows, kept because a season cuts the same rows every day."""
    bed_cuts: dict[tuple[int, int], BedCut]
    grounds: dict[tuple[date, int, int], Ground]
    """Mulch and leaf of days that were asked for: days ahead are asked for from several mornings."""
    errors: DailyErrors
    numbers: NDArray[np.intp]
    """Which of the forecast's futures each member goes with, (member,)."""
    given: Mapping[date, Mapping[Uid, Given]]
    layings: Mapping[Uid, tuple[Laying, ...]]
    leaf_days: LeafDays
    touches: Mapping[date, tuple[Touch, ...]]
    """Feels by the dawn they square up."""
    unreckoned: tuple[Planting, ...]
    crowded: Mapping[Uid, float]

    def bed_of(self, row: int) -> Bed:
        """The bed of the planting in a row."""
        return self.beds[int(self.bed_index[row])]

    @property
    def sight(self) -> date:
        """The day after the last evening that can be looked at."""
        return self.first + timedelta(days=self.errors.days)

    def active(self, day: date) -> int:
        """How many plantings, from the first row on, take part in the step of a day."""
        return bisect_right(self.starts, day)

    def parted(self, taken: Mapping[int, int]) -> "Season":
        """The season once rows have taken over from others: new row -> the row that it comes from."""
        beliefs = believed_on(self.beliefs, self.beds, self.bed_index, taken)
        plot, fixed = laid_out(self.plain, beliefs, self.bed_index)
        return self._replace(beliefs=beliefs, plot=plot, fixed=fixed, cuts={})

    def parameters(self, rows: slice) -> tuple[Plot, Fixed]:
        """Plot and what follows from it over some rows."""
        which = (rows.start, rows.stop)
        if which not in self.cuts:
            self.cuts[which] = rows_of(self.plot, rows), rows_of(self.fixed, rows)
        return self.cuts[which]

    def bed_cut(self, bed: int, count: int) -> BedCut:
        """One bed's plantings among the first `count` of the garden."""
        numbers = np.flatnonzero(self.bed_index[:count] == bed).tolist()
        which = bed, len(numbers)
        if which not in self.bed_cuts:
            self.bed_cuts[which] = bed_cut_of(
                self.beds[bed], numbers, self.plain, self.fixed, self.shares[bed]
            )
        return self.bed_cuts[which]

    def sky(self, day: date, rows: Rows) -> Sky:
        """Weather of a step over some rows."""
        return self.sky_of(self.skies.on(day), rows)

    def sky_of(self, step: Step, rows: Rows) -> Sky:
        """Weather of a step, or of its first hours, over some rows."""
        index = (step.day - self.first).days
        beds = self.bed_index[rows]
        future = None if step.future is None else picked(self.numbers, step.future)
        rain = step.rain_mm if future is None else step.rain_mm + future.rain_mm
        raining = bool(np.any(rain))
        hours: Floats | float = RAIN_HOURS_UNSAID  # for water thrown over the mulch on a dry day
        if raining:
            unsaid = self.errors.unsaid_rain_hours[index][beds]
            hours = step.rain_hours(unsaid)
            if future is not None and step.pieces:
                hours = hours + unsaid * (future.rain_mm > 0)
        thirst = step.et0_mm if future is None else future.et0_mm
        return Sky(
            rain_mm=rain * self.errors.rain_factor[index][beds] if raining else 0.0,
            et0_mm=thirst * self._et0_factor(step.day, beds),
            rain_hours=hours,
            soil_warmth_c=step.soil_warmth_c,
            kc_max=step.kc_max,
        )

    def et0_mm(self, day: date, rows: Rows) -> Floats:
        """That of `sky`, for who wants nothing else."""
        step = self.skies.on(day)
        thirst = step.et0_mm if step.future is None else picked(self.numbers, step.future).et0_mm
        found: Floats = thirst * self._et0_factor(day, self.bed_index[rows])
        return found

    def _et0_factor(self, day: date, beds: NDArray[np.intp]) -> Floats:
        """What members make of ET0, (row, member): the error drawn, and how far feels have moved it."""
        factor: Floats = self.errors.et0_factor[(day - self.first).days][beds]
        moved = self.beliefs.et0_moved(day)
        return factor if moved is None else factor * np.exp(moved)[beds]

    def hand(self, day: date, rows: slice) -> Hand:
        """What was given in a step, with the members' doubt about it."""
        given = self.given.get(day)
        if not given:
            return Hand(0.0, 1.0, 1.0, 0.0, 1.0)
        return hand_of(
            [given.get(one.uid) for one in self.plantings[rows]],
            self.plantings[rows],
            day,
            self.members,
        )

    def ground(self, day: date, rows: slice) -> Ground:
        """Mulch and leaf on a day."""
        which = (day, rows.start, rows.stop)
        if which not in self.grounds:
            self.grounds[which] = self.ground_under(day, self.plantings[rows])
        return self.grounds[which]

    def ground_under(self, day: date, plantings: Sequence[Planting]) -> Ground:
        """Mulch and leaf on a day for some plantings."""
        mulches = {
            uid: mulch_on(day, self.layings.get(uid, ()))
            for uid in {one.bed_uid for one in plantings}
        }
        laid: list[Mulch] = [mulches[one.bed_uid] for one in plantings]
        columns = (
            [mulch.capacity_mm for mulch in laid],
            [mulch.cover_fraction for mulch in laid],
            [mulch.evaporation_factor for mulch in laid],
            [leaf_fraction(one, day, self.leaf_days) for one in plantings],
        )
        return Ground(*np.array(columns, np.float64)[:, :, np.newaxis])


def season_of(
    pages: Pages, morning: date, members: int = MEMBERS, ahead_days: int = FURTHEST_DAYS
) -> Season | None:
    """The season of a garden up to a morning, or None when nothing in it can be reckoned.

    Parameters
    ----------
    pages : Pages
        The book, already cut to what may be known on that morning.
    morning : date
        The first day not yet run.
    members : int
        Length of the ensemble.
    ahead_days : int
        How many days from the morning on may be asked for.
    """
    skies = skies_of(pages, morning)
    if skies is None:
        return None
    due = [
        (start_day(one, skies.first), one) for one in pages.plantings if one.here_from <= morning
    ]
    begun = [(start, one) for start, one in due if start is not None]
    placed = sorted(begun, key=lambda both: (both[0], both[1].uid))
    if not placed:
        return None
    plantings, starts = tuple(one for _, one in placed), tuple(start for start, _ in placed)
    beds = tuple(bed for bed in pages.beds if any(one.bed_uid == bed.uid for one in plantings))
    by_uid = {bed.uid: index for index, bed in enumerate(beds)}
    cells, crowded = cells_m2(pages)
    shares = measured_shares(beds, pages.entries)
    bed_index = np.array([by_uid[one.bed_uid] for one in plantings])
    plains = side_by_side(
        [
            plain_of(beds[index], one, cells[one.uid], shares[index])
            for one, index in zip(plantings, bed_index, strict=True)
        ]
    )
    beliefs = drawn_beliefs(beds, shares, plantings, members)
    plot, fixed = laid_out(plains, beliefs, bed_index)
    first = starts[0]
    begins = {
        bed.uid: min(start for start, one in placed if one.bed_uid == bed.uid) for bed in beds
    }
    days = (morning - first).days + ahead_days
    bowls = {one.uid: plain(fixed.bowl_m2, row) for row, one in enumerate(plantings)}
    return Season(
        pages=pages,
        morning=morning,
        members=members,
        skies=skies,
        first=first,
        plantings=plantings,
        beds=beds,
        shares=shares,
        bed_index=bed_index,
        starts=starts,
        plain=plains,
        beliefs=beliefs,
        plot=plot,
        fixed=fixed,
        cuts={},
        bed_cuts={},
        grounds={},
        numbers=future_numbers(skies.issue, members),
        errors=daily_errors(begins, first, days, members, drawn_as(pages.beds)),
        given=given_by_step(pages, plantings, bowls, morning),
        layings=layings_by_bed(pages.entries, ZoneInfo(pages.garden.timezone)),
        leaf_days=leaf_days(skies, pages.garden.latitude_deg < 0),
        touches=touches_by_dawn(pages, plantings, starts),
        unreckoned=tuple(one for start, one in due if start is None),
        crowded=crowded,
    )


def season_at(
    season: Season,
    pages: Pages,
    morning: date,
    touches: Mapping[date, tuple[Touch, ...]] | None = None,
    since: date | None = None,
) -> Season:
    """The same garden asked on another morning, or with other entries; who is reckoned stays as it was.

    Feels square up the dawns that `touches` says, where it is given, else those that the pages say. What was felt
    and given for steps before `since`, where it is given, is not gone through again: the season is run on from there.
    """
    skies = skies_of(pages, morning, season.morning)
    if skies is None:
        return season
    bowls = {one.uid: plain(season.fixed.bowl_m2, row) for row, one in enumerate(season.plantings)}
    given = given_by_step(pages, season.plantings, bowls, morning, since)
    if touches is None:
        touches = touches_by_dawn(pages, season.plantings, season.starts, since)
    numbers = season.numbers
    if skies.issue != season.skies.issue:
        numbers = future_numbers(skies.issue, season.members)
    return season._replace(
        pages=pages,
        morning=morning,
        skies=skies,
        numbers=numbers,
        given=given,
        touches=touches,
    )
