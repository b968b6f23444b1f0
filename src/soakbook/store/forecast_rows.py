"""Forecasts in the book: every issue whole, added and never changed; the newest that was known counts."""

import json
import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from soakbook.errors import InputError
from soakbook.garden.promises import DOUBTFUL_SHARE, LEADS_DAYS, Made, made_by
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.store.arrivals import add_arrival, arrival, latest_text
from soakbook.store.book_file import BookFile
from soakbook.store.garden_rows import read_garden
from soakbook.store.texts import utc_text

A_DAY = timedelta(days=1)
LOOK_BACK_DAYS = 8
"""As far as a round looks back for what it left a bed for."""
_LARGEST = 1e4  # of any number in a forecast: 10 m of rain would be a slip


def add_forecasts(
    book: BookFile, forecasts: Iterable[Forecast], *, fetched_at: datetime | None = None
) -> int:
    """Add issues, all or none, leaving out one that only repeats its own newest.

    Parameters
    ----------
    book
        Open for writing.
    forecasts
        Oldest first.
    fetched_at
        When they came; None: each when it was issued.

    Returns
    -------
    int
        How many were added.

    Raises
    ------
    InputError
        A number that no weather has; a moment that lacks its zone; days out of order.
    """
    added, zone = 0, book.zone()
    with book.writing() as connection:
        for forecast in forecasts:
            told = [*([forecast.begun] if forecast.begun else []), *forecast.days]
            rows = [(one.day.isoformat(), said_text(one)) for one in told]
            if (
                not forecast.days
                or rows != sorted(set(rows))
                or len({day for day, _ in rows}) < len(rows)
            ):
                right = "days in order, each once"
                raise InputError("forecast", forecast.issued_at.isoformat(), right)
            issued = utc_text("issued_at", forecast.issued_at)
            if _newest(connection, issued) == (forecast.source, rows):
                continue
            arrived = arrival(
                forecast.source,
                "forecast",
                "",
                forecast.issued_at,
                fetched_at or forecast.issued_at,
            )
            number = add_arrival(connection, arrived)
            connection.executemany(
                "INSERT INTO forecast_day (arrival_id, day, said) VALUES (?, ?, ?)",
                ((number, *row) for row in rows),
            )
            _keep_promises(connection, number, forecast, zone)
            added += 1
    return added


def known_forecasts(
    book: BookFile,
    known_at: datetime | None = None,
    lacking: tuple[date, Collection[date]] | None = None,
    came_before: datetime | None = None,
) -> tuple[Forecast, ...]:
    """The issues that a morning needs, newest first.

    The newest that was known at a moment, and those that earlier rounds knew: of the day before always; of a round up
    to eight days back only where an issue had useful rain in it for then, be it doubtful: a bed may have been left for
    it.

    Parameters
    ----------
    book
    known_at
        Zone-aware: the newest issue by then; None: the newest of all.
    lacking
        A first day, and the days from it on that somebody has measured: of every other one up to then of which the
        newest issue does not tell, the newest that does, with such days alone.
    came_before
        Zone-aware: only issues that had come by then, whenever they were issued; None: all.
    """
    came = latest_text(came_before)
    latest = "9999" if known_at is None else utc_text("known_at", known_at)
    with book.reading() as connection:
        newest = _issue(connection, latest, came)
        if newest is None:
            return ()
        round_hour, zone = read_garden(book).round_hour, book.zone()
        whole = _forecast(connection, newest)
        today = (known_at or whole.issued_at).astimezone(zone).date()
        rounds = [today - A_DAY, *_promising(connection, today, came)]
        moments = [datetime.combine(day, round_hour, zone) for day in rounds]
        older = [_issue(connection, utc_text("known_at", moment), came) for moment in moments]
        others = dict.fromkeys(one for one in older if one is not None and one != newest)
        found = [whole, *(_forecast(connection, one) for one in others)]
        if lacking is not None:
            first, measured = lacking
            known = {day.day for day in whole.days}.union(measured)
            unknown = [day for day in _days(first, today - A_DAY) if day not in known]
            if unknown:
                found += _issues_of(connection, unknown, (latest, came))
    return tuple(sorted(found, key=lambda one: one.issued_at, reverse=True))


def _days(first: date, last: date) -> Iterator[date]:
    return (first + n * A_DAY for n in range((last - first).days + 1))


def promises_made(
    book: BookFile, until: date | None = None, came_before: datetime | None = None
) -> tuple[Made, ...]:
    """What each service promised on each day up to one, by its first issue of the day.

    With `came_before`, a zone-aware moment, by those that had come by then.
    """
    with book.reading() as connection:
        found = connection.execute(
            "SELECT source, issued_on, lead_days, share, middle_mm, issued_at"
            " FROM promise JOIN weather_arrival ON weather_arrival.id = arrival_id"
            " WHERE issued_on <= ? AND fetched_at < ? ORDER BY issued_on, promise.id",
            ((until or date.max).isoformat(), latest_text(came_before)),
        ).fetchall()
    return tuple(
        Made(
            source,
            date.fromisoformat(day),
            lead,
            share,
            middle_mm,
            datetime.fromisoformat(issued_at),
        )
        for source, day, lead, share, middle_mm, issued_at in found
    )


