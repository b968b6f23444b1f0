"""Rows of a service's answer made fit for sums: put in order, each value held to what it can be.

A value that cannot be is dropped and counted; an answer with many of them is no weather. How rows
become days is in `hours`.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.errors import WeatherError
from soakbook.quantities.names import QUANTITIES
from soakbook.quantities.saying import counted
from soakbook.weather.answers import Column, HourTable
from soakbook.weather.days import YEARS
from soakbook.weather.sanity import SLACK_C
from soakbook.weather.wall_clock import HOUR_S, Floats

LONGEST_ROW_H = 6  # of any service here; a longer row is a hole
MOST_BAD_SHARE = 0.1
ET0_HOUR_MM = (-0.5, 3.0)  # dew at night; twice the hottest noon. common practice, no source

_WORDS = {
    "temperature_c": "temperature",
    "dew_point_c": "dew point",
    "wind_10m_m_per_s": "wind",
    "cloud_fraction": "cloud",
    "radiation_w_m2": "radiation",
    "rain_mm": "rain",
    "et0_mm": "evaporation",
    "tmin_c": "lowest temperature",
    "tmax_c": "highest temperature",
}
_SPANS = {
    name: (QUANTITIES[quantity].lowest, QUANTITIES[quantity].highest)
    for name, quantity in {
        "temperature_c": "temperature_c",
        "dew_point_c": "dew_point_c",
        "wind_10m_m_per_s": "wind_10m_m_per_s",
        "radiation_w_m2": "radiation_w_m2",
        "rain_mm": "rain_hour_mm",
        "tmin_c": "tmin_c",
        "tmax_c": "tmax_c",
    }.items()
} | {"cloud_fraction": (0.0, 1.0), "et0_mm": ET0_HOUR_MM}
_SUMS = frozenset({"rain_mm", "et0_mm"})


class Rows(NamedTuple):
    """Sound rows: one for each moment, rising; NaN where nothing is known, or nothing that can be.

    A row of 0 hours is the last before a hole: what it began nobody has said. What was found wrong with them is in
    `findings`, in words.
    """

    begins_s: Floats  # seconds of UTC since 1970
    hours: NDArray[np.int64]
    columns: dict[str, Floats]  # those that the answer has
    findings: tuple[str, ...] = ()


def sound_rows(table: HourTable, service: str) -> Rows:
    """Rows in order, each value held to what it can be.

    Parameters
    ----------
    table
        As a service's parser made it.
    service
        Whose it is, for what is said of it.

    Raises
    ------
    WeatherError
        Kind "rubbish": no rows, years that cannot be, or a column of which more than a tenth
        cannot be.
    """
    if not table.begins:
        raise _rubbish(service, "it has no hours")
    begins_s, first_of, findings = _in_order(table.begins, service)
    columns = {
        name: _numbers(column)[first_of]
        for name, column in table._asdict().items()
        if name != "begins" and column
    }
    hours = _lengths(begins_s)
    findings += _drop_what_cannot_be(columns, hours, service)
    return _without_unsaid_ends(Rows(begins_s, hours, columns, tuple(findings)))


def _in_order(
    begins: Sequence[datetime], service: str
) -> tuple[Floats, NDArray[np.intp], list[str]]:
    """Moments rising, the places of their rows in the answer, and what was wrong."""
    if not all(begin.year in YEARS for begin in (min(begins), max(begins))):
        wrong = next(begin for begin in begins if begin.year not in YEARS)
        raise _rubbish(service, f"an hour of it lies in the year {wrong.year}")
    seconds = np.array([begin.timestamp() for begin in begins])
    rising, first_of = np.unique(seconds, return_index=True)  # of equal ones the first
    findings = []
    if twice := len(seconds) - len(rising):
        findings.append(f"{counted(twice, 'hour')} came twice: the first of each counts")
    if np.any(np.diff(seconds) < 0):
        findings.append("the hours came out of order and were sorted")
    return rising, first_of, findings


def _numbers(column: Column) -> Floats:
    values = np.array(column, dtype=float)
    values[np.isinf(values)] = np.nan
    return values + 0.0  # no negative zero


def _lengths(begins_s: Floats) -> NDArray[np.int64]:
    """Hours of each row, 0 before a hole; the last lasts as long as the one before."""
    hours = np.diff(begins_s) / HOUR_S
    hours = np.append(hours, hours[-1:] if len(hours) else 1.0)
    whole = (hours == np.round(hours)) & (hours <= LONGEST_ROW_H)
    lengths: NDArray[np.int64] = np.where(whole, hours, 0).astype(np.int64)
    if len(lengths) > 1 and not whole[-2]:
        lengths[-1] = 1  # behind a hole
    return lengths


def _drop_what_cannot_be(
    columns: dict[str, Floats], hours: NDArray[np.int64], service: str
) -> list[str]:
    """Make NaN, in `columns` itself, of what cannot be; what was dropped, in words."""
    dropped = {}
    bad = {name: _outside(name, column, hours) for name, column in columns.items()}
    for low, high, slack in (("dew_point_c", "temperature_c", SLACK_C), ("tmin_c", "tmax_c", 0.0)):
        if low in columns and high in columns:
            bad[low] |= columns[low] > columns[high] + slack
    for name, wrong in bad.items():
        said, count = int(np.sum(~np.isnan(columns[name]))), int(wrong.sum())
        if count > 1 and count > MOST_BAD_SHARE * said:
            raise _rubbish(service, f"{count} of {said} values of {_WORDS[name]} cannot be right")
        columns[name][wrong] = np.nan
        if count:
            dropped[_WORDS[name]] = count
    if not dropped:
        return []
    listed = ", ".join(f"{words} {count}" for words, count in dropped.items())
    return [f"values that cannot be right were left out: {listed}"]


def _outside(name: str, column: Floats, hours: NDArray[np.int64]) -> NDArray[np.bool_]:
    low, high = _SPANS[name]
    times = np.maximum(hours, 1) if name in _SUMS else 1
    outside: NDArray[np.bool_] = (column < low * times) | (column > high * times)
    return outside


def _without_unsaid_ends(rows: Rows) -> Rows:
    """Rows without those at either end of which nothing is known, as beyond a forecast's end."""
    if not rows.columns:
        return rows
    known = np.flatnonzero(~np.isnan(np.array(list(rows.columns.values()))).all(axis=0))
    if not len(known):
        return rows
    kept = slice(known[0], known[-1] + 1)
    columns = {name: column[kept] for name, column in rows.columns.items()}
    return rows._replace(begins_s=rows.begins_s[kept], hours=rows.hours[kept], columns=columns)


def _rubbish(service: str, say: str) -> WeatherError:
    return WeatherError(service, "rubbish", say)
