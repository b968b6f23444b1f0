"""One cell of a weather file: nothing measured, a trace of rain, or a number that can be right, in our unit."""

import re

from soakbook.errors import InputError
from soakbook.quantities import names
from soakbook.weather.columns import QUANTITIES, Column

MISSING_MARKS = frozenset({"", "-", "--", "---", "na", "n/a", "nan", "null", "none"})
MISSING_NUMBERS = frozenset({-99.0, -99.9, -999.0, -999.9, -9999.0})
TRACE_MARKS = frozenset({"t", "tr", "trace"})
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?", re.IGNORECASE)


def is_trace(cell: str, column: Column) -> bool:
    """Whether a cell tells of rain too little to measure."""
    return column.quantity == "rain" and cell.casefold() in TRACE_MARKS


def value_of(
    cell: str, column: Column, at: str, marks: frozenset[str], *, of_a_moment: bool = False
) -> float | None:
    """Value of one cell as the book keeps it, `None` where it says that nothing was measured.

    Parameters
    ----------
    cell
        As it stands in the file.
    column
        What stands in it, and in which unit.
    at
        The day or the moment, for what is said of a fault.
    marks
        What says that nothing was measured, in lower case.
    of_a_moment
        Whether the row is shorter than a day: W/m2 may then be those of noon.

    Raises
    ------
    InputError
        No number, or one that cannot be right.
    """
    if cell.casefold() in marks:
        return None
    if is_trace(cell, column):
        return 0.0
    quantity = QUANTITIES[column.quantity]
    field = f"{quantity.words} on {at}, column {column.header!r}"
    if not _NUMBER.fullmatch(cell):
        right = "a number with a point, not a comma" if "," in cell else "a number, or nothing"
        raise InputError(field, cell, right)
    number = float(cell)
    if number in MISSING_NUMBERS:
        return None
    value = column.in_our_unit(number)
    try:
        if of_a_moment and column.unit == "W/m2":
            names.check("radiation_w_m2", number, field=field, typed=cell)
            return value
        return column.as_kept(names.check(quantity.span, value, field=field, typed=cell))
    except InputError as fault:
        hint = column.hint_when_too_high if value > 0 else ""
        raise InputError(field, cell, fault.right + hint) from fault
