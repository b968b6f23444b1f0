"""The soil a finger met, and how wet it was there.

That is the evening's stores with the rain and the soaks that came between 17:00 and the feel.
"""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

import numpy as np

from soakbook.garden.records import Uid
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import Geometry
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.physics.words import over
from soakbook.reckoning.simulation.bed_cuts import BedCut
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.touches import Touch
from soakbook.reckoning.simulation.watering import Given, given_by_step, hand_of

HANDS_BREADTH_M = 0.15
"""How far outside the ball the bed is felt: where roots stand closer, part of it is soil they have not reached."""

Water = tuple[Sky, Hand, Ground]


class Wet(NamedTuple):
    """Wetness of the stores, (planting, member)."""

    ball: Floats
    reach: Floats
    beyond: Floats


def water_before(season: Season, cut: BedCut, day: date, touch: Touch) -> Water | None:
    """The rain and soaks of a step that the plantings of a bed had before they were felt; None when there were none."""
    if not touch.fallen and not touch.soaks:
        return None
    plantings = [season.plantings[number] for number in cut.numbers]
    given = _given(season, cut, day, touch) if touch.soaks else {}
    hand = hand_of([given.get(one.uid) for one in plantings], plantings, day, season.members)
    step = season.skies.on(day)._replace(pieces=touch.fallen)
    return season.sky_of(step, cut.rows), hand, season.ground_under(day, plantings)


def moist_with(water: Water | None, plot: Plot, fixed: Fixed, stores: Stores) -> Stores:
    """The stores with that water gone in, before the day has dried anything."""
    if water is None:
        return stores
    moist, _, _ = moisten(*water, plot, fixed, stores)
    return moist


def wet_of(stores: Stores, roots: Geometry) -> Wet:
    """Stores over what they can hold against drainage; 0 where there is none."""
    return Wet(
        np.asarray(over(stores.ball_store_l, roots.ball_capacity_l)),
        np.asarray(over(stores.reach_store_l, roots.reach_capacity_l)),
        np.asarray(over(stores.beyond_store_l, roots.beyond_capacity_l)),
    )


def under_hand(plot: Plot, roots: Geometry, reach: Number, beyond: Number) -> Floats:
    """Wetness of the bed a hand's breadth outside the ball, from that of reach and beyond, (44)."""
    reached = np.minimum((roots.root_reach_m + plot.draw_m) / HANDS_BREADTH_M, 1.0)
    reached = np.where(np.asarray(roots.beyond_volume_l) > 0, reached, 1.0)
    return np.asarray(reached * reach + (1 - reached) * beyond)


def _given(season: Season, cut: BedCut, day: date, touch: Touch) -> Mapping[Uid, Given]:
    plantings = [season.plantings[number] for number in cut.numbers]
    bowls = {season.plantings[n].uid: plain(season.fixed.bowl_m2, n) for n in cut.numbers}
    pages = season.pages._replace(entries=(*touch.losses, *touch.soaks))
    return given_by_step(pages, plantings, bowls, day).get(day, {})
