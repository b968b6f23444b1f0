"""What a season's account is drawn up from: the book's pages up to a morning."""

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from soakbook.services.books import reading

if TYPE_CHECKING:
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
    from soakbook.reckoning.simulation.watering import local_day

    pages = pages_on(path, morning)
    zone = ZoneInfo(pages.garden.timezone)
    return pages._replace(
        entries=tuple(one for one in pages.entries if local_day(one.happened_at, zone) < morning),
        plantings=tuple(one for one in pages.plantings if one.here_from < morning),
        weather=tuple(one for one in pages.weather if one.day < morning),
    )


def morning_after_all(path: Path) -> date | None:
    """The morning after the last day of which the book tells, be it weather that came or an entry; None: of none.

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
    return max(told) + A_DAY if told else None


def _came(day: "WeatherDay") -> bool:
    """Whether anything of a day is more than a forecast."""
    return any(kind != "forecast" for _, kind, _ in day.sources.values())
