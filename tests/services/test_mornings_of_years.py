"""The rounds of a garden of years: on from a kept dawn, and never another round than from its beginning."""

import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path
from shutil import rmtree
from typing import Any

import pytest

from soakbook.garden.records import Bed, Garden, Planting
from soakbook.garden.weather import WeatherValue
from soakbook.interface import Book
from soakbook.reckoning.simulation import resuming
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season
from soakbook.services.checking import check_report
from soakbook.services.entries import feel, soak
from soakbook.services.mornings import round_report, why_report
from soakbook.services.setup import person
from soakbook.store.book import create
from soakbook.store.garden_rows import add_record
from soakbook.store.places import cache_folder
from soakbook.store.weather_rows import add_weather
from tests.services.looking import NOW, ZONE, at

FIRST = date(2029, 11, 1)
NEWEST = date(2031, 4, 1)


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    """One bed of roses, planted the autumn before last."""
    path, then = tmp_path / "years.book", datetime(2029, 11, 1, 9, tzinfo=ZONE)
    place = Garden("years", "The Abbey", 52.3, -0.4, 62.0, "Europe/London")
    with create(path, place, at=then) as book:
        add_record(book, Bed("south", "south", "South Border", 18.0, "loam"), at=then)
        roses = Planting("roses", "south", "roses", "shrub", 6, "pot", FIRST, 7.5, 0.25)
        add_record(book, roses, at=then)
        add_weather(book, weather())
    soak(path, ["south"], "40l", now=at(4, 20, 8))
    feel(path, ["south"], ball="moist", bed="wet", now=at(3, 20, 8))
    return path


def weather() -> list[WeatherValue]:
    """A shower every sixth day, up to this morning."""
    said = {"et0_mm": 2.5, "tmin_c": 7.0, "tmax_c": 16.0}
    return [
        WeatherValue(day, variable, value, "station", "measured", NOW)
        for number in range((NOW.date() - FIRST).days)
        for day in [FIRST + timedelta(days=number)]
        for variable, value in {**said, "rain_mm": 5.0 if number % 6 == 0 else 0.0}.items()
    ]


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[date | None]:
    """From when each season of years was run on, None being its beginning."""
    days: list[date | None] = []

    def watched(of: Season, last: int, **more: Any) -> tuple[Dawn, ...]:
        dawn = more["begun"]
        days.append(None if dawn is None else dawn.day)
        return run(of, last, **more)

    monkeypatch.setattr(resuming, "run", watched)
    return days


def kept() -> set[str]:
    """The days of the dawns that are kept."""
    return {path.name.split(".")[1] for path in (cache_folder() / "dawns").glob("*")}


def from_its_beginning(ask: Callable[[], Any]) -> Any:
    """The same answer with nothing kept."""
    rmtree(cache_folder())
    return ask()


ALL = {"2030-07-01", "2031-01-01", "2031-04-01"}


def test_after_an_entry_the_round_goes_on_from_a_kept_dawn(
    garden: Path, begun: list[date | None]
) -> None:
    round_report(garden, now=NOW)
    assert kept() == ALL
    feel(garden, ["south"], ball="dry", bed="dry", now=NOW)
    begun.clear()
    again = round_report(garden, now=NOW)
    assert begun == [NEWEST]
    assert again["calls"][0]["felt"]["ball"] == "dry"
    assert from_its_beginning(lambda: round_report(garden, now=NOW)) == again
    assert begun == [NEWEST, None]


def test_reading_an_entry_back_and_why_go_on_from_it_too(
    garden: Path, begun: list[date | None]
) -> None:
    round_report(garden, now=NOW)
    begun.clear()
    soak(garden, ["south"], "20l", now=NOW)
    answer = why_report(garden, "south", now=NOW)
    assert begun
    assert set(begun) == {NEWEST}
    assert from_its_beginning(lambda: why_report(garden, "south", now=NOW)) == answer


