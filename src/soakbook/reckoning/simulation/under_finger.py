"""The soil a finger met: the evening's stores with the rain and the soaks that came between 17:00 and the feel."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.entries import Loss
from soakbook.garden.records import Uid
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Ground, Hand, Plot, Sky, Stores
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.touches import Touch
from soakbook.reckoning.simulation.watering import Given, given_by_step, hand_of

Water = tuple[Sky, Hand, Ground]


def water_before(season: Season, rows: NDArray[np.intp], day: date, touch: Touch) -> Water | None:
    """The rain and soaks of a step that some plantings had before they were felt; None when there were none."""
    if not touch.fallen and not touch.soaks:
        return None
    plantings = [season.plantings[row] for row in rows]
    given = _given(season, rows, day, touch) if touch.soaks else {}
    hand = hand_of([given.get(one.uid) for one in plantings], plantings, day, season.members)
    step = season.skies.on(day)._replace(pieces=touch.fallen)
    return season.sky_of(step, rows), hand, season.ground_under(day, plantings)


def moist_with(water: Water | None, plot: Plot, fixed: Fixed, stores: Stores) -> Stores:
    """The stores with that water gone in, before the day has dried anything."""
    if water is None:
        return stores
    moist, _, _ = moisten(*water, plot, fixed, stores)
    return moist


def _given(season: Season, rows: NDArray[np.intp], day: date, touch: Touch) -> Mapping[Uid, Given]:
    plantings = [season.plantings[row] for row in rows]
    bowls = {
        one.uid: plain(season.fixed.bowl_m2, int(row))
        for one, row in zip(plantings, rows, strict=True)
    }
    losses = (one for one in season.pages.entries if isinstance(one, Loss))
    pages = replace(season.pages, entries=(*losses, *touch.soaks))
    return given_by_step(pages, plantings, bowls, day).get(day, {})
