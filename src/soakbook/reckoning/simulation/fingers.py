"""Feels at work on a dawn: what the members believe and what their soils hold, before and after.

The update itself is `squaring.squared_up`; here stands what goes into it and where it is put back: log multipliers
of the bed and of the planting felt, the error of ET0, and the wetness of ball, reach and beyond. Other plantings
of the bed are moved with it, but for their balls.
"""

from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import FeltClass
from soakbook.reckoning.physics.drinking import thresholds
from soakbook.reckoning.physics.records import Number, Plot, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import Fixed, of_soil_and_roots
from soakbook.reckoning.physics.words import over
from soakbook.reckoning.simulation.bands import middle_of
from soakbook.reckoning.simulation.beliefs import (
    OF_BED,
    OF_PLANTING,
    UNCERTAIN,
    Plain,
    believed,
    bounded,
    by_name,
    plain_rows,
)
from soakbook.reckoning.simulation.draws import LOG_SD, Floats, felt_normals
from soakbook.reckoning.simulation.lanes import taken, with_rows
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.squaring import innovation, reading_of, squared_up
from soakbook.reckoning.simulation.touches import Squared, Store, Touch
from soakbook.reckoning.simulation.under_finger import moist_before

HANDS_BREADTH_M = 0.15
"""How far outside the ball the bed is felt: where roots stand closer, part of it is soil they have not reached."""


class _Soil(NamedTuple):
    """A bed on a dawn, its plantings in rows; arrays (planting, member) where nothing else is said."""

    rows: NDArray[np.intp]
    felt: int  # which of the rows
    plain: Plain
    of_bed: Floats  # log multipliers, (name, member)
    of_planting: Floats  # (planting, name, member)
    et0_drawn: Floats  # log error of the evening squared up, (member,)
    et0_moved: Floats  # what feels have added to it
    plot: Plot
    fixed: Fixed
    stores: Stores

    @property
    def roots(self) -> Geometry:
        """Where roots stand, and what the stores can hold there."""
        return geometry(self.plot, self.fixed, self.stores.warm_days)


class _Wet(NamedTuple):
    """Wetness of a bed's stores, (planting, member)."""

    ball: Floats
    reach: Floats
    beyond: Floats


def felt_at(
    season: Season, stores: Stores, day: date
) -> tuple[Season, Stores, tuple[Squared, ...]]:
    """Season and stores after the feels that square up a dawn.

    Parameters
    ----------
    season : Season
    stores : Stores
        Overnight, every field (planting, member), over the plantings that take part in the step of `day`.
    day : date
        The dawn's.

    Returns
    -------
    tuple of Season, Stores, tuple of Squared
        The same season and stores when nobody felt anything.
    """
    done: list[Squared] = []
    for touch in season.touches.get(day, ()):
        soil = _soil_of(season, stores, day, touch)
        felt: tuple[tuple[Store, FeltClass | None], ...] = (
            ("ball", touch.feel.ball),
            ("bed", touch.feel.bed),
        )
        for store, found in felt:
            if found is not None:
                soil, squared = _squared(season, soil, day, (touch, store, found))
                done.append(squared)
        season, stores = _put_back(season, stores, day, soil)
    return season, stores, tuple(done)


def _soil_of(season: Season, stores: Stores, day: date, touch: Touch) -> _Soil:
    bed = int(season.bed_index[touch.row])
    rows = np.flatnonzero(season.bed_index[: len(stores.warm_days)] == bed)  # type: ignore[arg-type]
    evening = day - timedelta(days=1)
    index = max((evening - season.first).days, 0)
    moved = season.beliefs.et0_moved(evening)
    drawn = np.log(season.errors.et0_factor[index, bed])
    return _Soil(
        rows=rows,
        felt=int(np.flatnonzero(rows == touch.row)[0]),
        plain=plain_rows(season.plain, rows),
        of_bed=season.beliefs.of_bed[bed],
        of_planting=season.beliefs.of_planting[rows],
        et0_drawn=drawn,
        et0_moved=np.zeros_like(drawn) if moved is None else moved[bed],
        plot=taken(season.plot, rows),
        fixed=taken(season.fixed, rows),
        stores=taken(stores, rows),
    )


