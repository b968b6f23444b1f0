"""Feels at work on a dawn: what the members believe and what their soils hold, before and after.

The update itself is `squaring.squared_up`; what goes into it and comes out of it is `felt_soil`'s. Other plantings
of the bed are moved with the one felt, but for their balls.
"""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import partial
from typing import NamedTuple

import numpy as np

from soakbook.garden.entries import Look
from soakbook.garden.records import FeltClass
from soakbook.reckoning.physics.drinking import depletion_fraction
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.physics.settling import SOIL_AND_ROOTS, of_soil_and_roots
from soakbook.reckoning.simulation.bands import mean_of, middle_of
from soakbook.reckoning.simulation.beliefs import (
    OF_BED,
    OF_PLANTING,
    UNCERTAIN,
    Beliefs,
    believed,
    by_name,
)
from soakbook.reckoning.simulation.draws import Floats, felt_normals
from soakbook.reckoning.simulation.felt_soil import (
    FeltSoil,
    moved_to,
    quantities_of,
    soil_of,
    under,
)
from soakbook.reckoning.simulation.lanes import part_of, with_rows
from soakbook.reckoning.simulation.leaf import leaf_fraction
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.sodden import sodden
from soakbook.reckoning.simulation.squaring import (
    Reading,
    class_of,
    innovation,
    reading_of,
    reading_of_look,
    squared_up,
)
from soakbook.reckoning.simulation.touches import Change, Squared, Store, Touch, classes_of
from soakbook.reckoning.simulation.under_finger import under_hand

FELT = ("ball_store_l", "reach_store_l", "beyond_store_l")
"""The stores a feel moves."""


class _Felt(NamedTuple):
    """One store of one feel."""

    touch: Touch
    store: Store
    found: FeltClass
    reading: Reading
    normals: Floats  # of the hand's error, (member,)
    limit: float


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
    soils: dict[int, FeltSoil] = {}
    for touch in season.touches.get(day, ()):
        bed = int(season.bed_index[touch.row])
        soil = under(soils.get(bed) or soil_of(season, stores, day, bed), season, day, touch)
        for felt in _stores_felt(season, soil, day, touch):
            soil, squared = _squared(season, soil, day, felt)
            done.append(squared)
        soils[bed] = soil
    if soils:
        season, stores = _put_back(season, stores, day, soils)
    return season, stores, tuple(done)


def _stores_felt(season: Season, soil: FeltSoil, day: date, touch: Touch) -> Iterator[_Felt]:
    """What a feel found, the ball before the bed."""
    limit = _limit(season, soil, day, touch.row)
    feel = touch.feel
    uid = season.plantings[touch.row].uid
    of_ball, of_bed = felt_normals(uid, day, touch.number, season.members)
    if isinstance(feel, Look):
        depth_m = float(np.asarray(soil.roots.reach_depth_m)[soil.felt, 0])
        reading = reading_of_look(feel.wet_to_cm, 100 * depth_m)
        yield _Felt(touch, "bed", class_of(float(reading.wetness)), reading, of_bed, limit)
        return
    for store, found in classes_of(feel).items():
        normals = of_ball if store == "ball" else of_bed
        yield _Felt(touch, store, found, reading_of(found, feel.unsure), normals, limit)


def _squared(season: Season, soil: FeltSoil, day: date, felt: _Felt) -> tuple[FeltSoil, Squared]:
    """The bed after one store was felt, (44) and (45)."""
    feel, store = felt.touch.feel, felt.store
    planting = season.plantings[felt.touch.row]
    expected = _expected(soil, store)
    quantities, floored = quantities_of(soil, store)
    moved = squared_up(quantities, expected, felt.reading, felt.normals, floored)
    after = moved_to(soil, moved)
    squared = Squared(
        day=day,
        feel_uid=feel.uid,
        bed_uid=planting.bed_uid,
        planting_uid=planting.uid,
        store=store,
        felt=felt.found,
        limit=felt.limit,
        sodden=(_sodden(soil, store), _sodden(after, store)),
        innovation=innovation(expected, felt.reading),
        change=partial(
            _change, (expected, _expected(after, store)), _logs(soil), _logs(after), soil.cut.sds
        ),
    )
    return after, squared


