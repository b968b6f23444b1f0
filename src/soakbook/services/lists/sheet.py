"""The text of a list as headers and rows: encoding, separator, shape; not what the cells mean."""

import csv
from pathlib import Path
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.services.lists.faults import Faults

MOST_BYTES = 1_000_000
MOST_ROWS = 10_000
SEPARATORS = (",", ";", "\t")

AS_TEXT = "a table as text: in the spreadsheet, Save as or Export, CSV (comma or semicolon), UTF-8"
PACKED = (b"PK\x03\x04", b"PK\x05\x06", b"\xd0\xcf\x11\xe0")
"""How spreadsheet files, and other archives, begin."""


class Pasted(NamedTuple):
    """A list as it came, and how it is to be taken.

    `columns` are texts such as `bed=Border`, for columns of other names than usual; with `again` what stands in the
    book already is planted once more; in a `dry_run` nothing is written; `dates` is dmy or mdy, where days
    read two ways.
    """

    name: str
    content: bytes
    columns: tuple[str, ...] = ()
    again: bool = False
    dry_run: bool = False
    dates: str | None = None


class Row(NamedTuple):
    """One row with the line it ends on, as an editor counts lines."""

    line: int
    cells: tuple[str, ...]


class Sheet(NamedTuple):
    """Headers and rows, every row as long as the headers; cells without blanks around them."""

    headers: tuple[str, ...]
    rows: tuple[Row, ...]


def content_of(file: Path) -> bytes:
    """What stands in a file.

    Raises
    ------
    InputError
        No such file, none that can be read, or a larger one than a list is.
    """
    try:
        is_there = file.is_file()
    except (OSError, ValueError):  # a name that no file can have
        is_there = False
    if not is_there:
        raise InputError("file", str(file), "a CSV file that is there, or - for what is pasted")
    try:
        with file.open("rb") as opened:
            return opened.read(MOST_BYTES + 1)
    except OSError as error:
        right = f"a file that can be read: {error.strerror or error}"
        raise InputError("file", str(file), right) from error


def read_sheet(pasted: Pasted, faults: Faults) -> Sheet:
    """Headers and rows of a list with a comma, a semicolon or a tab between its columns.

    Parameters
    ----------
    pasted : Pasted
        UTF-8 with or without its mark, UTF-16 with its mark, or Latin-1. Blank lines are passed over.
    faults : Faults
        Takes the rows of another length than the headers.

    Raises
    ------
    InputError
        Too large, no text, no columns, no rows.
    """
    name, content = pasted.name, pasted.content
    if len(content) > MOST_BYTES:
        raise InputError("list", name, f"at most {MOST_BYTES / 1e6:g} MB; cut it into several")
    lines = _text(content, name).replace("\r\n", "\n").replace("\r", "\n").split("\n")
    first = next((number for number, line in enumerate(lines) if line.strip(" ,;\t")), None)
    if first is None:
        raise InputError("list", name, "a line of column names and a line for each; it is empty")
    separator = max(SEPARATORS, key=lines[first].count)
    if separator not in lines[first]:
        raise InputError("list", name, "columns with a comma, a semicolon or a tab between them")
    rows = _rows(lines, first, separator, name)
    if len(rows) < 2:
        raise InputError("list", name, "a line for each below the column names; it has none")
    if len(rows) > MOST_ROWS + 1:
        right = f"at most {MOST_ROWS:,} lines, not {len(rows) - 1:,}; cut it into several"
        raise InputError("list", name, right)
    headers = rows[0].cells
    while not headers[-1]:
        headers = headers[:-1]
    return Sheet(headers, tuple(_of_width(rows[1:], len(headers), faults)))


def _text(content: bytes, name: str) -> str:
    if content.startswith(PACKED) or Path(name).suffix.casefold() in (".xlsx", ".xls", ".ods"):
        raise InputError("list", name, AS_TEXT)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    if b"\x00" in content:
        raise InputError("list", name, AS_TEXT)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


def _rows(lines: list[str], first: int, separator: str, name: str) -> list[Row]:
    """Every row that is not blank, the headers among them."""
    reader = csv.reader(lines[first:], delimiter=separator, skipinitialspace=True, strict=True)
    try:
        rows = [
            Row(first + reader.line_num, tuple(cell.strip() for cell in cells)) for cells in reader
        ]
    except csv.Error as fault:
        line = first + reader.line_num
        raise InputError(f"line {line} of {name}", str(fault), "quotes in pairs") from fault
    return [row for row in rows if any(row.cells)]


def _of_width(rows: list[Row], width: int, faults: Faults) -> list[Row]:
    """Rows without empty cells beyond the headers, which some programs leave at the end."""
    whole = []
    for row in rows:
        if len(row.cells) < width or any(row.cells[width:]):
            right = f"{width} values, as many as there are column names"
            faults.add(row.line, InputError("row", " | ".join(row.cells)[:80], right))
        else:
            whole.append(Row(row.line, row.cells[:width]))
    return whole
