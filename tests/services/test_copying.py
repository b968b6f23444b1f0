"""A copy says what it holds, counted in the copy itself."""

import shutil
import sqlite3
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.services import entries
from soakbook.services.books import SPECIMEN
from soakbook.services.copying import copy
from tests.services.looking import NOW, look_at, pages_of, said


def test_a_copy_says_what_it_holds(garden: Path, tmp_path: Path) -> None:
    entries.soak(garden, ["chapel"], "20l", now=NOW)
    target = tmp_path / "copy.book"
    report = copy(garden, str(target))
    size_b = target.stat().st_size
    assert report["changed"] == {
        "path": str(target), "entries": 2, "weather_days": 120, "size_bytes": size_b,
    }  # fmt: skip
    assert f"Copied to {target}: 2 entries, 120 days of weather, {size_b / 1000:.0f} kB" in said(
        report
    )
    assert pages_of(target) == pages_of(garden)


def test_a_copy_can_be_written_in_and_the_book_stays(garden: Path, tmp_path: Path) -> None:
    target = tmp_path / "copy.book"
    copy(garden, str(target))
    before = look_at(garden)
    entries.soak(target, ["chapel"], "20l", now=NOW)
    assert look_at(garden) == before


def test_the_specimen_can_be_copied(tmp_path: Path) -> None:
    target = tmp_path / "specimen.book"
    assert copy(SPECIMEN, str(target))["changed"]["entries"] == 809
    assert pages_of(target).garden.name.startswith("The Corrody")


def test_home_is_understood(garden: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    copy(garden, "~/copy.book")
    assert (tmp_path / "copy.book").exists()


def test_a_book_that_is_written_in_is_copied_as_it_stood(garden: Path, tmp_path: Path) -> None:
    """Somebody is in the middle of an entry, and the log beside the book is not yet in it."""
    entries.soak(garden, ["chapel"], "20l", now=NOW)
    other = sqlite3.connect(garden, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    other.execute("UPDATE garden SET name = 'half written'")
    copy(garden, str(tmp_path / "copy.book"))
    other.execute("ROLLBACK")
    other.close()
    assert pages_of(tmp_path / "copy.book") == pages_of(garden)


def test_no_book_no_copy(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="no book at"):
        copy(tmp_path / "nowhere.book", str(tmp_path / "copy.book"))
    assert list(tmp_path.iterdir()) == []


def test_of_a_foreign_book_there_is_no_copy(garden: Path, tmp_path: Path) -> None:
    foreign = tmp_path / "foreign.book"
    shutil.copy(garden, foreign)
    other = sqlite3.connect(foreign)
    other.execute("CREATE VIEW mine AS SELECT * FROM garden")
    other.close()
    with pytest.raises(BookError, match="tables and rules"):
        copy(foreign, str(tmp_path / "copy.book"))
    assert not (tmp_path / "copy.book").exists()


def test_a_name_that_no_file_can_bear_is_refused_in_words(garden: Path, tmp_path: Path) -> None:
    for name in ("e" * 300, f"{tmp_path}/{'e' * 300}", "a\0b"):
        with pytest.raises(BookError, match=r"cannot be made|no name for a file"):
            copy(garden, name)
