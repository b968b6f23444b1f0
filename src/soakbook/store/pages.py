"""The whole book in one reading."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Person, Planting, Rate, Restriction, Tap
from soakbook.garden.weather import WeatherDay
from soakbook.store.arrivals import first_arrival
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import entries_in_force
from soakbook.store.forecast_rows import known_forecasts, promises_made
from soakbook.store.garden_rows import read_garden, read_records
from soakbook.store.refusals import readable
from soakbook.store.texts import garden_zone
from soakbook.store.weather_rows import weather_days

A_DAY = timedelta(days=1)


def read_pages(
    book: BookFile, until: date | None = None, known_at: datetime | None = None
) -> Pages:
    """Everything a reckoning may know, all of it of one moment of the book.

    Beds, taps and people come as they were written; plantings, restrictions and rates by their
    first day; entries in force as they happened; the best known weather by day. Where what is
    known by the round hour of `until` is enough, what is later may be left out. Forecasts are those
    that were known at a moment, or at that hour, else the newest; and those that a round of the day
    before could know.

    Raises
    ------
    BookError
        Something in the book cannot be read.
    """
    with readable(book.path), book.reading() as connection:
        garden = read_garden(book)
        zone = garden_zone(garden)
        if known_at is None and until is not None:
            known_at = datetime.combine(until, garden.round_hour, zone)
        weather, plantings = weather_days(book, to_day=until), read_records(book, Planting)
        return Pages(
            garden=garden,
            beds=read_records(book, Bed),
            plantings=plantings,
            taps=read_records(book, Tap),
            people=read_records(book, Person),
            restrictions=read_records(book, Restriction),
            rates=read_records(book, Rate),
            entries=entries_in_force(book, garden, until),
            weather=weather,
            forecasts=known_forecasts(book, known_at, _lacking(weather, plantings)),
            promises=promises_made(book, until),
            known_at=known_at,
            heard_since=first_arrival(connection, zone) if until is None else None,
        )


def _lacking(
    weather: Sequence[WeatherDay], plantings: Sequence[Planting]
) -> tuple[date, set[date]] | None:
    """The day of the first planting, and the days from it on whose rain and reference evaporation are measured."""
    if not plantings:
        return None
    first = min(one.planted_on for one in plantings)
    measured = {
        day.day for day in weather if day.day >= first and None not in (day.rain_mm, day.et0_mm)
    }
    return first, measured
