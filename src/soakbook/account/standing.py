"""Which plants stood in a garden over a span of days, by the book alone: those that nothing reckons count as well."""

from datetime import date
from zoneinfo import ZoneInfo

from soakbook.account.season import A_DAY, Span, season_year
from soakbook.garden.entries import BedEntry
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.reckoning.simulation.living import Counts, gone_from, living_by_day
from soakbook.reckoning.simulation.watering import local_day, losses_by_bed


def standing_by_day(pages: Pages, span: Span) -> Counts:
    """Living plants on each morning of a span, (day, planting), the plantings as they are in the book."""
    starts = [one.here_from for one in pages.plantings]
    return living_by_day(pages, pages.plantings, starts, span.first, span.days)


def most_by_bed(pages: Pages, span: Span) -> dict[Uid, int]:
    """The most plants that stood in each bed on one morning of a span."""
    counts = standing_by_day(pages, span)
    of_bed = {bed.uid: [one.bed_uid == bed.uid for one in pages.plantings] for bed in pages.beds}
    return {uid: int(counts[:, which].sum(axis=1).max()) for uid, which in of_bed.items()}


def plants_of(pages: Pages, span: Span) -> int:
    """How many plants stood in the garden in a span, each once, though it stood in two beds."""
    counts = standing_by_day(pages, span)
    stood = {one.uid: counts[:, row] for row, one in enumerate(pages.plantings)}
    return sum(
        int(count.max())
        for one in pages.plantings
        if (count := stood[one.uid]).any()
        and not (one.came_from in stood and stood[one.came_from].any())
    )


def seasons_told(pages: Pages, until: date) -> tuple[int, ...]:
    """The seasons up to a day in which plants stood or something was entered of a bed, each by its year."""
    garden, zone = pages.garden, ZoneInfo(pages.garden.timezone)
    losses = losses_by_bed(pages)
    found = {
        season_year(garden, local_day(one.happened_at, zone))
        for one in pages.entries
        if isinstance(one, BedEntry)
    }
    for one in pages.plantings:
        gone = gone_from(one, losses.get(one.bed_uid, ()), zone)
        last = max(one.here_from, min(until, gone - A_DAY))
        found |= set(range(season_year(garden, one.here_from), season_year(garden, last) + 1))
    return tuple(sorted(found))
