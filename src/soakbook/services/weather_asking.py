"""Weather that comes without anyone typing: services asked, what they say put into the book, calls compared.

Nobody is asked while the book is open for writing. What came goes in at once or not at all; what did not come leaves
what the book has.
"""

import os
from collections.abc import Collection, Iterator, Mapping
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from soakbook.errors import WeatherError
from soakbook.garden.pages import Pages
from soakbook.services.addresses import check_address
from soakbook.services.patience import NOT_ASKED, asked_of, waits
from soakbook.services.weather_told import AllHeard, Refreshed, refreshed
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.pages import read_pages
from soakbook.store.places import cache_folder
from soakbook.store.rain_hours import add_rain_hours
from soakbook.store.texts import garden_zone
from soakbook.store.weather_asked import Asked, Came, add_asked, last_asked
from soakbook.store.weather_rows import add_weather
from soakbook.version import __version__
from soakbook.weather import met_norway
from soakbook.weather.hearing import Heard, Question, Spot
from soakbook.weather.open_meteo import asking, reading
from soakbook.weather.session import Outside

CONTACT = "SOAKBOOK_CONTACT"
"""The environment variable with an address or a page at which a service can reach whoever asks it."""

ADDRESSES = {"first": "SOAKBOOK_OPEN_METEO", "second": "SOAKBOOK_MET_NORWAY"}
"""Environment variables for a service of the same kind at another address."""

RIGHT_BASE = "an address like https://weather.example"

UNSAID = f"is not asked before {CONTACT} names an address or a page of yours"

STANDS_IN = f"{met_norway.NAME} would stand in if {CONTACT} named an address or a page of yours"

FIRST_FILLING_DAYS = 92
LONGEST_BEHIND_DAYS = 400
"""How far back an archive is asked for plants that stand longer. common practice, no source."""

A_DAY = timedelta(days=1)

KNOWN_KINDS = ("measured", "analysed")
NOTHING = ("", "filled", "")


class Places(NamedTuple):
    """Where the services are, and who asks them."""

    open_meteo: Mapping[str, str]
    met_norway: str
    contact: str


def places_of(
    environment: Mapping[str, str] = os.environ, asked: Collection[str] = tuple(ADDRESSES)
) -> Places:
    """The services' usual addresses, or those that the environment names.

    Parameters
    ----------
    environment : mapping
        As of the process.
    asked : collection of str
        Which are to be asked, "first" or "second": what is said of the others need not be right.

    Raises
    ------
    InputError
        One that the environment names and that cannot be right.
    """
    first, second = (
        (check_address(said, name, right) if which in asked else said).rstrip("/") if said else ""
        for which, name in ADDRESSES.items()
        for said, right in ((environment.get(name, "").strip(), f"{RIGHT_BASE}, or nothing"),)
    )
    urls = {what: f"{first}/v1/{what}" for what in reading.USUAL} if first else reading.USUAL
    return Places(urls, second or met_norway.BASE_URL, contact_of(environment))


def contact_of(environment: Mapping[str, str] = os.environ) -> str:
    """Where whoever asks can be reached; empty where nobody said."""
    return environment.get(CONTACT, "").strip()


def refresh(
    path: Path,
    *,
    now: datetime,
    by: str | None = None,
    offline: bool = False,
    places: Places | None = None,
    folder: Path | None = None,
) -> Refreshed:
    """Ask the garden's weather service for what is due, and put it into the book.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    by : str, optional
        Who asks.
    offline : bool
        Nobody is asked; answers that are kept still count.
    places : Places, optional
        Where the services are; else as the environment says.
    folder : Path, optional
        Where answers are kept; else the user's cache folder.

    Raises
    ------
    BookError
        The book cannot be opened.
    InputError
        The environment names an address that cannot be right, of a service that is to be asked.
    """
    with open_book(path, read_only=offline) as book:
        before, asked = read_pages(book), last_asked(book)
    if places is None:
        places = places_of(asked=() if offline else _order(before, contact_of()))
    around = (places, folder)
    came = _ask_around(before, asked, now, offline, around)
    if offline and not came.heard:
        return refreshed(before, before, came, 0, now)
    with open_book(path) as book, book.writing():
        added = 0
        for one in came.heard:  # offline nobody was asked, so nothing is noted of it
            noted = one._replace(questions=()) if offline else one
            added += _keep(book, noted, now)
        for trouble in came.troubles:
            _keep_trouble(book, trouble, now)
        after = read_pages(book)
    return refreshed(before, after, came, added, now)