def test_an_entry_of_long_ago_is_heard(garden: Path, begun: list[date | None]) -> None:
    round_report(garden, now=NOW)
    feel(garden, ["south"], bed="dust", at="2feb2031 7:00", now=NOW)
    begun.clear()
    found = round_report(garden, now=NOW)
    assert begun == [date(2031, 1, 1)]
    person(garden, "Ann", now=NOW)
    assert round_report(garden, now=NOW)["calls"] == found["calls"]
    assert begun == [date(2031, 1, 1), NEWEST]
    again = from_its_beginning(lambda: round_report(garden, now=NOW))
    assert again["calls"] == found["calls"]


@pytest.mark.parametrize("content", [b"", b"another file", bytes(100_000)])
def test_damaged_dawns_are_no_error_and_never_trusted(
    garden: Path, begun: list[date | None], content: bytes
) -> None:
    first = round_report(garden, now=NOW)
    rmtree(cache_folder() / "rounds")
    for path in (cache_folder() / "dawns").iterdir():
        path.write_bytes(content)
    begun.clear()
    assert round_report(garden, now=NOW) == first
    assert begun == [None]
    assert kept() == ALL


def test_the_book_as_it_was_known_and_days_ahead_keep_nothing(garden: Path) -> None:
    rmtree(cache_folder(), ignore_errors=True)
    round_report(garden, now=NOW, as_known="14may2031")
    round_report(garden, now=NOW, on="20may2031")
    assert kept() == set()


def test_a_day_gone_by_reads_and_leaves_what_is_kept(
    garden: Path, begun: list[date | None]
) -> None:
    round_report(garden, now=NOW)
    begun.clear()
    early = round_report(garden, now=NOW, on="10apr2031")
    assert begun == [date(2031, 1, 1)]
    assert kept() == ALL
    known = round_report(garden, now=NOW, as_known="13may2031")
    assert from_its_beginning(lambda: round_report(garden, now=NOW, on="10apr2031")) == early
    assert kept() == {"2030-07-01", "2031-01-01", "2031-03-01"}
    assert from_its_beginning(lambda: round_report(garden, now=NOW, as_known="13may2031")) == known


def test_from_python_kept_dawns_are_read_and_none_is_written(
    garden: Path, begun: list[date | None]
) -> None:
    rmtree(cache_folder(), ignore_errors=True)
    first = Book(garden).round(now=NOW)
    assert kept() == set()
    round_report(garden, now=NOW)
    begun.clear()
    assert Book(garden).round(now=NOW) == first
    assert begun == [NEWEST]


def test_a_check_reckons_from_the_beginning(garden: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    round_report(garden, now=NOW)
    monkeypatch.setattr(resuming, "run_on", None)
    monkeypatch.setattr(resuming, "run", None)
    report = check_report(garden, now=NOW)
    assert report["reckoned"]["first"] == FIRST.isoformat()


def test_where_nothing_can_be_kept_the_round_is_the_same(
    garden: Path, begun: list[date | None]
) -> None:
    first = round_report(garden, now=NOW)
    rmtree(cache_folder())
    cache_folder().parent.mkdir(parents=True, exist_ok=True)
    cache_folder().write_text("in the way")
    assert round_report(garden, now=NOW) == first
    assert begun[-1] is None


def test_a_young_garden_imports_nothing_of_it() -> None:
    code = (
        "import sys; from datetime import datetime, UTC; from soakbook.services.books import where; "
        "from soakbook.services.mornings import round_report; "
        "round_report(where(None, specimen=True), now=datetime(2026, 1, 10, tzinfo=UTC), specimen=True); "
        "assert 'soakbook.reckoning.simulation.run' in sys.modules; "
        "assert 'soakbook.reckoning.simulation.resuming' not in sys.modules; "
        "assert 'soakbook.reckoning.simulation.kept' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, env=os.environ)
    assert kept() == set()
