"""Days of a weather file: dates as written, and spans of days said in few words."""

import re
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from soakbook.errors import InputError
from soakbook.weather.column_map import DateOrder
from soakbook.weather.table import Row

YEARS = range(1900, 2200)
A_DAY = "a day like 2031-04-01, or 01/04/2031 throughout; daily, without an hour"
_YEAR_FIRST = re.compile(r"(\d{4})([-/.])(\d{1,2})\2(\d{1,2})")
_RUN_TOGETHER = re.compile(r"(\d{4})(\d{2})(\d{2})")
_YEAR_LAST = re.compile(r"(\d{1,2})([-/. ])(\d{1,2})\2(\d{4})")
_AT_MIDNIGHT = re.compile(r"[T ]0?0:00(:00(\.0+)?)?$")


def read_days(
    rows: Sequence[Row], place: int, order: DateOrder | None, right: str = A_DAY
) -> tuple[list[date], DateOrder]:
    """Day of every row, and the order in which the dates are written.

    Year first is always read as year, month, day. With the year last the order is the one said;
    else the one that makes a date of every row, and where both do, it is asked for.

    Parameters
    ----------
    rows
        Rows of the table.
    place
        Where in a row the date stands.
    order
        What was said, `None` if nothing.
    right
        What would be right where a text is no date.

    Raises
    ------
    InputError
        Text that is no date, an hour that is not midnight, or dates that can be read two ways.
    """
    written = [(row, _apart(row.cells[place])) for row in rows]
    year_last = [text for _, text in written if not _YEAR_FIRST.fullmatch(text)]
    if not year_last:
        return [_day(row, text, "ymd", right) for row, text in written], "ymd"
    orders: tuple[DateOrder, ...] = ("dmy", "mdy") if order in {None, "ymd"} else (order,)
    possible = [way for way in orders if all(_date(text, way) for text in year_last)]
    if len(possible) == 2 and any(_date(text, "dmy") != _date(text, "mdy") for text in year_last):
        raise _ambiguous(year_last)
    taken = possible[0] if possible else orders[0]
    return [_day(row, text, taken, right) for row, text in written], taken


def spans(days: Iterable[date], most: int = 8) -> str:
    """Days in words, runs drawn together, the rest counted: "2031-04-03 to 2031-04-05, 9 more"."""
    runs: list[list[date]] = []
    for day in sorted(days):
        if runs and day - runs[-1][-1] == timedelta(days=1):
            runs[-1].append(day)
        else:
            runs.append([day])
    shown = [f"{run[0]}" if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs[:most]]
    left = sum(len(run) for run in runs[most:])
    return ", ".join(shown) + (f", {left} more" if left else "")


def _apart(text: str) -> str:
    """Date as written, without the midnight behind it, its parts apart."""
    text = _AT_MIDNIGHT.sub("", text)
    return "-".join(run.groups()) if (run := _RUN_TOGETHER.fullmatch(text)) else text


def _date(text: str, order: DateOrder) -> date | None:
    """Date that a text says in this order, year first always understood; `None` if it is none."""
    if said := _YEAR_FIRST.fullmatch(text):
        year, month, day = said[1], said[3], said[4]
    elif said := _YEAR_LAST.fullmatch(text):
        year, month, day = said[4], said[3], said[1]
        if order == "mdy":
            month, day = day, month
    else:
        return None
    if int(year) not in YEARS:
        return None
    try:
        return date(int(year), int(month), int(day))
    except ValueError:
        return None


def _day(row: Row, text: str, order: DateOrder, right: str) -> date:
    day = _date(text, order)
    if day is None:
        raise InputError(f"date on line {row.line}", text, right)
    return day


def _ambiguous(texts: Sequence[str]) -> InputError:
    text = next(text for text in texts if _date(text, "dmy") != _date(text, "mdy"))
    day_first, month_first = _date(text, "dmy"), _date(text, "mdy")
    return InputError("dates", text, f"said: dmy if it is {day_first}, mdy if it is {month_first}")
