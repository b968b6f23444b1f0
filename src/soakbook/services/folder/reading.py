"""Reading a folder that nobody vouches for: plain files only, bounded, and every fault with its file and line."""

import csv
import os
import re
import stat
from collections.abc import Iterator, Sequence
from io import TextIOWrapper
from pathlib import Path
from typing import BinaryIO, NamedTuple, NoReturn

from soakbook.errors import InputError
from soakbook.services.folder.bounds import FIELD_LETTERS, FILE_BYTES, FILE_ROWS, PARTS
from soakbook.services.folder.columns import Column, Sheet

ZIP = b"PK\x03\x04"
AS_WRITTEN = "a folder that 'soakbook book export' wrote"


class Row(NamedTuple):
    """A row of a CSV file: where it stands, and its cells in the order of the sheet's columns."""

    file: str
    line: int
    cells: Sequence[str]

    @property
    def where(self) -> str:
        """`entries.csv line 7`."""
        return f"{self.file} line {self.line}"

    def refuse(self, field: str, value: object, right: str) -> NoReturn:
        """Refuse a field of this row, by an `InputError`."""
        raise InputError(f"{self.where}, {field}", shortened(value), right)

    def read(self, place: int, column: Column) -> object:
        """The value of a cell, None where it is empty.

        Raises
        ------
        InputError
            It cannot be one of its column.
        """
        cell = self.cells[place]
        if not cell:
            return None
        try:
            return column.cell.read(cell)
        except (ValueError, OverflowError):
            self.refuse(column.name, cell, column.cell.right)


def check_folder(folder: Path) -> None:
    """Refuse what is no folder.

    Raises
    ------
    InputError
        It is not there, or something else.
    """
    try:
        zipped = folder.is_file() and _is_zip(folder)
        there, is_folder = folder.is_file(), folder.is_dir()
    except (OSError, ValueError) as error:  # a name too long, a file nobody may read
        why = getattr(error, "strerror", None) or str(error)
        raise InputError("folder", str(folder), f"{AS_WRITTEN}; of that one: {why}") from error
    if there:
        more = "; this is a zip: unpack it first" if zipped else ""
        raise InputError("folder", str(folder), AS_WRITTEN + more)
    if not is_folder:
        raise InputError("folder", str(folder), f"{AS_WRITTEN}; there is none of that name")


def _is_zip(path: Path) -> bool:
    with path.open("rb") as file:
        return file.read(len(ZIP)) == ZIP


def read_text(folder: Path, name: str) -> str:
    """A whole file as text.

    Raises
    ------
    InputError
        It is not there, no plain file, too large, or no text in UTF-8.
    """
    with _opened(folder, name) as file:
        content = file.read(FILE_BYTES + 1)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        _no_text(name, content.startswith(ZIP))
    if "\0" in text:
        _no_text(name, zipped=False)
    return text


def read_rows(folder: Path, sheet: Sheet) -> Iterator[Row]:
    """The rows of a CSV file and of those in which it goes on, one by one.

    Parameters
    ----------
    folder : Path
        Where they lie.
    sheet : Sheet
        Its columns, which may stand in any order.

    Raises
    ------
    InputError
        A file that is missing or not as it should be.
    """
    for name in _parts(folder, sheet):
        yield from _rows_of(folder, name, sheet)


def shortened(value: object) -> object:
    """A value as an error shows it: of a long text its beginning."""
    longest = 60
    return f"{value[:longest]}..." if isinstance(value, str) and len(value) > longest else value


