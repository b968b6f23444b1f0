"""Which columns of a whole file are taken: said, or stated by the headers; the rest left out.

A `ColumnMap` may be partly filled, as somebody said it, or whole, as a file was understood; the book keeps the whole
one and lays it under what is said next time. How one column is written is in `columns`.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from soakbook.errors import InputError
from soakbook.quantities import names
from soakbook.weather.columns import (
    QUANTITIES,
    Column,
    UnitUnsaid,
    is_reference_et,
    parse_column,
    recognise,
    tidy,
    with_unit,
)

DateOrder = Literal["ymd", "dmy", "mdy"]
Clock = Literal["local", "standard", "utc"]
LEFT_OUT = "-"
MIDNIGHT = "midnight"
DAY_HEADERS = {"date", "day"}
MOMENT_HEADERS = {"time", "datetime", "date time", "date/time", "timestamp"}  # where no date is
_RAIN_DAY = re.compile(r"(\d{1,2}):(\d{2}) (before|same)")


@dataclass(frozen=True, slots=True)
class ColumnMap:
    """How to read one station's files. `None` and empty mean not said.

    `rain_day` says whose day the rain is: "midnight", or the local time of the reading and the day it is booked to,
    the day "before" it or the "same" day: "09:00 before". `clock` is what the times of a file of hours are written by:
    the garden's "local" clock, its "standard" time without summer time, or "utc". `missing` are marks besides the
    usual ones; `decimal_comma` says whether numbers are written 12,5.
    """

    columns: tuple[Column, ...] = ()
    left_out: tuple[str, ...] = ()
    date_header: str | None = None
    date_order: DateOrder | None = None
    decimal_comma: bool | None = None
    rain_day: str | None = None
    clock: Clock | None = None
    wind_height_m: float | None = None
    missing: tuple[str, ...] = ()
    source: str | None = None

    def over(self, older: "ColumnMap") -> "ColumnMap":
        """Whatever `self` says, and the older map where it says nothing."""
        said = {column.quantity for column in self.columns} | set(self.left_out)
        kept_out = tuple(word for word in older.left_out if word not in said)
        return ColumnMap(
            columns=(*self.columns, *(old for old in older.columns if old.quantity not in said)),
            left_out=(*self.left_out, *kept_out),
            date_header=self.date_header or older.date_header,
            date_order=self.date_order or older.date_order,
            decimal_comma=(
                older.decimal_comma if self.decimal_comma is None else self.decimal_comma
            ),
            rain_day=self.rain_day or older.rain_day,
            clock=self.clock or older.clock,
            wind_height_m=self.wind_height_m or older.wind_height_m,
            missing=self.missing or older.missing,
            source=self.source or older.source,
        )


NOTHING_SAID = ColumnMap()


@dataclass(frozen=True, slots=True)
class Understanding:
    """A file's header as understood: the whole map, and in words what was taken and what not."""

    column_map: ColumnMap
    taken: tuple[str, ...]
    left_out: tuple[str, ...]


def columns_said(texts: Iterable[str]) -> ColumnMap:
    """Map of columns that texts like `rain=Precip:in`, `date=Day` and `wind=-` say.

    Raises
    ------
    InputError
        A text of another form, or a quantity said twice.
    """
    said = ColumnMap()
    for text in texts:
        quantity, _, header = (part.strip() for part in text.partition("="))
        quantity = quantity.casefold()
        if quantity == "date" and header:
            said = replace(said, date_header=header)
            continue
        if quantity in QUANTITIES and header == LEFT_OUT:
            said = replace(said, left_out=(*said.left_out, quantity))
        else:
            said = replace(said, columns=(*said.columns, parse_column(text)))
        words = [column.quantity for column in said.columns] + list(said.left_out)
        if len(set(words)) < len(words):
            raise InputError(QUANTITIES[quantity].words, text, "one column for each quantity")
    return said


def date_column(headers: Sequence[str], said: str | None) -> str:
    """Header of the column of days or moments: the one said, else the one called so; refused if none or two are."""
    if said is not None:
        return _only_one(headers, said, "column of days")
    named = [header for header in headers if tidy(header) in DAY_HEADERS][:1]
    found = named or [header for header in headers if tidy(header) in MOMENT_HEADERS]
    if not found:
        right = "a column called date or time, or date=COLUMN"
        raise InputError("column of days", ", ".join(headers), right)
    if len(set(found)) > 1:
        raise InputError("column of days", ", ".join(found), "only one, or which: date=COLUMN")
    return _only_one(headers, found[0], "column of days")


