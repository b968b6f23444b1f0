"""What is made has its name when it is whole; what killed programs have left goes when nobody can be at work on it."""

import os
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.store.placing import GIVEN_UP_S, PART, made_whole

LEFT = f".garden.book.0123abcd.{PART}"
OTHERS = (
    ".garden.book.0123abcd.part",
    f"garden.book.0123abcd.{PART}",
    f".garden.book.0123.{PART}",
    f".0123abcd.{PART}",
    "garden.book-wal",
)


def _aged(path: Path, age_s: float) -> Path:
    path.write_text("half a book")
    written_s = path.stat().st_mtime - age_s
    os.utime(path, (written_s, written_s))
    return path


def _made(path: Path) -> None:
    with made_whole(path) as part:
        part.write_text("whole")


@pytest.mark.parametrize("name", [LEFT, f"{LEFT}-wal", f"{LEFT}-shm", f"{LEFT}-journal"])
def test_what_was_left_a_day_ago_is_removed(tmp_path: Path, name: str) -> None:
    """Whatever was to be made there: weekly copies have other names each time."""
    _aged(tmp_path / name, GIVEN_UP_S + 60)
    _made(tmp_path / "copy of june.book")
    assert [one.name for one in tmp_path.iterdir()] == ["copy of june.book"]


def test_what_somebody_may_be_making_stays(tmp_path: Path) -> None:
    left = _aged(tmp_path / LEFT, GIVEN_UP_S - 60)
    _made(tmp_path / "copy.book")
    assert left.read_text() == "half a book"


@pytest.mark.parametrize("name", OTHERS)
def test_what_is_not_of_our_naming_stays(tmp_path: Path, name: str) -> None:
    other = _aged(tmp_path / name, 100 * GIVEN_UP_S)
    _made(tmp_path / "copy.book")
    assert other.exists()


def test_the_second_name_of_what_has_its_own_goes_at_once(tmp_path: Path) -> None:
    """Of a program that was killed between giving the name and taking the other away."""
    book = tmp_path / "garden.book"
    _made(book)
    os.link(book, tmp_path / LEFT)
    _made(tmp_path / "copy.book")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["copy.book", "garden.book"]
    assert book.read_text() == "whole"


def test_the_parts_of_one_file_at_a_time_are_told_apart(tmp_path: Path) -> None:
    """Two that copy into one folder at once do not clear each other away."""
    with made_whole(tmp_path / "one.book") as first, made_whole(tmp_path / "two.book") as second:
        first.write_text("one")
        second.write_text("two")
    assert (tmp_path / "one.book").read_text() == "one"
    assert (tmp_path / "two.book").read_text() == "two"


def test_a_file_is_replaced_only_where_that_is_said(tmp_path: Path) -> None:
    path = tmp_path / "may.pdf"
    path.write_text("old")
    with pytest.raises(BookError, match="something at"):
        _made(path)
    assert path.read_text() == "old"
    with made_whole(path, over=True) as part:
        part.write_text("new")
        assert path.read_text() == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["may.pdf"]
    assert path.read_text() == "new"


def _broken_off(path: Path) -> None:
    with made_whole(path, over=True) as part:
        part.write_text("half")
        raise ZeroDivisionError


def test_what_fails_half_way_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "may.pdf"
    path.write_text("old")
    with pytest.raises(ZeroDivisionError):
        _broken_off(path)
    assert [(one.name, one.read_text()) for one in tmp_path.iterdir()] == [("may.pdf", "old")]
