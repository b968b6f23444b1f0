"""Steps from one schema to the next: whole or not at all, once."""

import sqlite3
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path

import pytest

from soakbook.garden.entries import Void
from soakbook.store.book import open_book
from soakbook.store.entry_rows import add_entries, entries_written
from soakbook.store.migrations import NEWEST, migrate, steps, version
from soakbook.store.pages import read_pages


@pytest.fixture
def empty(tmp_path: Path) -> sqlite3.Connection:
    """An empty file."""
    return sqlite3.connect(tmp_path / "empty.db", isolation_level=None)


def _tables(connection: sqlite3.Connection) -> set[str]:
    found = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
    return {name for (name,) in found}


def test_the_steps_are_numbered_without_a_gap() -> None:
    names = sorted(each.name for each in (files("soakbook.store") / "schema").iterdir())
    assert names == [f"{number:04}.sql" for number in range(1, NEWEST + 1)]
    assert len(steps()) == NEWEST


def test_steps_are_taken_once(empty: sqlite3.Connection) -> None:
    migrate(empty, ["CREATE TABLE a (x);"])
    migrate(
        empty,
        [
            "CREATE TABLE a (x);",
            "CREATE TABLE b (x);\n-- a remark; with a stop\nCREATE TABLE c (x);",
        ],
    )
    assert version(empty) == 2
    assert _tables(empty) == {"a", "b", "c"}
    empty.close()


@pytest.mark.parametrize("last", ["CREATE TABLE a (x);", "CREATE TABLE"])
def test_a_step_that_fails_leaves_the_file_as_it_was(empty: sqlite3.Connection, last: str) -> None:
    migrate(empty, ["CREATE TABLE a (x);"])
    with pytest.raises((sqlite3.Error, ValueError)):
        migrate(empty, ["", f"CREATE TABLE b (x);\nINSERT INTO a VALUES (1);\n{last}"])
    assert version(empty) == 1
    assert _tables(empty) == {"a"}
    assert empty.execute("SELECT count(*) FROM a").fetchone() == (0,)
    empty.close()


@pytest.mark.parametrize("old", range(1, NEWEST))
def test_every_older_schema_is_brought_up_to_date_with_all_that_is_in_it(
    old: int, tmp_path: Path
) -> None:
    """A bed and two entries of it, one superseding the other, written under each old schema."""
    path = tmp_path / "old.book"
    connection = sqlite3.connect(path, isolation_level=None)
    migrate(connection, steps()[:old])
    for statement in _OLD_ROWS:
        connection.execute(statement)
    connection.close()
    with open_book(path) as book:
        assert version(book.connection) == NEWEST
        pages = read_pages(book)
        assert [bed.key for bed in pages.beds] == ["chapel"]
        assert [entry.uid for entry in pages.entries] == ["b"]
        first, second = entries_written(book, pages.garden)
        assert (first.uid, second.supersedes, second.corrected_by) == ("a", "a", None)
        add_entries(book, [Void(uid="v", happened_at=_AT, written_at=_AT, supersedes="b")])
        assert read_pages(book).entries == ()
        assert book.connection.execute("PRAGMA foreign_key_check").fetchall() == []
        assert book.connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


_AT = datetime(2031, 5, 15, 7, tzinfo=UTC)
_ENTRY = (
    "INSERT INTO entry (uid, kind, happened_at, written_at, bed_uid, reason, supersedes)"
    " VALUES ({}, 'left', '2031-05-14', '2031-05-14T06:00:00+00:00', 'bed-1', 'no time', {})"
)
_OLD_ROWS = (
    "INSERT INTO garden (id, uid, name, latitude_deg, longitude_deg, elevation_m, timezone, round_hour,"
    " readiness, can_l, gallon, hours_by_default)"
    " VALUES (1, 'g', 'The Corrody', 52.3, -0.4, 62, 'Europe/London', '07:00', 'fair', 10, 'uk', 2)",
    "INSERT INTO bed (uid, key, name, area_m2, soil, place, organic_percent, stone_fraction,"
    " slope_fraction, walk_m) VALUES ('bed-1', 'chapel', 'Chapel', 18, 'loam', 'open', 2.5, 0, 0, 20)",
    _ENTRY.format("'a'", "NULL"),
    _ENTRY.format("'b'", "'a'"),
)
