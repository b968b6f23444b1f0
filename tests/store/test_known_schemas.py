"""A book with another schema than ours is not read: nothing that somebody has put into it ever runs."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.copying import copy_to
from soakbook.store.garden_rows import read_garden
from soakbook.store.known_schemas import KNOWN, digest, is_known, made_rows
from soakbook.store.migrations import NEWEST


@pytest.mark.parametrize("version", range(1, NEWEST + 1))
def test_the_digests_are_those_of_the_steps(version: int) -> None:
    made = digest(made_rows(version))
    assert KNOWN.get(version) == made, f'known_schemas.KNOWN wants {version}: "{made}"'


def test_there_are_no_digests_of_others() -> None:
    assert list(KNOWN) == list(range(1, NEWEST + 1))


def _write(path: Path, *statements: str) -> None:
    """What another program does to a book."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA writable_schema = ON")
    for statement in statements:
        connection.execute(statement)
    connection.close()


def _rewrite(path: Path, change: Callable[[str], str]) -> None:
    """Another text of the bed's table in the schema itself."""
    connection = sqlite3.connect(path, isolation_level=None)
    (text,) = connection.execute("SELECT sql FROM sqlite_schema WHERE name = 'bed'").fetchone()
    assert change(text) != text
    connection.execute("PRAGMA writable_schema = ON")
    connection.execute("UPDATE sqlite_schema SET sql = ? WHERE name = 'bed'", (change(text),))
    connection.close()


FOREIGN = {
    "a trigger more": "CREATE TRIGGER t AFTER INSERT ON entry BEGIN UPDATE garden SET name = 'mine'; END",
    "a view more": "CREATE VIEW v AS SELECT load_extension('x')",
    "a table more": "CREATE TABLE t (x)",
    "an index more": "CREATE INDEX i ON entry (abs(litres))",
    "a rule less": "DROP TRIGGER entry_never_removed",
    "a view changed": "UPDATE sqlite_schema SET sql = replace(sql, 'FROM entry', 'FROM (SELECT * FROM entry)')"
    " WHERE name = 'entry_in_force'",
    "a table by another name": "ALTER TABLE rate RENAME TO rates",
}


@pytest.mark.parametrize("statement", FOREIGN.values(), ids=FOREIGN)
@pytest.mark.parametrize("read_only", [False, True])
def test_another_schema_is_not_read(book: BookFile, statement: str, read_only: bool) -> None:
    book.close()
    _write(book.path, statement)
    before = book.path.read_bytes()
    with pytest.raises(BookError, match="tables and rules are not those that soakbook makes"):
        open_book(book.path, read_only=read_only)
    assert book.path.read_bytes() == before


def test_a_check_that_is_a_remark_now_is_another_schema(book: BookFile) -> None:
    book.close()
    _rewrite(
        book.path, lambda text: text.replace("CHECK (area_m2 > 0),", ", -- CHECK (area_m2 > 0),")
    )
    with pytest.raises(BookError, match="tables and rules"):
        open_book(book.path)


def test_words_inside_quotes_are_compared_letter_by_letter(book: BookFile) -> None:
    book.close()
    _rewrite(book.path, lambda text: text.replace("'standing'", "' standing'"))
    with pytest.raises(BookError, match="tables and rules"):
        open_book(book.path)


def test_another_manner_of_writing_is_the_same_schema(book: BookFile) -> None:
    """A SQLite to come may set blanks otherwise when it changes a table."""
    garden = read_garden(book)
    book.close()
    _rewrite(book.path, lambda text: text.replace(" NOT NULL,", "\tNOT NULL /* so */ ,\n"))
    with open_book(book.path) as again:
        assert read_garden(again) == garden


def test_a_copy_and_an_analysed_book_are_known(book: BookFile, tmp_path: Path) -> None:
    target = tmp_path / "copy.book"
    copy_to(book, target)
    book.connection.execute("ANALYZE")
    assert is_known(book.connection, NEWEST)
    with open_book(target, read_only=True) as copy:
        assert is_known(copy.connection, NEWEST)


@pytest.mark.parametrize("version", [0, -1, 1])
def test_another_version_than_it_says(book: BookFile, version: int) -> None:
    book.close()
    _write(book.path, f"PRAGMA user_version = {version}")
    with pytest.raises(BookError, match="tables and rules"):
        open_book(book.path)
