"""The account of 1,000 plantings over 3 years, beside reading its rows with pandas alone and the reckoning itself.

`python -m tests.bench.bench_account`: each in a process of its own, one after another in one run; seconds and the most
memory each took. Reading is of the account's own frames, written as Parquet and as CSV. Two numbers after it are other
sizes: plantings and years.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

from soakbook.account.season import Span
from soakbook.garden.entries import Feel, Soak
from soakbook.garden.records import Bed, Flow, Garden, Planting, Rate, Tap
from soakbook.store.book import create
from soakbook.store.entry_rows import add_entries
from soakbook.store.garden_rows import add_record
from soakbook.store.weather_rows import add_weather
from tests.bench.bench_import import MB, ZONE
from tests.bench.bench_years import weather

FIRST = date(2029, 1, 1)
PLANTED = date(2029, 3, 1)
PLANTINGS, YEARS = 1000, 3
A_BED = 10
SOAKED_WEEKDAYS = (1, 4)
SOAKED_MONTHS = range(4, 10)
FEELS_A_WEEK = 5
TARGET = 5.0


def soaks(beds: int, last: date) -> Iterator[Soak]:
    """Two a week on every bed from April to September."""
    for number in range((last - PLANTED).days):
        day = PLANTED + timedelta(days=number)
        if day.month in SOAKED_MONTHS and day.weekday() in SOAKED_WEEKDAYS:
            at = datetime(day.year, day.month, day.day, 7, 30, tzinfo=ZONE)
            for bed in range(beds):
                uid = f"soak-{bed}-{day}"
                yield Soak(
                    uid=uid,
                    happened_at=at,
                    written_at=at,
                    by="Ann",
                    bed_uid=f"bed-{bed}",
                    litres=80,
                    typed="80l",
                )


def feels(beds: int, last: date) -> Iterator[Feel]:
    """Five a week, in one bed after another."""
    for number in range((last - PLANTED).days // 7 * FEELS_A_WEEK):
        day = PLANTED + timedelta(days=number * 7 // FEELS_A_WEEK)
        at = datetime(day.year, day.month, day.day, 7, 5, tzinfo=ZONE)
        bed = f"bed-{number % beds}"
        yield Feel(
            uid=f"feel-{number}",
            happened_at=at,
            written_at=at,
            by="Ann",
            bed_uid=bed,
            ball="moist",
            bed="moist",
        )


def make(path: Path, plantings: int, years: int) -> Span:
    """The book, and the days of its account."""
    last = date(FIRST.year + years - 1, 12, 31)
    at = datetime(2029, 1, 1, 7, tzinfo=ZONE)
    beds = max(1, plantings // A_BED)
    garden = Garden("garden-1", "The Corrody", 52.3, -0.4, 62, "Europe/London")
    with create(path, garden, at=at) as book:
        add_record(book, Tap("tap-a", "A", flows=(Flow(14, PLANTED),)), at=at)
        add_record(book, Rate("rate-1", FIRST, "water", 4.0), at=at)
        for number in range(beds):
            add_record(
                book, Bed(f"bed-{number}", f"bed{number}", f"Bed {number}", 40.0, tap="A"), at=at
            )
        for number in range(plantings):
            name, bed = f"roses {number}", f"bed-{number % beds}"
            one = Planting(f"roses-{number}", bed, name, "shrub", 6, "pot", PLANTED, 5.0, 0.22)
            add_record(book, one, at=at)
        add_weather(book, weather(FIRST, last + timedelta(days=1)))
        add_entries(book, [*soaks(beds, last), *feels(beds, last)])
    return Span(FIRST.year, FIRST, last, closed=True)


def account(path: Path, span: Span, folder: Path) -> None:
    """The account with all its frames; where a folder is named that is not there, they are written into it."""
    from soakbook.account.export import export_frames
    from soakbook.account.frames import frames_of
    from soakbook.account.report import report_of
    from soakbook.account.reviewed import reviewed

    found = reviewed(path, span)
    rows = {name: len(frame) for name, frame in frames_of(found).items()}
    report_of(found)
    _told(rows=rows["days"])
    for form in ("parquet", "csv"):
        export_frames(found, folder / form, form)


def reckoning(path: Path, span: Span, _: Path) -> None:
    """The reckoning alone: the season run to the same morning, nothing kept of it."""
    from soakbook.reckoning.simulation.knowing import known_on
    from soakbook.reckoning.simulation.run import run
    from soakbook.reckoning.simulation.season import season_of
    from soakbook.services.seasons import pages_up_to

    season = season_of(
        known_on(pages_up_to(path, span.asked), span.asked), span.asked, ahead_days=1
    )
    assert season is not None
    run(season)
    _told()


def reading_parquet(_: Path, __: Span, folder: Path) -> None:
    """The account's frames read back from Parquet."""
    import pandas as pd

    kept = {file.stem: pd.read_parquet(file) for file in sorted((folder / "parquet").iterdir())}
    _told(rows=len(kept["days"]))


def reading_csv(_: Path, __: Span, folder: Path) -> None:
    """The same from CSV."""
    import pandas as pd

    kept = {file.stem: pd.read_csv(file) for file in sorted((folder / "csv").iterdir())}
    _told(rows=len(kept["days"]))


PARTS = {one.__name__: one for one in (account, reckoning, reading_parquet, reading_csv)}
_BEGAN = time.perf_counter()


def _told(**said: int) -> None:
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / MB
    print(json.dumps({"s": time.perf_counter() - _BEGAN, "mb": most_mb, **said}))


def _measured(name: str, path: Path, span: Span, folder: Path) -> dict[str, float]:
    arguments = [name, str(path), span.first.isoformat(), span.until.isoformat(), str(folder)]
    command = [sys.executable, "-m", "tests.bench.bench_account", "--part", *arguments]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    found: dict[str, float] = json.loads(done.stdout)
    return found


def main() -> None:
    """Print the table."""
    if sys.argv[1:2] == ["--part"]:
        part, book, first, until, files = sys.argv[2:]
        begins = date.fromisoformat(first)
        span = Span(begins.year, begins, date.fromisoformat(until), closed=True)
        PARTS[part](Path(book), span, Path(files))
        return
    plantings, years = map(int, sys.argv[1:]) if sys.argv[1:] else (PLANTINGS, YEARS)
    with tempfile.TemporaryDirectory() as home:
        path, folder = Path(home) / "account.book", Path(home) / "frames"
        folder.mkdir()
        span = make(path, plantings, years)
        took = {name: _measured(name, path, span, folder) for name in PARTS}
    print(f"{plantings:,} plantings x {years} years: {took['account']['rows']:,.0f} rows of days")
    print(f"{'':<18} {'s':>8} {'MB':>8}")
    for name, of in took.items():
        print(f"{name:<18} {of['s']:>8.1f} {of['mb']:>8.0f}")
    for name in ("reading_parquet", "reading_csv"):
        s = took[name]["s"] + took["reckoning"]["s"]
        mb = took[name]["mb"] + took["reckoning"]["mb"]
        time_ratio, memory_ratio = took["account"]["s"] / s, took["account"]["mb"] / mb
        print(
            f"account / ({name} + reckoning): time {time_ratio:.2f}, memory {memory_ratio:.2f}, "
            f"each at most {TARGET:.0f}"
        )


if __name__ == "__main__":
    main()
