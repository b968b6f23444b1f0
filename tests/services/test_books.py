"""Where the book lies, and beginning one."""

from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import BookError, InputError
from soakbook.services.books import new, where
from soakbook.store.book import open_book
from tests.services.looking import NOW, pages_of, said

PLACE: dict[str, Any] = {
    "name": "The Abbey",
    "latitude_deg": 52.3,
    "longitude_deg": -0.4,
    "elevation_m": 62.0,
    "timezone": "Europe/London",
}


def test_a_book_is_where_it_is_said_to_be(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("SOAKBOOK_BOOK", str(tmp_path / "named.book"))
    assert where("mine.book", specimen=False) == Path("mine.book")
    assert where("~/mine.book", specimen=False) == Path.home() / "mine.book"
    assert where(None, specimen=False) == tmp_path / "named.book"


def test_the_specimen_ships_in_the_package_and_opens_read_only() -> None:
    path = where("mine.book", specimen=True)
    assert path.parts[-2:] == ("specimen", "corrody.book")
    before = sorted(path.parent.iterdir())
    with open_book(path, immutable=True) as book:
        assert book.change_counter() > 0
    assert sorted(path.parent.iterdir()) == before


def test_a_new_book_keeps_its_garden(tmp_path: Path) -> None:
    path = tmp_path / "folder" / "abbey.book"
    report = new(
        path, now=NOW, by="Ann", hours_by_default=1.5, readiness="lean", can_l=9.0, **PLACE
    )
    garden = pages_of(path).garden
    assert (garden.name, garden.hours_by_default, garden.readiness) == ("The Abbey", 1.5, "lean")
    assert garden.can_l == 9.0
    assert report["say"] == [
        f"The book of The Abbey lies at {path}. Its folder {path.parent} was made.",
        "52.3° north, 0.4° west, 62 m above the sea, by the clock of Europe/London.",
    ]


def test_for_machines_the_place_has_two_decimals_and_what_nobody_said_stands_apart(
    tmp_path: Path,
) -> None:
    path = tmp_path / "abbey.book"
    exact = PLACE | {"latitude_deg": 52.31264, "longitude_deg": -0.004}
    report = new(path, now=NOW, can_l=9.0, looked_up=("elevation_m",), **exact)
    garden = pages_of(path).garden
    assert (garden.latitude_deg, garden.longitude_deg) == (52.31264, -0.004)
    assert said(report).splitlines()[1].startswith("52.31° north, 0° east, 62 m above the sea")
    assert report["changed"] == {
        "path": str(path),
        "uid": garden.uid,
        "garden": "The Abbey",
        "latitude_deg": 52.31,
        "longitude_deg": 0.0,
        "elevation_m": 62.0,
        "timezone": "Europe/London",
        "counts": {"taps": 0, "beds": 0, "plantings": 0, "people": 0},
        "guesses": [
            {"what": "height", "value": "62 m", "option": "--elevation 62"},
            {"what": "hours", "value": "2 h a day", "option": "--hours 2h"},
            {"what": "readiness", "value": "fair", "option": "--readiness fair"},
            {"what": "gallon", "value": "uk", "option": "--gallon uk"},
        ],
    }


def test_who_waters_is_in_the_book_from_its_beginning(tmp_path: Path) -> None:
    path = tmp_path / "abbey.book"
    report = new(
        path, now=NOW, waters="Ann", weekdays=frozenset((0, 2)), hours_by_default=1.5, **PLACE
    )
    (ann,) = pages_of(path).people
    assert report["changed"]["counts"]["people"] == 1
    assert (ann.name, ann.weekdays, ann.hours) == ("Ann", frozenset((0, 2)), 1.5)
    assert said(report).splitlines()[-1] == "Ann comes Mon, Wed, 1 h 30."


def test_with_somebody_who_cannot_be_there_is_no_book(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="on one line"):
        new(tmp_path / "abbey.book", now=NOW, waters="Ann\nTom", **PLACE)
    assert list(tmp_path.iterdir()) == []


def test_a_garden_that_cannot_be_leaves_no_file(tmp_path: Path) -> None:
    path = tmp_path / "abbey.book"
    for wrong in ({"latitude_deg": 152.3}, {"timezone": "Mars/Olympus"}, {"readiness": "greedy"}):
        with pytest.raises(InputError):
            new(path, now=NOW, **(PLACE | wrong))
    assert list(tmp_path.iterdir()) == []


def test_a_second_book_in_the_same_place_is_refused(new_book: Path) -> None:
    before = new_book.read_bytes()
    with pytest.raises(BookError, match="already"):
        new(new_book, now=NOW, **PLACE)
    assert new_book.read_bytes() == before
