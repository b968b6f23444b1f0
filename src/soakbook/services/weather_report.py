"""What weather the book has: from when to when, from where and of what kind, what is not known, how old it is."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import days_without_rain
from soakbook.garden.weather import WeatherDay, WeatherValue
from soakbook.quantities.dates import month_day
from soakbook.reckoning.advice.report import as_json
from soakbook.services.books import reading
from soakbook.services.mornings import SPECIMEN_MORNING
from soakbook.services.promises_kept import promise_record
from soakbook.services.told import Report
from soakbook.services.weather_ahead import dry_and_ahead
from soakbook.services.weather_sources import (
    NEEDED,
    REFERENCE_ET,
    WORDS,
    Told,
    as_forecast,
    filled,
    how_read,
    sources,
    span,
    told_better,
    told_by_forecast,
)
from soakbook.store.book_file import BookFile
from soakbook.store.pages import read_pages
from soakbook.store.texts import garden_zone
from soakbook.store.weather_rows import best_values

WEATHER_SCHEMA = "soakbook.weather/1"
OLD_AFTER_DAYS = 1
A_DAY = timedelta(days=1)


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
        pages, values = _known(book, today, now, specimen), _values(book, today)
    known = [day for day in pages.weather if told_better(day)]
    days = [day.day for day in known]
    lacking = _lacking(pages, known, today)
    forecast = told_by_forecast(values, pages, today)
    report = {
        "schema": WEATHER_SCHEMA,
        "garden": pages.garden.name,
        "first": min(days, default=None),
        "last": max(days, default=None),
        "days": len(days),
        "sources": list(sources(values, pages, today)),
        "as_forecast": list(as_forecast(forecast, lacking, garden_zone(pages.garden))),
        "read": list(how_read(values)),
        "filled": list(filled(values)),
        "missing": list(_missing(lacking, forecast)),
        "findings": [*_old(known, today)],
        "asked": list(asked),
        **dry_and_ahead(pages, today, now),
    }
    plain: Report = as_json(report)
    return plain


def promises_report(path: Path, *, now: datetime, specimen: bool = False) -> Report:
    """How services kept their promises of rain; parameters as in `weather_report`."""
    with reading(path) as book:
        today, now = _today(book, now, specimen)
        pages = _known(book, today, now, specimen)
    return promise_record(pages, today, now)


def _today(book: BookFile, now: datetime, specimen: bool) -> tuple[date, datetime]:
    """The garden's day and the moment: the specimen's are its own."""
    zone = book.zone()
    if not specimen:
        return now.astimezone(zone).date(), now
    moment = datetime.combine(SPECIMEN_MORNING, time(7), zone)
    return SPECIMEN_MORNING, moment


def _known(book: BookFile, today: date, now: datetime, specimen: bool) -> Pages:
    """The book with the forecasts known at a moment; of the specimen no more than its morning knew."""
    pages = read_pages(book, until=today if specimen else None, known_at=now)
    if not specimen:
        return pages
    entries = (one for one in pages.entries if _happened(one.happened_at, today, now))
    return pages._replace(
        entries=tuple(entries), weather=tuple(day for day in pages.weather if day.day < today)
    )


def _happened(at: datetime | date, today: date, now: datetime) -> bool:
    return at <= now if isinstance(at, datetime) else at <= today


def _values(book: BookFile, today: date) -> Sequence[WeatherValue]:
    """The best known of the days gone by."""
    return best_values(book, to_day=today - A_DAY)


def _lacking(pages: Pages, known: Sequence[WeatherDay], today: date) -> dict[str, Collection[date]]:
    """Days from the first known or forecast to yesterday on which rain or ET0 is known no better."""
    told = {day.day: day for day in known}
    forecast = [day.day for one in pages.forecasts for day in one.days if day.day < today]
    begun = [*told, *(day.day for day in pages.weather if day.day < today), *forecast]
    if not begun:
        return dict.fromkeys(NEEDED, ())
    first, last = min(begun), max(*begun, today - A_DAY)
    span_days = [first + n * A_DAY for n in range((last - first).days + 1)]
    better = {day: told_better(told[day]) if day in told else set() for day in span_days}
    totals = {day: told[day].rain_mm if "rain_mm" in better[day] else None for day in span_days}
    readings = tuple(one for one in pages.entries if isinstance(one, Rain))
    zone, hour = garden_zone(pages.garden), pages.garden.round_hour
    return {
        "rain_mm": days_without_rain(readings, totals, zone, hour),
        REFERENCE_ET: [day for day in span_days if REFERENCE_ET not in better[day]],
    }


def _missing(lacking: Mapping[str, Collection[date]], forecast: Told) -> Iterator[Report]:
    """Days up to yesterday of which nothing tells the rain or the reference evaporation."""
    for variable, without in lacking.items():
        days = [day for day in without if (day, variable) not in forecast]
        if days:
            yield {"variable": WORDS[variable], "days": len(days), **span(days)}


def _old(known: Sequence[WeatherDay], today: date) -> Iterator[Report]:
    """How long ago the last day was that is reckoned by more than a forecast."""
    reckoned = [day.day for day in known if REFERENCE_ET in told_better(day)]
    last = max(reckoned or [day.day for day in known], default=today)
    age = (today - last).days
    if age > OLD_AFTER_DAYS:
        say = f"The book has seen no weather since {month_day(last)} {last.year}, {age} days ago."
        yield {"kind": "weather_old", "bed": None, "say": say}
