"""Fingers in many plantings at once: what they find of a truth, and what the members make of it.

The update is the product's, `squaring.squared_up`, and so are the bounds and what a hand's breadth feels; here rows
are laid side by side, each a planting alone in its bed, where the product takes one feel after another.
"""

import numpy as np

from soakbook.reckoning.physics.records import Plot, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import of_soil_and_roots
from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING, UNCERTAIN
from soakbook.reckoning.simulation.draws import Floats, felt_normals
from soakbook.reckoning.simulation.lanes import with_rows
from soakbook.reckoning.simulation.squaring import (
    CLASS_CUTS,
    FINGER_SD,
    Reading,
    reading_of,
    squared_up,
)
from soakbook.reckoning.simulation.under_finger import under_hand, wet_of
from soakbook.truth.watering.crowds import Crowd, Rows
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.minds import Minds
from soakbook.truth.watering.rule import CLASSES, Felt, Reckoning
from soakbook.truth.watering.trial import Trial

CUTS = np.array([CLASS_CUTS[one][1] for one in CLASSES])[:-1]
READINGS = [reading_of(one) for one in CLASSES]
AT_WETNESS = np.array([one.wetness for one in READINGS])
VARIANCES = np.array([one.variance for one in READINGS])

FIRST_WETNESS = len(OF_BED) + 1 + len(OF_PLANTING)
OF_STORE = {
    "ball": np.arange(FIRST_WETNESS + 3) == FIRST_WETNESS,
    "bed": np.arange(FIRST_WETNESS + 3) > FIRST_WETNESS,
}
"""Which of the quantities are the felt wetness itself: they end with ball, reach, beyond."""


def classes_felt(
    truth: Crowd, stores: Stores, trials: tuple[Trial, ...], days: Days, day: int
) -> Felt:
    """The classes a finger finds in every truth on a morning: its wetness, the hand's error on top.

    Parameters
    ----------
    truth : Crowd
        Rows with one member, as many to each planting.
    stores : Stores
        Of the evening before: nothing has fallen or been given since.
    trials : tuple of Trial
    days : Days
    day : int
        The day's row.
    """
    truths = truth.shape[0] // len(trials)
    date = days.came[day].day
    drawn = [felt_normals(f"finger {one.planting.uid}", date, 0, truths) for one in trials]
    ball, bed = FINGER_SD * np.concatenate(drawn, axis=1)
    roots = geometry(truth.plot, truth.fixed, stores.warm_days)
    wet = wet_of(stores, roots)
    under = under_hand(truth.plot, roots, wet.reach, wet.beyond)
    return Felt(
        np.digitize(wet.ball[:, 0] + ball, CUTS),
        np.digitize(under[:, 0] + bed, CUTS),
        np.full(truth.shape[0], day),
    )


def taught(
    now: Reckoning, minds: Minds, rows: Rows, found: Felt, days: Days, trials: tuple[Trial, ...]
) -> tuple[Reckoning, Minds]:
    """The reckoning after fingers were in some rows, ball first and then bed.

    Parameters
    ----------
    now : Reckoning
    minds : Minds
    rows : ndarray of int
        The rows felt.
    found : Felt
        What was found in every row; of those not felt it is not looked at.
    days : Days
    trials : tuple of Trial
        As the book has them.
    """
    part, mind, day = now.take(rows), minds.take(rows), int(found.day[0])
    felt = Felt(*(field[rows] for field in found))
    date = days.came[day].day
    members = now.crowd.shape[1]
    drawn = [felt_normals(one.planting.uid, date, 0, members) for one in trials]
    normals = np.array(drawn)[part.crowd.planting]  # (row, ball or bed, member)
    drawn_et0 = np.log(part.crowd.errors.et0[max(day - 1, 0)][part.crowd.source])
    for number, store in enumerate(("ball", "bed")):
        classes = felt.ball if store == "ball" else felt.bed
        reading = Reading(AT_WETNESS[classes], READINGS[0].noise_sd, VARIANCES[classes])
        part, mind = _squared(part, mind, drawn_et0, store, (reading, normals[:, number]))
    return _put_back(now, part, rows, felt), minds.put(rows, mind.of_bed, mind.of_planting)


def _squared(
    part: Reckoning, mind: Minds, drawn_et0: Floats, store: str, heard: tuple[Reading, Floats]
) -> tuple[Reckoning, Minds]:
    """Rows after one store of each was felt, (44) and (45)."""
    crowd = part.crowd
    roots = geometry(crowd.plot, crowd.fixed, part.stores.warm_days)
    wet = wet_of(part.stores, roots)
    expected = wet.ball if store == "ball" else under_hand(crowd.plot, roots, wet.reach, wet.beyond)
    et0 = (drawn_et0 + part.et0_moved)[:, np.newaxis]
    stores = np.stack(wet, axis=1)
    quantities = np.concatenate((mind.of_bed, et0, mind.of_planting, stores), axis=1)
    moved = squared_up(quantities, expected, *heard, OF_STORE[store])
    ends = np.cumsum([len(OF_BED), 1, len(OF_PLANTING)])
    of_bed, et0, of_planting, after = np.split(moved, ends, axis=1)
    mind = Minds(mind.plain, of_bed, of_planting).bounded()
    plot = mind.plot()
    fixed = crowd.fixed._replace(**of_soil_and_roots(plot))
    held = _held_at(part.stores, plot, geometry(plot, fixed, part.stores.warm_days), after)
    crowd = crowd._replace(plot=plot, fixed=fixed)
    return part._replace(crowd=crowd, stores=held, et0_moved=et0[:, 0] - drawn_et0), mind


def _held_at(stores: Stores, plot: Plot, roots: Geometry, wetness: Floats) -> Stores:
    """Stores at a wetness, (row, store, member), within what ball and soil can hold."""
    most = 1 + plot.drainable_fraction / plot.available_fraction
    return stores._replace(
        ball_store_l=np.clip(wetness[:, 0], 0.0, 1.0) * roots.ball_capacity_l,
        reach_store_l=np.clip(wetness[:, 1], 0.0, most) * roots.reach_capacity_l,
        beyond_store_l=np.clip(wetness[:, 2], 0.0, most) * roots.beyond_capacity_l,
    )


def _put_back(now: Reckoning, part: Reckoning, rows: Rows, felt: Felt) -> Reckoning:
    """Everything again, with the rows that were felt as they stand now."""
    crowd, plot = now.crowd, part.crowd.plot
    plot_fields = {name: getattr(plot, name) for name in UNCERTAIN}
    moved = now.et0_moved.copy()
    moved[rows] = part.et0_moved
    found = [field.copy() for field in now.felt]
    for field, values in zip(found, felt, strict=True):
        field[rows] = values
    return now._replace(
        crowd=crowd._replace(
            plot=with_rows(crowd.plot, (rows, plot_fields)),
            fixed=with_rows(crowd.fixed, (rows, of_soil_and_roots(plot))),
        ),
        stores=with_rows(now.stores, (rows, part.stores._asdict())),
        et0_moved=moved,
        felt=Felt(*found),
    )
