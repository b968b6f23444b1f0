"""Steps from one schema to the next: whole or not at all, once."""

import sqlite3
from importlib.resources import files
from pathlib import Path

import pytest

from soakbook.store.migrations import NEWEST, migrate, steps, version


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
