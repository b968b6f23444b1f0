"""One season's days: the weather as it came and as each morning expects it, mulch and leaf."""

from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.pages import Pages
from soakbook.reckoning.physics.records import Ground
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.leaf import leaf_days, leaf_fraction
from soakbook.reckoning.simulation.mulching import mulch_on
from soakbook.reckoning.simulation.skies import Step, skies_of
from soakbook.truth.watering.trial import Trial, garden_of
from soakbook.truth.watering.years import Season


class Days(NamedTuple):
    """A season from the first planting to its last day, one row a day; plantings in the order given."""

    first: date
    came: tuple[Step, ...]
    expected: tuple[Step, ...]
    """What the morning of a day expects of it: ET0 as in the last ten days, no rain."""
    ground: tuple[Ground, ...]  # fields of shape (planting, 1)
    planted: NDArray[np.intp]  # (planting,), the row of the day a planting goes in
    rain_mm: Floats  # (day,), at the gauge

    def __len__(self) -> int:
        return len(self.came)


def days_of(season: Season, trials: tuple[Trial, ...], most: int | None = None) -> Days:
    """The days of a season, by the product's own reading of the weather.

    Parameters
    ----------
    season : Season
    trials : tuple of Trial
        Its plantings.
    most : int, optional
        How many days, if not all of them.
    """
    first = min(one.planting.planted_on for one in trials)
    end = season.last if most is None else first + timedelta(days=most - 1)
    pages = Pages(garden_of(season), weather=season.weather)
    whole = skies_of(pages, end + timedelta(days=1))
    assert whole is not None, "a season has weather from 1 January"
    leaves = leaf_days(whole, southern=False)
    calendar = [first + timedelta(days=n) for n in range((end - first).days + 1)]
    came = tuple(whole.on(day) for day in calendar)
    return Days(
        first=first,
        came=came,
        expected=tuple(_expected(pages, day) for day in calendar),
        ground=tuple(_ground(trials, day, [leaf_fraction(one.planting, day, leaves) for one in trials])
                     for day in calendar),
        planted=np.array([(one.planting.planted_on - first).days for one in trials]),
        rain_mm=np.array([step.rain_mm for step in came]),
    )  # fmt: skip


def _expected(pages: Pages, day: date) -> Step:
    skies = skies_of(pages, day)
    assert skies is not None, "a season has weather from 1 January"
    return skies.ahead


def _ground(trials: tuple[Trial, ...], day: date, leaf: list[float]) -> Ground:
    mulches = [mulch_on(day, (one.laying,)) for one in trials]
    return Ground(
        _column([one.capacity_mm for one in mulches]),
        _column([one.cover_fraction for one in mulches]),
        _column([one.evaporation_factor for one in mulches]),
        _column(leaf),
    )


def _column(values: list[float]) -> Floats:
    return np.array(values, np.float64)[:, np.newaxis]
