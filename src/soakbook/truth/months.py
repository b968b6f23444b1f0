"""Months as people write them: by number, by name, or from one to another."""

import re
from typing import Any

from soakbook.errors import InputError

NAMES = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_SPAN = re.compile(r"(\w+)\s*(?:-|to)\s*(\w+)")
RIGHT = "months like [4, 5, 6], ['April', 'May'] or '4-10'"


def month_of(value: object) -> int | None:
    """The month that a number or a name says; None if it says none."""
    if isinstance(value, str):
        word = value.strip().casefold()
        if word.isdecimal():
            return month_of(int(word))
        named = [n for n, name in enumerate(NAMES, 1) if len(word) >= 3 and word[:3] == name]
        return named[0] if named else None
    return value if type(value) is int and 1 <= value <= 12 else None


def months_of(name: str, value: Any) -> tuple[int, ...]:
    """The months of a list, or of a span that may go round the turn of the year.

    Parameters
    ----------
    name : str
        The key, for what is said of it.
    value : object
        As the file has it.

    Raises
    ------
    InputError
        Something else.
    """
    span = _SPAN.fullmatch(value.strip()) if isinstance(value, str) else None
    if span is not None:
        first, last = month_of(span[1]), month_of(span[2])
        if first is None or last is None:
            raise InputError(name, value, RIGHT)
        return tuple((first - 1 + n) % 12 + 1 for n in range((last - first) % 12 + 1))
    listed = value if isinstance(value, list) else [value]
    found = [month_of(one) for one in listed]
    if not found or None in found:
        raise InputError(name, value, RIGHT)
    return tuple(dict.fromkeys(month for month in found if month is not None))
