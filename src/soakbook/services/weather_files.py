"""Weather from a file: read whole or not at all, reckoned, kept with where it came from."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Required, TypedDict, Unpack

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherValue
from soakbook.quantities import saying
from soakbook.quantities.dates import month_day
from soakbook.services.pen import Pen
from soakbook.services.told import Report, told
from soakbook.store.book import open_book
from soakbook.store.garden_rows import keep_mapping, read_garden, read_mapping
from soakbook.store.texts import garden_zone
from soakbook.store.weather_rows import add_weather, rain_of_services
from soakbook.weather.clock import blocked_gauge
from soakbook.weather.column_map import (
    NOTHING_SAID,
    Clock,
    ColumnMap,
    DateOrder,
    as_json,
    columns_said,
    from_json,
)
from soakbook.weather.files import WeatherFile, read_weather_file
from soakbook.weather.reference_et import Site

STILL_BLOCKED = timedelta(days=14)
"""How long after its last sign a gauge is still said to be blocked when its file is read again."""


class FileSaid(TypedDict, total=False):
    """What comes with a file, by name: who brings it in, and how it is to be read.

    `columns` are texts such as `rain=Precip:in`; `rain_day` says whose day a rain is that was read in
    the morning; `clock` what the times of a file of hours are written by; `gaps` whether days may be
    missing; `name` whose weather it is; `again` that the file is only read once more.
    """

    now: Required[datetime]
    by: str | None
    columns: Sequence[str]
    dates: DateOrder | None
    rain_day: str | None
    clock: Clock | None
    gaps: bool
    name: str | None
    again: bool


def import_file(path: Path, file: Path, **said: Unpack[FileSaid]) -> Report:
    """Bring a file of measured weather into the book, day by day.

    How it was read is remembered under its name, and lies under what is said the next time. What
    the same source has said before is not written again.

    Parameters
    ----------
    path : Path
        The book.
    file : Path
        A table as text, one row a day or rows of parts of a day.
    **said
        now, by; columns, dates, rain_day, clock, gaps, name; again.

    Raises
    ------
    InputError
        Anything in the file that cannot be right; then nothing of it is in the book.
    """
    name = said.get("name") or file.name
    pen = Pen(path, said["now"], said.get("by"))
    with open_book(path) as book:
        garden, remembered = read_garden(book), read_mapping(book, name)
        now = said["now"].astimezone(garden_zone(garden))
        older = NOTHING_SAID if remembered is None else from_json(remembered)
        read = read_weather_file(
            file,
            Site(garden.latitude_deg, garden.elevation_m, longitude_deg=garden.longitude_deg),
            now,
            _column_map(said).over(older),
            gaps_allowed=said.get("gaps", False),
        )
        values = _gone_by(read, now.date(), file)
        with book.writing():
            added = add_weather(book, values)
            keep_mapping(book, name, as_json(read.column_map), at=now, by=pen.by)
        service_mm = rain_of_services(book, read.first, read.last)
    since = now.date() - STILL_BLOCKED if said.get("again") else date.min
    gauge_mm = {value.day: value.value for value in values if value.variable == "rain_mm"}
    blocked = blocked_gauge(gauge_mm, service_mm, since=since)
    if said.get("again"):  # the file's other findings were told when it was brought
        return _answer(replace(read, taken=(), left_out=(), findings=()), values, added, blocked)
    return _answer(read, values, added, blocked)


def _column_map(said: FileSaid) -> ColumnMap:
    return replace(
        columns_said(said.get("columns", ())),
        date_order=said.get("dates"),
        rain_day=said.get("rain_day"),
        clock=said.get("clock"),
        source=said.get("name"),
    )


def _gone_by(read: WeatherFile, today: date, file: Path) -> list[WeatherValue]:
    """The values of days that are over; a file that knows days to come is refused."""
    if read.last > today:
        right = f"days up to {today.isoformat()}: what was measured, not what is to come"
        raise InputError(f"days of {file.name}", read.last.isoformat(), right)
    return [value for value in read.values if value.day < today]


def _answer(
    read: WeatherFile, values: Sequence[WeatherValue], added: int, blocked: str | None
) -> Report:
    findings = (*read.findings, blocked) if blocked else read.findings
    source = read.column_map.source or (values[0].source if values else "the file")
    days = len({value.day for value in values})
    new = "all of it new" if added == len(values) else f"{added:,} of {len(values):,} values new"
    first, last = (f"{month_day(day)} {day.year}" for day in (read.first, read.last))
    say = (
        f"{source}: {saying.counted(days, 'day')} from {first} to {last}, {new}.",
        _lines("Taken", read.taken),
        _lines("Left out", read.left_out),
        _lines("To know", findings),
    )
    changed = {
        "source": source,
        "first": read.first,
        "last": read.last,
        "days": days,
        "values_added": added,
        "taken": read.taken,
        "left_out": read.left_out,
        "findings": findings,
    }
    return told("weather", None, say, changed)


def _lines(title: str, lines: Sequence[str]) -> str:
    return "\n".join([f"{title}:", *(f"  {line}" for line in lines)]) if lines else ""
