"""The futures of Open-Meteo's ensemble: rain and evaporation of whole local days in each future of one model.

A member is a whole future: its rain and its evaporation stay together. What to ask, and what a
column must be, is in `asking` and `hourly`.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, tzinfo
from math import isnan
from operator import attrgetter
from typing import NamedTuple

import numpy as np

from soakbook.errors import WeatherError
from soakbook.garden.weather import WeatherSeries
from soakbook.quantities.names import QUANTITIES
from soakbook.weather.hour_rows import ET0_HOUR_MM, MOST_BAD_SHARE
from soakbook.weather.open_meteo.asking import ENSEMBLE_MODEL, ET0, RAIN, SERVICE, UNITS
from soakbook.weather.open_meteo.hourly import Body, column_of, hourly_of, times_of
from soakbook.weather.wall_clock import HOUR_S, Floats, WallDay, wall_days

SCALE_BOUNDS = (0.7, 1.2)  # of ours over theirs. common practice, no source
ET0_DECIMALS, RAIN_DECIMALS, HOUR_DECIMALS = 3, 2, 3

_MEMBER = re.compile(r"_member(\d+)")
_SPANS = {
    RAIN: (0.0, QUANTITIES["rain_hour_mm"].highest),
    ET0: ET0_HOUR_MM,
}
_VARIABLES = {RAIN: ("rain_mm", RAIN_DECIMALS), ET0: ("et0_mm", ET0_DECIMALS)}


class Issue(NamedTuple):
    """Whose series these are, when they came, and when the service made them."""

    fetched_at: datetime
    issued_at: datetime
    source: str = SERVICE


class Futures(NamedTuple):
    """What the hours of an answer bring in each of its futures, the control first; NaN where that is not known."""

    begins_s: Floats  # when each hour begins, rising [seconds of UTC since 1970]
    variables: tuple[str, ...]
    amounts_mm: Floats  # (variable, member, hour)
    silent: int = 0
    """How many futures said nothing and are not among them."""


def futures_of(body: Body) -> Futures:
    """The hours of an answer with futures; a `ValueError` says why a body is none.

    Rain must be there in two futures at least and say something; evaporation must be there, and
    may say nothing: then there is rain alone. Where futures lack one of the two, those that have
    both count; one that says nothing of its rain is left out.

    Raises
    ------
    WeatherError
        Kind "rubbish": more than a tenth of the values cannot be right.
    """
    hourly, units = hourly_of(body)
    rain, et0 = _names(hourly, RAIN), _names(hourly, ET0)
    if len(rain) < 2:
        raise ValueError(f"{RAIN} in {len(rain)} futures: fewer than two")
    if not et0:
        raise ValueError(f"no column {ET0}")
    rain_mm, et0_mm = (
        _array([column_of(hourly, units, name, UNITS[variable]) for name in names], variable)
        for variable, names in ((RAIN, rain.values()), (ET0, et0.values()))
    )
    tells = np.array([not np.isnan(one).all() for one in rain_mm])
    if tells.sum() < 2:
        raise ValueError(f"{RAIN} says nothing for this place")
    variables: tuple[str, ...] = (RAIN,)
    amounts_mm = rain_mm[np.newaxis, tells]
    both = [
        member for member, told in zip(rain, tells.tolist(), strict=True) if told and member in et0
    ]
    if len(both) > 1 and not np.isnan(et0_mm).all():
        variables = (RAIN, ET0)
        amounts_mm = np.stack([rain_mm[np.isin([*rain], both)], et0_mm[np.isin([*et0], both)]])
    ends_s = [label.timestamp() for label in times_of(hourly)]
    rising_s, first_of = np.unique(ends_s, return_index=True)
    silent = int(np.sum(~tells))
    return Futures(rising_s - HOUR_S, variables, amounts_mm[:, :, first_of], silent)


def members(
    futures: Futures, zone: tzinfo, first_day: date, issue: Issue
) -> tuple[WeatherSeries, ...]:
    """Rain and evaporation of each local day in every future.

    A day is there where all its hours are known in all futures.

    Parameters
    ----------
    futures
        By the hour.
    zone
        The garden's.
    first_day
        Days before it are left out.
    issue
        What all series share.
    """
    days = _whole_days(futures, zone, first_day)
    series = []
    for variable, amounts_mm in zip(futures.variables, futures.amounts_mm, strict=True):
        name, decimals = _VARIABLES[variable]
        sums_mm = np.array([amounts_mm[:, one.hours].sum(axis=1) for one in days])
        rounded_mm = (np.round(sums_mm, decimals) + 0.0).tolist()  # no negative zero
        series += [
            _series(one.day, name, tuple(numbers), issue)
            for one, numbers in zip(days, rounded_mm, strict=True)
            if not any(map(isnan, numbers))
        ]
    return tuple(sorted(series, key=attrgetter("day")))


def mean_hours(
    futures: Futures, zone: tzinfo, first_day: date, issue: Issue
) -> Iterator[WeatherSeries]:
    """The hours of each day's rain in the mean of the futures; parameters as of `members`."""
    rain_mm = futures.amounts_mm[futures.variables.index(RAIN)]
    mean_mm = np.round(rain_mm.mean(axis=0), HOUR_DECIMALS) + 0.0
    for one in _whole_days(futures, zone, first_day):
        numbers = tuple(mean_mm[one.hours].tolist())
        if not any(map(isnan, numbers)):
            series = _series(one.day, "rain_mm", numbers, issue)
            yield series._replace(of="mean hours", method=f"mean of {len(rain_mm)} futures")


