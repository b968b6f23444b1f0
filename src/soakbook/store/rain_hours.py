"""How each day's rain fell, hour by hour: lists are added and never changed; the best of each day is believed."""

import json
from collections.abc import Iterable
from datetime import date, datetime

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherSeries
from soakbook.store.arrivals import Arrival, add_arrival, arrival, latest_text
from soakbook.store.book_file import BookFile

HOURS_OF_A_DAY = range(23, 26)


def add_rain_hours(book: BookFile, told: Iterable[WeatherSeries]) -> int:
    """Add lists of rain by the hour, all or none, leaving out those that are believed already.

    Parameters
    ----------
    book
        Open for writing.
    told
        Series of "hours" of "rain_mm".

    Returns
    -------
    int
        How many were added.

    Raises
    ------
    InputError
        A list that is not a day's hours of rain.
    """
    series = list(told)
    for one in series:
        whole = len(one.numbers) in HOURS_OF_A_DAY and all(mm >= 0 for mm in one.numbers)
        if (one.of, one.variable) != ("hours", "rain_mm") or not whole:
            raise InputError("rain by the hour", one.day.isoformat(), "23 to 25 numbers from 0 up")
    if not series:
        return 0
    days = [one.day for one in series]
    with book.writing() as connection:
        known = rain_hours(book, min(days), max(days))
        fresh = [one for one in series if known.get(one.day.isoformat()) != one.numbers]
        ids: dict[Arrival, int] = {}
        for one in fresh:
            arrived = arrival(one.source, one.kind, one.method, one.issued_at, one.fetched_at)
            if arrived not in ids:
                ids[arrived] = add_arrival(connection, arrived)
            connection.execute(
                "INSERT INTO rain_hours (arrival_id, day, numbers) VALUES (?, ?, ?)",
                (ids[arrived], one.day.isoformat(), json.dumps(one.numbers)),
            )
    return len(fresh)


def rain_hours(
    book: BookFile,
    from_day: date | None = None,
    to_day: date | None = None,
    came_before: datetime | None = None,
) -> dict[str, tuple[float, ...]]:
    """The best known list of each day that has one, by the day as the book writes it; both days included.

    With `came_before`, a zone-aware moment, the best that had come by then.
    """
    latest = latest_text(came_before)
    span = ((from_day or date.min).isoformat(), (to_day or date.max).isoformat(), latest)
    with book.reading() as connection:
        found = connection.execute(
            "SELECT day, numbers, max(worth || ' ' || (1000000000000 + rain_hours.id))"
            " FROM rain_hours JOIN weather_arrival ON weather_arrival.id = arrival_id"
            " WHERE day BETWEEN ? AND ? AND fetched_at < ? GROUP BY day",
            span,
        ).fetchall()
    return {day: tuple(json.loads(numbers)) for day, numbers, _ in found}
