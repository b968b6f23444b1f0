"""A record's CSV as rows of days: what clerks add to a table taken off, what means the same taken as one."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from soakbook.errors import InputError
from soakbook.truth.toml_words import in_toml_words
from soakbook.weather.column_map import DateOrder
from soakbook.weather.days import read_days
from soakbook.weather.table import Row, Table, read_table

_DECIMAL_COMMA = re.compile(r"[+-]?\d*,\d+")
DAY_HEADERS = ("date", "day")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table of days, each once."""

    table: Table
    days: tuple[date, ...]
    """Of each row."""
    date_header: str
    findings: tuple[str, ...]

    def column(self, header: str) -> list[str]:
        """The cells of the first column of that name."""
        place = self.table.headers.index(header)
        return [row.cells[place] for row in self.table.rows]

    def span(self) -> tuple[date, ...]:
        """Every day from the first to the last."""
        first, last = min(self.days).toordinal(), max(self.days).toordinal()
        return tuple(date.fromordinal(day) for day in range(first, last + 1))


def read_sheet(
    content: bytes, name: str, date_header: str | None, date_order: DateOrder | None
) -> Sheet:
    """The table of a record.

    Parameters
    ----------
    content : bytes
        Of the CSV.
    name : str
        Its name.
    date_header : str or None
        Its column of days, where that is not called date.
    date_order : str or None
        How days are written, where the year does not come first.

    Raises
    ------
    InputError
        No table, no column of days, days that cannot be read, or two different rows of one day.
    """
    findings: list[str] = []
    table = _with_points(read_table(content, name), findings)
    header = date_header or next(
        (one for one in table.headers if one.casefold() in DAY_HEADERS), None
    )
    if header is None:
        right = "a column called date, or date = its name under [columns]"
        raise InputError("column of days", ", ".join(table.headers), right)
    place = table.headers.index(header)
    table = _without_units(table, place, findings)
    try:
        days, _ = read_days(table.rows, place, date_order)
    except InputError as fault:
        raise in_toml_words(fault) from fault
    rows = _each_once(table.rows, days, findings)
    if days != sorted(days):
        findings.append("days out of order in the file: put in order")
    kept = tuple(day for row, day in zip(table.rows, days, strict=True) if row.line in rows)
    sheet = Sheet(Table(table.headers, tuple(rows.values())), kept, header, ())
    missing = len(sheet.span()) - len(kept)
    if missing:
        findings.append(f"{missing} days have no row")
    return Sheet(sheet.table, kept, header, tuple(findings))


def _with_points(table: Table, findings: list[str]) -> Table:
    """The table with points for decimal commas."""
    rows = []
    turned = 0
    for row in table.rows:
        cells = [
            cell.replace(",", ".") if _DECIMAL_COMMA.fullmatch(cell) else cell for cell in row.cells
        ]
        turned += sum(cell != before for cell, before in zip(cells, row.cells, strict=True))
        rows.append(Row(row.line, tuple(cells)))
    if turned:
        findings.append(f"commas of {turned} numbers read as decimal points")
    return Table(table.headers, tuple(rows))


def _without_units(table: Table, place: int, findings: list[str]) -> Table:
    """The table without a row of units under the names: one that has no digit where its day should be."""
    first, *others = table.rows
    if not others or any(letter.isdigit() for letter in first.cells[place]):
        return table
    if not any(cell.strip("-") for cell in first.cells):
        return table
    units = ", ".join(cell for cell in first.cells if cell)
    findings.append(f"line {first.line} taken for units and passed over: {units}")
    return Table(table.headers, tuple(others))


def _each_once(rows: Sequence[Row], days: Sequence[date], findings: list[str]) -> dict[int, Row]:
    """Rows by line, those that say what another has said left out."""
    first: dict[date, Row] = {}
    kept: dict[int, Row] = {}
    for row, day in zip(rows, days, strict=True):
        before = first.setdefault(day, row)
        if before is row:
            kept[row.line] = row
        elif before.cells != row.cells:
            once = f"a day once; it is on line {before.line} too, with other values"
            raise InputError(f"day on line {row.line}", day.isoformat(), once)
    if len(kept) < len(rows):
        findings.append(f"rows left out that say again what another says: {len(rows) - len(kept)}")
    return kept
