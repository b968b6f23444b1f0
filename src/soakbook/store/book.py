"""Making a book and opening one, and what is said of a file that is not a book."""

import os
import sqlite3
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from soakbook.errors import BookError
from soakbook.store import migrations
from soakbook.store.book_file import BookFile
from soakbook.store.known_schemas import is_known
from soakbook.store.met import is_met, meet
from soakbook.store.refusals import FOREIGN, NO_BOOK, damaged, plain_errors

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
    from soakbook.store.placing import made_whole

    _check_sqlite()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BookError(f"{path} cannot be made: {error.strerror or error}") from error
    with made_whole(path) as part:
        _fill(part, uid, fill)
    meet(path, uid)
    return open_book(path)


def open_book(
    path: Path,
    *,
    read_only: bool = False,
    immutable: bool = False,
    busy_s: float = BUSY_S,
    read_through: bool = True,
) -> BookFile:
    """The book at a path, brought up to the newest schema where it may be written, with a copy of the old beside it.

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
    read_through
        Whether SQLite reads a book through that it has not met before; not where that is done anyway.

    Returns
    -------
    BookFile
        The open book.

    Raises
    ------
    BookError
        No such file; not a book; made by a newer soakbook, or by an older one where nothing can be
        written; SQLite too old; busy; damaged.
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
            uid = _checked(path, connection, read_through=read_through and not immutable)
            if read_only and not immutable and _is_older(connection) and _may_be_written(path):
                open_book(path, busy_s=busy_s).close()
            _prepare(path, connection, writable=not (read_only or immutable))
        except BaseException as error:
            connection.close()
            # What SQLite says of a damaged schema repeats its bytes, which need not be letters.
            if isinstance(error, UnicodeDecodeError):
                raise BookError(f"{path} {damaged(path)}") from error
            raise
    return BookFile(path, connection, uid)


def _checked(path: Path, connection: sqlite3.Connection, *, read_through: bool) -> "Uid":
    """The garden's uid, when the file is a book that may be trusted: nothing of its content is asked before."""
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    connection.execute("PRAGMA mmap_size = 0")
    # All of one moment: another program may be bringing the book up to a newer version.
    connection.execute("BEGIN")
    if connection.execute("PRAGMA application_id").fetchone()[0] != migrations.APPLICATION_ID:
        raise BookError(f"{path} {NO_BOOK}")
    version = migrations.version(connection)
    if version > migrations.NEWEST:
        raise BookError(
            f"{path} was written by a newer soakbook (version {version} of the book, this program "
            f"knows {migrations.NEWEST}): bring soakbook up to date"
        )
    if version < 1 or not is_known(connection, version):
        raise BookError(f"{path} {FOREIGN}")
    row = connection.execute("SELECT uid FROM garden").fetchone()
    if row is None:
        raise BookError(f"{path} is not whole: there is no garden in it")
    uid = str(row[0])
    if read_through and not is_met(path, uid):
        from soakbook.store.copying import check_whole

        check_whole(path, connection)
        meet(path, uid)
    connection.execute("COMMIT")
    return uid


def _prepare(path: Path, connection: sqlite3.Connection, *, writable: bool) -> None:
    """Set up what was found to be a book, and bring it up to the newest version when it may be written."""
    if not writable and _is_older(connection):
        raise BookError(
            f"{path} is from an older soakbook and has to be brought up to date once: that cannot be done here, "
            "where the file or its folder is read-only"
        )
    _set_up(connection)
    if writable:
        connection.execute("PRAGMA journal_mode = WAL")
        if _is_older(connection):
            from soakbook.store.copying import bring_up

            bring_up(path, connection, migrations.version(connection))


def _is_older(connection: sqlite3.Connection) -> bool:
    return migrations.version(connection) < migrations.NEWEST


def _may_be_written(path: Path) -> bool:
    return os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)


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
    real = path.resolve()
    log = real.with_name(f"{real.name}-wal")
    return not os.access(real.parent, os.W_OK) and not log.exists()
