"""Every contradiction is found and said, and a book without any is called well."""

import os
import shutil
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import BookError, LedgerError
from soakbook.garden.weather import WeatherValue
from soakbook.services import checking, entries
from soakbook.services.books import SPECIMEN
from soakbook.services.checking import check_report
from soakbook.services.setup import move
from soakbook.store.book import open_book
from soakbook.store.earlier import earlier_copies
from soakbook.store.entry_rows import add_entries
from soakbook.store.pages import read_pages
from soakbook.store.weather_rows import add_weather
from tests.cli.test_schemas import validate
from tests.services.contradictions import CASES, Wrong, soak, written
from tests.services.looking import NOW, at, look_at
from tests.store.old_books import old_book


def _found(path: Path) -> dict[str, Any]:
    report = check_report(path, now=NOW)
    validate(report, "check")
    return report


def test_a_garden_made_by_the_services_is_well(garden: Path) -> None:
    garden.chmod(0o600)
    entries.soak(garden, ["chapel", "dole"], "40l", now=NOW, by="Ann")
    entries.feel(garden, ["dole"], ball="dry", bed="moist", now=NOW)
    before = look_at(garden)
    report = _found(garden)
    assert report["findings"] == []
    assert report["sound"]
    assert report["held"] == {"beds": 5, "plantings": 5, "entries": 4, "weather_days": 120}
    assert report["reckoned"] == {
        "first": "2031-01-22", "morning": "2031-05-15", "days": 113, "members": 200,
    }  # fmt: skip
    assert look_at(garden) == before


def test_the_specimen_is_well() -> None:
    report = _found(SPECIMEN)
    assert (report["findings"], report["sound"]) == ([], True)
    assert report["reckoned"]["days"] == 283


def test_a_book_with_nothing_in_it_is_well(new_book: Path) -> None:
    report = _found(new_book)
    assert (report["findings"], report["sound"], report["reckoned"]) == ([], True, None)


@pytest.mark.parametrize("wrong", CASES.values(), ids=CASES)
def test_what_is_wrong_is_found(garden: Path, wrong: Wrong) -> None:
    garden.chmod(0o600)
    written(garden, wrong)
    report = _found(garden)
    found = [one for one in report["findings"] if one["kind"] == wrong.kind]
    assert found, report["findings"]
    assert any(wrong.say in one["say"] for one in found), found
    first = next(one for one in found if wrong.say in one["say"])
    assert (first["weight"], first["bed"]) == (wrong.weight, wrong.bed)
    assert wrong.day is None or first["day"] == wrong.day.isoformat()
    assert report["sound"] == (wrong.weight != "damaged")
    assert (report["reckoned"] is not None) == wrong.reckoned


def test_two_soaks_of_one_day_are_no_doubling(garden: Path) -> None:
    """Two soaks of a bare day that differ are two soaks."""
    garden.chmod(0o600)
    for amount in ("20l", "30l"):
        entries.soak(garden, ["chapel"], amount, now=NOW, at="14may")
    assert _found(garden)["findings"] == []


def test_two_moves_of_one_day_are_no_doubling(garden: Path) -> None:
    for name in ("one", "another"):
        move(garden, "chapel", "rose", to="dole", count="2", name=name, now=NOW)
    assert "twice" not in {one["kind"] for one in check_report(garden, now=NOW)["findings"]}


def test_findings_stand_worst_first(garden: Path) -> None:
    garden.chmod(0o644)
    for name in ("plants without room", "before it was planted"):
        written(garden, CASES[name])
    weights = [one["weight"] for one in _found(garden)["findings"]]
    assert weights == ["wrong", "look", "look"]


@pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")
def test_a_book_that_others_may_read_is_said(garden: Path) -> None:
    garden.chmod(0o644)
    (one,) = _found(garden)["findings"]
    assert (one["kind"], one["weight"]) == ("open_to_others", "look")
    assert one["do"].endswith(f"chmod 600 {garden}")


def test_a_damaged_file_is_told_by_sqlites_own_words(garden: Path, tmp_path: Path) -> None:
    content = bytearray(garden.read_bytes())
    content[-4096:] = b"\xa5" * 4096
    damaged = tmp_path / "damaged.book"
    damaged.write_bytes(content)
    report = _found(damaged)
    first = report["findings"][0]
    assert (report["sound"], first["kind"], report["held"]) == (False, "file", None)
    assert "SQLite says: " in first["say"]
    assert "put a copy in its place" in first["do"]


def test_what_is_no_book_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "beds.csv"
    path.write_text("bed,area\n")
    with pytest.raises(BookError, match="is not a book"):
        check_report(path, now=NOW)


def test_water_that_does_not_add_up_is_a_fault_of_ours(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    garden.chmod(0o600)

    def leaks(season: object) -> None:
        raise LedgerError("roses", 3, "2031-05-14", {"left": 0.1})

    monkeypatch.setattr(checking, "run", leaks)
    report = _found(garden)
    (one,) = report["findings"]
    assert (one["kind"], one["weight"], report["reckoned"]) == ("ledger", "ours", None)
    assert "planting roses, member 3, 2031-05-14" in one["say"]


def test_weather_that_ended_long_ago_ends_the_reckoning(garden: Path) -> None:
    garden.chmod(0o600)
    report = check_report(garden, now=at(12, 24, 7))
    assert date.fromisoformat(report["reckoned"]["morning"]) == date(2031, 5, 15)


def test_an_older_book_is_brought_up_before_it_is_checked(tmp_path: Path) -> None:
    path = old_book(tmp_path / "old.book", 1)
    report = _found(path)
    assert (report["sound"], report["held"]["entries"]) == (True, 4)
    assert len(earlier_copies(path)) == 1


def test_a_book_that_may_only_be_read_can_be_checked(garden: Path, tmp_path: Path) -> None:
    there = tmp_path / "there.book"
    shutil.copy(garden, there)
    there.chmod(0o400)
    assert _found(there)["sound"]


def test_the_last_day_that_there_is_ends_no_check(garden: Path) -> None:
    """A stranger's book may hold any day that SQLite knows."""
    with open_book(garden) as book:
        told = WeatherValue(date.max, "rain_mm", 1.0, "x", "measured", NOW)
        add_weather(book, [told])
        end = datetime(9999, 12, 31, 12, tzinfo=UTC)
        add_entries(book, [soak(read_pages(book), "end", happened_at=date.max, written_at=end)])
    assert _found(garden)["sound"]


def test_a_log_of_changes_that_is_none_is_found(garden: Path) -> None:
    with open_book(garden) as book:
        book.connection.execute(
            "INSERT INTO change (at, what, uid, after)"
            " VALUES ('2031-05-14T07:00:00+00:00', 'planting', 'roses', '{}')"
        )
    report = _found(garden)
    assert [one["kind"] for one in report["findings"] if one["weight"] == "damaged"] == [
        "unreadable"
    ]
    assert "the log of changes, of a planting" in report["findings"][0]["say"]
    assert not report["sound"]
