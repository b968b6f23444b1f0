"""Days of a list as spreadsheets write them, 29/03/2031: in which order, by the whole column."""

import re
from collections.abc import Iterable, Sequence
from datetime import date

from soakbook.errors import InputError

ORDERS = ("dmy", "mdy")

_YEAR_LAST = re.compile(r"([0-9]{1,2})([-/.])([0-9]{1,2})\2([0-9]{4})")


def orders_of(texts: Iterable[str], said: str | None) -> Sequence[str]:
    """The orders in which all days written with the year last are days; the one that was said, if one was."""
    written = [text for text in texts if _YEAR_LAST.fullmatch(text)]
    orders = ORDERS if said is None else (said,)
    return [order for order in orders if all(_day(text, order) for text in written)]


def as_iso(text: str, orders: Sequence[str]) -> str:
    """A day written with the year last as 2031-03-29; anything else as it is.

    Parameters
    ----------
    text : str
        As it stands in the list.
    orders : sequence of str
        Those of the column.

    Raises
    ------
    InputError
        The orders make two days of it.
    """
    days = {day: order for order in orders if (day := _day(text, order))}
    if len(days) > 1:
        right = ", ".join(f"--dates {order} if it is {day}" for day, order in days.items())
        raise InputError("on", text, f"said: {right}")
    return next((day.isoformat() for day in days), text)


def _day(text: str, order: str) -> date | None:
    found = _YEAR_LAST.fullmatch(text)
    if found is None:
        return None
    first, second, year = int(found[1]), int(found[3]), int(found[4])
    day, month = (first, second) if order == "dmy" else (second, first)
    try:
        return date(year, month, day)
    except ValueError:
        return None
