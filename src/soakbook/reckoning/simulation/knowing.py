"""What of a book may be known on a morning: chosen by when things happened, never by when they were typed."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, Soak, When
from soakbook.garden.pages import Pages
from soakbook.reckoning.simulation.parting import with_past
from soakbook.reckoning.simulation.watering import local_day


def known_on(pages: Pages, morning: date) -> Pages:
    """The pages as a round for `morning` sees them.

    Every earlier day whole; of the day itself what came by the round hour, but no soak.
    """
    zone = ZoneInfo(pages.garden.timezone)

    def known(entry: AnyEntry) -> bool:
        day = local_day(entry.happened_at, zone)
        if day != morning:
            return day < morning
        return not isinstance(entry, Soak) and by_round_hour(entry.happened_at, pages, zone)

    at = datetime.combine(morning, pages.garden.round_hour, zone)
    return cut(pages, morning, tuple(entry for entry in pages.entries if known(entry)), at)


def known_now(pages: Pages, now: datetime) -> Pages:
    """The pages as a round asked for at this moment sees them: today's soaks count."""
    zone = ZoneInfo(pages.garden.timezone)
    today = now.astimezone(zone).date()

    def known(when: When) -> bool:
        return when <= now if isinstance(when, datetime) else when <= today

    entries = tuple(entry for entry in pages.entries if known(entry.happened_at))
    return cut(pages, today, entries, now)


def by_round_hour(happened_at: When, pages: Pages, zone: ZoneInfo) -> bool:
    """Whether something of the morning's own day is in time for the round; without a time it counts at that hour."""
    if not isinstance(happened_at, datetime):
        return True
    return happened_at.astimezone(zone).time() <= pages.garden.round_hour


def cut(pages: Pages, morning: date, entries: tuple[AnyEntry, ...], at: datetime) -> Pages:
    """The pages with these entries, what is planted by the morning, its weather and the forecasts issued by `at`."""
    plantings = tuple(one for one in pages.plantings if one.here_from <= morning)
    weather = tuple(day for day in pages.weather if day.day < morning)
    forecasts = tuple(one for one in pages.forecasts if one.issued_at <= at)
    return with_past(
        pages._replace(
            plantings=plantings, entries=entries, weather=weather, forecasts=forecasts, known_at=at
        )
    )
