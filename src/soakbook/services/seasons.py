"""What a season's account is drawn up from: the book's pages up to a morning."""

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from soakbook.services.books import reading

if TYPE_CHECKING:
    from soakbook.garden.entries import AnyEntry
    from soakbook.garden.pages import Pages
    from soakbook.garden.weather import WeatherDay

A_DAY = timedelta(days=1)


def pages_on(path: Path, morning: date) -> "Pages":
    """The book as a round asked for by a morning's date reads it, with the forecasts known then.

    Parameters
    ----------
    path : Path
        The book.
    morning : date

    Raises
    ------
    BookError
        The book cannot be opened or read.
    """
    from soakbook.store.pages import read_pages

    with reading(path) as book:
        return read_pages(book, until=morning)


def pages_up_to(path: Path, morning: date) -> "Pages":
    """The book as it is now, without what happened on a morning's own day or later.

    Only a gauge read that morning by the round hour is left in: it tells of the day before.

    Parameters
    ----------
    path : Path
        The book.
    morning : date
        Every day before it is whole.

    Raises
    ------
    BookError
        The book cannot be opened or read.
    """
    from soakbook.garden.entries import Rain
    from soakbook.reckoning.simulation.knowing import by_round_hour
    from soakbook.reckoning.simulation.watering import local_day

    pages = pages_on(path, morning)
    zone = ZoneInfo(pages.garden.timezone)

    def counts(entry: "AnyEntry") -> bool:
        day = local_day(entry.happened_at, zone)
        if day != morning or not isinstance(entry, Rain):
            return day < morning
        begun = entry.began_at.astimezone(zone).date()
        return begun < morning and by_round_hour(entry.happened_at, pages, zone)

    return pages._replace(
        entries=tuple(one for one in pages.entries if counts(one)),
        plantings=tuple(one for one in pages.plantings if one.here_from < morning),
        weather=tuple(one for one in pages.weather if one.day < morning),
    )


def morning_after_all(path: Path) -> date | None:
    """The morning after the last day of which the book tells, be it weather that came or an entry; None: of none.

    Where there is neither, it is the one after the last planting.

    Parameters
    ----------
    path : Path
        The book.

    Raises
    ------
    BookError
        The book cannot be opened or read.
    """
    from soakbook.reckoning.simulation.watering import local_day
    from soakbook.store.pages import read_pages

    with reading(path) as book:
        pages = read_pages(book)
    zone = ZoneInfo(pages.garden.timezone)
    told = [day.day for day in pages.weather if _came(day)]
    told += [local_day(one.happened_at, zone) for one in pages.entries]
    told = told or [one.here_from for one in pages.plantings]
    return max(told) + A_DAY if told else None


def _came(day: "WeatherDay") -> bool:
    """Whether anything of a day is more than a forecast."""
    return any(kind != "forecast" for _, kind, _ in day.sources.values())
