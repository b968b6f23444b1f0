"""Transactions: all or nothing, one moment a reading; the count and mark of changes."""

import shutil
from contextlib import suppress
from datetime import datetime
from pathlib import Path

import pytest

from soakbook.errors import BookError, InputError
from soakbook.garden.records import Bed
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.garden_rows import add_record, read_records, update_record


def _keys(book: BookFile) -> list[str]:
    return [bed.key for bed in read_records(book, Bed)]


def test_a_block_that_fails_leaves_the_book_as_it_was(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    before = (_keys(book), book.change_counter(), book.change_mark())

    def write() -> None:
        with book.writing():
            add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
            add_record(book, bed._replace(uid="bed-3"), at=morning)

    with pytest.raises(InputError, match="key: 'chapel'"):
        write()
    assert (_keys(book), book.change_counter(), book.change_mark()) == before


def test_an_interrupted_block_leaves_the_book_as_it_was(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    with suppress(KeyboardInterrupt), book.writing():
        add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
        raise KeyboardInterrupt
    assert _keys(book) == ["chapel"]


def test_an_inner_block_takes_back_only_its_own(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    with book.writing():
        add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
        with suppress(InputError):
            add_record(book, bed._replace(uid="bed-2", key="bank"), at=morning)
        add_record(book, bed._replace(uid="bed-4", key="ride"), at=morning)
    assert _keys(book) == ["chapel", "dole", "ride"]


def test_nothing_is_in_the_file_before_the_end_of_the_block(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    with open_book(book.path, read_only=True) as other:
        with book.writing():
            add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
            assert _keys(other) == ["chapel"]
        assert _keys(other) == ["chapel", "dole"]


def test_a_reading_is_of_one_moment(book: BookFile, bed: Bed, morning: datetime) -> None:
    with open_book(book.path) as other:
        with book.reading():
            before = (book.change_mark(), _keys(book))
            add_record(other, bed._replace(uid="bed-2", key="dole"), at=morning)
            assert (book.change_mark(), _keys(book)) == before
        assert _keys(book) == ["chapel", "dole"]


def test_a_write_inside_a_reading_is_a_fault_of_the_program(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    with pytest.raises(RuntimeError, match="only reads"), book.reading():
        add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
    add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
    assert _keys(book) == ["chapel", "dole"]


def test_a_book_in_use_is_said_to_be_busy(book: BookFile, bed: Bed, morning: datetime) -> None:
    with open_book(book.path, busy_s=0.05) as other:
        with book.writing(), pytest.raises(BookError, match="is busy"):
            add_record(other, bed._replace(uid="bed-2", key="dole"), at=morning)
        add_record(other, bed._replace(uid="bed-2", key="dole"), at=morning)


def test_every_change_raises_the_counter_and_draws_a_mark(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    counted, marks = [book.change_counter()], {book.change_mark()}
    for area in (19.0, 20.0, 21.0):
        update_record(book, bed._replace(area_m2=area), at=morning)
        counted.append(book.change_counter())
        marks.add(book.change_mark())
    assert counted == sorted(set(counted))
    assert len(marks) == 4


def test_reading_and_reopening_change_nothing(book: BookFile) -> None:
    before = (book.change_counter(), book.change_mark())
    read_records(book, Bed)
    with open_book(book.path) as again:
        assert (again.change_counter(), again.change_mark()) == before


def test_two_copies_gone_different_ways_bear_different_marks(
    book: BookFile, bed: Bed, morning: datetime, tmp_path: Path
) -> None:
    """One change each: the counters agree, the marks do not."""
    book.close()
    shutil.copy(book.path, tmp_path / "copy.book")
    counters, marks = set(), set()
    for name, area in (("garden.book", 19.0), ("copy.book", 20.0)):
        with open_book(tmp_path / name) as each:
            update_record(each, bed._replace(area_m2=area), at=morning)
            counters.add(each.change_counter())
            marks.add(each.change_mark())
    assert len(counters) == 1
    assert len(marks) == 2
