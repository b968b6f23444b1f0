"""Weather as others bring it, before it is read as strictly as a garden's: slips left out, excess capped.

Every change is counted in a finding; a column in which too much is wrong is refused.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.quantities import names
from soakbook.quantities.saying import counted
from soakbook.truth.faults import Cells, Fault, left_out, read_cells
from soakbook.truth.sheet import Sheet
from soakbook.truth.toml_words import in_toml_words
from soakbook.weather.cells import TRACE_MARKS
from soakbook.weather.columns import QUANTITIES, Column
from soakbook.weather.reference_et import Site
from soakbook.weather.sanity import BOUNDED, most_of_a_day
from soakbook.weather.table import Row, Table

FULL_HUMIDITY, READ_HUMIDITY, MOST_HUMIDITY = 100.0, 101.0, 105.0
"""A gauge in fog passes the hundred: by one it is read as it is, by five capped. common practice, no source"""
CAPPED: dict[str, Callable[[float], float]] = {
    "vapour_pressure_kpa": lambda most: 1.25 * most,
    "dew_point_c": lambda most: most + 5.0,
}
"""How far beyond what the air can hold a wet gauge may be, and is capped. common practice, no source"""
PAIRS = (("tmin", "tmax"), ("rhmin", "rhmax"))
JUST_BELOW = 1e-6


class _Column(NamedTuple):
    """A column read, with what will stand in its cells instead."""

    column: Column
    cells: Cells
    instead: dict[int, str]

    @property
    def variable(self) -> str:
        return QUANTITIES[self.column.quantity].variable

    def leave_out(self, row: int) -> None:
        self.cells.values[row] = None
        self.instead[row] = ""


def mended(sheet: Sheet, columns: Sequence[Column], site: Site) -> tuple[Table, list[str]]:
    """A record's table with its weather mended, and what was done to it in words.

    Parameters
    ----------
    sheet : Sheet
        As the record has it.
    columns : sequence of Column
        Its columns of weather.
    site : Site
        Where: air and sun bound what can be.

    Raises
    ------
    InputError
        More is wrong in a column than slips.
    """
    for column in columns:
        if list(sheet.table.headers).count(column.header) > 1:
            right = "the name of one column; it is there twice"
            raise InputError(QUANTITIES[column.quantity].words, column.header, right)
    read = {column.quantity: _read(sheet, column) for column in columns}
    findings = _damp(read)
    _in_order(read)
    findings += _bounded(read, sheet, site)
    markers: Counter[str] = Counter()
    for one in read.values():
        findings += _left_out(one, sheet)
        markers[one.column.header] = one.cells.markers
    if markers.total():
        listed = ", ".join(f"{header} {count}" for header, count in markers.items() if count)
        findings.append(f"cells of -9999 or the like taken as not measured: {listed}")
    return _table(sheet, list(read.values())), findings


def _read(sheet: Sheet, column: Column) -> _Column:
    span = names.QUANTITIES[QUANTITIES[column.quantity].span]
    words = dict.fromkeys(TRACE_MARKS, 0.0) if column.quantity == "rain" else {}
    damp = QUANTITIES[column.quantity].measure == "share"
    cells = read_cells(
        sheet.column(column.header),
        column.in_our_unit,
        lambda value: span.holds(value) or (damp and 0 <= value <= MOST_HUMIDITY),
        span.right,
        words,
    )
    return _Column(column, cells, {fault.row: "" for fault in cells.faults})


def _damp(read: dict[str, _Column]) -> list[str]:
    """Cap humidity that passes the hundred."""
    findings = []
    for one in read.values():
        if QUANTITIES[one.column.quantity].measure != "share":
            continue
        over = [row for row, value in enumerate(one.cells.values) if (value or 0) > READ_HUMIDITY]
        for row in over:
            one.cells.values[row] = FULL_HUMIDITY
            one.instead[row] = f"{FULL_HUMIDITY:g}"
        if over:
            findings.append(
                f"humidity, column {one.column.header!r}: capped at 100 on {counted(len(over), 'day')}"
            )
    return findings


def _in_order(read: dict[str, _Column]) -> None:
    """Leave out both of a pair whose lower is the higher."""
    for pair in PAIRS:
        if not read.keys() >= set(pair):
            continue
        low, high = (read[quantity] for quantity in pair)
        both = zip(low.cells.values, high.cells.values, strict=True)
        for row, (least, most) in enumerate(both):
            if least is not None and most is not None and least > most:
                right = f"at most {most:g}, which is {high.column.header!r} of that day; both are left out"
                low.cells.faults.append(Fault(row, f"{least:g}", right))
                low.leave_out(row)
                high.leave_out(row)


def _bounded(read: dict[str, _Column], sheet: Sheet, site: Site) -> list[str]:
    """Cap air that is a little more than full; leave out what is more than air and sun can give."""
    findings = []
    rows = dict(sorted(zip(sheet.days, range(len(sheet.days)), strict=True)))
    for one in read.values():
        if one.variable not in BOUNDED:
            continue
        values = {
            day: {
                other.variable: value
                for other in read.values()
                if (value := other.cells.values[row]) is not None
            }
            for day, row in rows.items()
        }
        limits = zip(rows.values(), most_of_a_day(one.variable, values, site), strict=True)
        capped = sum(_held(one, row, limit) for row, limit in limits)
        if capped:
            words = f"{QUANTITIES[one.column.quantity].words}, column {one.column.header!r}"
            findings.append(f"{words}: capped at what the air can hold on {counted(capped, 'day')}")
    return findings


def _held(one: _Column, row: int, limit: float) -> bool:
    """Hold a cell to the most that can be; whether it was capped, and not left out."""
    value = one.cells.values[row]
    if value is None or value <= limit:
        return False
    capped = CAPPED.get(one.variable)
    if capped is not None and value <= capped(limit):
        one.cells.values[row] = limit
        one.instead[row] = repr(_as_written(one.column, limit - JUST_BELOW))
        return True
    one.cells.faults.append(Fault(row, f"{value:g}", f"at most {limit:.3g} on that day"))
    one.leave_out(row)
    return False


def _as_written(column: Column, value: float) -> float:
    """The number that the column's unit has for a value in ours: all units are straight lines."""
    zero, one = column.in_our_unit(0.0), column.in_our_unit(1.0)
    return (value - zero) / (one - zero)


def _left_out(one: _Column, sheet: Sheet) -> list[str]:
    words, header = QUANTITIES[one.column.quantity].words, one.column.header
    findings = []
    if one.cells.words:
        findings.append(f"{words}, column {header!r}: {one.cells.words} traces taken as nothing")
    faults = sorted(one.cells.faults)
    if faults:
        hint = one.column.hint_when_too_high if faults[0].cell[:1].isdigit() else ""
        try:
            findings.append(left_out(words, header, faults, one.cells.known, sheet.days, hint))
        except InputError as fault:
            raise in_toml_words(fault) from fault
    return findings


def _table(sheet: Sheet, read: Sequence[_Column]) -> Table:
    headers = sheet.table.headers
    rows = []
    for number, row in enumerate(sheet.table.rows):
        cells = list(row.cells)
        for one in read:
            if number in one.instead:
                cells[headers.index(one.column.header)] = one.instead[number]
        rows.append(Row(row.line, tuple(cells)))
    return Table(headers, tuple(rows))
