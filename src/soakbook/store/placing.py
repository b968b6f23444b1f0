"""Making a file whole under another name, then giving it its own: nothing half written, nothing written over."""

import os
import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from soakbook.errors import BookError

BESIDE = ("-wal", "-shm", "-journal")
"""What SQLite lays beside a book, by the end of its name."""

PART = "soakbook-part"
"""The end of the name of a file that is being made; nobody else calls one so."""

GIVEN_UP_S = 86_400.0
"""So long nothing is made without a word to the disk: who began it was killed. [s]"""

_LEFT = re.compile(rf"\.(?P<name>.+)\.[0-9a-f]{{8}}\.{PART}(?:{'|'.join(BESIDE)})?")


@contextmanager
def made_whole(path: Path, *, over: bool = False) -> Iterator[Path]:
    """An empty file beside `path`, to be filled in the block, that bears its name when the block has ended well.

    Only its owner may read it. A failure leaves nothing behind; what a program that was killed has left in the
    folder, the next that makes something there removes.

    Parameters
    ----------
    path : Path
        Where the file is to lie.
    over : bool
        Whether a file that lies there may be replaced; never said of a book.

    Raises
    ------
    BookError
        When there is something in its place already, or nothing can be written there.
    """
    with named(path):
        part = path.with_name(f".{path.name}.{os.urandom(4).hex()}.{PART}")
        if not over:
            check_free(path)
        os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    _clear_left(part)
    try:
        try:
            yield part
            _sync(part)
            if over:
                part.replace(path)
            else:
                _put_in_place(part, path)
        finally:
            for left in (part, *(part.with_name(part.name + suffix) for suffix in BESIDE)):
                with suppress(FileNotFoundError):
                    left.unlink()
    except OSError as error:
        raise BookError(f"{path} cannot be made: {error.strerror or error}") from error


@contextmanager
def named(path: Path) -> Iterator[None]:
    """What the disk says of a name in the block, in words: too long, nothing, a letter that no name has.

    Raises
    ------
    BookError
        No file can be made by that name.
    """
    try:
        yield
    except ValueError as error:
        raise BookError(f"{str(path)!r} is no name for a file") from error
    except OSError as error:
        raise BookError(f"{path} cannot be made: {error.strerror or error}") from error


def check_free(path: Path) -> None:
    """Refuse a place at which a book could not be made without harm to what lies there.

    Raises
    ------
    BookError
        Something is there already, or what another book has left; or no file can be called so.
    """
    with named(path):
        _check_free(path)


def _check_free(path: Path) -> None:
    if path.exists() or path.is_symlink():
        raise BookError(f"there is something at {path} already; nothing was changed")
    for suffix in ("-wal", "-journal"):
        beside = path.with_name(path.name + suffix)
        # SQLite would take it for part of the new book.
        if beside.exists():
            raise BookError(f"{beside} is left from another book: move it away first")


def _clear_left(part: Path) -> None:
    """Remove what killed programs have left beside a file that was made just now.

    Only what certainly nobody is at work on: a second name of something that has its own already, and what was last
    written a day before `part`, both by the clock of the disk.
    """
    with suppress(OSError):
        now_s = part.stat().st_mtime
        for one in part.parent.iterdir():
            if found := _LEFT.fullmatch(one.name):
                with suppress(OSError):
                    whole = one.with_name(found["name"])
                    if now_s - one.stat().st_mtime > GIVEN_UP_S or one.samefile(whole):
                        one.unlink()


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
        _sync(path.parent)


def _sync(path: Path) -> None:
    """Wait until the disk has a file, or the names in a folder."""
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
