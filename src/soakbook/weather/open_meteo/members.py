"""The futures of Open-Meteo's ensemble: rain and evaporation of whole local days in each future of one model.

A member is a whole future: its rain and its evaporation stay together. What to ask, and what a
column must be, is in `asking` and `hourly`.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, tzinfo
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.errors import WeatherError
from soakbook.garden.weather import WeatherSeries
from soakbook.quantities.names import QUANTITIES
from soakbook.weather.hour_rows import ET0_HOUR_MM, MOST_BAD_SHARE
from soakbook.weather.open_meteo.asking import ENSEMBLE_MODEL, ET0, RAIN, SERVICE, UNITS
from soakbook.weather.open_meteo.hourly import HOUR, Body, check_column, hourly_of, times_of
from soakbook.weather.wall_clock import Floats, wall_days

SCALE_BOUNDS = (0.7, 1.2)  # of ours over theirs. common practice, no source
ET0_DECIMALS, RAIN_DECIMALS = 3, 2

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


def check_members(body: Body) -> None:
    """Raise `ValueError`, saying why, for a body that is no answer with futures.

    Rain must be there in two futures at least and say something; evaporation must be there, and
    may say nothing.

    Raises
    ------
    WeatherError
        Kind "rubbish": more than a tenth of the values cannot be right.
    """
    futures = _checked(body)
    for variable, columns in ((RAIN, futures.rain), (ET0, futures.et0)):
        _array(columns, variable)


def members(body: Body, zone: tzinfo, first_day: date, issue: Issue) -> tuple[WeatherSeries, ...]:
    """Rain and evaporation of each local day in every future, the control first.

    A day is there where all its hours are known in all futures. Where the model says nothing of
    evaporation there is rain alone; where futures lack one of the two, those that have both count.

    Parameters
    ----------
    body
        The answer as parsed; `ValueError` as by `check_members`.
    zone
        The garden's.
    first_day
        Days before it are left out.
    issue
        What all series share.

    Raises
    ------
    WeatherError
        As by `check_members`.
    """
    futures = _checked(body)
    said = {RAIN: _array(futures.rain, RAIN)}
    et0_mm = _array(futures.et0, ET0)
    both = [member for member in futures.rain if member in futures.et0]
    if len(both) > 1 and not np.isnan(et0_mm).all():
        said = {
            RAIN: said[RAIN][[list(futures.rain).index(member) for member in both]],
            ET0: et0_mm[[list(futures.et0).index(member) for member in both]],
        }
    begins_s, kept = _hours(futures.labels)
    series = []
    for day, place, whole in wall_days(begins_s, zone):
        if not whole or day < first_day:
            continue
        for variable, array in said.items():
            ours, decimals = _VARIABLES[variable]
            sums = array[:, kept[place]].sum(axis=1)
            if not np.isnan(sums).any():
                numbers = tuple((np.round(sums, decimals) + 0.0).tolist())
                series.append(_series(day, ours, numbers, issue))
    return tuple(series)


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


class _Futures(NamedTuple):
    """The columns of an answer by member, the control, 0, first, and the labels of their hours."""

    labels: tuple[datetime, ...]
    rain: dict[int, list[object]]
    et0: dict[int, list[object]]


def _checked(body: Body) -> _Futures:
    """Columns that are what was asked for; `ValueError` where they are not."""
    hourly, units = hourly_of(body)
    rain, et0 = _names(hourly, RAIN), _names(hourly, ET0)
    if len(rain) < 2:
        raise ValueError(f"{RAIN} in {len(rain)} futures: fewer than two")
    if not et0:
        raise ValueError(f"no column {ET0}")
    for variable, columns in ((RAIN, rain), (ET0, et0)):
        for name in columns.values():
            check_column(hourly, units, name, UNITS[variable])
    if all(value is None for name in rain.values() for value in hourly[name]):
        raise ValueError(f"{RAIN} says nothing for this place")
    columns_of = ({member: hourly[name] for member, name in names.items()} for names in (rain, et0))
    return _Futures(times_of(hourly), *columns_of)


def _names(hourly: Mapping[str, object], variable: str) -> dict[int, str]:
    """Member -> the name of its column. Behind the member's number a model's name may stand."""
    found = {0: variable} if variable in hourly else {}
    for name in hourly:
        if name.startswith(variable) and (said := _MEMBER.match(name, len(variable))):
            found.setdefault(int(said[1]), name)
    return dict(sorted(found.items()))


def _array(columns: Mapping[int, list[object]], variable: str) -> Floats:
    """Values (member, hour), NaN where there is none or none that can be."""
    array = np.array(list(columns.values()), dtype=float)
    low, high = _SPANS[variable]
    bad = (array < low) | (array > high)
    if (count := int(bad.sum())) > MOST_BAD_SHARE * np.sum(~np.isnan(array)):
        say = f"{count} values of {variable} in its futures cannot be right"
        raise WeatherError(SERVICE, "rubbish", say)
    array[bad] = np.nan
    return array


def _hours(labels: Sequence[datetime]) -> tuple[Floats, NDArray[np.intp]]:
    """When each hour began whose end is labelled, rising, and its place in the columns."""
    begins_s = np.array([(label - HOUR).timestamp() for label in labels])
    return np.unique(begins_s, return_index=True)


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
