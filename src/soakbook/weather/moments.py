"""Moments of a weather file whose rows are parts of a day: times as written, and the clock they are written by.

The clock is asked for, never guessed: a file that is an hour off looks like any other. Dates without a time are in
`days`, what becomes of the rows in `day_parts`.
"""

import re
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import cache
from typing import NamedTuple, get_args

from soakbook.errors import InputError
from soakbook.weather.column_map import Clock, DateOrder
from soakbook.weather.days import read_days
from soakbook.weather.table import Row

A_MOMENT = "a moment like 2031-04-01 09:30, or 01/04/2031 09:30 throughout"
CLOCKS = (
    "say --clock local if it keeps the garden's time, summer time too; "
    "--clock standard if it stays in winter time all year; --clock utc"
)
_TIMED = re.compile(
    r"(?P<date>.*\d)(?:T|,? +)(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<second>\d{2})(?:\.\d+)?)?"
    r"(?: ?(?P<half>[AP])\.?M\.?)?(?: ?(?P<offset>Z|UTC|[+-]\d{2}:?\d{2}))?",
    re.IGNORECASE,
)


class _Written(NamedTuple):
    """A moment as a row has it: its date still as text, and how long after that day's midnight."""

    date: str
    since_midnight: timedelta
    offset: timedelta | None  # from UTC, where the text says it


def has_hours(rows: Sequence[Row], place: int) -> bool:
    """Whether rows are parts of a day: some have a time that is not midnight, and a day has several rows.

    Parameters
    ----------
    rows
        Rows of the table.
    place
        Where in a row the date stands.
    """
    texts = [row.cells[place] for row in rows]
    if not any(":" in text for text in texts):
        return False
    found = [_TIMED.fullmatch(text) for text in texts]
    dates = {timed["date"] if timed else text for timed, text in zip(found, texts, strict=True)}
    return len(dates) < len(texts) and any(
        timed is not None and int(timed["hour"] + timed["minute"]) > 0 for timed in found
    )


def read_moments(
    rows: Sequence[Row], place: int, order: DateOrder | None, clock: Clock | None, zone: tzinfo
) -> tuple[list[datetime], DateOrder]:
    """Moment of every row in UTC, and the order in which the dates are written.

    Parameters
    ----------
    rows
        Rows of the table, in any order but for the hour that a local clock shows twice in autumn.
    place
        Where in a row the date and time stand.
    order
        Of the dates, as for `read_days`.
    clock
        What the times are written by. Not needed where every text says its own offset from UTC.
    zone
        The garden's.

    Raises
    ------
    InputError
        Text that is no moment, a moment twice, an hour that the clock leaves out, or no word of the clock.
    """
    written = [_written(row, row.cells[place]) for row in rows]
    dates = [Row(row.line, (moment.date,)) for row, moment in zip(rows, written, strict=True)]
    days, taken = read_days(dates, 0, order, A_MOMENT)
    if any(moment.offset is None for moment in written):
        if clock is None:
            raise InputError("clock of the file", None, CLOCKS)
        if clock not in get_args(Clock):
            raise InputError("clock of the file", clock, CLOCKS)
    by_clock = [
        datetime.combine(day, time()) + moment.since_midnight
        for day, moment in zip(days, written, strict=True)
    ]
    moments = (
        _by_local_clock(by_clock, written, rows, zone)
        if clock == "local"
        else [
            (at - _offset(moment, at.date(), clock, zone)).replace(tzinfo=UTC)
            for at, moment in zip(by_clock, written, strict=True)
        ]
    )
    _check_each_once(moments, rows, place, clock)
    return moments, taken


@cache
def standard_offset(year: int, zone: tzinfo) -> timedelta:
    """How far a zone's standard time is ahead of UTC: the smaller offset of midwinter and midsummer of that year.

    Not by `dst()`: in Ireland's zone the law, and so the data, call summer standard.
    """
    offsets = [datetime(year, month, 1, tzinfo=zone).utcoffset() for month in (1, 7)]
    return min(offset for offset in offsets if offset is not None)


def _written(row: Row, text: str) -> _Written:
    said = _TIMED.fullmatch(text)
    if said is None:
        return _Written(text, timedelta(0), None)  # midnight, which some programs leave away
    hour, minute, second = (int(said[part] or 0) for part in ("hour", "minute", "second"))
    half = (said["half"] or "").casefold()
    highest = 12 if half else 24
    right = hour <= highest and minute < 60 and second < 60 and not (half and hour == 0)
    if not right or (hour == 24 and minute + second > 0):
        raise InputError(f"time on line {row.line}", text, A_MOMENT)
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    since_midnight = timedelta(hours=hour, minutes=minute, seconds=second)
    return _Written(said["date"], since_midnight, _offset_said(row, text, said["offset"]))


def _offset_said(row: Row, text: str, offset: str | None) -> timedelta | None:
    if offset is None:
        return None
    if offset.casefold() in {"z", "utc"}:
        return timedelta(0)
    hours, minutes = int(offset[1:3]), int(offset[-2:])
    if hours > 14 or minutes > 59:
        raise InputError(f"time on line {row.line}", text, A_MOMENT)
    return timedelta(hours=hours, minutes=minutes) * (-1 if offset[0] == "-" else 1)


def _offset(moment: _Written, day: date, clock: Clock | None, zone: tzinfo) -> timedelta:
    if moment.offset is not None:
        return moment.offset
    return standard_offset(day.year, zone) if clock == "standard" else timedelta(0)


def _by_local_clock(
    by_clock: Sequence[datetime], written: Sequence[_Written], rows: Sequence[Row], zone: tzinfo
) -> list[datetime]:
    """Moments by the garden's clock: a time met again in the hour that comes twice is the later one."""
    moments: dict[int, datetime] = {}
    met: set[datetime] = set()
    newest_first = by_clock[0] > by_clock[-1]
    for number in sorted(range(len(by_clock)), reverse=newest_first):
        at, offset = by_clock[number], written[number].offset
        if offset is not None:
            moments[number] = (at - offset).replace(tzinfo=UTC)
            continue
        moment = at.replace(tzinfo=zone, fold=1 if at in met else 0).astimezone(UTC)
        met.add(at)
        if moment.astimezone(zone).replace(tzinfo=None, fold=0) != at:
            raise InputError(
                f"time on line {rows[number].line}",
                f"{at:%Y-%m-%d %H:%M}",
                "an hour that the garden's clock has, which was put forward that night; say "
                "--clock standard if the file's stays in winter time",
            )
        moments[number] = moment
    return [moments[number] for number in range(len(by_clock))]


def _check_each_once(
    moments: Sequence[datetime], rows: Sequence[Row], place: int, clock: Clock | None
) -> None:
    lines: dict[datetime, int] = {}
    for moment, row in zip(moments, rows, strict=True):
        if moment in lines:
            hint = "" if clock == "local" else "; if its clock was put back then, say --clock local"
            once = f"a moment once; it is on line {lines[moment]} too{hint}"
            raise InputError(f"time on line {row.line}", row.cells[place], once)
        lines[moment] = row.line