def _ask_around(
    pages: Pages,
    asked: Mapping[tuple[str, str], Asked],
    now: datetime,
    offline: bool,
    where: tuple[Places, Path | None],
) -> AllHeard:
    """The chosen service, and where it gives no forecast of the last day the second; what came and what did not."""
    places, folder = where
    heard: list[Heard] = []
    troubles: list[WeatherError] = []
    agent = f"soakbook/{__version__}"
    agent += f" ({places.contact})" if places.contact else ""
    with Outside(folder or cache_folder(), agent, offline=offline) as outside:
        for which in _order(pages, places.contact):
            try:
                if which == "second" and not (places.contact or offline):
                    raise WeatherError(met_norway.NAME, "refused", UNSAID)
                heard += _heard_from(which, outside, pages, {} if offline else asked, now, places)
            except WeatherError as trouble:
                troubles.append(trouble)
            if any(one.forecast and now - one.forecast.issued_at < A_DAY for one in heard):
                return AllHeard(heard, troubles, outside.findings)
    hint = () if offline or "second" in _order(pages, places.contact) else _stands_in(pages, asked)
    return AllHeard(heard, troubles, (*outside.findings, *hint))


def _order(pages: Pages, contact: str) -> tuple[str, ...]:
    """Whom to ask in turn; the second stands in only where it is told who asks."""
    order = {"first": ("first", "second"), "second": ("second",), "none": ()}
    found = order[pages.garden.weather_from]
    return found if contact or found[:1] != ("first",) else ("first",)


def _stands_in(pages: Pages, asked: Mapping[tuple[str, str], Asked]) -> tuple[str, ...]:
    """That the second service could stand in: said when the first begins to fail, not while it goes on failing."""
    last = asked.get((asking.SERVICE, "forecast"))
    began = last is None or last.came in ("new", "same")
    return (STANDS_IN,) if began and pages.garden.weather_from == "first" else ()


def _heard_from(
    which: str,
    outside: Outside,
    pages: Pages,
    asked: Mapping[tuple[str, str], Asked],
    now: datetime,
    places: Places,
) -> Iterator[Heard]:
    garden = pages.garden
    spot = Spot(garden.latitude_deg, garden.longitude_deg, garden.elevation_m, garden_zone(garden))
    service = asking.SERVICE if which == "first" else met_norway.NAME
    if patience := waits(asked.get((service, "forecast")), now, spot.zone):
        raise patience
    if which == "second":
        yield met_norway.read_met_norway(outside, spot, now, base_url=places.met_norway)
        return
    today = now.astimezone(spot.zone).date()
    behind = _days_behind(pages, today)
    past_days = behind + 1  # the first day may begin the day before in UTC
    yield reading.read_open_meteo(
        outside,
        spot,
        now,
        past_days=min(past_days, FIRST_FILLING_DAYS),
        urls=places.open_meteo,
        waits=waits(asked.get((service, "ensemble")), now, spot.zone),
    )
    if past_days > FIRST_FILLING_DAYS:
        days = (today - timedelta(days=behind), today - timedelta(days=FIRST_FILLING_DAYS - 1))
        try:
            if patience := waits(asked.get((service, "archive")), now, spot.zone):
                raise patience
            yield reading.read_archive(outside, spot, days, now, urls=places.open_meteo)
        except WeatherError as trouble:  # asked again next time; what is recent has come
            yield Heard(service, (), (), None, (Question("archive", trouble),))


def _days_behind(pages: Pages, today: date) -> int:
    """How many days back are wanted: a week, or to the first plant or the first day whose rain or ET0 is not known."""
    known = {
        day.day
        for day in pages.weather
        if all(day.sources.get(one, NOTHING)[1] in KNOWN_KINDS for one in ("rain_mm", "et0_mm"))
    }
    wanted_from = min((one.planted_on for one in pages.plantings), default=today)
    wanted_from = max(wanted_from, today - timedelta(days=LONGEST_BEHIND_DAYS))
    lacking = next((day for day in _days(wanted_from, today) if day not in known), today)
    return max(reading.LEAST_PAST_DAYS, (today - lacking).days)


def _days(first: date, last: date) -> Iterator[date]:
    return (first + timedelta(days=n) for n in range((last - first).days))


def _keep(book: BookFile, heard: Heard, now: datetime) -> int:
    """Put into the book what was heard; how much of it was new."""
    added = add_weather(book, heard.values)
    added += add_rain_hours(book, heard.rain_hours)
    if heard.forecast:
        added += add_forecasts(book, [heard.forecast], fetched_at=now)
    for question in heard.questions:
        trouble = question.trouble
        if trouble is not None and trouble.kind in NOT_ASKED:
            continue
        came: Came = "new" if added else "same"
        add_asked(
            book,
            Asked(heard.service, question.what, now, came)
            if trouble is None
            else asked_of(trouble, question.what, now),
        )
    return added


def _keep_trouble(book: BookFile, trouble: WeatherError, now: datetime) -> None:
    if trouble.kind not in NOT_ASKED:
        add_asked(book, asked_of(trouble, "forecast", now))
