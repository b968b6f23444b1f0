"""Cells that cannot be right: a few are left out with a word, many are refused by name."""

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.quantities.saying import counted
from soakbook.weather.cells import MISSING_MARKS, MISSING_NUMBERS

FEW = 5
MOST_SHARE = 0.02
"""So many cells of a column, or this share of them if that is more, may be wrong."""
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?", re.IGNORECASE)


class Fault(NamedTuple):
    """A cell that cannot be right."""

    row: int
    cell: str
    right: str


class Cells(NamedTuple):
    """A column read: a value for every row, None where nothing was measured or nothing can be made of it."""

    values: list[float | None]
    faults: list[Fault]
    markers: int
    """Cells that said by a number, -9999 or such, that nothing was measured."""
    words: int
    """Cells with a word that stands for a number."""

    @property
    def known(self) -> int:
        """Rows in which something was said to be measured."""
        return len(self.faults) + sum(value is not None for value in self.values)


def read_cells(
    cells: Sequence[str],
    converted: Callable[[float], float],
    holds: Callable[[float], bool],
    right: str,
    words: Mapping[str, float] = {},
) -> Cells:
    """The numbers of a column.

    Parameters
    ----------
    cells : sequence of str
        A cell for every row.
    converted : callable
        Number as written -> number in our unit.
    holds : callable
        Whether a number in our unit can be.
    right : str
        What can be, in words.
    words : mapping of str to float
        Words that stand for a number in our unit.
    """
    values: list[float | None] = []
    faults: list[Fault] = []
    markers = spoken = 0
    for row, cell in enumerate(cells):
        value = None
        if cell.casefold() in words:
            value = words[cell.casefold()]
            spoken += 1
        elif cell.casefold() in MISSING_MARKS:
            pass
        elif not _NUMBER.fullmatch(cell):
            faults.append(Fault(row, cell, "a number with a point, or nothing"))
        elif float(cell) in MISSING_NUMBERS:
            markers += 1
        elif holds(converted(float(cell))):
            value = converted(float(cell))
        else:
            faults.append(Fault(row, cell, right))
        values.append(value)
    return Cells(values, faults, markers, spoken)


def left_out(
    what: str, header: str, faults: Sequence[Fault], of: int, days: Sequence[date], hint: str = ""
) -> str:
    """What is said of the faults of a column, which its reader leaves out.

    Parameters
    ----------
    what, header : str
        The quantity in words, and the column's name.
    faults : sequence of Fault
        One at least.
    of : int
        How many cells of the column said anything.
    days : sequence of date
        The day of every row.
    hint : str
        What may be behind it, where they are too many.

    Raises
    ------
    InputError
        They are too many to be slips.
    """
    first = faults[0]
    if len(faults) > max(FEW, MOST_SHARE * of):
        raise InputError(
            f"{what} on {days[first.row]}, column {header!r}",
            first.cell,
            f"{first.right}{hint} (so on {len(faults)} of {of} days)",
        )
    return (
        f"{what}, column {header!r}: {counted(len(faults), 'value')} of {of} left out, "
        f"{first.cell!r} on {days[first.row]} for one; right would be {first.right}"
    )
