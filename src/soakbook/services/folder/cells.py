"""What one cell of a CSV file says, written and read back equal.

Text is guarded: where a spreadsheet would take it for a sum, an apostrophe stands before it. An empty cell says
nothing; text of no letters is an apostrophe alone. Numbers stand as they are.
"""

import math
import re
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any, NamedTuple

GUARD = "'"
GUARDED = (*"=+-@", *"＝＋－＠", *"\t\r\n", GUARD)  # in full width, too
"""First letters that some spreadsheet takes for a sum, or passes over before one, and the guard itself."""

YEARS = range(1900, 2200)
"""Of any day in a book that comes in: beyond them stand slips only, and no clock's arithmetic."""

FARTHEST = timedelta(hours=14)
"""From UTC, of any clock: SQLite knows no other."""

DIGITS = 15
"""A whole number of more is read as a fraction is."""

_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?(e[+-]?[0-9]+)?", re.ASCII)
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", re.ASCII)
_MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9]{2}:[0-9]{2}\S*", re.ASCII)


class Cell(NamedTuple):
    """How a value is written and read; `read` gives a ValueError for what cannot be right."""

    write: Callable[[Any], str]
    read: Callable[[str], Any]
    right: str


def guarded(text: str) -> str:
    """Text as a cell that no spreadsheet takes for a sum."""
    return GUARD + text if not text or text.startswith(GUARDED) else text


def unguarded(cell: str) -> str:
    """The text of such a cell."""
    return cell.removeprefix(GUARD)


def number(cell: str) -> float:
    """A whole number as it is, any other as a fraction; ValueError for what is none, or has no end."""
    if not _NUMBER.fullmatch(cell):
        raise ValueError(cell)
    digits = cell.removeprefix("-")
    if digits.isdigit() and len(digits) <= DIGITS:
        return int(cell)
    value = float(cell)
    if not math.isfinite(value):
        raise ValueError(cell)
    return value


def day(cell: str) -> date:
    """A day; ValueError for any other, and for one that nobody can mean."""
    if not _DAY.fullmatch(cell):
        raise ValueError(cell)
    found = date.fromisoformat(cell)
    if found.year not in YEARS:
        raise ValueError(cell)
    return found


def moment(cell: str) -> datetime:
    """A moment with its offset from UTC; ValueError for any other."""
    if not _MOMENT.fullmatch(cell):
        raise ValueError(cell)
    found = datetime.fromisoformat(cell)
    offset = found.utcoffset()
    if found.year not in YEARS or offset is None or not _is_of_a_clock(offset):
        raise ValueError(cell)
    return found


def _is_of_a_clock(offset: timedelta) -> bool:
    return abs(offset) <= FARTHEST and offset % timedelta(minutes=1) == timedelta()


def _whole(cell: str) -> int:
    found = number(cell)
    if not isinstance(found, int):
        raise ValueError(cell)
    return found


def _yes_no(cell: str) -> bool:
    if cell not in ("yes", "no"):
        raise ValueError(cell)
    return cell == "yes"


def _when(cell: str) -> date:
    return day(cell) if len(cell) <= len("2031-05-15") else moment(cell)


def _numbers(cell: str) -> tuple[float, ...]:
    return tuple(number(one) for one in unguarded(cell).split(" ")) if cell != GUARD else ()


TEXT = Cell(guarded, unguarded, "text")
OFTEN_EMPTY = Cell(lambda text: guarded(text) if text else "", unguarded, "text")
"""Text that is always said, be it without letters: there the cell is empty."""
NUMBER = Cell(repr, number, "a number with a point, such as 12.5")
WHOLE = Cell(str, _whole, "a whole number")
YES_NO = Cell(lambda value: "yes" if value else "no", _yes_no, "yes or no")
DAY = Cell(str, day, "a day such as 2031-05-15")
MOMENT = Cell(str, moment, "a moment such as 2031-05-15T07:10:00+01:00")
UTC_MOMENT = Cell(
    str, lambda cell: moment(cell).astimezone(UTC), "a moment such as 2031-05-15T06:10:00+00:00"
)
WHEN = Cell(str, _when, "a day such as 2031-05-15, or a moment such as 2031-05-15T07:10:00+01:00")
NUMBERS = Cell(
    lambda values: guarded(" ".join(map(repr, values))), _numbers, "numbers with a blank between"
)
