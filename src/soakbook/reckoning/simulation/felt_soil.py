"""One bed on a dawn as a feel takes hold of it: what goes into the update, and what comes out of it.

X of (45) is laid out here, row by row, and put back: bounds held, capacities worked out anew, stores at their
wetness. Which feel it is, and what it found, stands in `fingers`.
"""

from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.physics.records import Number, Plot, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import SOIL_AND_ROOTS, Fixed, of_soil_and_roots
from soakbook.reckoning.physics.words import greater, lesser
from soakbook.reckoning.simulation.bed_cuts import BedCut
from soakbook.reckoning.simulation.beliefs import (
    OF_BED,
    OF_PLANTING,
    UNCERTAIN,
    believed,
    by_name,
)
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import part_of, taken
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.touches import Store, Touch
from soakbook.reckoning.simulation.under_finger import Water, Wet, moist_with, water_before, wet_of


class FeltSoil(NamedTuple):
    """A bed on a dawn, its plantings in rows; arrays (planting, member) where nothing else is said."""

    cut: BedCut
    of_bed: Floats  # log multipliers, (name, member)
    of_planting: Floats  # (planting, name, member)
    et0_drawn: Floats  # log error of the evening squared up, (member,)
    et0_moved: Floats  # what feels have added to it
    plot: Plot
    fixed: Fixed
    roots: Geometry
    stores: Stores
    felt: int  # which of the rows a finger is in
    water: Water | None  # what has gone in since the evening
    moist: Stores  # the stores with that water: what the finger meets
    wet: Wet  # and how wet they are


def soil_of(season: Season, stores: Stores, day: date, bed: int) -> FeltSoil:
    """A bed as it stands on a dawn before any feel; stores (planting, member) of the whole garden."""
    cut = season.bed_cut(bed, np.shape(stores.ball_store_l)[0])
    rows = cut.rows
    evening = day - timedelta(days=1)
    index = max((evening - season.first).days, 0)
    moved = season.beliefs.et0_moved(evening)
    drawn = np.log(season.errors.et0_factor[index][bed])
    plot = cut.plain.plot._replace(**part_of(season.plot, rows, UNCERTAIN))
    fixed = cut.fixed._replace(**part_of(season.fixed, rows, SOIL_AND_ROOTS))
    held = taken(stores, rows)
    roots = geometry(plot, fixed, held.warm_days)
    return FeltSoil(
        cut=cut,
        # Copies: what a feel changed is kept for who asks, and a view would keep the whole garden's with it.
        of_bed=season.beliefs.of_bed[bed].copy(),
        of_planting=season.beliefs.of_planting[rows].copy(),
        et0_drawn=drawn,
        et0_moved=np.zeros_like(drawn) if moved is None else moved[bed],
        plot=plot,
        fixed=fixed,
        roots=roots,
        stores=held,
        felt=0,
        water=None,
        moist=held,
        wet=wet_of(held, roots),
    )


def under(soil: FeltSoil, season: Season, day: date, touch: Touch) -> FeltSoil:
    """The bed as the finger of a feel meets it: in its planting, with the water that came before it."""
    before, water = soil.water, water_before(season, soil.cut, day, touch)
    soil = soil._replace(felt=soil.cut.numbers.index(touch.row), water=water)
    return soil if before is water is None else _met(soil)


def quantities_of(soil: FeltSoil, store: Store) -> tuple[Floats, NDArray[np.bool_]]:
    """X of (45), and which of it is the felt wetness itself."""
    felt, count = soil.felt, len(soil.cut.numbers)
    wet = soil.wet if soil.water is None else wet_of(soil.stores, soil.roots)
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


def moved_to(soil: FeltSoil, moved: Floats) -> FeltSoil:
    """The bed with what the feel has moved: bounds held, capacities worked out anew, stores at their wetness."""
    felt, count, cut = soil.felt, len(soil.cut.numbers), soil.cut
    bed = len(OF_BED)
    own = bed + 1 + len(OF_PLANTING)
    lowest, highest = cut.lowest[felt], cut.highest[felt]
    of_bed = within(moved[:bed], lowest[:bed], highest[:bed])
    of_planting = soil.of_planting.copy()
    of_planting[felt] = within(moved[bed + 1 : own], lowest[bed:], highest[bed:])
    plot = believed(cut.plain, by_name(of_bed, of_planting))
    fixed = soil.fixed._replace(**of_soil_and_roots(plot))
    roots = geometry(plot, fixed, soil.stores.warm_days)
    balls = np.array(soil.stores.ball_store_l)
    balls[felt] = within(moved[own], 0.0, 1.0) * np.asarray(roots.ball_capacity_l)[felt]
    reach, beyond = moved[own + 1 : own + 1 + count], moved[own + 1 + count :]
    most = fixed.saturable_fraction / plot.available_fraction
    stores = soil.stores._replace(
        ball_store_l=balls,
        reach_store_l=within(reach, 0.0, most) * roots.reach_capacity_l,
        beyond_store_l=within(beyond, 0.0, most) * roots.beyond_capacity_l,
    )
    return _met(
        soil._replace(
            of_bed=of_bed,
            of_planting=of_planting,
            et0_moved=moved[bed] - soil.et0_drawn,
            plot=plot,
            fixed=fixed,
            roots=roots,
            stores=stores,
        )
    )


def _met(soil: FeltSoil) -> FeltSoil:
    moist = moist_with(soil.water, soil.plot, soil.fixed, soil.stores)
    return soil._replace(moist=moist, wet=wet_of(moist, soil.roots))


def within(values: Floats, lowest: Number, highest: Number) -> Floats:
    """Values held between two limits; numpy's own word for it costs three times as much on rows this short."""
    return np.asarray(lesser(greater(values, lowest), highest))
