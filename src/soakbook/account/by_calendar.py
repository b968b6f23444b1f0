"""A season watered by a published calendar: the pages with its soaks in place of those that were given."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.account.worlds import in_order
from soakbook.garden.entries import Soak
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.calendars import Calendar, rained, visit_days
from soakbook.reckoning.advice.following import left_to_the_round
from soakbook.reckoning.advice.supply import supply_of
from soakbook.reckoning.simulation.skies import Skies
from soakbook.reckoning.simulation.watering import living_count, losses_by_bed

NORTHERN_WINTER, SOUTHERN_WINTER = ((10, 16), (3, 1)), ((4, 16), (9, 1))
"""From the first day to the day before the second no calendar calls: they are printed for the months of growth. The
days are ours, and common practice, no source."""


def watered_by(calendar: Calendar, pages: Pages, first: date, until: date, skies: Skies) -> Pages:
    """The pages of a season watered by a calendar from its first day to its last.

    Each planting has its own days, counted from its planting, and a dose for each plant that is left that morning, at
    the round hour and the way its bed can be watered then. Whoever comes, or stays away, it is given.

    Parameters
    ----------
    calendar : Calendar
    pages : Pages
    first, until : date
        The season's days.
    skies : Skies
        Its weather: the gauge's rain is that of the days' steps.
    """
    alone = left_to_the_round(pages, first, {})
    return in_order(alone, (*alone.entries, *_soaks(calendar, pages, first, until, skies)))


def _soaks(
    calendar: Calendar, pages: Pages, first: date, until: date, skies: Skies
) -> Iterator[Soak]:
    zone, losses = ZoneInfo(pages.garden.timezone), losses_by_bed(pages)
    days = [first + timedelta(days=number) for number in range((until - first).days + 1)]
    fallen = [skies.on(day).rain_mm if day >= skies.first else 0.0 for day in days]
    wet = rained(np.array(fallen), calendar.leaves_off)
    winter = SOUTHERN_WINTER if pages.garden.latitude_deg < 0 else NORTHERN_WINTER
    growing = np.array([not _within(day, *winter) for day in days], bool)
    beds = pages.bed_by_uid()
    for planting in pages.plantings:
        since = planting.planted_on
        called = visit_days(calendar.gap, (since - first).days, len(days), calendar.ends_after)
        litres = calendar.litres(planting)
        for number in np.flatnonzero(called & ~wet & growing).tolist() if litres > 0 else ():
            day = days[number]
            count = living_count(planting, losses.get(planting.bed_uid, ()), day, zone)
            if count > 0 and planting.here_from <= day:
                method = supply_of(pages, beds[planting.bed_uid], day).method
                at = datetime.combine(day, pages.garden.round_hour, zone)
                yield Soak(
                    uid=f"{calendar.key} {planting.uid} {day}",
                    happened_at=at,
                    written_at=at,
                    bed_uid=planting.bed_uid,
                    planting_uid=planting.uid,
                    litres=count * litres,
                    typed=calendar.words,
                    method=method,
                )


def _within(day: date, begins: tuple[int, int], ends: tuple[int, int]) -> bool:
    """Whether a day of the year lies from one to the day before another, be it over the new year."""
    where = (day.month, day.day)
    return begins <= where < ends if begins < ends else where >= begins or where < ends
