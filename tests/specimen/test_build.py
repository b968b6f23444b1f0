"""The book that ships is the one its text makes, and opens without what made it."""

import sqlite3
import sys
from contextlib import closing
from datetime import date, datetime
from pathlib import Path

import pytest

from soakbook.garden.entries import AnyEntry, Feel, Loss, Rain, Soak
from soakbook.garden.pages import Pages
from soakbook.specimen import text
from soakbook.specimen.build import SHIPPED, build
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
from tests.house.process import ended_well

OWN_TO_A_FILE = {"meta"}
"""A book's change mark: new with each file."""

Rows = list[dict[str, object]]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("specimen") / "corrody.book"
    build(path)
    return path


def tables(path: Path) -> dict[str, Rows]:
    """Every row of every table, in the order it was written."""
    with closing(sqlite3.connect(f"file:{path}?mode=ro&immutable=1", uri=True)) as connection:
        connection.row_factory = sqlite3.Row
        names = [
            row["name"]
            for row in connection.execute(
                "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name"
            )
        ]
        return {
            name: [dict(row) for row in connection.execute(f'SELECT * FROM "{name}" ORDER BY 1')]
            for name in names
            if name not in OWN_TO_A_FILE
        }


def the_pages(path: Path) -> Pages:
    with open_book(path, read_only=True, immutable=True) as book:
        return read_pages(book)


def test_every_row_that_ships_is_made_by_the_text(built: Path) -> None:
    """Weather to 1e-9, for reference ET is reckoned anew by pyet; all else to the letter."""
    ours, theirs = tables(built), tables(SHIPPED)
    assert set(ours) == set(theirs)
    assert {name: len(rows) for name, rows in ours.items()} == {
        name: len(rows) for name, rows in theirs.items()
    }
    for name, rows in ours.items():
        for made, shipped in zip(rows, theirs[name], strict=True):
            if name == "weather_value":
                assert made.pop("value") == pytest.approx(shipped.pop("value"), abs=1e-9)
            assert made == shipped, name


def test_the_pages_read_from_both_are_the_same(built: Path) -> None:
    ours, theirs = the_pages(built), the_pages(SHIPPED)
    for field in (
        "garden",
        "beds",
        "plantings",
        "taps",
        "people",
        "restrictions",
        "rates",
        "entries",
    ):
        assert getattr(ours, field) == getattr(theirs, field)
    assert [day.day for day in ours.weather] == [day.day for day in theirs.weather]
    for made, shipped in zip(ours.weather, theirs.weather, strict=True):
        assert made.et0_mm == pytest.approx(shipped.et0_mm, abs=1e-9)
        assert made.sources == shipped.sources


def test_the_pages_hold_what_the_text_says() -> None:
    """Line by line: taps, beds, plantings, people, the rule, prices, dressings and entries."""
    book = the_pages(SHIPPED)
    assert book.garden == text.garden()
    assert set(book.beds) == set(text.beds())
    assert set(book.plantings) == set(text.plantings())
    assert set(book.taps) == set(text.taps())
    assert set(book.people) == set(text.people())
    assert set(book.restrictions) == set(text.restrictions())
    assert set(book.rates) == set(text.rates())
    entries = {one.uid: one for one in (*text.mulch_laid(), *text.entries())}
    assert {one.uid: one for one in book.entries} == entries


def test_the_garden_is_the_one_of_the_story() -> None:
    """252 m2, 421 plants, eleven plantings in eight beds; the losses that were seeded."""
    book = the_pages(SHIPPED)
    assert sum(one.area_m2 for one in book.beds) == 252
    assert sum(one.count for one in book.plantings) == 421
    assert (len(book.beds), len(book.plantings)) == (8, 11)
    lost: dict[str, int] = {}
    keys = {one.uid: one.key for one in book.beds}
    for one in book.entries:
        if isinstance(one, Loss):
            lost[keys[one.bed_uid]] = lost.get(keys[one.bed_uid], 0) + one.count
    assert lost == {"bank": 2, "dole": 1, "school": 9, "ride": 14}


def test_the_weather_is_the_one_of_the_story() -> None:
    """As it was invented: April to September 586 mm ET0, 159 mm rain; 6 March to 13 May 12.2 mm in 69 days."""
    book = the_pages(SHIPPED)
    season = [day for day in book.weather if 4 <= day.day.month <= 9]
    assert sum(day.rain_mm or 0 for day in season) == pytest.approx(159, abs=1)
    assert sum(day.et0_mm or 0 for day in season) == pytest.approx(586, abs=5)
    dry = [day for day in book.weather if date(2031, 3, 6) <= day.day <= date(2031, 5, 13)]
    assert len(dry) == 69
    assert sum(day.rain_mm or 0 for day in dry) == pytest.approx(12.2, abs=0.05)


def test_the_season_is_plausible_and_imperfect() -> None:
    """Rounds partly followed, a can a rose from 24 April to 1 May, two days without a word, feels twice a week."""
    book = the_pages(SHIPPED)
    soaks = [one for one in book.entries if isinstance(one, Soak)]
    by_neighbour = [one for one in soaks if one.note and "neighbour" in one.note]
    assert {days_of(one) for one in by_neighbour} == {
        date(2031, 4, day) for day in range(24, 31)
    } | {date(2031, 5, 1)}
    assert {one.litres for one in by_neighbour} == {140.0}
    for silent in (date(2031, 6, 10), date(2031, 6, 24)):
        assert not any(days_of(one) == silent for one in book.entries if not isinstance(one, Rain))
    feels = [one for one in book.entries if isinstance(one, Feel)]
    assert {days_of(one).weekday() for one in feels} == {0, 3}
    assert len(feels) > 100
    stood_in = {one.by for one in soaks if date(2031, 7, 9) <= days_of(one) <= date(2031, 7, 17)}
    assert "Will" in stood_in
    assert not {"Ann", "Rob"} & stood_in


def days_of(entry: AnyEntry) -> date:
    when = entry.happened_at
    return when.date() if isinstance(when, datetime) else when


def modules_after(code: str) -> set[str]:
    """Top-level modules that a fresh Python has loaded after running some code."""
    after = "import sys; print('\\n'.join({name.partition('.')[0] for name in sys.modules}))"
    return set(ended_well(sys.executable, "-c", f"{code}\n{after}").stdout.split())


def test_opening_and_reckoning_it_needs_no_pyet() -> None:
    """Nor pandas, which comes with it: reference ET stands in the book."""
    code = f"""
from datetime import date, datetime
from pathlib import Path
from soakbook.reckoning.advice.rounds import morning_on, round_of
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
with open_book(Path({str(SHIPPED)!r}), read_only=True, immutable=True) as book:
    pages = read_pages(book)
assert round_of(morning_on(pages, date(2031, 5, 15), members=5)).calls
"""
    loaded = modules_after(code)
    assert "numpy" in loaded
    assert not {"pyet", "pandas", "pydantic"} & loaded
