"""A copy is the whole book, in one file of its owner's, or it is not there."""

import os
import shutil
import sqlite3
import stat
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.garden.records import Bed
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.copying import copy_to
from soakbook.store.garden_rows import add_record, read_records
from soakbook.store.pages import read_pages

POSIX = pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")


@pytest.fixture
def target(tmp_path: Path) -> Path:
    """Where a copy is to lie, in a folder of its own."""
    folder = tmp_path / "copies"
    folder.mkdir()
    return folder / "copy.book"


@pytest.mark.parametrize("read_only", [False, True])
def test_a_copy_reads_back_equal_and_goes_on(
    book: BookFile, target: Path, bed: Bed, morning: datetime, read_only: bool
) -> None:
    with open_book(book.path, read_only=read_only) as source:
        copy_to(source, target)
    assert list(target.parent.iterdir()) == [target]
    with open_book(target) as copy:
        assert read_pages(copy) == read_pages(book)
        assert copy.change_mark() == book.change_mark()
        add_record(copy, bed._replace(uid="bed-2", key="dole"), at=morning)


@POSIX
def test_only_the_owner_may_read_a_copy(book: BookFile, target: Path) -> None:
    book.path.chmod(0o644)
    before = os.umask(0o022)
    try:
        copy_to(book, target)
    finally:
        os.umask(before)
    assert stat.S_IMODE(target.stat().st_mode) == 0o600


def test_what_another_has_not_finished_is_not_in_the_copy(
    book: BookFile, target: Path, bed: Bed, morning: datetime
) -> None:
    with open_book(book.path, read_only=True) as reader, book.writing():
        add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
        copy_to(reader, target)
    with open_book(target) as copy:
        assert [one.key for one in read_records(copy, Bed)] == ["chapel"]


def _itself(book: BookFile, target: Path) -> Path:
    return book.path


def _by_another_way(book: BookFile, target: Path) -> Path:
    target.symlink_to(book.path)
    return target


def _link_to_nothing(book: BookFile, target: Path) -> Path:
    target.symlink_to(book.path.with_name("nowhere"))
    return target


def _log(book: BookFile, target: Path) -> Path:
    return target.parent / ".." / f"{book.path.name}-wal"


def _rollback_log(book: BookFile, target: Path) -> Path:
    return book.path.with_name(f"{book.path.name}-journal")


def _there(book: BookFile, target: Path) -> Path:
    target.write_text("somebody's")
    return target


def _folder(book: BookFile, target: Path) -> Path:
    return target.parent


def _no_folder(book: BookFile, target: Path) -> Path:
    return target.parent / "nowhere" / "copy.book"


def _log_beside(book: BookFile, target: Path) -> Path:
    target.with_name(f"{target.name}-wal").write_bytes(b"of another book")
    return target


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (_itself, "a file already"),
        (_by_another_way, "a file already"),
        (_link_to_nothing, "a file already"),
        (_log, "belongs to the book itself"),
        (_rollback_log, "belongs to the book itself"),
        (_there, "a file already"),
        (_folder, "is a folder: name a file in it, such as"),
        (_no_folder, "there is no folder"),
        (_log_beside, "left from another book"),
    ],
)
def test_nothing_is_written_over(
    book: BookFile, target: Path, place: Callable[[BookFile, Path], Path], said: str
) -> None:
    there = place(book, target)
    before = {one: one.lstat().st_mtime_ns for one in target.parent.iterdir()}
    with pytest.raises(BookError, match=said):
        copy_to(book, there)
    assert {one: one.lstat().st_mtime_ns for one in target.parent.iterdir()} == before
    assert read_records(book, Bed)[0].key == "chapel"


def test_a_copy_that_fails_leaves_nothing(
    book: BookFile, target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(BookError, match=r"copy\.book cannot be made: No space left"):
        copy_to(book, target)
    assert list(target.parent.iterdir()) == []


def test_a_damaged_book_is_not_copied(book: BookFile, target: Path, tmp_path: Path) -> None:
    """Its copy would be believed."""
    book.close()
    content = bytearray(book.path.read_bytes())
    content[-4096:] = b"\xa5" * 4096
    damaged = tmp_path / "damaged.book"
    damaged.write_bytes(content)
    connection = sqlite3.connect(damaged, isolation_level=None)
    with (
        BookFile(damaged, connection, book.uid) as source,
        pytest.raises(BookError, match=r"damaged\.book is damaged: move it away"),
    ):
        copy_to(source, target)
    assert list(target.parent.iterdir()) == []


def test_a_copy_stands_in_for_the_book(book: BookFile, target: Path) -> None:
    """As the sentence about a damaged book says: what lies beside it goes, the copy takes its place."""
    pages = read_pages(book)
    copy_to(book, target)
    book.close()
    book.path.unlink()
    shutil.move(target, book.path)
    with open_book(book.path) as again:
        assert read_pages(again) == pages


@POSIX
def test_what_belongs_to_a_book_behind_a_link_is_not_written_over(
    book: BookFile, tmp_path: Path
) -> None:
    link = tmp_path / "link.book"
    link.symlink_to(book.path)
    beside = book.path.with_name(f"{book.path.name}-journal")
    with open_book(link) as source, pytest.raises(BookError, match="belongs to the book itself"):
        copy_to(source, beside)
    assert not beside.exists()
