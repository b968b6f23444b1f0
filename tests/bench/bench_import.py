"""A folder of 10 years x 30 beds x 20 entries a week into a new book, beside executemany of the same rows.

`python -m tests.bench.bench_import`. A number after it is how many years instead.
"""

import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, Feel, Left, Rain, Soak, Wilt
from soakbook.garden.records import Bed, Garden, Planting
from soakbook.services.exporting import export
from soakbook.services.importing import bring_back
from soakbook.store.book import create, open_book
from soakbook.store.entry_rows import COLUMNS, add_entries
from soakbook.store.garden_rows import add_record

YEARS, BEDS, A_WEEK = 10, 30, 20
WEEKS_A_YEAR = 52
ZONE = ZoneInfo("Europe/London")
FIRST = datetime(2031, 3, 1, 7, tzinfo=ZONE)
TARGET = 5.0
MB = 1e6


def entries(
    years: int, first: datetime = FIRST, in_all_a_week: int = BEDS * A_WEEK
) -> Iterator[AnyEntry]:
    """Soaks mostly, feels, looks and wilts, and the gauge; so many a week on all beds together."""
    for week in range(years * WEEKS_A_YEAR):
        for number in range(in_all_a_week):
            at = first + timedelta(weeks=week, minutes=10 * number)
            said: dict[str, Any] = {
                "uid": f"{week:06}-{number:06}-0123456789abcdef",
                "happened_at": at,
                "written_at": at + timedelta(minutes=5),
                "by": ("Ann", "Tom", "Zoë")[number % 3],
            }
            bed: dict[str, Any] = {"bed_uid": f"bed-{number % BEDS}"}
            if number % 20 == 0:
                began = at - timedelta(hours=8)
                yield Rain(**said, rain_mm=3.5, typed="3.5mm", began_at=began)
            elif number % 5 == 1:
                yield Feel(**said, **bed, ball="dry", bed="moist")
            elif number % 7 == 2:
                yield Left(**said, **bed, reason="the bed is wet enough", note="after the storm")
            elif number % 11 == 3:
                yield Wilt(**said, **bed)
            else:
                yield Soak(**said, **bed, litres=12.5 + number % 9, typed="12.5l", method="can")


def make(path: Path, years: int) -> None:
    """The book whose folder is brought in."""
    garden = Garden("garden-1", "The Corrody", 52.3, -0.4, 62, "Europe/London")
    beds = [Bed(f"bed-{n}", f"bed{n}", f"Bed {n}", 20.0) for n in range(BEDS)]
    plantings = [
        Planting(f"pl-{bed.key}", bed.uid, "roses", "shrub", 6, "pot", date(2031, 3, 1), 7.5, 0.25)
        for bed in beds
    ]
    with create(path, garden, at=FIRST) as book:
        for bed in beds:
            add_record(book, bed, at=FIRST)
        for planting in plantings:
            add_record(book, planting, at=FIRST)
        add_entries(book, entries(years))


def main() -> None:
    """Print the table."""
    years = int(sys.argv[1]) if len(sys.argv) > 1 else YEARS
    with tempfile.TemporaryDirectory() as home:
        there = Path(home)
        whole, empty = there / "whole.book", there / "empty.book"
        make(whole, years)
        make(empty, 0)
        names = ", ".join(("kind", *COLUMNS))
        with open_book(whole, read_only=True) as book:
            rows = book.connection.execute(f"SELECT {names} FROM entry ORDER BY id").fetchall()

        def executemany() -> None:
            marks = ", ".join("?" for _ in rows[0])
            with open_book(empty) as book, book.writing() as connection:
                connection.executemany(f"INSERT INTO entry ({names}) VALUES ({marks})", rows)

        jobs: dict[str, Callable[[], object]] = {
            "executemany": executemany,
            "book export": lambda: export(whole, there / "folder"),
            "book import --new": lambda: bring_back(there / "new.book", there / "folder", new=True),
            "book import, all known": lambda: bring_back(whole, there / "folder"),
        }
        took = {}
        for name, job in jobs.items():
            begun = time.perf_counter()
            job()
            took[name] = time.perf_counter() - begun
        print(f"{len(rows):,} entries, {years} years; the book {whole.stat().st_size / MB:.0f} MB,")
        size = sum(file.stat().st_size for file in (there / "folder").iterdir())
        print(f"its folder {size / MB:.0f} MB\n")
        shutil.rmtree(there / "folder")
    print(f"{'':<24} {'s':>7} {'x executemany':>14} {'at most':>8}")
    for name, seconds in took.items():
        target = f"{TARGET:>8.1f}" if name.startswith("book import --new") else ""
        print(f"{name:<24} {seconds:>7.2f} {seconds / took['executemany']:>14.2f} {target}")


if __name__ == "__main__":
    main()
