"""What a day's weather costs: ten gardens' answers, 16 days in 50 futures each, parsed and put into ten books.

`python -m tests.bench.bench_weather`. The bodies are at hand, and each book has had yesterday's. Beside it the same
bodies read by json, and the same rows put into plain tables of the same shape by executemany, as durably.
"""

import json
import shutil
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, NamedTuple

from soakbook.garden.records import Garden
from soakbook.store.book import create, open_book
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.rain_hours import add_rain_hours
from soakbook.store.weather_rows import add_weather
from soakbook.weather.bodies import read_json
from soakbook.weather.hearing import Heard, Spot
from soakbook.weather.open_meteo.reading import USUAL, read_open_meteo
from soakbook.weather.session import Answer, Outside, Request, Said
from tests.services.weather_service import LONDON, MadeWeather, ensemble_body, hourly_body

GARDENS = 10
MEMBERS = 51
"""The control and fifty."""
RUNS = 9
TARGET = 3.0
TODAY = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)
YESTERDAY = TODAY - timedelta(days=1)
TABLES = {
    "weather_value": "arrival_id INTEGER, day TEXT, variable TEXT, value REAL",
    "rain_hours": "arrival_id INTEGER, day TEXT, numbers TEXT",
    "forecast_day": "arrival_id INTEGER, day TEXT, said TEXT",
    "promise": "arrival_id INTEGER, issued_on TEXT, lead_days INTEGER, share REAL, middle_mm REAL",
    "weather_arrival": "source TEXT, kind TEXT, method TEXT, issued_at TEXT, fetched_at TEXT",
}

Rows = dict[str, list[tuple[Any, ...]]]


class AtHand(Outside):
    """The way out to bodies that are here: each read and checked as one that has just come."""

    def __init__(self, bodies: dict[str, bytes]) -> None:
        self._bodies = bodies

    def get_json(
        self, request: Request, made_of: Callable[[Any], Said], now: datetime
    ) -> Answer[Said]:
        """What the body of an address says."""
        body = read_json(self._bodies[request.url], "application/json")
        return Answer(made_of(body), now, False, None, 200, None)


class OneGarden(NamedTuple):
    """A garden's book as it stood yesterday, and what the service says of it today."""

    book: Path
    spot: Spot
    bodies: dict[str, bytes]


def bodies_of(number: int, now: datetime) -> dict[str, bytes]:
    """Both answers for one garden, a shower every third day."""
    days = [now.date() + timedelta(days=n) for n in range(-8, 17)]
    rain = {day: [(5 + number, 2.6), (18, 1.3)] for day in days[number % 3 :: 3]}
    sky = MadeWeather(rain=rain, usual_tmax_c=18.0 + number / 2, members=MEMBERS)
    midnight = datetime(now.year, now.month, now.day, tzinfo=UTC)
    hours, futures = "temperature_2m,dew_point_2m,wind_speed_10m,cloud_cover", "precipitation"
    both = f"{futures},et0_fao_evapotranspiration"
    forecast = hourly_body(
        sky, midnight - timedelta(days=8), 24 * 24, f"{hours},shortwave_radiation,{both}"
    )
    ensemble = ensemble_body(sky, midnight - timedelta(days=1), 24 * 17, both)
    return {
        USUAL["forecast"]: json.dumps(forecast).encode(),
        USUAL["ensemble"]: json.dumps(ensemble).encode(),
    }


def heard(one: OneGarden, now: datetime) -> Heard:
    """What a garden's bodies say."""
    return read_open_meteo(AtHand(one.bodies), one.spot, now, past_days=8)


def put(book_path: Path, told: Heard, now: datetime) -> None:
    """Put it into the book, all or nothing."""
    assert told.forecast is not None
    with open_book(book_path) as book, book.writing():
        add_weather(book, told.values)
        add_rain_hours(book, told.rain_hours)
        add_forecasts(book, [told.forecast], fetched_at=now)


def put_all(books: Sequence[Path], told: Sequence[Heard]) -> None:
    """Today's weather into every book."""
    for path, one in zip(books, told, strict=True):
        put(path, one, TODAY)