def _squared(
    season: Season, soil: _Soil, day: date, feel: tuple[Touch, Store, FeltClass]
) -> tuple[_Soil, Squared]:
    """The bed after one store was felt, (44) and (45)."""
    touch, store, found = feel
    planting = season.plantings[touch.row]
    reading = reading_of(found, touch.feel.unsure)
    expected = _expected(season, soil, day, touch, store)
    normals = felt_normals(planting.uid, day, touch.number, season.members)
    quantities, floored = _quantities(soil, store)
    moved = squared_up(quantities, expected, reading, normals[0 if store == "ball" else 1], floored)
    after = _with(soil, moved)
    squared = Squared(
        day=day,
        feel_uid=touch.feel.uid,
        bed_uid=planting.bed_uid,
        planting_uid=planting.uid,
        store=store,
        felt=found,
        expected=float(middle_of(expected)),
        now=float(middle_of(_expected(season, after, day, touch, store))),
        limit=_limit(season, soil, day, store),
        innovation=innovation(expected, reading),
        moved_l=float(middle_of(_held_l(after, store) - _held_l(soil, store))),
        learned=_learned(soil, after),
    )
    return after, squared


def _expected(season: Season, soil: _Soil, day: date, touch: Touch, store: Store) -> Floats:
    """The wetness each member expects under the finger, with the water that has come since 17:00, (member,)."""
    roots = soil.roots
    stores = moist_before(
        season, (soil.plot, soil.fixed, soil.stores), soil.rows, day, touch.moment
    )
    wet = _wet(stores, roots)
    if store == "ball":
        ball: Floats = wet.ball[soil.felt]
        return ball
    mixed: Floats = under_hand(soil.plot, roots, wet.reach, wet.beyond)[soil.felt]
    return mixed


def under_hand(plot: Plot, roots: Geometry, reach: Number, beyond: Number) -> Floats:
    """(44): wetness of the bed a hand's breadth outside the ball, from that of reach and beyond."""
    reached = np.minimum((roots.root_reach_m + plot.draw_m) / HANDS_BREADTH_M, 1.0)
    reached = np.where(np.asarray(roots.beyond_volume_l) > 0, reached, 1.0)
    return np.asarray(reached * reach + (1 - reached) * beyond)


def _wet(stores: Stores, roots: Geometry) -> _Wet:
    return _Wet(
        *(
            np.asarray(over(store, capacity))
            for store, capacity in (
                (stores.ball_store_l, roots.ball_capacity_l),
                (stores.reach_store_l, roots.reach_capacity_l),
                (stores.beyond_store_l, roots.beyond_capacity_l),
            )
        )
    )


def _quantities(soil: _Soil, store: Store) -> tuple[Floats, NDArray[np.bool_]]:
    """X of (45), and which of it is the felt wetness itself."""
    wet, felt, count = _wet(soil.stores, soil.roots), soil.felt, len(soil.rows)
    parts = (
        soil.of_bed,
        (soil.et0_drawn + soil.et0_moved)[np.newaxis],
        soil.of_planting[felt],
        wet.ball[felt : felt + 1],
        wet.reach,
        wet.beyond,
    )
    quantities = np.concatenate(parts)
    floored = np.zeros(len(quantities), np.bool_)
    reach = len(quantities) - 2 * count
    floored[[reach - 1] if store == "ball" else [reach + felt, reach + count + felt]] = True
    return quantities, floored


