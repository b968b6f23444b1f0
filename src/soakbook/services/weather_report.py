"""What weather the book has: from when to when, from where, how each gap was filled, what is not known."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import days_without_rain
from soakbook.garden.weather import WeatherValue
from soakbook.quantities import names
from soakbook.quantities.dates import month_day
from soakbook.reckoning.advice.report import as_json
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.books import reading
from soakbook.services.mornings import SPECIMEN_MORNING
from soakbook.services.promises_kept import promise_record
from soakbook.services.told import Report
from soakbook.services.weather_ahead import dry_and_ahead
from soakbook.store.book_file import BookFile
from soakbook.store.pages import read_pages
from soakbook.store.texts import garden_zone
from soakbook.store.weather_rows import best_values
from soakbook.weather.columns import QUANTITIES

WEATHER_SCHEMA = "soakbook.weather/1"
GAUGE = "rain gauge"
REFERENCE_ET = "et0_mm"
OLD_AFTER_DAYS = 1

WORDS = {
    **{one.variable: one.words for one in QUANTITIES.values()},
    REFERENCE_ET: names.QUANTITIES[REFERENCE_ET].words,
}
"""Variable as the book keeps it -> what a gardener calls it."""


def weather_report(
    path: Path, *, now: datetime, specimen: bool = False, asked: Sequence[str] = ()
) -> Report:
    """The weather of a book, as `--json` gives it.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware: how old the weather is.
    specimen : bool
        Whether the book is the specimen's, which lies in 2031.
    asked : sequence of str
        What came of asking the services just now.
    """
    with reading(path) as book:
        today, now = _today(book, now, specimen)
        pages, values = _known(book, now), best_values(book)
    days = [day.day for day in pages.weather]
    report = {
        "schema": WEATHER_SCHEMA,
        "garden": pages.garden.name,
        "first": min(days, default=None),
        "last": max(days, default=None),
        "days": len(days),
        "sources": [*_sources(values), *_gauge(pages)],
        "filled": list(_filled(values)),
        "missing": list(_missing(pages)) if days else [],
        "findings": [*_old(days, today)],
        "asked": list(asked),
        **dry_and_ahead(pages, today, now),
    }
    plain: Report = as_json(report)
    return plain


def promises_report(path: Path, *, now: datetime, specimen: bool = False) -> Report:
    """How services kept their promises of rain; parameters as in `weather_report`."""
    with reading(path) as book:
        today, now = _today(book, now, specimen)
        pages = _known(book, now)
    return promise_record(pages, today, now)


def _today(book: BookFile, now: datetime, specimen: bool) -> tuple[date, datetime]:
    """The garden's day and the moment: the specimen's are its own."""
    zone = book.zone()
    if not specimen:
        return now.astimezone(zone).date(), now
    moment = datetime.combine(SPECIMEN_MORNING, time(7), zone)
    return SPECIMEN_MORNING, moment


def _known(book: BookFile, now: datetime) -> Pages:
    """The whole book with the forecasts known at a moment."""
    return read_pages(book, known_at=now)


def _sources(values: Iterable[WeatherValue]) -> Iterator[Report]:
    """Where measured values came from; reference evaporation is reckoned here, from nowhere else."""
    by_source: defaultdict[str, list[WeatherValue]] = defaultdict(list)
    for value in values:
        if value.kind != "filled" and value.variable != REFERENCE_ET:
            by_source[value.source].append(value)
    for source, found in sorted(by_source.items()):
        known = {value.variable for value in found}
        variables = [words for variable, words in WORDS.items() if variable in known]
        yield {"source": source, "variables": variables, **_span(value.day for value in found)}


def _gauge(pages: Pages) -> Iterator[Report]:
    zone = garden_zone(pages.garden)
    days = [local_day(one.happened_at, zone) for one in pages.entries if isinstance(one, Rain)]
    if days:
        yield {"source": GAUGE, "variables": [WORDS["rain_mm"]], **_span(days)}


def _filled(values: Iterable[WeatherValue]) -> Iterator[Report]:
    """What was not read as it stands: made, brought to another height or day, or filled.

    How a service's days are made of its hours is the same for all of them, and not listed.
    """
    by_way: defaultdict[tuple[str, str], list[date]] = defaultdict(list)
    for value in values:
        if value.method and (value.kind != "analysed" or value.variable == REFERENCE_ET):
            by_way[value.variable, value.method].append(value.day)
    for (variable, method), days in sorted(by_way.items()):
        words = WORDS.get(variable, variable)
        yield {"variable": words, "method": method, "days": len(days), **_span(days)}


def _missing(pages: Pages) -> Iterator[Report]:
    """Days between the first and the last whose rain or reference evaporation is not known."""
    known = {day.day: day for day in pages.weather}
    first, last = min(known), max(known)
    span = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    totals = {day: known[day].rain_mm if day in known else None for day in span}
    readings = tuple(one for one in pages.entries if isinstance(one, Rain))
    zone, hour = garden_zone(pages.garden), pages.garden.round_hour
    without = {
        "rain_mm": list(days_without_rain(readings, totals, zone, hour)),
        REFERENCE_ET: [day for day in span if day not in known or known[day].et0_mm is None],
    }
    for variable, days in without.items():
        if days:
            yield {"variable": WORDS[variable], "days": len(days), **_span(days)}


def _old(days: list[date], today: date) -> Iterator[Report]:
    age = (today - max(days)).days if days else 0
    if age > OLD_AFTER_DAYS:
        last = f"{month_day(max(days))} {max(days).year}"
        say = f"The book has seen no weather since {last}, {age} days ago."
        yield {"kind": "weather_old", "say": say}


def _span(days: Iterable[date]) -> dict[str, date]:
    listed = list(days)
    return {"first": min(listed), "last": max(listed)}
