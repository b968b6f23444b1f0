"""A large garden's season from nothing: 50 plantings x 200 members x 230 days.

`python -m tests.bench.bench_garden`. With a number of days it prints the largest size, in MB, of a
process that has reckoned so many.
"""

import statistics
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Garden, Planting
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.simulation.ahead import evenings
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import Season, season_of
from tests.bench.processes import IMPORT_PANDAS, Process, medians_s

BEDS = 10
PLANTINGS_A_BED = 5
MEMBERS = 200
DAYS = 230
DAYS_AHEAD = 17
RUNS = 5
FIRST = date(2031, 3, 1)
ZONE = ZoneInfo("Europe/London")
SOILS = ("sandy loam", "loam", "clay loam", "silt loam", "clay")


def pages(days: int) -> Pages:
    """A garden with a shower every fifth day and a soak of every bed every third."""
    beds = tuple(
        Bed(f"bed-{n}", f"bed{n}", f"Bed {n}", 40.0, soil=SOILS[n % len(SOILS)])
        for n in range(BEDS)
    )
    plantings = tuple(
        Planting(
            f"planting-{bed.key}-{n}",
            bed.uid,
            f"shrubs {n}",
            "shrub",
            8,
            "pot",
            FIRST,
            ball_volume_l=3.0 + 2 * n,
            ball_diameter_m=0.2 + 0.02 * n,
        )
        for bed in beds
        for n in range(PLANTINGS_A_BED)
    )
    weather = tuple(
        WeatherDay(
            FIRST + timedelta(days=n),
            rain_mm=8.0 if n % 5 == 4 else 0.0,
            et0_mm=3.0 + n % 3,
            tmin_c=9.0,
            tmax_c=21.0,
        )
        for n in range(days)
    )
    garden = Garden("garden", "Bench", 52.3, -0.4, 62.0, "Europe/London")
    return Pages(garden, beds, plantings, entries=_soaks(beds, days), weather=weather)


def _soaks(beds: tuple[Bed, ...], days: int) -> tuple[AnyEntry, ...]:
    return tuple(
        Soak(
            uid=f"soak-{day}-{bed.key}",
            happened_at=moment,
            written_at=moment,
            bed_uid=bed.uid,
            litres=120.0,
            typed="120l",
        )
        for day in range(0, days, 3)
        for bed in beds
        for moment in [datetime(2031, 3, 1, 8, tzinfo=ZONE) + timedelta(days=day)]
    )


def laid_out(days: int) -> Season:
    """The garden's season, ready to be run."""
    season = season_of(pages(days), FIRST + timedelta(days=days), MEMBERS)
    assert season is not None
    return season


def median_s(work: Callable[[], object]) -> float:
    """Median seconds of a few runs."""
    took = []
    for _ in range(RUNS):
        began = time.perf_counter()
        work()
        took.append(time.perf_counter() - began)
    return statistics.median(took)


def traced_mb(days: int) -> tuple[float, float]:
    """What a laid-out season holds, and the most that running it takes beside that."""
    tracemalloc.start()
    season = laid_out(days)
    held, _ = tracemalloc.get_traced_memory()
    tracemalloc.reset_peak()
    run(season)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return held / 1e6, (peak - held) / 1e6


def largest_mb(days: int) -> float:
    """The largest size of a fresh process that reckons so many days."""
    asked = [sys.executable, "-m", "tests.bench.bench_garden", str(days)]
    return float(subprocess.run(asked, check=True, capture_output=True, text=True).stdout)


def own_largest_mb(days: int) -> float:
    """The largest size of this process once it has reckoned so many days."""
    import resource

    run(laid_out(days))
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


def main() -> None:
    """Print both tables."""
    with tempfile.TemporaryDirectory() as folder:
        pandas_s = medians_s({"pandas": Process(IMPORT_PANDAS, Path(folder))}, RUNS)["pandas"]
    whole_pages = pages(DAYS)
    morning = FIRST + timedelta(days=DAYS)
    season = laid_out(DAYS)
    (dawn,) = run(season)
    took = {
        "laid out": median_s(lambda: season_of(whole_pages, morning, MEMBERS)),
        "run": median_s(lambda: run(season)),
        f"{DAYS_AHEAD} days ahead": median_s(lambda: evenings(dawn, DAYS_AHEAD)),
    }
    took = {"from nothing": took["laid out"] + took["run"], **took, "import pandas": pandas_s}
    print(f"{BEDS * PLANTINGS_A_BED} plantings x {MEMBERS} members x {DAYS} days")
    print(f"{'':<16} {'s':>7} {'x import pandas':>16}")
    for name, seconds in took.items():
        print(f"{name:<16} {seconds:>7.3f} {seconds / pandas_s:>16.2f}")
    print(f"\n{'days':>5} {'season holds MB':>16} {'run takes MB':>13} {'process MB':>11}")
    for days in (DAYS // 2, DAYS):
        held, taken = traced_mb(days)
        print(f"{days:>5} {held:>16.1f} {taken:>13.1f} {largest_mb(days):>11.0f}")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(own_largest_mb(int(sys.argv[1])))
    else:
        main()
