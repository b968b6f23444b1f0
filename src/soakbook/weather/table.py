"""A file of text as headers and rows: encoding, separator, shape, not what the cells mean."""

import csv
from dataclasses import dataclass
from pathlib import Path

from soakbook.errors import InputError

MOST_BYTES = 50_000_000
"""Of one file; a year of minutes is half of that."""

SEPARATORS = (",", ";", "\t")


@dataclass(frozen=True, slots=True)
class Row:
    """One row with the line it ends on, as an editor counts lines."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Headers and rows, every row as long as the headers; cells without blanks around them."""

    headers: tuple[str, ...]
    rows: tuple[Row, ...]


def content_of(path: Path) -> bytes:
    """What stands in a file.

    Raises
    ------
    InputError
        It cannot be read, or is larger than a table of weather is.
    """
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except OSError as fault:
        right = f"a file that can be read ({fault.strerror})"
        raise InputError("file", str(path), right) from fault
    if len(content) > MOST_BYTES:
        right = f"at most {MOST_BYTES // 1_000_000} MB; cut it into several, by years"
        raise InputError("file", str(path), right)
    return content


def read_table(content: bytes, name: str, *, decimal_comma: bool = False) -> Table:
    """Headers and rows of a file with a comma, a semicolon or a tab between its columns.

    Blank lines, and lines before the headers that begin with #, are passed over.

    Parameters
    ----------
    content
        The file as it stands on disk: UTF-8 with or without its mark, UTF-16 with its mark, or
        Latin-1.
    name
        Its name, for what is said of it.
    decimal_comma
        Whether numbers are written 12,5: a comma cannot part columns, too, unless numbers stand in quotes.

    Raises
    ------
    InputError
        Empty, not text, not a table, no rows, a row of another length than the headers, or commas for two things.
    """
    text = _text(content, name)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    first = next(
        (n for n, line in enumerate(lines) if line.strip() and not line.startswith("#")), None
    )
    if first is None:
        raise InputError(
            "file", name, "a line of column names and a row for every day; it is empty"
        )
    separator = max(SEPARATORS, key=lines[first].count)
    if separator not in lines[first]:
        raise InputError("file", name, "columns with a comma, a semicolon or a tab between them")
    if decimal_comma and separator == "," and not any('"' in line for line in lines[first + 1 :]):
        right = "with --comma, semicolons or tabs between the columns, or numbers in quotes"
        raise InputError("file", name, right)
    reader = csv.reader(lines[first:], delimiter=separator, skipinitialspace=True, strict=True)
    try:
        rows = [
            Row(first + reader.line_num, tuple(cell.strip() for cell in cells)) for cells in reader
        ]
    except csv.Error as fault:
        raise InputError(
            f"line {first + reader.line_num} of {name}", str(fault), "quotes in pairs"
        ) from fault
    headers, *filled = [row for row in rows if any(row.cells)]
    if not filled:
        raise InputError("file", name, "a row for every day below the column names; it has none")
    width = len(headers.cells)
    return Table(headers.cells, tuple(_of_width(row, width, separator) for row in filled))


def _text(content: bytes, name: str) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    if b"\x00" in content:
        raise InputError("file", name, "a table written as text, with commas, semicolons or tabs")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


def _of_width(row: Row, width: int, separator: str) -> Row:
    """Row without empty cells beyond the headers, which some programs leave at the end."""
    if len(row.cells) < width or any(row.cells[width:]):
        hint = (
            "; if numbers have a comma, part columns by semicolons, and say --comma"
            if separator == ","
            else ""
        )
        raise InputError(
            f"row on line {row.line}",
            separator.join(row.cells),
            f"{width} values, as many as column names{hint}",
        )
    return Row(row.line, row.cells[:width])