def scaled_members(
    series: Iterable[WeatherSeries],
    ours_mm: Mapping[date, float],
    theirs_mm: Mapping[date, float],
) -> tuple[WeatherSeries, ...]:
    """The same futures with their evaporation brought to how we reckon it.

    Their evaporation is summed from hours and comes out otherwise than ours: each day's is
    multiplied by ours over theirs of that day in the forecast, within 0.7 and 1.2. A day of which
    the futures have rain alone has our evaporation in every one of them.

    Parameters
    ----------
    series
        As from `members`.
    ours_mm, theirs_mm
        Evaporation of the days of the forecast [mm], as `reference_et` has it and as the service
        itself says.
    """
    series = tuple(series)
    with_et0 = {one.day for one in series if one.variable == "et0_mm"}
    scaled = []
    for one in series:
        scaled.append(one if one.variable != "et0_mm" else _scaled(one, ours_mm, theirs_mm))
        if one.variable == "rain_mm" and one.day not in with_et0 and one.day in ours_mm:
            same = (round(ours_mm[one.day], ET0_DECIMALS),) * len(one.numbers)
            alike = "as in the forecast, the same in every future"
            scaled.append(one._replace(variable="et0_mm", numbers=same, method=alike))
    return tuple(scaled)


def _whole_days(futures: Futures, zone: tzinfo, first_day: date) -> list[WallDay]:
    return [one for one in wall_days(futures.begins_s, zone) if one.whole and one.day >= first_day]


def _names(hourly: Mapping[str, object], variable: str) -> dict[int, str]:
    """Member -> the name of its column. Behind the member's number a model's name may stand."""
    found = {0: variable} if variable in hourly else {}
    for name in hourly:
        if name.startswith(variable) and (said := _MEMBER.match(name, len(variable))):
            found.setdefault(int(said[1]), name)
    return dict(sorted(found.items()))


def _array(columns: list[list[float | None]], variable: str) -> Floats:
    """Values (member, hour), NaN where there is none or none that can be."""
    array = np.array(columns, dtype=float)
    low, high = _SPANS[variable]
    bad = (array < low) | (array > high)
    if (count := int(bad.sum())) > MOST_BAD_SHARE * np.sum(~np.isnan(array)):
        say = f"{count} values of {variable} in its futures cannot be right"
        raise WeatherError(SERVICE, "rubbish", say)
    array[bad] = np.nan
    return array


def _series(day: date, variable: str, numbers: tuple[float, ...], issue: Issue) -> WeatherSeries:
    return WeatherSeries(
        day,
        "members",
        variable,
        numbers,
        issue.source,
        "forecast",
        issue.fetched_at,
        issue.issued_at,
        f"{len(numbers)} futures of {ENSEMBLE_MODEL}",
    )


def _scaled(
    one: WeatherSeries, ours_mm: Mapping[date, float], theirs_mm: Mapping[date, float]
) -> WeatherSeries:
    ours, theirs = ours_mm.get(one.day), theirs_mm.get(one.day, 0.0)
    if ours is None or theirs <= 0:
        return one
    low, high = SCALE_BOUNDS
    factor = min(max(ours / theirs, low), high)
    numbers = tuple(round(number * factor, ET0_DECIMALS) for number in one.numbers)
    return one._replace(
        numbers=numbers, method=f"{one.method}; times {factor:.2f}, ours over theirs"
    )
