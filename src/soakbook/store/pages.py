"""The whole book in one reading."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from functools import partial

from soakbook.garden.entries import AnyEntry, BedEntry
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Garden, Person, Planting, Rate, Restriction, Tap, Uid
from soakbook.garden.weather import WeatherDay
from soakbook.store.arrivals import first_arrival
from soakbook.store.as_known import read_then
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import entries_in_force
from soakbook.store.forecast_rows import known_forecasts, promises_made
from soakbook.store.refusals import readable
from soakbook.store.texts import garden_zone
from soakbook.store.weather_rows import weather_days

A_DAY = timedelta(days=1)


def read_pages(
    book: BookFile,
    until: date | None = None,
    known_at: datetime | None = None,
    written_before: datetime | None = None,
) -> Pages:
    """Everything a reckoning may know, all of it of one moment of the book.

    Beds, taps and people come as they were written; plantings, restrictions and rates by their
    first day; entries in force as they happened; the best known weather by day. Where what is
    known by the round hour of `until` is enough, what is later may be left out. Forecasts are those
    that were known at a moment, or at that hour, else the newest; and those that a round of the day
    before could know. With `written_before`, a zone-aware moment, it is the book as it was then: what had
    been written and what weather had come, corrected as far as it was then.

    Raises
    ------
    BookError
        Something in the book cannot be read.
    """
    with readable(book.path), book.reading() as connection:
        read = partial(read_then, book, before=written_before)
        garden = read(Garden)[0]
        zone = garden_zone(garden)
        if known_at is None and until is not None:
            known_at = datetime.combine(until, garden.round_hour, zone)
        weather = weather_days(book, to_day=until, came_before=written_before)
        beds = read(Bed)
        kept = {bed.uid for bed in beds}
        plantings = tuple(one for one in read(Planting) if one.bed_uid in kept)
        kept |= {one.uid for one in plantings}
        return Pages(
            garden=garden,
            beds=beds,
            plantings=plantings,
            taps=read(Tap),
            people=read(Person),
            restrictions=read(Restriction),
            rates=read(Rate),
            entries=tuple(
                one
                for one in entries_in_force(book, garden, until, written_before)
                if written_before is None or _of(one) <= kept
            ),
            weather=weather,
            forecasts=known_forecasts(book, known_at, _lacking(weather, plantings), written_before),
            promises=promises_made(book, until, written_before),
            known_at=known_at,
            heard_since=first_arrival(connection, zone) if until is None else None,
        )


def _of(entry: AnyEntry) -> set[Uid]:
    """What an entry is about. Of an imported one that may have been written after the entry itself."""
    if not isinstance(entry, BedEntry):
        return set()
    return {entry.bed_uid} if entry.planting_uid is None else {entry.bed_uid, entry.planting_uid}


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
