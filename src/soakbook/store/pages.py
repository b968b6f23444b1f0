"""The whole book in one reading."""

from datetime import date, datetime

from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Person, Planting, Rate, Restriction, Tap
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import entries_in_force
from soakbook.store.forecast_rows import known_forecasts, promises_made
from soakbook.store.garden_rows import read_garden, read_records
from soakbook.store.texts import garden_zone
from soakbook.store.weather_rows import weather_days


def read_pages(
    book: BookFile, until: date | None = None, known_at: datetime | None = None
) -> Pages:
    """Everything a reckoning may know, all of it of one moment of the book.

    Beds, taps and people come as they were written; plantings, restrictions and rates by their
    first day; entries in force as they happened; the best known weather by day. Where what is
    known by the round hour of `until` is enough, what is later may be left out. Forecasts are those
    that were known at a moment, or at that hour, else the newest.
    """
    with book.reading():
        garden = read_garden(book)
        if known_at is None and until is not None:
            known_at = datetime.combine(until, garden.round_hour, garden_zone(garden))
        return Pages(
            garden=garden,
            beds=read_records(book, Bed),
            plantings=read_records(book, Planting),
            taps=read_records(book, Tap),
            people=read_records(book, Person),
            restrictions=read_records(book, Restriction),
            rates=read_records(book, Rate),
            entries=entries_in_force(book, garden, until),
            weather=weather_days(book, to_day=until),
            forecasts=known_forecasts(book, known_at),
            promises=promises_made(book, until),
        )
