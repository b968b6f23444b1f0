"""Weather from a file: read whole or not at all, reckoned, kept with where it came from."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any, NamedTuple, Required, TypedDict, Unpack

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherValue
from soakbook.quantities import saying
from soakbook.quantities.dates import month_day
from soakbook.services.addresses import shown
from soakbook.services.pen import Pen
from soakbook.services.told import Report, told
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.garden_rows import (
    keep_location,
    keep_mapping,
    locations,
    read_garden,
    read_mapping,
)
from soakbook.store.texts import garden_zone
from soakbook.store.weather_rows import add_weather, rain_of_services
from soakbook.weather.clock import blocked_gauge
from soakbook.weather.column_map import (
    NOTHING_SAID,
    Clock,
    ColumnMap,
    DateOrder,
    columns_said,
)
from soakbook.weather.files import WeatherFile, read_weather_file
from soakbook.weather.kept_maps import as_json, from_json
from soakbook.weather.reference_et import Site

STILL_SO = timedelta(days=14)
"""How long after its last sign a fault of an instrument is still told when its file is read again."""

READ_FROM = "read_from"
"""Beside the remembered columns: the path that a file was read from once, under its own name."""


class FileSaid(TypedDict, total=False):
    """What comes with a file, by name: who brings it in, and how it is to be read.

    `columns` are texts such as `rain=Precip:in`; `comma` says whether numbers are written 12,5;
    `rain_day` whose day a rain is that was read in the morning; `clock` what the times of a file of
    hours are written by; `gaps` whether days may be missing; `name` whose weather it is; `again` that
    the file is only read once more; `called` what it is called where its own name is not that;
    `read_from` the path or address that it came from, and `keep` that it is read there again.
    """

    now: Required[datetime]
    by: str | None
    columns: Sequence[str]
    dates: DateOrder | None
    comma: bool | None
    rain_day: str | None
    clock: Clock | None
    gaps: bool
    name: str | None
    again: bool
    called: str
    read_from: str
    keep: bool


class _Known(NamedTuple):
    """What the book remembers of a file's name."""

    name: str
    mapping: dict[str, Any]
    read_from: str | None
    """Where what bears the name came from, as far as that was written down."""


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
        now, by; columns, dates, comma, rain_day, clock, gaps, name; again; called, read_from, keep.

    Raises
    ------
    InputError
        Anything in the file that cannot be right, or a name that other weather has; then nothing of it is
        in the book.
    """
    pen = Pen(path, said["now"], said.get("by"))
    with open_book(path) as book:
        known, garden = _known(book, file, said), read_garden(book)
        now = said["now"].astimezone(garden_zone(garden))
        read = read_weather_file(
            file,
            Site(garden.latitude_deg, garden.elevation_m, longitude_deg=garden.longitude_deg),
            now,
            _column_map(said).over(from_json(known.mapping) if known.mapping else NOTHING_SAID),
            gaps_allowed=said.get("gaps", False),
            name=said.get("called"),
        )
        if said.get("clock") and not read.of_hours:
            right = "left out: its rows are whole days, and have no times"
            raise InputError("clock", said["clock"], right)
        values = _gone_by(read, now.date(), known.name)
        with book.writing():
            added = add_weather(book, values)
            mapping = as_json(read.column_map) | _written_down(known, said)
            keep_mapping(book, known.name, mapping, at=now, by=pen.by)
            if said.get("keep"):
                keep_location(book, known.name, said["read_from"])
        service_mm = rain_of_services(book, read.first, read.last)
    if not values:
        return _nothing(read, known.name, now.date())
    again, lately = said.get("again", False), now.date() - STILL_SO
    gauge_mm = {value.day: value.value for value in values if value.variable == "rain_mm"}
    blocked = blocked_gauge(gauge_mm, service_mm, since=lately if again else date.min)
    if again:  # the file's other findings were told when it was brought
        lasting = read.lasting if read.last >= lately else ()
        read = replace(read, taken=(), left_out=(), findings=lasting)
    return _answer(read, values, added, [*([blocked] if blocked else []), *_moved(known, said)])


def _known(book: BookFile, file: Path, said: FileSaid) -> _Known:
    """What bears the file's name already; other weather of that name is refused unless the name was said."""
    typed, read_from = said.get("name"), said.get("read_from")
    if typed is not None and not typed.strip():
        raise InputError("name", typed, "whose weather it is, as in --name shed")
    name = typed or said.get("called") or file.name
    mapping = read_mapping(book, name) or {}
    older = locations(book).get(name) or mapping.get(READ_FROM)
    if typed is None and older and read_from and older != read_from:
        right = (
            f"another, by --name: it is that of {shown(older)}; if both are of one place, "
            f'say --name "{name}"'
        )
        raise InputError("name", name, right)
    return _Known(name, mapping, older)


