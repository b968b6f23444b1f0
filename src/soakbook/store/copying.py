"""A whole copy of a book in one plain file: when it is asked for, and before a newer version of the book.

Here the book is read through before it is copied or changed: a copy of damage would be believed.
"""

import shutil
import sqlite3
from contextlib import suppress
from pathlib import Path

from soakbook.errors import BookError
from soakbook.store import migrations
from soakbook.store.book_file import BookFile
from soakbook.store.earlier import KEPT, earlier_copies, earlier_name
from soakbook.store.placing import BESIDE, made_whole, named
from soakbook.store.refusals import damaged, plain_errors, sentence

ROOM_IN_BOOKS = 2
"""What bringing up a book needs on the disk: a copy, and a log in which every page may stand."""


def copy_to(book: BookFile, target: Path) -> None:
    """Write a copy of a book as it stands, with no journal beside it and no empty pages in it.

    Others may write in the book meanwhile: what they have not finished when the copying begins is not in the
    copy. The copy is there whole or not at all, and only its owner may read it.

    Parameters
    ----------
    book
        Open, outside any transaction.
    target
        Where nothing may be yet.

    Raises
    ------
    BookError
        When something is at `target` already, it is a name that SQLite needs beside the book, nothing can be
        written there, or the book is damaged.
    """
    with named(target):
        _check_target(book.path, target)
    with plain_errors(book.path):
        check_whole(book.path, book.connection)
    _copy(book.connection, target)


def _check_target(path: Path, target: Path) -> None:
    real = path.resolve()  # SQLite lays its files beside the book itself, not beside a link to it
    own = {real.with_name(real.name + suffix) for suffix in BESIDE}
    if target.is_dir():
        raise BookError(f"{target} is a folder: name a file in it, such as {target / 'copy.book'}")
    if target.resolve() in own:
        raise BookError(f"{target} is a name that belongs to the book itself; copy to another")
    if target.exists() or target.is_symlink():
        raise BookError(f"{target}: there is a file already; copy to a new name")
    if not target.parent.is_dir():
        raise BookError(f"there is no folder {target.parent}: make it first, or copy elsewhere")


def check_whole(path: Path, connection: sqlite3.Connection) -> None:
    """Have SQLite read the whole file through.

    Parameters
    ----------
    path, connection
        The book and where it is open.

    Raises
    ------
    BookError
        When something in it is not as SQLite has written it.
    """
    if connection.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise BookError(f"{path} {damaged(path)}")


def bring_up(path: Path, connection: sqlite3.Connection, version: int) -> None:
    """Take an older book to the newest version, with a copy of it as it was beside it.

    Parameters
    ----------
    path, connection
        The book and where it is open for writing.
    version
        Of the book as it is.

    Raises
    ------
    BookError
        When the book is damaged or there is no room for the copy, and then nothing was begun; or when a step
        fails, and then the book is as it was.
    """
    check_whole(path, connection)
    kept = _kept_copy(path, connection, version)
    try:
        migrations.migrate(connection, migrations.steps())
    except sqlite3.Error as error:
        raise BookError(
            f"{path} could not be brought up to version {migrations.NEWEST}: it {sentence(path, error)}. "
            f"The book is as it was; a copy lies at {kept}"
        ) from error
    for old in earlier_copies(path)[KEPT:]:
        with suppress(OSError):
            old.unlink()


def _kept_copy(path: Path, connection: sqlite3.Connection, version: int) -> Path:
    """The copy of an older book beside it, made unless an attempt before has made it."""
    target = earlier_name(path, version)
    if target.exists():
        return target
    need_b = ROOM_IN_BOOKS * path.stat().st_size
    free_b = shutil.disk_usage(path.parent).free
    if free_b < need_b:
        raise BookError(
            f"{path} is from an older soakbook, and to bring it up to date {_mb(need_b)} of the disk must be "
            f"free; there are {_mb(free_b)}. Nothing was changed"
        )
    try:
        copied = _copy(connection, target)
    except BookError:
        if target.exists():  # another program makes or has made it
            return target
        raise
    if copied != version:
        # Another program was quicker. Asked is the copy, not the book: one of the old book may be what the other
        # has found in the place of its own, and stays.
        target.unlink()
    return target


def _copy(connection: sqlite3.Connection, target: Path) -> int:
    """The pages of one moment, whoever writes meanwhile; then laid close, in one file without a log.

    VACUUM INTO would do both at once, but from a connection that may only read it fails on computed columns. Returned
    is the version of the copy.
    """
    with made_whole(target) as part, plain_errors(target):
        copy = sqlite3.connect(part, isolation_level=None)
        try:
            connection.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
            copy.execute("VACUUM")
            return migrations.version(copy)
        finally:
            copy.close()


def _mb(size_b: int) -> str:
    return f"{size_b / 1e6:,.1f} MB"