def understand(headers: Sequence[str], said: ColumnMap, *, in_parts: bool = False) -> Understanding:
    """Columns of a file with these headers, by what was said and what the headers state.

    Where two headers state the same quantity the first is taken and the other named as left out. In a file whose
    rows are parts of a day, a temperature that says no more is each row's mean.

    Raises
    ------
    InputError
        A column that was said and is not there; no column of days; a quantity without a unit; wind
        without a height; nothing that can be taken.
    """
    date_header = date_column(headers, said.date_header)
    columns = {column.quantity: column for column in said.columns}
    for column in columns.values():
        _only_one(headers, column.header, QUANTITIES[column.quantity].words)
    said_headers = {column.header for column in columns.values()}
    unsaid: list[UnitUnsaid] = []
    left_out: list[str] = []
    for header in headers:
        if header == date_header or header in said_headers or not header:
            continue
        found = recognise(header) or (_mean_of(header) if in_parts else None)
        if found is None or found.quantity in said.left_out:
            left_out.append(_why_left_out(header, found))
        elif found.quantity in columns:
            left_out.append(
                f"{header!r}: {_words(found)} is taken from {columns[found.quantity].header!r}"
            )
        elif isinstance(found, UnitUnsaid):
            unsaid.append(found)
        else:
            _only_one(headers, header, _words(found))
            columns[found.quantity] = found
    _refuse_unsaid([column for column in unsaid if column.quantity not in columns])
    if not columns:
        raise InputError(
            "columns", ", ".join(headers), "at least one like tmin_c, tmax_c or rain_mm"
        )
    columns = {
        word: _at_height(columns[word], said.wind_height_m)
        for word in QUANTITIES
        if word in columns
    }
    rain_starts_h(said.rain_day)
    whole = replace(said, columns=tuple(columns.values()), date_header=date_header)
    taken = tuple(_taken(column, said.rain_day, in_parts) for column in columns.values())
    return Understanding(whole, taken, tuple(left_out))


def rain_starts_h(rain_day: str | None) -> float:
    """Hours from the midnight that begins the booked day to the start of its rain [-24 to 24].

    Raises
    ------
    InputError
        Neither "midnight" nor a time and "before" or "same".
    """
    if rain_day in {None, MIDNIGHT}:
        return 0.0
    said = _RAIN_DAY.fullmatch(str(rain_day).strip())
    if said is None or int(said[1]) > 23 or int(said[2]) > 59:
        raise InputError(
            "rain day",
            rain_day,
            "midnight, or the time of reading and the day booked: 09:00 before, or 09:00 same",
        )
    hour = int(said[1]) + int(said[2]) / 60
    return hour if said[3] == "before" or hour == 0 else hour - 24


def _only_one(headers: Sequence[str], header: str, field: str) -> str:
    if header not in headers:
        raise InputError(field, header, f"a column of the file: {', '.join(headers)}")
    if list(headers).count(header) > 1:
        places = [str(number) for number, other in enumerate(headers, 1) if other == header]
        right = f"a name for one column: columns {' and '.join(places)} of the file both bear it"
        raise InputError(field, header, right)
    return header


def _why_left_out(header: str, found: Column | UnitUnsaid | None) -> str:
    if found is not None:
        return f"{header!r}: you said to leave {_words(found)} out"
    if is_reference_et(header):
        return f"{header!r}: ET0 is reckoned here, alike for every day; a column of it is not taken"
    return f"{header!r}: not understood"


def _refuse_unsaid(unsaid: Sequence[UnitUnsaid]) -> None:
    if unsaid:
        first, *others = unsaid
        also = (
            f"; the same for {', '.join(repr(other.header) for other in others)}" if others else ""
        )
        raise InputError(
            _words(first), first.header, with_unit(first.quantity, first.header) + also
        )


def _at_height(column: Column, said_m: float | None) -> Column:
    """Wind with the height that its header states, else the one that was said."""
    if column.quantity != "wind":
        return column
    height = column.height_m if column.height_m is not None else said_m
    if height is None:
        raise InputError(
            "height of the wind gauge",
            column.header,
            f"said in metres: {column.text}@2m or {column.text}@10m",
        )
    return replace(column, height_m=names.check("wind_height_m", height))


def _mean_of(header: str) -> Column | UnitUnsaid | None:
    """What a header states as the mean of it: "temp_c" is no day's value, but a row's."""
    found = recognise(f"mean {header}")
    return None if found is None else replace(found, header=header)


def _words(found: Column | UnitUnsaid) -> str:
    return QUANTITIES[found.quantity].words


def _taken(column: Column, rain_day: str | None, in_parts: bool) -> str:
    more = ""
    if column.height_m is not None:
        more = f", measured at {column.height_m:g} m"
    if column.quantity == "rain" and in_parts:
        more = ", what fell since the row before"
    elif column.quantity == "rain" and rain_day in {None, MIDNIGHT}:
        more = ", from midnight to midnight"
    elif column.quantity == "rain":
        more = f", the gauge read and booked {rain_day}"
    return f"{_words(column)} from {column.header!r} in {column.unit}{more}"