def _written_down(known: _Known, said: FileSaid) -> dict[str, str]:
    """Where a file came from that bears its own name: so another of that name is known for another."""
    kept = known.mapping.get(READ_FROM)
    read_from = kept if said.get("name") or said.get("keep") else said.get("read_from")
    return {READ_FROM: read_from} if read_from else {}


def _moved(known: _Known, said: FileSaid) -> list[str]:
    """That a name, said on purpose, is read elsewhere from now on."""
    if not said.get("keep") or known.read_from in (None, said["read_from"]):
        return []
    return [
        f"{known.name} is read from {shown(said['read_from'])} from now on, "
        f"no longer from {shown(known.read_from)}"
    ]


def _column_map(said: FileSaid) -> ColumnMap:
    return replace(
        columns_said(said.get("columns", ())),
        date_order=said.get("dates"),
        decimal_comma=said.get("comma"),
        rain_day=said.get("rain_day"),
        clock=said.get("clock"),
        source=said.get("name"),
    )


def _gone_by(read: WeatherFile, today: date, name: str) -> list[WeatherValue]:
    """The values of days that are over; a file that knows days to come is refused."""
    if read.last > today:
        right = f"days up to {today.isoformat()}: what was measured, not what is to come"
        raise InputError(f"days of {name}", read.last.isoformat(), right)
    return [value for value in read.values if value.day < today]


def _nothing(read: WeatherFile, name: str, today: date) -> Report:
    """The answer to a file without a value of a day that is over."""
    why = (
        "nothing taken, for today is not over: read it again tomorrow"
        if read.first == today
        else "nothing taken, for there is no value in it"
    )
    return told("weather", None, (f"{name}: {why}.",), _changed(read, name))


def _changed(
    read: WeatherFile, source: str, days: int = 0, added: int = 0, findings: Sequence[str] = ()
) -> dict[str, Any]:
    return {
        "source": source,
        "first": read.first,
        "last": read.last,
        "days": days,
        "values_added": added,
        "taken": read.taken if days else (),
        "left_out": read.left_out if days else (),
        "findings": tuple(findings),
    }


def _answer(
    read: WeatherFile, values: Sequence[WeatherValue], added: int, more: Sequence[str]
) -> Report:
    findings = (*read.findings, *more)
    source = values[0].source
    days = len({value.day for value in values})
    new = "all of it new" if added == len(values) else f"{added:,} of {len(values):,} values new"
    first, last = (f"{month_day(day)} {day.year}" for day in (read.first, read.last))
    say = (
        f"{source}: {saying.counted(days, 'day')} from {first} to {last}, {new}.",
        _lines("Taken", read.taken),
        _lines("Left out", read.left_out),
        _lines("To know", findings),
    )
    return told("weather", None, say, _changed(read, source, days, added, findings))


def _lines(title: str, lines: Sequence[str]) -> str:
    return "\n".join([f"{title}:", *(f"  {line}" for line in lines)]) if lines else ""
