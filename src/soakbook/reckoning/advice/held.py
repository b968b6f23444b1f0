"""Mornings of a season gone by on which the ground was too wet for water: what a round then called held back.

Only the ground is asked, with what had fallen by the round hour. A soak of the evening before and a finger in wet soil,
which a round knows of too, are not: whoever wants one morning to the letter asks for its round.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Hand
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.simulation.bands import mean_of
from soakbook.reckoning.simulation.knowing import by_round_hour
from soakbook.reckoning.simulation.lanes import full
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.skies import Skies, skies_of
from soakbook.reckoning.simulation.sodden import sodden
from soakbook.reckoning.simulation.watering import local_day

Flags = NDArray[np.bool_]

LOOK_BACK_DAYS = 20
"""So old may a gauge reading be that rain before a round hour is told apart by: the whole season is not gone through
anew for every wet morning."""

NOTHING_GIVEN = Hand(0.0, 1.0, 1.0, 0.0, 1.0)
BY_MOST = 0.5


class WetGround:
    """Asked of every dawn of a run in turn."""

    def __init__(self, pages: Pages) -> None:
        zone = ZoneInfo(pages.garden.timezone)
        readings = [one for one in pages.entries if isinstance(one, Rain)]
        self._pages, self._zone = pages._replace(entries=(), forecasts=(), weather=()), zone
        self._readings = _ByDay([local_day(one.happened_at, zone) for one in readings])
        self._rain = readings
        self._weather = pages.weather
        self._days = _ByDay([one.day for one in pages.weather])

    def on(self, dawn: Dawn) -> Flags:
        """Which plantings of a dawn stood in ground fuller than it can keep, by most members, (planting,)."""
        season, rows = dawn.season, slice(0, dawn.size)
        plot, fixed = season.parameters(rows)
        roots = geometry(plot, fixed, dawn.stores.warm_days)
        rained = bool(season.skies.on(dawn.day).pieces)
        overnight = mean_of(sodden(dawn.stores, roots)) > BY_MOST
        if not rained and not overnight.any():
            return np.asarray(overnight)
        sky = season
        if rained:
            skies = self._by_the_round_hour(dawn.day)
            sky = season if skies is None else season._replace(skies=skies)
        stores, _, _ = moisten(
            sky.sky(dawn.day, rows),
            NOTHING_GIVEN,
            season.ground(dawn.day, rows),
            plot,
            fixed,
            dawn.stores,
        )
        stores = full(stores, (dawn.size, season.members))
        return np.asarray(mean_of(sodden(stores, roots)) > BY_MOST)

    def _by_the_round_hour(self, day: date) -> Skies | None:
        """The skies as a round of that day knew them, as far back as rain before its hour is told apart by."""
        first = day - timedelta(days=LOOK_BACK_DAYS)
        rain = [self._rain[place] for place in self._readings.between(first, day)]
        known = tuple(
            one
            for one in rain
            if local_day(one.happened_at, self._zone) < day
            or by_round_hour(one.happened_at, self._pages, self._zone)
        )
        weather = tuple(
            self._weather[place] for place in self._days.between(first, day - timedelta(days=1))
        )
        return skies_of(self._pages._replace(entries=known, weather=weather), day)


class _ByDay:
    """Places of dated things, found by their days."""

    def __init__(self, days: Sequence[date]) -> None:
        order = sorted(range(len(days)), key=lambda place: days[place])
        self._order = np.array(order, np.intp)
        self._days = np.array([days[place].toordinal() for place in order], np.int64)

    def between(self, first: date, last: date) -> list[int]:
        """Places of what is of the days from one to another, both included, in the order they were given."""
        begin, end = np.searchsorted(self._days, (first.toordinal(), last.toordinal() + 1))
        return sorted(self._order[begin:end].tolist())
