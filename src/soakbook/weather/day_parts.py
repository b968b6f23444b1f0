"""Rows of a weather file that are parts of a day, every ten minutes or every hour, brought to days of the garden.

A row stands for the time since the row before it. What its time is by the clock is in `moments`; from the days on
everything is as for a file of days.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import cache
from itertools import pairwise
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.weather.cells import MISSING_MARKS, value_of
from soakbook.weather.column_map import MIDNIGHT, ColumnMap
from soakbook.weather.columns import QUANTITIES, Column
from soakbook.weather.days import spans
from soakbook.weather.gaps import Days, Origin, Origins
from soakbook.weather.moments import read_moments
from soakbook.weather.table import Table

FEWEST_HOURS = (
    20.0  # of a day, or it is a gap: four hours of an instrument's rest. common practice, no source
)
LONGEST_STEP_H = (
    6.0  # beyond it the extremes of a day are missed: 1.2 % of ET0 at 6 h, 0.0 % at 3 h
)
HOUR = timedelta(hours=1)
_CLOCK_WORDS = {
    "local": "by the garden's clock",
    "standard": "by the garden's standard time, without summer time",
    "utc": "by UTC",
    None: "by the offsets they state",
}
_SUMS = {"rain", "sun", "radiation"}
_LOWS, _HIGHS = {"tmin", "rhmin"}, {"tmax", "rhmax"}
_EXTREMES_OF = {"tmean": ("tmin", "tmax"), "rh": ("rhmin", "rhmax")}


class ReadDays(NamedTuple):
    """What the rows of a file come to by day, and how."""

    days: Days
    origins: Origins
    columns: Mapping[str, Column]  # variable -> the column it comes from
    column_map: ColumnMap
    findings: tuple[str, ...] = ()
    moments: tuple[
        datetime, ...
    ] = ()  # the middle of each row's time, where rows are parts of a day
    radiation: tuple[float | None, ...] = ()  # as many, where it was measured


class _Piece(NamedTuple):
    """The part of a row's time that falls on one day."""

    day: date
    hours: float
    share: float  # of the row's time


class _Stretch(NamedTuple):
    """The time that a row stands for, in UTC."""

    begins: datetime
    ends: datetime

    @property
    def middle(self) -> datetime:
        """Half of it."""
        return self.begins + (self.ends - self.begins) / 2


@dataclass(slots=True)
class _Tally:
    """What the rows of one column come to on one day."""

    hours: float = 0.0
    total: float = 0.0
    hours_times_value: float = 0.0
    lowest: float = math.inf
    highest: float = -math.inf


_Tallies = dict[date, _Tally]


def read_parts(table: Table, column_map: ColumnMap, name: str, zone: tzinfo) -> ReadDays:
    """Days of a table whose rows are parts of a day.

    Rain, sunshine and energy are summed, W/m2 and all else averaged, the extremes of temperature and humidity taken
    from the rows; a row over midnight is shared by hours. A value needs 20 hours of its day.

    Parameters
    ----------
    table
        Rows in any order.
    column_map
        As understood for parts of a day.
    name
        The file's, for what is said of it.
    zone
        The garden's: its days are local ones.

    Raises
    ------
    InputError
        A moment or a cell that cannot be right, rows too far apart, no whole day, or a rain day said.
    """
    if column_map.rain_day not in {None, MIDNIGHT}:
        right = "midnight: a file with hours says itself when it rained"
        raise InputError("rain day", column_map.rain_day, right)
    place = table.headers.index(str(column_map.date_header))
    moments, order = read_moments(table.rows, place, column_map.date_order, column_map.clock, zone)
    column_map = replace(column_map, date_order=order)
    stretches, step = _stretches(moments)
    values = {column.quantity: _values(table, column, column_map) for column in column_map.columns}
    pieces = [tuple(_pieces(stretch, zone)) for stretch in stretches]
    tallies = {word: _tallies(pieces, found) for word, found in values.items()}
    made = dict(_made(column_map.columns, tallies))
    days, left, thin = _whole_days(made, zone)
    if not days:
        right = f"rows for {FEWEST_HOURS:g} hours of a day at least"
        raise InputError(f"days of {name}", f"{spans(left)}, none of them whole", right)
    first = min(moments).astimezone(zone).date()  # a row of its midnight begins the day before
    left = [day for day in left if day >= first]
    method = f"made of rows {_step_words(step)}"
    return ReadDays(
        days,
        _origins(days, made, method),
        {QUANTITIES[word].variable: column for word, (column, _) in made.items()},
        column_map,
        tuple(_findings(step, column_map, left, thin)),
        tuple(stretch.middle for stretch in stretches),
        tuple(values.get("radiation", ())),
    )


