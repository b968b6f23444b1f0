"""Where documents come to lie: a place that is free, or is to be written over; a file that is whole, or none."""

import os
from pathlib import Path

from soakbook.errors import InputError
from soakbook.store.placing import made_whole, named


def check_place(field: str, path: Path, book: Path, *, force: bool) -> None:
    """Refuse a place for a document where something lies already, or the book itself.

    Parameters
    ----------
    field : str
        What the gardener calls it.
    path, book : Path
        Where it is to lie, and where the book does.
    force : bool
        Whether a file there may be written over; never the book, nor what is no file.

    Raises
    ------
    InputError
        Something is in the way.
    BookError
        The disk has no file of such a name.
    """
    if "\0" in str(path) or not path.name:
        raise InputError(field, str(path), "a file")
    with named(path):
        if path.is_dir() or not path.absolute().parent.is_dir():
            raise InputError(field, str(path), "a file in a folder that is there")
        if not path.exists():
            return
        if book.exists() and path.samefile(book):
            raise InputError(field, str(path), "another file than the book")
        if not path.is_file():
            raise InputError(field, str(path), "a file")
        if not force:
            raise InputError(field, str(path), "a new file, or --force to write over what is there")


def place_of(path: Path) -> str:
    """Where a path leads from this folder, whatever way round it is written: two of one place are the same.

    Parameters
    ----------
    path : Path
        Any.
    """
    return os.path.abspath(path)  # which, unlike Path.absolute, takes .. out


def write_file(path: Path, content: bytes, *, force: bool) -> None:
    """Write a document whole, or not at all.

    Parameters
    ----------
    path : Path
        Where it is to lie.
    content : bytes
        All of it.
    force : bool
        Whether a file there may be written over.

    Raises
    ------
    BookError
        Something lies there, or nothing can be written there.
    """
    with made_whole(path, over=force) as part:
        part.write_bytes(content)
