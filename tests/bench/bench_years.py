"""The last morning of a book of 10 years x 30 beds x 20 entries a week, its plants replaced every spring.

`python -m tests.bench.bench_years`. A number after it is how many years instead.
"""

import sys
import tempfile
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path

from soakbook.garden.entries import Loss
from soakbook.garden.records import Bed, Garden, Planting
from soakbook.garden.weather import WeatherValue
from soakbook.store.book import create
from soakbook.store.entry_rows import add_entries
from soakbook.store.garden_rows import add_record
from soakbook.store.weather_rows import add_weather
from tests.bench.bench_import import BEDS, MB, WEEKS_A_YEAR, YEARS, ZONE, entries
from tests.bench.processes import IMPORT_PANDAS, Process, medians_s

FIRST_YEAR = 2015
"""So that ten years are over: nobody is asked to reckon far ahead of today."""

RUNS = 5
CACHED_TARGET = 0.25
COUNT = 6


def plantings(years: int) -> Iterator[Planting]:
    """One a bed and year, each in the place of the last."""
    for year in range(FIRST_YEAR, FIRST_YEAR + years):
        for bed in range(BEDS):
            yield Planting(
                f"roses-{bed}-{year}",
                f"bed-{bed}",
                f"roses of {year}",
                "shrub",
                COUNT,
                "pot",
                date(year, 3, 1),
                7.5,
                0.25,
                replaces=f"roses-{bed}-{year - 1}" if year > FIRST_YEAR else None,
            )


def losses(years: int) -> Iterator[Loss]:
    """All plants of the year before, on the eve of the new ones."""
    for planting in plantings(years):
        if planting.replaces is not None:
            at = datetime.combine(planting.planted_on - timedelta(days=1), time(9), ZONE)
            yield Loss(
                uid=f"lost-{planting.replaces}",
                happened_at=at,
                written_at=at,
                bed_uid=planting.bed_uid,
                planting_uid=planting.replaces,
                count=COUNT,
                cause="frost",
            )


def weather(first: date, last: date) -> Iterator[WeatherValue]:
    """A shower every fifth day; warm in summer."""
    for number in range((last - first).days):
        day = first + timedelta(days=number)
        summer = 1 - abs(day.timetuple().tm_yday - 197) / 183
        said = {
            "rain_mm": 8.0 if number % 5 == 4 else 0.0,
            "et0_mm": 0.5 + 4 * summer,
            "tmin_c": 1 + 12 * summer,
            "tmax_c": 7 + 16 * summer,
        }
        for variable, value in said.items():
            fetched = datetime.combine(day + timedelta(days=1), time(6), ZONE)
            yield WeatherValue(day, variable, value, "station", "measured", fetched)


def make(path: Path, years: int) -> date:
    """The book; the last morning of it."""
    first = datetime(FIRST_YEAR, 3, 1, 7, tzinfo=ZONE)
    last = first.date() + timedelta(weeks=years * WEEKS_A_YEAR)
    garden = Garden("garden-1", "The Corrody", 52.3, -0.4, 62, "Europe/London")
    with create(path, garden, at=first) as book:
        for bed in range(BEDS):
            add_record(book, Bed(f"bed-{bed}", f"bed{bed}", f"Bed {bed}", 20.0), at=first)
        for planting in plantings(years):
            add_record(book, planting, at=first)
        add_weather(book, weather(first.date(), last))
        add_entries(book, losses(years))
        add_entries(book, entries(years, first))
    return last


def main() -> None:
    """Print the table."""
    years = int(sys.argv[1]) if len(sys.argv) > 1 else YEARS
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        path = home / "years.book"
        morning = make(path, years)
        asked = ("-m", "soakbook", "round", "--book", str(path), "--on", morning.isoformat())
        processes = {
            "import pandas": Process(IMPORT_PANDAS, home),
            "round, cached": Process(asked, home / "kept"),
            "round, anew": Process(asked, home / "thrown away", anew=True),
        }
        took = medians_s(processes, RUNS)
        print(f"{years} years, {BEDS} beds; the book {path.stat().st_size / MB:.0f} MB\n")
    print(f"{'whole process':<24} {'s':>7} {'x import pandas':>16} {'at most':>8}")
    for name, seconds in took.items():
        target = f"{CACHED_TARGET:>8.2f}" if name == "round, cached" else ""
        print(f"{name:<24} {seconds:>7.2f} {seconds / took['import pandas']:>16.2f} {target}")


if __name__ == "__main__":
    main()
