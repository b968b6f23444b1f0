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
    cell: str,
    column: Column,
    at: str,
    marks: frozenset[str],
    *,
    of_a_moment: bool = False,
    decimal_comma: bool = False,
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
    decimal_comma
        Whether numbers are written 12,5 for twelve and a half.

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
    number = _number(cell, field, decimal_comma)
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


def _number(cell: str, field: str, decimal_comma: bool) -> float:
    """The number of a cell; which of comma and point parts its tenths is said, never guessed."""
    with_points = cell.replace(",", ".")
    like_one = _NUMBER.fullmatch(with_points) is not None
    if like_one and ("." if decimal_comma else ",") not in cell:
        return float(with_points)
    if like_one and decimal_comma:
        right = "a number with a comma, as was said; if the file has points, say --point"
    elif like_one:
        right = "a number with a point; if the file writes 12,5 with a comma, say --comma"
    elif _NUMBER.fullmatch(with_points.replace(".", "")):
        right = "a number with no mark between thousands"
    else:
        right = "a number, or nothing"
    raise InputError(field, cell, right)
