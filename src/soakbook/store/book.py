"""Making a book and opening one, and what is said of a file that is not a book."""

import os
import sqlite3
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from soakbook.errors import BookError
from soakbook.store import migrations
from soakbook.store.book_file import BookFile
from soakbook.store.refusals import NO_BOOK, plain_errors

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from soakbook.garden.records import Garden, Uid
    from soakbook.store.sheets import Setting

OLDEST_SQLITE = (3, 37, 0)
"""The first SQLite with STRICT tables."""

BUSY_S = 5.0
"""How long another program's writing is waited for."""


def new_uid() -> "Uid":
    """A uid that nothing else bears."""
    from uuid import uuid4

    return uuid4().hex


def create(
    path: Path,
    garden: "Garden",
    settings: "Sequence[Setting]" = (),
    *,
    at: datetime,
    by: str | None = None,
) -> BookFile:
    """A new book with its garden in it, open for writing.

    It is made under another name beside its place and moved there when it is whole, so that a
    failure leaves nothing behind. Only its owner may read it.

    Parameters
    ----------
    path
        Where it is to be; a missing folder is made.
    garden
        The garden that it keeps.
    settings
        What it begins with besides, each after what it refers to.
    at, by
        When and by whom it was begun, for the log of changes.

    Returns
    -------
    BookFile
        The book, open for writing.

    Raises
    ------
    BookError
        When there is something in its place already, or nothing can be written there.
    """

    def fill(book: BookFile) -> None:
        from soakbook.store.garden_rows import add_record

        for record in (garden, *settings):
            add_record(book, record, at=at, by=by)

    return begin(path, garden.uid, fill)


def begin(path: Path, uid: "Uid", fill: "Callable[[BookFile], None]") -> BookFile:
    """A new book filled by somebody else, whole or not at all, as `create` makes one.

    Parameters
    ----------
    path
        Where it is to be; a missing folder is made.
    uid
        The garden's.
    fill
        Writes into the empty book, the garden with its uid first.

    Returns
    -------
    BookFile
        The book, open for writing.

    Raises
    ------
    BookError
        When there is something in its place already, or nothing can be written there.
    """
    _check_sqlite()
    part = path.with_name(f".{path.name}.{os.urandom(4).hex()}.part")
    try:
        check_free(path)
        path.parent.mkdir(parents=True, exist_ok=True)
        os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        try:
            _fill(part, uid, fill)
            _put_in_place(part, path)
        finally:
            for left in (part, part.with_name(f"{part.name}-journal")):
                with suppress(FileNotFoundError):
                    left.unlink()
    except OSError as error:
        raise BookError(f"{path} cannot be made: {error.strerror or error}") from error
    return open_book(path)


def check_free(path: Path) -> None:
    """Refuse a place at which a book could not be made without harm to what lies there.

    Raises
    ------
    BookError
        Something is there already, or what another book has left.
    """
    if path.exists() or path.is_symlink():
        raise BookError(f"there is something at {path} already; nothing was changed")
    for suffix in ("-wal", "-journal"):
        beside = path.with_name(path.name + suffix)
        # SQLite would take it for part of the new book.
        if beside.exists():
            raise BookError(f"{beside} is left from another book: move it away first")


def open_book(
    path: Path, *, read_only: bool = False, immutable: bool = False, busy_s: float = BUSY_S
) -> BookFile:
    """The book at a path, brought up to the newest schema when it is opened for writing.

    Parameters
    ----------
    path
        The file.
    read_only
        Nothing can be written; works in a folder that may not be written, too.
    immutable
        The file never changes (one that ships in the package): read-only, without locks.
    busy_s
        How long another program's writing is waited for. [s, > 0]

    Returns
    -------
    BookFile
        The open book.

    Raises
    ------
    BookError
        No such file; not a book; made by a newer soakbook; SQLite too old; busy; damaged.
    """
    _check_sqlite()
    try:
        _check_file(path)
        address = _address(path, read_only=read_only, immutable=immutable)
    except OSError as error:
        raise BookError(f"{path} cannot be opened: {error.strerror or error}") from error
    with plain_errors(path):
        connection = sqlite3.connect(address, uri=True, isolation_level=None, timeout=busy_s)
        try:
            uid = _prepare(path, connection, writable=not (read_only or immutable))
        except BaseException:
            connection.close()
            raise
    return BookFile(path, connection, uid)


def _prepare(path: Path, connection: sqlite3.Connection, *, writable: bool) -> "Uid":
    """Check what was opened before trusting anything in it, set it up, return the garden's uid."""
    connection.execute("PRAGMA trusted_schema = OFF")
    if connection.execute("PRAGMA application_id").fetchone()[0] != migrations.APPLICATION_ID:
        raise BookError(f"{path} {NO_BOOK}")
    version = migrations.version(connection)
    if version > migrations.NEWEST:
        raise BookError(
            f"{path} was written by a newer soakbook (version {version} of the book, this program "
            f"knows {migrations.NEWEST}): bring soakbook up to date"
        )
    if version < migrations.NEWEST and not writable:
        raise BookError(f"{path} is from an older soakbook and has to be opened once for writing")
    _set_up(connection)
    if writable:
        connection.execute("PRAGMA journal_mode = WAL")
        if version < migrations.NEWEST:
            migrations.migrate(connection, migrations.steps())
    row = connection.execute("SELECT uid FROM garden").fetchone()
    if row is None:
        raise BookError(f"{path} is not whole: there is no garden in it")
    return str(row[0])


def _set_up(connection: sqlite3.Connection) -> None:
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA synchronous = FULL")
    # Without this a REPLACE would remove a row past the triggers that keep entries and weather.
    connection.execute("PRAGMA recursive_triggers = ON")


def _fill(part: Path, uid: "Uid", fill: "Callable[[BookFile], None]") -> None:
    with plain_errors(part):
        connection = sqlite3.connect(part, isolation_level=None)
    with BookFile(part, connection, uid) as book:
        with plain_errors(part):
            _set_up(connection)
            migrations.migrate(connection, migrations.steps())
        fill(book)


def _put_in_place(part: Path, path: Path) -> None:
    """Give the finished file its name without ever writing over another."""
    try:
        os.link(part, path)
    except FileExistsError:
        check_free(path)
        raise
    except OSError:  # a disk that knows no second names
        check_free(path)
        part.rename(path)
    if os.name == "posix":
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _check_file(path: Path) -> None:
    if not path.exists():
        raise BookError(f"there is no book at {path}; 'soakbook book new' begins one")
    if not path.is_file():
        raise BookError(f"{path} {NO_BOOK}")


def _check_sqlite() -> None:
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        oldest = ".".join(map(str, OLDEST_SQLITE[:2]))
        raise BookError(
            f"soakbook needs SQLite {oldest} or newer, this Python brings "
            f"{sqlite3.sqlite_version}: use a newer Python"
        )


def _address(path: Path, *, read_only: bool, immutable: bool) -> str:
    address = path.absolute().as_uri()
    if immutable or (read_only and _nobody_writes(path)):
        return f"{address}?mode=ro&immutable=1"
    return f"{address}?mode={'ro' if read_only else 'rw'}"


def _nobody_writes(path: Path) -> bool:
    """Whether the folder may not be written: SQLite could not lay its lock beside the book."""
    log = path.with_name(f"{path.name}-wal")
    return not os.access(path.parent, os.W_OK) and not log.exists()
