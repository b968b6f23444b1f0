"""How a station's files are read, as the book remembers it: a map of columns as plain text, and back."""

from collections.abc import Mapping
from dataclasses import replace
from typing import cast, get_args

from soakbook.errors import InputError
from soakbook.weather.column_map import Clock, ColumnMap, DateOrder, columns_said


def as_json(column_map: ColumnMap) -> dict[str, object]:
    """Plain text, numbers and lists that say the map, for the book to remember."""
    return {
        "columns": [column.text for column in column_map.columns],
        "left_out": list(column_map.left_out),
        "date": column_map.date_header,
        "dates": column_map.date_order,
        "decimal_comma": column_map.decimal_comma,
        "rain_day": column_map.rain_day,
        "clock": column_map.clock,
        "wind_height_m": column_map.wind_height_m,
        "missing": list(column_map.missing),
        "source": column_map.source,
    }


def from_json(kept: Mapping[str, object]) -> ColumnMap:
    """Map of columns that `as_json` wrote.

    Raises
    ------
    InputError
        A column, a date order or a clock that is none, or commas of which neither yes nor no is said.
    """
    columns = columns_said(cast("list[str]", kept["columns"]))
    order = kept["dates"]
    if order is not None and order not in get_args(DateOrder):
        raise InputError("dates", order, f"one of {', '.join(get_args(DateOrder))}")
    clock = kept.get("clock")  # maps of older books have none
    if clock is not None and clock not in get_args(Clock):
        raise InputError("clock", clock, f"one of {', '.join(get_args(Clock))}")
    comma = kept.get("decimal_comma")
    if comma is not None and not isinstance(comma, bool):
        raise InputError("decimal comma", comma, "yes or no")
    height = kept["wind_height_m"]
    return replace(
        columns,
        left_out=tuple(cast("list[str]", kept["left_out"])),
        date_header=cast("str | None", kept["date"]),
        date_order=cast("DateOrder | None", order),
        decimal_comma=comma,
        rain_day=cast("str | None", kept["rain_day"]),
        clock=cast("Clock | None", clock),
        wind_height_m=None if height is None else float(cast("float", height)),
        missing=tuple(cast("list[str]", kept["missing"])),
        source=cast("str | None", kept["source"]),
    )