def _parts(folder: Path, sheet: Sheet) -> list[str]:
    part = re.compile(rf"{sheet.name}-([1-9][0-9]*)\.csv", re.ASCII)
    try:
        further = sorted(
            int(found[1])
            for path in folder.iterdir()
            if (found := part.fullmatch(path.name)) and len(found[1]) <= len(str(PARTS))
        )
    except OSError as error:  # one that may be entered and not listed
        right = f"{AS_WRITTEN}; of that one: {error.strerror or error}"
        raise InputError("folder", str(folder), right) from error
    if further != list(range(2, len(further) + 2)) or len(further) >= PARTS:
        missing = next(n for n in range(2, PARTS + 2) if n not in further)
        raise InputError(
            f"{sheet.name}-{missing}.csv", None, "the files of one sheet are numbered without a gap"
        )
    return [f"{sheet.name}.csv", *(f"{sheet.name}-{number}.csv" for number in further)]


def _rows_of(folder: Path, name: str, sheet: Sheet) -> Iterator[Row]:
    with _opened(folder, name) as file:
        head = file.read(len(ZIP))
        file.seek(0)
        text = TextIOWrapper(file, encoding="utf-8-sig", newline="")
        reader = csv.reader(_without_nul(text, name), strict=True)
        try:
            header = next(reader, [])
            places = _places(name, header, sheet)
            for count, cells in enumerate(reader, start=1):
                if not cells:  # a line left empty
                    continue
                row = Row(name, reader.line_num, cells)
                if count > FILE_ROWS:
                    row.refuse("rows", f"{count:,}", f"at most {FILE_ROWS:,} in one file")
                if len(cells) != len(header):
                    right = f"{len(header)} as the first line has"
                    row.refuse("cells", str(len(cells)), right)
                if len(max(cells, key=len)) > FIELD_LETTERS:
                    long = max(range(len(cells)), key=lambda place: len(cells[place]))
                    right = f"at most {FIELD_LETTERS:,} letters"
                    row.refuse(header[long], cells[long], right)
                yield row._replace(cells=[cells[place] for place in places])
        except csv.Error as error:
            raise InputError(
                f"{name} line {reader.line_num}", str(error), "a CSV file as RFC 4180 has it"
            ) from error
        except UnicodeDecodeError:
            _no_text(name, head == ZIP)


def _places(name: str, header: Sequence[str], sheet: Sheet) -> list[int]:
    known = [column.name for column in sheet.columns]
    line = f"{name} line 1"
    for column in header:
        if column not in known:
            right = f"no such column; there are: {', '.join(known)}"
            raise InputError(line, shortened(column) or "an empty name", right)
        if header.count(column) > 1:
            raise InputError(line, column, "each column once")
    missing = [column for column in known if column not in header]
    if missing:
        raise InputError(f"{line}, {missing[0]}", None, f"the columns are: {', '.join(known)}")
    return [header.index(column) for column in known]


def _without_nul(lines: Iterator[str], name: str) -> Iterator[str]:
    for line in lines:
        if "\0" in line:
            _no_text(name, zipped=False)
        yield line


def _no_text(name: str, zipped: bool) -> NoReturn:
    found = "a zip" if zipped else "something else"
    raise InputError(name, found, "a file of text in UTF-8, without NUL")


def _opened(folder: Path, name: str) -> BinaryIO:
    """A plain file of the folder, open: no link, no pipe, not too large."""
    path = folder / name
    # A pipe would be waited for.
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        if path.is_symlink():
            raise InputError(name, "a link", "a plain file in the folder itself")
        handle = os.open(path, flags | getattr(os, "O_BINARY", 0))
    except FileNotFoundError as error:
        raise InputError(name, None, f"it belongs to {AS_WRITTEN}") from error
    except OSError as error:
        raise InputError(name, error.strerror or "a fault", "a file that can be read") from error
    found = os.fstat(handle)
    if stat.S_ISREG(found.st_mode) and found.st_size <= FILE_BYTES:
        return os.fdopen(handle, "rb")
    os.close(handle)
    if stat.S_ISREG(found.st_mode):
        right = f"at most {FILE_BYTES // 1_000_000} MB"
        raise InputError(name, f"{found.st_size / 1e6:.0f} MB", right)
    raise InputError(name, "no plain file", "a plain file in the folder itself")
