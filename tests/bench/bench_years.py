"""The last morning of a book of 10 years x 30 beds, its plants replaced every spring.

`python -m tests.bench.bench_years`: with 20 entries a week in the whole garden, and with 20 on each bed, of which the
round anew takes minutes. A number after it is how many years instead. Anew is timed once: that leaves its dawns behind,
and the round after an entry goes on from the newest of them.
"""

import statistics
import sys
import tempfile
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from shutil import rmtree

from soakbook.garden.entries import Loss
from soakbook.garden.records import Bed, Garden, Planting
from soakbook.garden.weather import WeatherValue
from soakbook.store.book import create
from soakbook.store.entry_rows import add_entries
from soakbook.store.garden_rows import add_record
from soakbook.store.weather_rows import add_weather
from tests.bench.bench_import import A_WEEK, BEDS, MB, WEEKS_A_YEAR, YEARS, ZONE, entries
from tests.bench.processes import IMPORT_PANDAS, Process, medians_s, seconds

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


def make(path: Path, years: int, in_all_a_week: int) -> date:
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
        add_entries(book, entries(years, first, in_all_a_week))
    return last


def table(home: Path, years: int, in_all_a_week: int) -> None:
    """Print what one book's last morning takes."""
    path = home / "years.book"
    morning = make(path, years, in_all_a_week)
    asked = ("-m", "soakbook", "round", "--book", str(path), "--on", morning.isoformat())
    round_ = Process(asked, home / "kept")
    anew_s = seconds(round_)
    took = medians_s({"import pandas": Process(IMPORT_PANDAS, home), "round, cached": round_}, RUNS)
    took |= {"round, anew": anew_s, "round, on from a dawn": resumed_s(round_)}
    size_mb = path.stat().st_size / MB
    print(f"{years} years, {BEDS} beds, {in_all_a_week} entries a week in all: {size_mb:.0f} MB")
    print(f"{'whole process':<24} {'s':>7} {'x import pandas':>16} {'at most':>8}")
    for name, took_s in took.items():
        target = f"{CACHED_TARGET:>8.2f}" if name == "round, cached" else ""
        print(f"{name:<24} {took_s:>7.2f} {took_s / took['import pandas']:>16.2f} {target}")
    print()


def resumed_s(round_: Process) -> float:
    """Median seconds of the round when its finished ones are gone and its kept dawns are not, as after an entry."""
    took = []
    for _ in range(RUNS):
        rmtree(round_.home / "cache" / "soakbook" / "rounds")
        took.append(seconds(round_))
    return statistics.median(took)


def main() -> None:
    """Print both tables."""
    years = int(sys.argv[1]) if len(sys.argv) > 1 else YEARS
    for in_all_a_week in (A_WEEK, BEDS * A_WEEK):
        with tempfile.TemporaryDirectory() as folder:
            table(Path(folder), years, in_all_a_week)


if __name__ == "__main__":
    main()
