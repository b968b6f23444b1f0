"""The weather in the book: values are added and never changed; the best of each day is a view."""

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherDay, WeatherKind, WeatherValue
from soakbook.store.arrivals import Arrival, add_arrival, arrival
from soakbook.store.book_file import BookFile
from soakbook.store.rain_hours import rain_hours
from soakbook.store.texts import utc_text


def add_weather(book: BookFile, values: Iterable[WeatherValue]) -> int:
    """Add weather, all or none, leaving out what the same source has said already.

    A value is left out when the newest one in the book of the same source, kind, issue, variable
    and day has the same number and method: reading a file twice adds nothing, while a
    correction, and a correction taken back, are added.

    Parameters
    ----------
    book
        Open for writing.
    values
        Days in any order; of two for one day the later in the list is the newer.

    Returns
    -------
    int
        How many were added.

    Raises
    ------
    InputError
        When a value is no number or a moment lacks its zone.
    """
    by_origin: defaultdict[tuple[str, str], list[WeatherValue]] = defaultdict(list)
    for value in values:
        if not abs(value.value) <= _LARGEST:  # a NaN too
            raise InputError(value.variable, value.value, f"a number of weather for {value.day}")
        by_origin[value.source, value.kind].append(value)
    with book.writing() as connection:
        fresh = [each for told in by_origin.values() for each in _fresh(connection, told)]
        ids = {
            arrived: add_arrival(connection, arrived)
            for arrived in dict.fromkeys(arrived for arrived, _, _ in fresh)
        }
        connection.executemany(
            "INSERT INTO weather_value (arrival_id, day, variable, value) VALUES (?, ?, ?, ?)",
            ((ids[arrived], *place, number) for arrived, place, number in fresh),
        )
    return len(fresh)


def weather_days(
    book: BookFile,
    from_day: date | None = None,
    to_day: date | None = None,
    came_before: datetime | None = None,
) -> tuple[WeatherDay, ...]:
    """The best known weather of each day that has any, oldest first; both days included.

    With `came_before`, a zone-aware moment, the best that had come by then.
    """
    columns = "day, variable, value, source, kind, method"
    by_day: defaultdict[str, dict[str, float]] = defaultdict(dict)
    sources: defaultdict[str, dict[str, tuple[str, WeatherKind, str]]] = defaultdict(dict)
    for day, variable, value, source, kind, method in _best(
        book, columns, (from_day, to_day), came_before
    ):
        if variable in _DAY_FIELDS:
            by_day[day][variable] = value
            sources[day][variable] = (source, kind, method)
    shapes = rain_hours(book, from_day, to_day, came_before)
    return tuple(
        WeatherDay(
            day=date.fromisoformat(day),
            sources=sources[day],
            rain_by_hour_mm=shapes.get(day, ()),
            **known,
        )
        for day, known in by_day.items()
    )


def best_values(
    book: BookFile, from_day: date | None = None, to_day: date | None = None
) -> tuple[WeatherValue, ...]:
    """The best known value of every variable, by day and variable; both days included."""
    columns = "day, variable, value, source, kind, fetched_at, issued_at, method"
    found = _best(book, columns, (from_day, to_day))
    return tuple(
        WeatherValue(
            day=date.fromisoformat(day),
            variable=variable,
            value=value,
            source=source,
            kind=kind,
            fetched_at=datetime.fromisoformat(fetched_at),
            issued_at=None if issued_at is None else datetime.fromisoformat(issued_at),
            method=method,
        )
        for day, variable, value, source, kind, fetched_at, issued_at, method in found
    )


def rain_of_services(book: BookFile, from_day: date, to_day: date) -> dict[date, float]:
    """Rain of each day as a weather service last said it fell [mm], whatever better is known; both days included."""
    span = (from_day.isoformat(), to_day.isoformat())
    with book.reading() as connection:
        found = connection.execute(
            "SELECT day, value, max(weather_value.id)"
            " FROM weather_value JOIN weather_arrival ON weather_arrival.id = arrival_id"
            " WHERE kind = 'analysed' AND variable = 'rain_mm' AND day BETWEEN ? AND ?"
            " GROUP BY day",
            span,
        ).fetchall()
    return {date.fromisoformat(day): rain_mm for day, rain_mm, _ in found}


class _Place(NamedTuple):
    """What a value is of; the day as the book writes it."""

    day: str
    variable: str


class _Said(NamedTuple):
    """What a value says."""

    value: float
    method: str


_DAY_FIELDS = set(WeatherDay._fields) - {"day", "rain_by_hour_mm", "sources"}

_LARGEST = 1e9  # as the table has it


def _fresh(
    connection: sqlite3.Connection, told: Sequence[WeatherValue]
) -> list[tuple[Arrival, _Place, float]]:
    """What one source says now and has not said last."""
    known = _newest(connection, told)
    fresh = []
    for value in told:
        arrived, place = _arrival(value), _Place(value.day.isoformat(), value.variable)
        said = _Said(value.value, value.method)
        if known.get((place, arrived.issued_at)) != said:
            known[place, arrived.issued_at] = said
            fresh.append((arrived, place, value.value))
    return fresh


def _newest(
    connection: sqlite3.Connection, told: Sequence[WeatherValue]
) -> dict[tuple[_Place, str | None], _Said]:
    """What one source has said last, in each issue, of the days that it now speaks of."""
    days = [value.day.isoformat() for value in told]
    origin = (told[0].source, told[0].kind, min(days), max(days))
    return {
        (_Place(day, variable), issued_at): _Said(value, method)
        for day, variable, value, method, issued_at in connection.execute(
            "SELECT day, variable, value, method, issued_at"
            " FROM weather_value JOIN weather_arrival ON weather_arrival.id = arrival_id"
            " WHERE source = ? AND kind = ? AND day BETWEEN ? AND ?"
            " ORDER BY worth, weather_value.id",
            origin,
        )
    }


def _arrival(value: WeatherValue) -> Arrival:
    return arrival(value.source, value.kind, value.method, value.issued_at, value.fetched_at)


def _best(
    book: BookFile,
    columns: str,
    days: tuple[date | None, date | None],
    came_before: datetime | None = None,
) -> list[Any]:
    from_day, to_day = days
    values = {
        "from": (from_day or date.min).isoformat(),
        "to": (to_day or date.max).isoformat(),
        "before": None if came_before is None else utc_text("came_before", came_before),
    }
    source = "weather_best" if came_before is None else _BEST_THEN
    with book.reading() as connection:
        return connection.execute(
            f"SELECT {columns} FROM {source} WHERE day BETWEEN :from AND :to ORDER BY day, variable",
            values,
        ).fetchall()


_BEST_THEN = (
    "(SELECT v.day, v.variable, v.value, a.source, a.kind, a.fetched_at, a.issued_at, a.method,"
    " max(a.worth || ' ' || (1000000000000 + v.id)) AS worth"
    " FROM weather_value AS v JOIN weather_arrival AS a ON a.id = v.arrival_id"
    " WHERE a.fetched_at < :before GROUP BY v.day, v.variable)"
)
"""As the view `weather_best` has it, of what had come before a moment."""
