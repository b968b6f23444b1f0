"""An older book is brought up to date whole, with a copy of it as it was; what fails leaves both."""

import os
import shutil
import sqlite3
import stat
from collections import namedtuple
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.garden.entries import Catch, Feel, Rain, Soak
from soakbook.store import book as opening
from soakbook.store import copying, migrations
from soakbook.store.book import open_book
from soakbook.store.earlier import KEPT, earlier_copies
from soakbook.store.known_schemas import is_known
from soakbook.store.pages import read_pages
from tests.store.old_books import OLD, old_book

POSIX = pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")
Disk = namedtuple("Disk", "total used free")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the old book lies."""
    return tmp_path / "garden.book"


@pytest.fixture
def one_step_more(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The steps as they will be when there is one more; a test may change the last."""
    more = [*migrations.steps(), "CREATE TABLE stock (litres REAL) STRICT;"]
    monkeypatch.setattr(migrations, "steps", lambda: tuple(more))
    monkeypatch.setattr(migrations, "NEWEST", len(more))
    return more


def _version(path: Path) -> int:
    with sqlite3.connect(path) as connection:
        found = migrations.version(connection)
    connection.close()
    return found


def _rows(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """What the tables that gardeners fill hold, by columns that there have always been."""
    connection = sqlite3.connect(path)
    found = {
        table: connection.execute(f"SELECT {columns} FROM {table} ORDER BY id").fetchall()
        for table, columns in {
            "garden": "uid, name, latitude_deg, timezone",
            "bed": "uid, key, name, area_m2, soil, tap",
            "planting": "uid, bed_uid, name, count, planted_on",
            "entry": "uid, kind, happened_at, written_at, supersedes, litres, rain_mm, felt_ball",
            "weather_value": "arrival_id, day, variable, value",
            "change": "at, by_whom, what, uid, after",
        }.items()
    }
    connection.close()
    return found


@pytest.mark.parametrize("version", OLD)
def test_every_old_book_is_brought_up_with_all_that_is_in_it(path: Path, version: int) -> None:
    before = _rows(old_book(path, version))
    with open_book(path, read_only=bool(version % 2)) as book:  # to read will do as well
        assert migrations.version(book.connection) == migrations.NEWEST
        assert is_known(book.connection, migrations.NEWEST)
        assert book.connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert book.connection.execute("PRAGMA foreign_key_check").fetchall() == []
        pages = read_pages(book)
    assert _rows(path) == before
    # That of the fourth took its feel back.
    kinds = [Soak, Rain] + ([Catch] if version > 1 else []) + ([Feel] if version < 4 else [])
    assert {type(one) for one in pages.entries} == set(kinds)
    assert [one.litres for one in pages.entries if isinstance(one, Soak)] == [20]
    assert pages.weather[0].rain_mm == 15.6


def test_where_nothing_can_be_written_an_old_book_is_left(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = _rows(old_book(path, 1))
    monkeypatch.setattr(opening, "_may_be_written", lambda _: False)
    with pytest.raises(BookError, match="older soakbook and has to be brought up to date once"):
        open_book(path, read_only=True)
    assert (_version(path), _rows(path), earlier_copies(path)) == (1, before, [])


@pytest.mark.parametrize("version", OLD)
def test_a_copy_of_it_as_it_was_lies_beside_it(path: Path, version: int) -> None:
    before = _rows(old_book(path, version))
    open_book(path).close()
    (copy,) = earlier_copies(path)
    assert copy.name.startswith(f"garden.version-{version}.20")
    assert (_version(copy), _rows(copy)) == (version, before)
    os.replace(copy, path)
    with open_book(path) as again:
        assert read_pages(again).garden.name == "The Corrody"


@POSIX
def test_book_and_copy_stay_the_owners(path: Path) -> None:
    before = os.umask(0o022)
    try:
        old_book(path, 1)
        with open_book(path):
            modes = {one.name: stat.S_IMODE(one.stat().st_mode) for one in path.parent.iterdir()}
    finally:
        os.umask(before)
    assert len(modes) >= 3  # the book, its copy, what SQLite lays beside it
    assert set(modes.values()) == {0o600}


def test_the_last_three_copies_are_kept(path: Path) -> None:
    for number in range(KEPT + 2):
        path.unlink(missing_ok=True)
        old_book(path, 1, name=f"Garden {number}")
        os.utime(path, (1_900_000_000 + number, 1_900_000_000 + number))
        open_book(path).close()
    names = [_rows(one)["garden"][0][1] for one in earlier_copies(path)]
    assert names == [f"Garden {number}" for number in (4, 3, 2)]


def test_a_step_that_fails_leaves_book_and_copy(path: Path, one_step_more: list[str]) -> None:
    before = _rows(old_book(path, 2))
    os.utime(path, (1_900_000_000, 1_900_000_000))
    one_step_more[-1] = "INSERT INTO nowhere VALUES (1);"
    for _ in range(2):  # trying again makes no second copy
        with pytest.raises(
            BookError, match=r"no such table.*as it was; a copy lies at .*version-2"
        ):
            open_book(path)
    assert (_version(path), _rows(path)) == (2, before)
    (copy,) = earlier_copies(path)
    assert copy.name == "garden.version-2.20300317T174640Z.book"
    assert _rows(copy) == before
    one_step_more[-1] = "CREATE TABLE stock (litres REAL) STRICT;"
    with open_book(path) as book:
        assert migrations.version(book.connection) == len(one_step_more)
    assert _rows(path) == before


def test_a_full_disk_begins_nothing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = _rows(old_book(path, 1))
    monkeypatch.setattr(shutil, "disk_usage", lambda _: Disk(10**9, 10**9 - 5000, 5000))
    with pytest.raises(BookError, match=r"MB of the disk must be free; there are 0\.0 MB"):
        open_book(path)
    assert (_version(path), _rows(path), earlier_copies(path)) == (1, before, [])


def test_a_copy_that_cannot_be_made_begins_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = _rows(old_book(path, 1))

    def full(connection: sqlite3.Connection, target: Path) -> int:
        raise BookError(f"{target} could not be written: the disk is full")

    monkeypatch.setattr(copying, "_copy", full)
    with pytest.raises(BookError, match="the disk is full"):
        open_book(path)
    assert (_version(path), _rows(path)) == (1, before)


@pytest.mark.parametrize("quicker", ["after my copy", "before my copy"])
def test_a_copy_is_left_whoever_is_quicker(
    path: Path, monkeypatch: pytest.MonkeyPatch, quicker: str
) -> None:
    """Another program brings the book up while I make the copy: what it has found in the place of its own stays."""
    before, copied = _rows(old_book(path, 1)), copying._copy

    def overtaken(connection: sqlite3.Connection, target: Path) -> int:
        monkeypatch.setattr(copying, "_copy", copied)
        if quicker == "before my copy":
            os.utime(path, (1_900_000_000, 1_900_000_000))  # its copy bears another second
            open_book(path).close()
            return copied(connection, target)
        found = copied(connection, target)
        open_book(path).close()
        return found

    monkeypatch.setattr(copying, "_copy", overtaken)
    with open_book(path) as book:
        assert migrations.version(book.connection) == migrations.NEWEST
    (copy,) = earlier_copies(path)
    assert (_version(copy), _rows(copy)) == (1, before)


def test_a_damaged_old_book_is_not_touched(path: Path) -> None:
    old_book(path, 1)
    content = bytearray(path.read_bytes())
    content[-4096:] = b"\xa5" * 4096
    path.write_bytes(content)
    with pytest.raises(BookError, match="is damaged: move it away"):
        open_book(path)
    assert path.read_bytes() == bytes(content)
    assert earlier_copies(path) == []


def test_of_a_damaged_book_the_copy_beside_it_is_named(path: Path) -> None:
    open_book(old_book(path, 1)).close()
    (copy,) = earlier_copies(path)
    content = bytearray(path.read_bytes())
    content[-4096:] = b"\xa5" * 4096
    part = path.with_name("part")
    part.write_bytes(content)
    os.replace(part, path)
    with pytest.raises(BookError, match=f"from before a newer version lies at {copy}"):
        open_book(path)
