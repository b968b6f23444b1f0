"""Rows from elsewhere go in as they were, and a refused one is named by its place."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from soakbook.garden.entries import Left
from soakbook.garden.records import Bed, Planting
from soakbook.store import bringing
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.changes import changes
from soakbook.store.garden_rows import read_records
from soakbook.store.whole_tables import entry_texts


def looked_at(uid: str, at: datetime, bed: Bed) -> Left:
    return Left(uid=uid, happened_at=at, written_at=at, bed_uid=bed.uid, reason="too wet")


def test_a_record_is_put_without_a_word_in_the_log(book: BookFile, bed: Bed) -> None:
    before = changes(book)
    bringing.put_record(book, bed._replace(area_m2=20.0), new=False)
    bringing.put_record(book, bed._replace(uid="bed-2", key="well"), new=True)
    assert [one.area_m2 for one in read_records(book, Bed)] == [20.0, 18.0]
    assert changes(book) == before


def test_a_planting_may_come_before_the_one_it_replaces(book: BookFile, planting: Planting) -> None:
    with book.writing():
        for uid, replaces in (("second", "first"), ("first", None)):
            record = planting._replace(uid=uid, replaces=replaces)
            bringing.put_record(book, record, new=True)
    assert {one.uid for one in read_records(book, Planting)} == {planting.uid, "first", "second"}


@pytest.mark.parametrize("place", [0, 1, 2])
def test_a_refused_entry_is_named_by_its_place(
    place: int,
    shared_book: BookFile,
    bed: Bed,
    morning: datetime,
    undone: Callable[[BookFile], AbstractContextManager[None]],
) -> None:
    entries = [looked_at(f"entry {number}", morning, bed) for number in range(3)]
    entries[place] = replace(entries[place], bed_uid="nowhere")
    with undone(shared_book), pytest.raises(bringing.RowError) as refused:
        bringing.put_entries(shared_book, entries)
    assert (refused.value.row, refused.value.field) == (place, "bed_uid")


def test_what_is_known_of_entries_and_of_what_they_supersede(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    first = looked_at("first", morning, bed)
    second = replace(looked_at("second", morning, bed), supersedes="first")
    bringing.put_entries(book, [first, second])
    other = replace(looked_at("other", morning, bed), supersedes="first")
    known = bringing.known_entries(book, [other])
    assert set(known.rows) == {"first"}
    assert known.superseded_by == {"first": "second"}


def test_a_copy_aside_of_a_book_that_is_only_read(
    book: BookFile, bed: Bed, morning: datetime, tmp_path: Path
) -> None:
    bringing.put_entries(book, [looked_at("first", morning, bed)])
    with open_book(book.path, read_only=True) as read:
        bringing.copy_aside(read, tmp_path / "aside.book")
    with open_book(tmp_path / "aside.book") as copy:
        assert list(entry_texts(copy)) == list(entry_texts(book))
