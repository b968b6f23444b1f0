"""What SQLite refuses, said in words: here its errors become `BookError` or `InputError`."""

import re
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from soakbook.errors import BookError, InputError
from soakbook.store.earlier import earlier_copies

_PRIMARY = 0xFF  # the low byte of SQLite's extended result codes

NO_BOOK = "is not a book of soakbook; name another with --book, or begin one with soakbook book new"

FOREIGN = (
    "says it is a book of soakbook, but its tables and rules are not those that soakbook makes: it was not read; "
    "put a copy of yours in its place"
)

_SENTENCES = {
    sqlite3.SQLITE_BUSY: "is busy: another program is writing in it; try again in a moment",
    sqlite3.SQLITE_LOCKED: "is busy: another program is writing in it; try again in a moment",
    sqlite3.SQLITE_READONLY: "cannot be written: the file or its folder is read-only",
    sqlite3.SQLITE_FULL: "could not be written: the disk is full",
    sqlite3.SQLITE_IOERR: "could not be read or written: the disk reports a fault or is full",
    sqlite3.SQLITE_CANTOPEN: "cannot be opened: the file or its folder may not be read",
    sqlite3.SQLITE_NOTADB: NO_BOOK,
}

_ONCE = {"supersedes": "that entry has been superseded already: supersede the later one"}

_WHOLE = "text without halves of characters"
_SIZE = "a number of ordinary size"


@contextmanager
def plain_errors(path: Path) -> Iterator[None]:
    """Turn every error of SQLite inside the block into a `BookError` naming the book."""
    try:
        yield
    except sqlite3.Error as error:
        raise BookError(f"{path} {sentence(path, error)}") from error


@contextmanager
def readable(path: Path) -> Iterator[None]:
    """Turn what a damaged row makes of the records inside the block into a `BookError` naming the book."""
    try:
        yield
    except (ValueError, LookupError, TypeError, AttributeError, ArithmeticError) as error:
        raise BookError(
            f"{path} {damaged(path)}; something in it cannot be read: {error}"
        ) from error


def sentence(path: Path, error: sqlite3.Error) -> str:
    """What an error of SQLite means for the book at a path, said after its name."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:  # of Python's own, which gives the text that is no text back
        return damaged(path) if "decode to UTF-8" in str(error) else f"cannot be used: {error}"
    if code & _PRIMARY == sqlite3.SQLITE_CORRUPT:
        return damaged(path)
    return _SENTENCES.get(code & _PRIMARY, f"refuses this: {error}")


def damaged(path: Path) -> str:
    """What is said of a damaged book, after its name: what can be done, and with which copy."""
    copies = earlier_copies(path)
    copy = f"; one from before a newer version lies at {copies[0]}" if copies else ""
    return (
        "is damaged: move it away with the -wal and -shm beside it and put a copy in its place, made by "
        f"'soakbook book copy' or by yourself{copy}"
    )


def refusal(
    connection: sqlite3.Connection,
    table: str,
    row: Mapping[str, object],
    error: Exception,
) -> InputError:
    """The `InputError` for a row that was refused: which field, its value, what would be right."""
    message = str(error)
    if isinstance(error, UnicodeEncodeError):
        return _first(row, lambda value: isinstance(value, str) and not _whole(value), _WHOLE)
    if isinstance(error, OverflowError):
        return _first(row, lambda value: isinstance(value, int) and abs(value) >= 2**63, _SIZE)
    field = message.rpartition(".")[2]
    if message.startswith("UNIQUE"):
        right = _ONCE.get(field, f"another {table} has it already")
        return InputError(field, row.get(field), right)
    if message.startswith("NOT NULL"):
        return InputError(field, row.get(field), "it must be given")
    if message.startswith("FOREIGN KEY"):
        return _missing(connection, table, row)
    return _unmet(table, row, message.partition(": ")[2] or message)


def _unmet(table: str, row: Mapping[str, object], condition: str) -> InputError:
    """The first field that an unmet condition names, or the whole row by its uid."""
    field = next((word for word in re.findall(r"\w+", condition) if word in row), None)
    if field is None:
        return InputError(table, row.get("uid"), condition)
    return InputError(field, row[field], condition)


def _first(row: Mapping[str, object], wrong: Callable[[object], bool], right: str) -> InputError:
    field, value = next((field, value) for field, value in row.items() if wrong(value))
    return InputError(field, value, right)


def _whole(text: str) -> bool:
    return not any("\ud800" <= letter <= "\udfff" for letter in text)


def _missing(connection: sqlite3.Connection, table: str, row: Mapping[str, object]) -> InputError:
    """Which of a row's references leads nowhere: SQLite does not say."""
    references = connection.execute(
        'SELECT "table", "from", "to" FROM pragma_foreign_key_list(?)', (table,)
    ).fetchall()
    for target, field, key in references:
        value = row.get(field)
        found = connection.execute(
            f'SELECT 1 FROM "{target}" WHERE "{key}" = ?', (value,)
        ).fetchone()
        if value is not None and found is None:
            return InputError(field, value, f"the {key} of {_one(target)} in the book")
    return InputError(table, row.get("uid"), "others in the book refer to it")


def _one(thing: str) -> str:
    return f"an {thing}" if thing[0] in "aeiou" else f"a {thing}"