def _with(soil: _Soil, moved: Floats) -> _Soil:
    """The bed with what the feel has moved: bounds held, capacities worked out anew, stores at their wetness."""
    felt, count = soil.felt, len(soil.rows)
    ends = np.cumsum([len(OF_BED), 1, len(OF_PLANTING), 1, count])
    of_bed, et0, of_planting, ball, reach, beyond = np.split(moved, ends)
    one = plain_rows(soil.plain, np.array([felt]))
    of_bed = bounded(one, OF_BED, of_bed)
    every = soil.of_planting.copy()
    every[felt] = bounded(one, OF_PLANTING, of_planting)
    plot = believed(soil.plain, by_name(of_bed, every))
    fixed = soil.fixed._replace(**of_soil_and_roots(plot))
    roots = geometry(plot, fixed, soil.stores.warm_days)
    balls = np.array(soil.stores.ball_store_l)
    balls[felt] = np.clip(ball[0], 0.0, 1.0) * np.asarray(roots.ball_capacity_l)[felt]
    most = np.asarray(fixed.saturable_fraction) / plot.available_fraction
    stores = soil.stores._replace(
        ball_store_l=balls,
        reach_store_l=np.clip(reach, 0.0, most) * roots.reach_capacity_l,
        beyond_store_l=np.clip(beyond, 0.0, most) * roots.beyond_capacity_l,
    )
    return soil._replace(
        of_bed=of_bed,
        of_planting=every,
        et0_moved=et0[0] - soil.et0_drawn,
        plot=plot,
        fixed=fixed,
        stores=stores,
    )


def _limit(season: Season, soil: _Soil, day: date, store: Store) -> float:
    """What a store of the planting felt may not fall below on the day, by the middle member."""
    ground = season.ground_under(day, [season.plantings[row] for row in soil.rows])
    demand_mm = season.sky(day, soil.rows).et0_mm * soil.plot.exposure_factor
    limits = thresholds(soil.plot, soil.plot.kcb * ground.leaf_fraction, demand_mm)
    p = limits.ball_depletion_fraction if store == "ball" else limits.bed_depletion_fraction
    return 1 - float(middle_of(np.asarray(p)[soil.felt]))


def _held_l(soil: _Soil, store: Store) -> Floats:
    """Litres in the ball, or in the soil round it, of the planting felt, (member,)."""
    stores = soil.stores
    held = stores.ball_store_l if store == "ball" else stores.reach_store_l + stores.beyond_store_l
    litres: Floats = np.asarray(held)[soil.felt]
    return litres


def _learned(before: _Soil, after: _Soil) -> dict[str, float]:
    moved = np.concatenate(
        (
            (after.of_bed - before.of_bed).mean(axis=-1),
            (after.of_planting - before.of_planting)[before.felt].mean(axis=-1),
        )
    )
    return {
        name: float(one) / LOG_SD[name]
        for name, one in zip(OF_BED + OF_PLANTING, moved, strict=True)
    }


def _put_back(season: Season, stores: Stores, day: date, soil: _Soil) -> tuple[Season, Stores]:
    """The garden with one bed as it stands after a feel; plantings still to come into it believe the same of it."""
    evening = day - timedelta(days=1)
    bed = int(season.bed_index[soil.rows[0]])
    beliefs = season.beliefs
    of_bed, of_planting = beliefs.of_bed.copy(), beliefs.of_planting.copy()
    of_bed[bed], of_planting[soil.rows] = soil.of_bed, soil.of_planting
    moved = beliefs.et0_moved(evening)
    et0_moved = np.zeros_like(beliefs.et0_moved_then) if moved is None else moved.copy()
    et0_moved[bed] = soil.et0_moved
    rows = np.flatnonzero(season.bed_index == bed)
    plot = believed(plain_rows(season.plain, rows), by_name(soil.of_bed, of_planting[rows]))
    season = season._replace(
        beliefs=beliefs._replace(
            of_bed=of_bed,
            of_planting=of_planting,
            et0_moved_then=et0_moved,
            moved_on=evening,
        ),
        plot=with_rows(season.plot, rows, {name: getattr(plot, name) for name in UNCERTAIN}),
        fixed=with_rows(season.fixed, rows, of_soil_and_roots(plot)),
        cuts={},
    )
    held = {
        name: getattr(soil.stores, name)
        for name in ("ball_store_l", "reach_store_l", "beyond_store_l")
    }
    return season, with_rows(stores, soil.rows, held)