def _stretches(moments: Sequence[datetime]) -> tuple[list[_Stretch], timedelta]:
    """What each row stands for, in the order of the rows, and the usual step.

    That is the time since the row before; behind a hole longer than one missing row of an hour, the usual step.
    """
    in_order = sorted(moments)
    steps = [later - earlier for earlier, later in pairwise(in_order)]
    usual = sorted(steps)[len(steps) // 2]
    if usual > LONGEST_STEP_H * HOUR:
        right = f"at most {LONGEST_STEP_H:g} hours, or one row a day"
        raise InputError("step from row to row", f"{usual / HOUR:.3g} hours", right)
    longest = usual + min(usual, HOUR)
    first = _Stretch(in_order[0] - usual, in_order[0])
    stretch = {in_order[0]: first} | {
        ends: _Stretch(ends - (step if step <= longest else usual), ends)
        for ends, step in zip(in_order[1:], steps, strict=True)
    }
    return [stretch[moment] for moment in moments], usual


def _values(table: Table, column: Column, column_map: ColumnMap) -> list[float | None]:
    marks = MISSING_MARKS | {mark.casefold() for mark in column_map.missing}
    place = table.headers.index(column.header)
    when = table.headers.index(str(column_map.date_header))
    return [
        value_of(
            row.cells[place],
            column,
            row.cells[when],
            marks,
            of_a_moment=True,
            decimal_comma=bool(column_map.decimal_comma),
        )
        for row in table.rows
    ]


def _tallies(pieces: Sequence[tuple[_Piece, ...]], values: Sequence[float | None]) -> _Tallies:
    tallies: _Tallies = defaultdict(_Tally)
    for of_row, value in zip(pieces, values, strict=True):
        if value is None:
            continue
        for day, hours, share in of_row:
            tally = tallies[day]
            tally.hours += hours
            tally.total += value * share
            tally.hours_times_value += value * hours
        most = tallies[max(of_row, key=lambda piece: piece.hours).day]
        most.lowest = min(most.lowest, value)
        most.highest = max(most.highest, value)
    return tallies


def _pieces(stretch: _Stretch, zone: tzinfo) -> Iterator[_Piece]:
    begins, whole = stretch.begins, stretch.ends - stretch.begins
    day = begins.astimezone(zone).date()
    while begins < stretch.ends:
        until = min(stretch.ends, _midnight(day + timedelta(days=1), zone))
        if until > begins:
            yield _Piece(day, (until - begins) / HOUR, (until - begins) / whole)
            begins = until
        day += timedelta(days=1)


@cache
def _midnight(day: date, zone: tzinfo) -> datetime:
    """The moment at which a local day begins, in UTC."""
    return datetime.combine(day, time(), zone).astimezone(UTC)


def _made(
    columns: Sequence[Column], tallies: Mapping[str, _Tallies]
) -> Iterator[tuple[str, tuple[Column, Mapping[date, _Tally]]]]:
    """Our words of what a day gets -> the column it is made of, and what its rows come to."""
    said = {column.quantity for column in columns}
    for column in columns:
        yield column.quantity, (column, tallies[column.quantity])
        for word in _EXTREMES_OF.get(column.quantity, ()):
            if word not in said:
                yield word, (column, tallies[column.quantity])


def _value(word: str, column: Column, tally: _Tally, day_hours: float) -> float:
    """Value of a day, by what its quantity is."""
    mean = tally.hours_times_value / tally.hours
    if column.unit == "W/m2":
        return mean * day_hours / 24  # the column's own unit makes MJ of 24 hours
    if word in _SUMS:
        return tally.total
    if word in _LOWS:
        return tally.lowest
    return tally.highest if word in _HIGHS else mean


def _whole_days(
    made: Mapping[str, tuple[Column, Mapping[date, _Tally]]], zone: tzinfo
) -> tuple[Days, list[date], list[date]]:
    """Days with their values; days of which nothing is whole; days that lack up to four hours."""
    days: dict[date, dict[str, float]] = {}
    begun: set[date] = set()
    thin: set[date] = set()
    for word, (column, tallies) in made.items():
        for day, tally in tallies.items():
            begun.add(day)
            day_hours = (_midnight(day + timedelta(days=1), zone) - _midnight(day, zone)) / HOUR
            if tally.hours < FEWEST_HOURS - 1e-6:
                continue
            value = _value(word, column, tally, day_hours)
            days.setdefault(day, {})[QUANTITIES[word].variable] = value
            if tally.hours < day_hours - 1e-6:
                thin.add(day)
    return dict(sorted(days.items())), sorted(begun - days.keys()), sorted(thin)


def _origins(
    days: Days, made: Mapping[str, tuple[Column, Mapping[date, _Tally]]], method: str
) -> Origins:
    methods = {
        QUANTITIES[word].variable: "; ".join(filter(None, (column.method, method)))
        for word, (column, _) in made.items()
    }
    return {
        (day, variable): Origin("measured", methods[variable])
        for day, values in days.items()
        for variable in values
    }


def _step_words(step: timedelta) -> str:
    minutes = step / timedelta(minutes=1)
    return f"of {minutes:.3g} minutes" if minutes < 60 else f"of {minutes / 60:.3g} h"


def _findings(
    step: timedelta, column_map: ColumnMap, left: Sequence[date], thin: Sequence[date]
) -> Iterator[str]:
    yield (
        f"rows {_step_words(step)} made into days, {_CLOCK_WORDS[column_map.clock]}: each taken "
        "for the time since the row before, its rain for what fell in that time"
    )
    if left:
        yield f"less than {FEWEST_HOURS:g} hours of rows, so left out: {spans(left)}"
    if thin:
        yield f"made of {FEWEST_HOURS:g} hours or more, but not of all: {spans(thin)}"
