"""Rows that share one season: each a planting, with the parameters and the daily errors of its members.

A truth is a row with one member. What a rule believes is a row with many.
"""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import HandMethod
from soakbook.garden.tables.methods import METHODS
from soakbook.reckoning.physics.records import Flows, Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.physics.settling import Fixed, settle
from soakbook.reckoning.physics.step import next_day
from soakbook.reckoning.simulation.draws import (
    RAIN_HOURS_UNSAID,
    Floats,
    daily_errors,
    given_factors,
)
from soakbook.reckoning.simulation.lanes import full, plain, taken
from soakbook.reckoning.simulation.skies import Step
from soakbook.reckoning.simulation.start import starting_stores
from soakbook.reckoning.simulation.watering import aim_fraction
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.minds import minds_of
from soakbook.truth.watering.trial import Trial

METHOD: HandMethod = "lance"
EFFICIENCY = METHODS[METHOD].delivery_efficiency

Rows = NDArray[np.intp]
Record = TypeVar("Record", Plot, Fixed, Stores)


class Errors(NamedTuple):
    """What a day's weather and a soak were, for each that was measured or poured: by `source` row and member."""

    et0: Floats  # (day, source, member)
    rain: Mapping[int, Floats]  # day -> (source, member)
    rain_hours: Mapping[int, Floats]
    given: Floats  # (day, source, member)


class Crowd(NamedTuple):
    """Rows of plantings, (row, member)."""

    plot: Plot
    fixed: Fixed
    start: Stores
    planting: Rows  # which of the season's plantings a row is
    source: Rows  # which row of the errors is its own
    errors: Errors
    aim: Floats  # (row, 1)

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and members."""
        rows, members = np.shape(self.plot.cell_m2)
        return int(rows), int(members)

    def sky(self, day: int, step: Step, et0_shift: Floats | float = 1.0) -> Sky:
        """One day's weather, as each member has it."""
        rain: Number = 0.0
        hours: Number = RAIN_HOURS_UNSAID
        if step.rain_mm > 0:
            rain = step.rain_mm * self.errors.rain[day][self.source]
            hours = step.rain_hours(self.errors.rain_hours[day][self.source])
        et0 = step.et0_mm * self.errors.et0[day][self.source] * et0_shift
        return Sky(rain, et0, hours, step.soil_warmth_c, step.kc_max)

    def ground(self, days: Days, day: int) -> Ground:
        """One day's mulch and leaf."""
        return Ground(*(np.asarray(field)[self.planting] for field in days.ground[day]))

    def take(self, rows: Rows) -> "Crowd":
        """Some rows, or one row several times."""
        return self._replace(
            plot=taken(self.plot, rows),
            fixed=taken(self.fixed, rows),
            start=taken(self.start, rows),
            planting=self.planting[rows],
            source=self.source[rows],
            aim=self.aim[rows],
        )


def crowd_of(trials: Sequence[Trial], days: Days, members: int) -> Crowd:
    """One row for each planting, drawn from the spread of parameters as the product draws a book's members."""
    shape = (len(trials), members)
    plot = spread(minds_of(trials, members).plot(), shape)
    fixed = spread(settle(plot), shape)
    wet = np.flatnonzero(days.rain_mm > 0).tolist()
    drawn = daily_errors(
        dict.fromkeys((one.bed.uid for one in trials), days.first), days.first, len(days), members
    )
    calendar = [step.day for step in days.came]
    given = [[given_factors(one.planting.uid, day, members) for one in trials] for day in calendar]
    aims = [
        aim_fraction(one.planting, METHOD, plain(fixed.bowl_m2, row))
        for row, one in enumerate(trials)
    ]
    rows = np.arange(len(trials))
    return Crowd(
        plot=plot,
        fixed=fixed,
        start=_start(trials, plot, fixed),
        planting=rows,
        source=rows,
        errors=Errors(
            np.array([drawn.et0_factor[row] for row in range(len(days))]),
            {day: drawn.rain_factor[day] for day in wet},
            {day: drawn.unsaid_rain_hours[day] for day in wet},
            np.array(given),
        ),
        aim=np.array(aims)[:, np.newaxis],
    )


def singled(crowd: Crowd) -> Crowd:
    """Every member but the plain one in a row of its own: planting by planting, a row with one member."""
    rows, members = crowd.shape
    planting = np.repeat(crowd.planting, members - 1)

    def apart(values: Floats) -> Floats:
        return np.ascontiguousarray(
            values[..., 1:].reshape(*values.shape[:-2], rows * (members - 1), 1)
        )

    def record(one: Record) -> Record:
        fields: Any = (apart(np.broadcast_to(field, (rows, members))) for field in one)
        return type(one)(*fields)

    errors = crowd.errors
    return Crowd(
        record(crowd.plot),
        record(crowd.fixed),
        record(crowd.start),
        planting,
        np.arange(len(planting)),
        Errors(
            apart(errors.et0),
            {day: apart(one) for day, one in errors.rain.items()},
            {day: apart(one) for day, one in errors.rain_hours.items()},
            apart(errors.given),
        ),
        np.repeat(crowd.aim, members - 1, axis=0),
    )


def step_on(
    crowd: Crowd,
    days: Days,
    day: int,
    stores: Stores,
    soak_l: Floats,
    et0_shift: Floats | float = 1.0,
) -> tuple[Stores, Flows]:
    """The evening of a day and what moved, so much given; a planting not yet in the ground stays as it will start.

    Parameters
    ----------
    crowd : Crowd
    days : Days
    day : int
        The day's row.
    stores : Stores
        Of the evening before.
    soak_l : ndarray, shape (row,)
        Litres a plant at the nozzle, as they would be entered.
    et0_shift : ndarray, shape (row, member), or number
        Factor on the members' ET0, besides their own error.
    """
    poured = soak_l[:, np.newaxis] * crowd.errors.given[day][crowd.source]
    hand = Hand(poured, crowd.aim, EFFICIENCY, 0.0, 1.0)
    sky = crowd.sky(day, days.came[day], et0_shift)
    after, flows = next_day(sky, hand, crowd.ground(days, day), crowd.plot, crowd.fixed, stores)
    waiting = days.planted[crowd.planting] > day
    if waiting.any():
        after = either_rows(waiting, crowd.start, after)
    return after, flows


def spread(record: Record, shape: tuple[int, int]) -> Record:
    """A record with every field a whole block: numpy works through those fastest."""
    fields: Any = (np.array(np.broadcast_to(field, shape)) for field in record)
    return type(record)(*fields)


def either_rows(which: NDArray[np.bool_], these: Stores, those: Stores) -> Stores:
    """Stores of these rows where `which`, of those elsewhere."""
    column = which[:, np.newaxis]
    return Stores(*(np.where(column, one, other) for one, other in zip(these, those, strict=True)))


def _start(trials: Sequence[Trial], plot: Plot, fixed: Fixed) -> Stores:
    """As the product starts a planting, row by row."""
    members = np.shape(plot.cell_m2)[1]
    parts = []
    for row, one in enumerate(trials):
        only = np.array([row])
        roots = geometry(taken(plot, only), taken(fixed, only), np.zeros((1, 1)))
        parts.append(full(starting_stores(one.planting, roots), (1, members)))
    return Stores(*(np.concatenate(field) for field in zip(*parts, strict=True)))