def _keep_promises(
    connection: sqlite3.Connection, arrival_id: int, forecast: Forecast, zone: ZoneInfo
) -> None:
    """Write down what an issue promises, if it is its service's first of the day."""
    made = made_by([forecast], zone)
    known = connection.execute(
        "SELECT 1 FROM promise JOIN weather_arrival ON weather_arrival.id = arrival_id"
        " WHERE source = ? AND issued_on = ? LIMIT 1",
        (forecast.source, made[0].issued_on.isoformat()),
    ).fetchone()
    if known is None:
        connection.executemany(
            "INSERT INTO promise (arrival_id, issued_on, lead_days, share, middle_mm)"
            " VALUES (?, ?, ?, ?, ?)",
            (
                (arrival_id, one.issued_on.isoformat(), one.lead_days, one.share, one.middle_mm)
                for one in made
            ),
        )


def _promising(connection: sqlite3.Connection, today: date, came: str) -> list[date]:
    """Days before yesterday, newest first, for which an issue known by then had useful rain in it."""
    first, last = today - LOOK_BACK_DAYS * A_DAY, today - 2 * A_DAY
    longest = max(LEADS_DAYS) * A_DAY
    found = connection.execute(
        "SELECT issued_on, max(lead_days) FROM promise"
        " JOIN weather_arrival ON weather_arrival.id = arrival_id"
        " WHERE issued_on BETWEEN ? AND ? AND share >= ? AND fetched_at < ? GROUP BY issued_on",
        ((first - longest).isoformat(), last.isoformat(), DOUBTFUL_SHARE, came),
    )
    days = {
        date.fromisoformat(issued_on) + ahead * A_DAY
        for issued_on, lead_days in found
        for ahead in range(lead_days + 1)
    }
    return sorted((day for day in days if first <= day <= last), reverse=True)


def _issue(connection: sqlite3.Connection, until: str, came: str) -> int | None:
    found = connection.execute(
        "SELECT weather_arrival.id FROM weather_arrival WHERE kind = 'forecast' AND issued_at <= ?"
        " AND fetched_at < ?"
        " AND EXISTS (SELECT 1 FROM forecast_day WHERE arrival_id = weather_arrival.id)"
        " ORDER BY issued_at DESC, fetched_at DESC, id DESC LIMIT 1",
        (until, came),
    ).fetchone()
    return None if found is None else int(found[0])


def _issues_of(
    connection: sqlite3.Connection, days: Sequence[date], until: tuple[str, str]
) -> Iterator[Forecast]:
    """Of each of some days the newest issue that tells of it, with such days alone."""
    found = connection.execute(
        "SELECT day, source, issued_at, said,"
        " max(issued_at || fetched_at || printf('%012d', arrival_id))"
        " FROM forecast_day JOIN weather_arrival ON weather_arrival.id = arrival_id"
        " WHERE day IN (SELECT value FROM json_each(?)) AND issued_at <= ? AND fetched_at < ?"
        " AND json_extract(said, '$.from_hour') IS NULL"
        " GROUP BY day ORDER BY day",
        (json.dumps([day.isoformat() for day in days]), *until),
    )
    by_issue: defaultdict[tuple[str, str], list[ForecastDay]] = defaultdict(list)
    for day, source, issued, said, _ in found:
        by_issue[source, issued].append(_day(day, json.loads(said)))
    for (source, issued), told in by_issue.items():
        yield Forecast(source, datetime.fromisoformat(issued), tuple(told))


def _forecast(connection: sqlite3.Connection, arrival_id: int) -> Forecast:
    source, issued = connection.execute(
        "SELECT source, issued_at FROM weather_arrival WHERE id = ?", (arrival_id,)
    ).fetchone()
    rows = connection.execute(
        "SELECT day, said FROM forecast_day WHERE arrival_id = ? ORDER BY day", (arrival_id,)
    )
    told = [_day(day, json.loads(said)) for day, said in rows]
    begun = next((day for day in told if day.from_hour), None)
    days = tuple(day for day in told if not day.from_hour)
    return Forecast(source, datetime.fromisoformat(issued), days, begun)


def _newest(connection: sqlite3.Connection, until: str) -> tuple[str, list[tuple[str, str]]] | None:
    """Whose the newest issue up to a moment is, and what it says, as it is written.

    Of whichever service: one that repeats its Monday on Wednesday makes another's Tuesday outdated.
    """
    found = connection.execute(
        "SELECT id, source FROM weather_arrival WHERE kind = 'forecast' AND issued_at <= ?"
        " AND EXISTS (SELECT 1 FROM forecast_day WHERE arrival_id = weather_arrival.id)"
        " ORDER BY issued_at DESC, id DESC LIMIT 1",
        (until,),
    ).fetchone()
    if found is None:
        return None
    rows = connection.execute(
        "SELECT day, said FROM forecast_day WHERE arrival_id = ? ORDER BY day", (found[0],)
    )
    return found[1], rows.fetchall()


def said_text(one: ForecastDay) -> str:
    """What an issue says of one day, as the book writes it; InputError for a number that no weather has."""
    unsaid = ForecastDay._field_defaults
    said = {name: value for name, value in one._asdict().items() if value != unsaid.get(name)}
    del said["day"]
    for name, value in said.items():
        for number in value if isinstance(value, tuple) else (value,):
            if not abs(number) <= _LARGEST:  # a NaN too
                raise InputError(name, number, f"a number of weather for {one.day}")
    return json.dumps(said, separators=(",", ":"))


def _day(day: str, said: dict[str, Any]) -> ForecastDay:
    fields: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value for name, value in said.items()
    }
    return ForecastDay(day=date.fromisoformat(day), **fields)
