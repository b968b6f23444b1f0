"""Writing a folder: files for their owner's eyes only, under another name until all is whole."""

import csv
import os
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import TextIOWrapper
from pathlib import Path
from tempfile import mkdtemp
from typing import Any, NamedTuple, TextIO

from soakbook.errors import BookError, InputError
from soakbook.services.folder.bounds import FIELD_LETTERS, PART_BYTES, PART_ROWS
from soakbook.services.folder.columns import Sheet
from soakbook.store.placing import named


class Written(NamedTuple):
    """One file of the folder and how many rows or records it holds."""

    name: str
    rows: int


@contextmanager
def new_folder(target: Path) -> Iterator[Path]:
    """A folder beside `target` that takes its name at the end of the block; nothing is left when that fails.

    Raises
    ------
    InputError
        Something is in the way, or there is no folder to put it in.
    BookError
        It cannot be written, or no folder can be called so.
    """
    target = target.absolute()
    try:
        with named(target):
            check_new_folder(target)
            part = Path(mkdtemp(prefix=f".{target.name[:80]}.", suffix=".part", dir=target.parent))
        try:
            yield part
            _keep(part, target)
        finally:
            shutil.rmtree(part, ignore_errors=True)
    except OSError as error:
        raise BookError(f"{target} cannot be written: {error.strerror or error}") from error


def check_new_folder(target: Path, field: str = "folder") -> None:
    """Refuse a place for a folder where something lies already, or that no folder holds.

    Parameters
    ----------
    target : Path
        An absolute path.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        Something is in the way, or there is no folder to put it in.
    """
    right = "a folder that is new or empty"
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise InputError(field, str(target), right)
    if target.exists() and any(target.iterdir()):
        raise InputError(field, str(target), f"{right}; there is something in it")
    if not target.parent.is_dir():
        raise InputError(field, str(target), "a new folder in one that is there")


@contextmanager
def new_text(path: Path) -> Iterator[TextIO]:
    """A new file of UTF-8 text, on the disk when the block ends."""
    handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    with TextIOWrapper(os.fdopen(handle, "wb"), encoding="utf-8", newline="") as text:
        yield text
        text.flush()
        os.fsync(handle)


def write_sheet(folder: Path, sheet: Sheet, rows: Iterator[Sequence[Any]]) -> list[Written]:
    """Write a CSV file, going on in a second (NAME-2.csv) where one would be too long to be read back.

    Parameters
    ----------
    folder : Path
        Where it is to be.
    sheet : Sheet
        Its columns.
    rows : iterator of sequences
        A value for each column, None where nothing is said.

    Raises
    ------
    InputError
        Text that no such file can hold.
    """
    written: list[Written] = []
    writes = [column.cell.write for column in sheet.columns]
    row = next(rows, None)
    while row is not None or not written:
        name = f"{sheet.name}.csv" if not written else f"{sheet.name}-{len(written) + 1}.csv"
        count = 0
        with new_text(folder / name) as text:
            sink = csv.writer(text, lineterminator="\r\n")
            sink.writerow([column.name for column in sheet.columns])
            while row is not None and count < PART_ROWS and _room(text, count):
                cells = [
                    "" if value is None else write(value)
                    for write, value in zip(writes, row, strict=True)
                ]
                _check(sheet, cells)
                sink.writerow(cells)
                count += 1
                row = next(rows, None)
        written.append(Written(name, count))
    return written


def _room(text: TextIO, count: int) -> bool:
    """Whether another row finds room, looked at every hundred rows."""
    return count % 100 > 0 or text.tell() < PART_BYTES


def _check(sheet: Sheet, cells: Sequence[str]) -> None:
    for column, cell in zip(sheet.columns, cells, strict=True):
        if len(cell) > FIELD_LETTERS or "\0" in cell:
            right = f"text of at most {FIELD_LETTERS:,} letters without NUL"
            raise InputError(f"{sheet.name}, {column.name}", cell[:40], right)


def _keep(part: Path, target: Path) -> None:
    if os.name == "posix":
        _sync(part)
    elif target.exists():  # elsewhere nothing is renamed over a folder, be it empty
        target.rmdir()
    part.rename(target)
    if os.name == "posix":
        _sync(target.parent)


def _sync(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