def _expected(soil: FeltSoil, store: Store) -> Floats:
    """The wetness each member expects under the finger, (member,)."""
    found = soil.wet.ball
    if store == "bed":
        found = under_hand(soil.plot, soil.roots, soil.wet.reach, soil.wet.beyond)
    expected: Floats = found[soil.felt]
    return expected


def _limit(season: Season, soil: FeltSoil, day: date, row: int) -> float:
    """What a store of a planting may not fall below on the day, by the plain run."""
    p, kcb, exposure = (
        float(np.asarray(field)[soil.felt, 0])
        for field in (soil.plot.bed_p, soil.plot.kcb, soil.plot.exposure_factor)
    )
    leaf = leaf_fraction(season.plantings[row], day, season.leaf_days)
    demand_mm = kcb * leaf * exposure * season.skies.on(day).et0_mm
    return 1 - float(depletion_fraction(p, demand_mm))


def _sodden(soil: FeltSoil, store: Store) -> bool:
    return store == "bed" and bool(mean_of(sodden(soil.moist, soil.roots)[soil.felt]) > 0.5)


def _logs(soil: FeltSoil) -> tuple[Floats, Floats]:
    """Log multipliers of the bed and of the planting felt, each (name, member)."""
    return soil.of_bed, soil.of_planting[soil.felt]


def _change(
    wetness: tuple[Floats, Floats],
    before: tuple[Floats, Floats],
    after: tuple[Floats, Floats],
    sds: Floats,
) -> Change:
    """What a feel changed: wetness under the finger before and since, (member,), and the log multipliers."""
    moved = [mean_of(new - old) for old, new in zip(before, after, strict=True)]
    by_sd = np.concatenate(moved) / sds
    expected, now = (float(middle_of(one)) for one in wetness)
    return Change(expected, now, dict(zip(OF_BED + OF_PLANTING, by_sd.tolist(), strict=True)))


def _put_back(
    season: Season, stores: Stores, day: date, soils: Mapping[int, FeltSoil]
) -> tuple[Season, Stores]:
    """The garden with the beds as they stand after feels; plantings still to come into them believe the same."""
    evening = day - timedelta(days=1)
    beliefs = season.beliefs
    of_bed, of_planting = beliefs.of_bed.copy(), beliefs.of_planting.copy()
    et0_moved, moved_on = beliefs.et0_moved_then.copy(), list(beliefs.moved_on)
    plots, fixed, held = [], [], []
    for bed, soil in soils.items():
        rows = soil.cut.rows
        of_bed[bed], of_planting[rows] = soil.of_bed, soil.of_planting
        et0_moved[bed], moved_on[bed] = soil.et0_moved, evening
        whole, plot = season.bed_cut(bed, len(season.plantings)), soil.plot
        settled = part_of(soil.fixed, slice(None), SOIL_AND_ROOTS)
        if len(whole.numbers) > len(soil.cut.numbers):
            plot = believed(whole.plain, by_name(soil.of_bed, of_planting[whole.rows]))
            settled = of_soil_and_roots(plot)
        plots.append((whole.rows, part_of(plot, slice(None), UNCERTAIN)))
        fixed.append((whole.rows, settled))
        held.append((rows, {name: getattr(soil.stores, name) for name in FELT}))
    season = season._replace(
        beliefs=Beliefs(of_bed, of_planting, et0_moved, tuple(moved_on)),
        plot=with_rows(season.plot, *plots),
        fixed=with_rows(season.fixed, *fixed),
        cuts={},
    )
    return season, with_rows(stores, *held)
