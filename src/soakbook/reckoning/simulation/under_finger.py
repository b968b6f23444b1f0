"""The soil a finger met: the evening's stores with the rain and the soaks that came between 17:00 and the feel."""

from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.entries import Loss, Rain, Soak
from soakbook.garden.rainfall import fallen_before, step_day
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Hand, Plot, Stores
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.watering import given_by_step, hand_of, soak_step

NOTHING = Hand(0.0, 1.0, 1.0, 0.0, 1.0)


def moist_before(
    season: Season,
    soil: tuple[Plot, Fixed, Stores],
    rows: NDArray[np.intp],
    day: date,
    moment: datetime,
) -> Stores:
    """Some plantings' stores at a moment of the step of `day`, before the day has dried anything.

    Parameters
    ----------
    season : Season
    soil : tuple of Plot, Fixed, Stores
        Of the plantings `rows`, the stores as the evening before left them.
    rows : ndarray of int
        Which plantings.
    day : date
        Whose step.
    moment : datetime
        When the finger was in the soil.

    Returns
    -------
    Stores
        The evening's own when no water has come since.
    """
    plot, fixed, stores = soil
    garden = season.pages.garden
    zone = ZoneInfo(garden.timezone)
    if step_day(moment, zone) != day:
        return stores
    readings = tuple(one for one in season.pages.entries if isinstance(one, Rain))
    fallen = fallen_before(moment, readings, zone, garden.round_hour)
    hand = _given_before(season, rows, day, moment)
    if not fallen and hand is NOTHING:
        return stores
    step = season.skies.on(day)._replace(pieces=fallen)
    plantings = [season.plantings[row] for row in rows]
    moist, _, _ = moisten(
        season.sky_of(step, rows), hand, season.ground_under(day, plantings), plot, fixed, stores
    )
    return moist


def _given_before(season: Season, rows: NDArray[np.intp], day: date, moment: datetime) -> Hand:
    """What was given in the step of a day before a moment of it."""
    if not season.given.get(day):
        return NOTHING
    bed_uid = season.bed_of(int(rows[0])).uid
    zone = ZoneInfo(season.pages.garden.timezone)
    entries = tuple(
        one
        for one in season.pages.entries
        if isinstance(one, Loss)
        or (
            isinstance(one, Soak)
            and one.bed_uid == bed_uid
            and isinstance(one.happened_at, datetime)
            and one.happened_at < moment
            and soak_step(one.happened_at, zone) == day
        )
    )
    if not any(isinstance(one, Soak) for one in entries):
        return NOTHING
    plantings = [season.plantings[row] for row in rows]
    bowls = {
        one.uid: plain(season.fixed.bowl_m2, int(row))
        for one, row in zip(plantings, rows, strict=True)
    }
    pages = replace(season.pages, entries=entries)
    given = given_by_step(pages, plantings, bowls, season.morning)[day]
    return hand_of([given.get(one.uid) for one in plantings], plantings, day, season.members)