def gardens(folder: Path) -> list[OneGarden]:
    """The gardens with yesterday's weather in their books, and today's bodies at hand."""
    found = []
    for number in range(GARDENS):
        path = folder / f"{number}.book"
        north = 52.3 + number / 10  # gardens apart share nothing that is reckoned for a place
        garden = Garden(f"garden-{number}", f"Bench {number}", north, -0.4, 62.0, "Europe/London")
        create(path, garden, at=YESTERDAY).close()
        spot = Spot(north, -0.4, 62.0, LONDON)
        one = OneGarden(path, spot, bodies_of(number, YESTERDAY))
        put(path, heard(one, YESTERDAY), YESTERDAY)
        found.append(one._replace(bodies=bodies_of(number, TODAY)))
    return found


def rows_of(path: Path, before: Path) -> Rows:
    """The rows that a book has and had not."""
    found: Rows = {}
    for table, columns in TABLES.items():
        names = ", ".join(column.split()[0] for column in columns.split(", "))
        counts, rows = [], []
        for file in (before, path):
            connection = sqlite3.connect(file)
            rows = connection.execute(f"SELECT {names} FROM {table} ORDER BY id").fetchall()
            counts.append(len(rows))
            connection.close()
        found[table] = rows[counts[0] :]
    return found


def plain_table(path: Path) -> None:
    """Tables of the same shape, with nothing that checks, orders or counts."""
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA journal_mode = WAL")
    for table, columns in TABLES.items():
        connection.execute(f"CREATE TABLE {table} (id INTEGER PRIMARY KEY, {columns})")
    connection.close()


def put_plainly(path: Path, rows: Rows) -> None:
    """The same rows, as durably."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("BEGIN IMMEDIATE")
    for table, columns in TABLES.items():
        names = ", ".join(column.split()[0] for column in columns.split(", "))
        marks = ", ".join("?" * len(columns.split(", ")))
        connection.executemany(f"INSERT INTO {table} ({names}) VALUES ({marks})", rows[table])
    connection.execute("COMMIT")
    connection.close()


def put_all_plainly(paths: Sequence[Path], rows: Sequence[Rows]) -> None:
    """The same into every file."""
    for path, each in zip(paths, rows, strict=True):
        put_plainly(path, each)


def seconds(work: Callable[[], object]) -> float:
    """How long it takes."""
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


class Times(NamedTuple):
    """Seconds of one run for all gardens."""

    parsed: float
    written: float
    parsed_plainly: float
    written_plainly: float


def timed(all_gardens: Sequence[OneGarden], rows: Sequence[Rows], folder: Path) -> Times:
    """Both ways once, one after the other, on books as they stood yesterday."""
    books = [Path(shutil.copy(one.book, folder)) for one in all_gardens]
    plain = [path.with_suffix(".plain") for path in books]
    for path in plain:
        path.unlink(missing_ok=True)
        plain_table(path)
    told: list[Heard] = []
    return Times(
        seconds(lambda: told.extend(heard(one, TODAY) for one in all_gardens)),
        seconds(lambda: put_all(books, told)),
        seconds(lambda: [json.loads(b) for one in all_gardens for b in one.bodies.values()]),
        seconds(lambda: put_all_plainly(plain, rows)),
    )


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as before, tempfile.TemporaryDirectory() as folder:
        all_gardens = gardens(Path(before))
        rows = []
        for one in all_gardens:
            book = Path(shutil.copy(one.book, folder))
            put(book, heard(one, TODAY), TODAY)
            rows.append(rows_of(book, one.book))
        runs = [timed(all_gardens, rows, Path(folder)) for _ in range(RUNS)]
    size = sum(len(body) for one in all_gardens for body in one.bodies.values()) / 1e6
    count = sum(len(table) for one in rows for table in one.values())
    print(f"{GARDENS} gardens x 16 days x {MEMBERS - 1} futures: {size:.1f} MB, {count:,} rows")
    print(f"{'':<12} {'ms':>7} {'plainly':>8} {'ratio':>6} {'at most':>8}")
    for name, ours, plainly in (
        ("parsed", [one.parsed for one in runs], [one.parsed_plainly for one in runs]),
        ("written", [one.written for one in runs], [one.written_plainly for one in runs]),
        (
            "both",
            [one.parsed + one.written for one in runs],
            [one.parsed_plainly + one.written_plainly for one in runs],
        ),
    ):
        ratio = statistics.median(one / other for one, other in zip(ours, plainly, strict=True))
        ms, plain_ms = 1000 * statistics.median(ours), 1000 * statistics.median(plainly)
        target = f"{TARGET:>8.1f}" if name == "both" else ""
        print(f"{name:<12} {ms:>7.0f} {plain_ms:>8.0f} {ratio:>6.2f} {target}")


if __name__ == "__main__":
    main()
