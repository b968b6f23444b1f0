"""A book is read through the first time it is met, not each morning, and again when it is another file."""

import os
import shutil
import sqlite3
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.store import copying, met
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.met import is_met, meet
from soakbook.store.places import cache_folder


@pytest.fixture
def read_through(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The books that were read through."""
    found: list[Path] = []
    check = copying.check_whole

    def noted(path: Path, connection: sqlite3.Connection) -> None:
        found.append(path)
        check(path, connection)

    monkeypatch.setattr(copying, "check_whole", noted)
    return found


def test_a_book_of_ones_own_is_met_already(book: BookFile, read_through: list[Path]) -> None:
    for read_only in (True, False):
        open_book(book.path, read_only=read_only).close()
    assert read_through == []


def test_a_book_from_elsewhere_is_read_through_once(
    book: BookFile, tmp_path: Path, read_through: list[Path]
) -> None:
    book.close()
    there = tmp_path / "there.book"
    shutil.copy(book.path, there)
    for _ in range(3):
        open_book(there, read_only=True).close()
    assert read_through == [there]


def test_a_file_put_in_its_place_is_read_through(
    book: BookFile, tmp_path: Path, read_through: list[Path]
) -> None:
    book.close()
    part = tmp_path / "part"
    shutil.copy(book.path, part)
    os.replace(part, book.path)
    open_book(book.path).close()
    assert read_through == [book.path]


def test_without_a_cache_it_is_read_through_each_time(
    book: BookFile, read_through: list[Path], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    book.close()
    (tmp_path / "file").write_text("")
    monkeypatch.setattr(met, "cache_folder", lambda: tmp_path / "file")
    for _ in range(2):
        open_book(book.path, read_only=True).close()
    assert read_through == [book.path] * 2


def _damage(path: Path) -> None:
    """The last page of the book, overwritten: an index or a table that opening does not look at."""
    content = bytearray(path.read_bytes())
    content[-4096:] = b"\xa5" * 4096
    path.write_bytes(content)


def test_damage_that_opening_would_not_see_is_said(book: BookFile, tmp_path: Path) -> None:
    book.close()
    there = tmp_path / "there.book"
    shutil.copy(book.path, there)
    _damage(there)
    with pytest.raises(BookError, match=r"damaged: move it away with the -wal and -shm beside it"):
        open_book(there, read_only=True)
    assert not is_met(there, book.uid)


def test_what_is_remembered_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(met, "KEPT", 3)
    paths = [tmp_path / f"{number}.book" for number in range(5)]
    for path in paths:
        path.write_text("")
        meet(path, f"../{path.stem}")
    assert len(list((cache_folder() / "met").iterdir())) == 3
    assert is_met(paths[-1], "../4")
    assert not is_met(paths[-1], "../3")
