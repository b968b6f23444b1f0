"""When deciduous woody plants carry leaves."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import NamedTuple

from soakbook.garden.records import Planting
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.reckoning.physics.roots import warm_days_of
from soakbook.reckoning.simulation.skies import Skies

BARE_LEAF_FRACTION = 0.2
LEAF_OUT_WARM_DAYS = 12.0
A_YEAR = timedelta(days=365)


class LeafDays(NamedTuple):
    """First day in leaf and first day bare of each growing year of a garden."""

    by_year: Mapping[int, tuple[date, date]]
    southern: bool

    def of(self, day: date) -> tuple[date, date]:
        """The growing year a day belongs to; in the south it begins in July."""
        return self.by_year[growing_year(day, self.southern)]


def leaf_days(skies: Skies, southern: bool) -> LeafDays:
    """Leaf-out and leaf-fall of every growing year the weather touches, and of the one ahead."""
    first = growing_year(skies.first, southern)
    last = growing_year(skies.ahead.day, southern) + 1
    return LeafDays(
        {
            year: (
                leaf_out_day(skies, year, southern),
                leaf_fall_day(skies, year + southern, southern),
            )
            for year in range(first, last + 1)
        },
        southern,
    )


def growing_year(day: date, southern: bool) -> int:
    """The calendar year in which a day's growing season began."""
    return day.year - 1 if southern and day.month < 7 else day.year


def in_leaf(planting: Planting, day: date, days: LeafDays) -> bool:
    """Whether a deciduous planting carries leaves on a day: by the dates entered for that year, else reckoned."""
    out, fall = leaf_days_of(planting, day, days)
    return out <= day < fall


def last_leaf_fall(planting: Planting, day: date, days: LeafDays) -> date | None:
    """The last day up to `day` on which a planting's leaves fell, of this growing year or the one before."""
    known = [one for one in (day, day - A_YEAR) if growing_year(one, days.southern) in days.by_year]
    falls = [leaf_days_of(planting, one, days)[1] for one in known]
    return next((fall for fall in falls if fall <= day), None)


def leaf_days_of(planting: Planting, day: date, days: LeafDays) -> tuple[date, date]:
    """Leaf-out and leaf-fall of the growing year of a day, as entered for it, else as reckoned."""
    out, fall = days.of(day)
    year = growing_year(day, days.southern)
    if planting.leaf_out_on and growing_year(planting.leaf_out_on, days.southern) == year:
        out = planting.leaf_out_on
    if planting.leaf_fall_on and growing_year(planting.leaf_fall_on, days.southern) == year:
        fall = planting.leaf_fall_on
    return out, fall


def leaf_fraction(planting: Planting, day: date, days: LeafDays) -> float:
    """1 in leaf, 0.2 for a deciduous woody plant that is bare."""
    woody = PLANT_CLASSES[planting.plant_class].woody
    if planting.leaf != "deciduous" or not woody or in_leaf(planting, day, days):
        return 1.0
    return BARE_LEAF_FRACTION


def leaf_out_day(skies: Skies, year: int, southern: bool) -> date:
    """When deciduous plants come into leaf: 12 warm days after 1 February, at the latest on 15 May.

    Where the weather does not reach back to 1 February the count begins late, and a plant thought bare runs
    dry: then 20 April at the latest.

    Notes
    -----
    12 of (39)'s warm days: De Bilt 2014-2019 13 April to 12 May, the specimen garden 20 April. The latest days
    are common practice, no source. South of the equator all dates shift by six months.
    """
    counted_from = date(year, 8, 1) if southern else date(year, 2, 1)
    latest = date(year, 11, 15) if southern else date(year, 5, 15)
    if skies.first > counted_from:
        latest = date(year, 10, 20) if southern else date(year, 4, 20)
    total = 0.0
    for step in skies.steps:
        if step.day >= latest:
            break
        if step.day >= counted_from:
            total += float(warm_days_of(step.soil_warmth_c))
            if total >= LEAF_OUT_WARM_DAYS:
                return step.day + timedelta(days=1)
    return latest


def leaf_fall_day(skies: Skies, year: int, southern: bool) -> date:
    """When leaves fall: the day after the third night under 0 degC from 1 October, at the latest 15 November."""
    counted_from = date(year, 4, 1) if southern else date(year, 10, 1)
    latest = date(year, 5, 15) if southern else date(year, 11, 15)
    nights = sorted(
        d for d, low in skies.night_minima.items() if counted_from <= d < latest and low < 0
    )
    return nights[2] + timedelta(days=1) if len(nights) > 2 else latest
