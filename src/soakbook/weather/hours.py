"""From a service's hours to days of the garden's own zone, and from these to what the book keeps.

A day is what the clock on the wall says it is: 23, 24 or 25 hours, a row of the answer in the day
that holds its middle, a row of several hours cut into hours first. What single values can be is in
`hour_rows`; what each service calls its columns is in the service's own file.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, tzinfo
from math import isnan, nan
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.quantities.conversions import mj_m2_hour_from_w_m2
from soakbook.quantities.names import QUANTITIES
from soakbook.weather.days import spans
from soakbook.weather.hour_rows import Rows
from soakbook.weather.reference_et import DayInputs, Site, saturation_vapour_pressure, wind_at_2m
from soakbook.weather.sanity import most_of_a_day
from soakbook.weather.wall_clock import HOUR_S, Floats, WallDay, wall_days

WIND_HEIGHT_M = 10.0
MOST_FILLED = 3  # instants of a day, and running
LONGEST_BETWEEN_H = 24  # two instants, for one to be taken from them

FILLED = "an hour or more between its neighbours"
NO_METHODS: Mapping[str, str] = MappingProxyType({})

_AIR = ("temperature_c", "dew_point_c", "wind_10m_m_per_s")
_INSTANTS = (*_AIR, "cloud_fraction")
_HOLE = "hours of it are missing"
_NO_RAIN = "an hour's rain is missing, which is not the same as dry"
_NO_SUN = "an hour's radiation is missing, or the day has more than the sky can send"
_NO_AIR = f"more than {MOST_FILLED} hours of temperature, dew point or wind are missing"
_TOO_WET = "more rain than a day can bring"


class LocalDay(NamedTuple):
    """One whole day of the garden's zone.

    `inputs` lacks what the service never says. `own_et0_mm` is the service's own, for a check.
    `methods` says of a variable in a gardener's words how it was made, where `told_of` does not
    know it: of radiation from cloud, for one.
    """

    day: date
    inputs: DayInputs
    rain_mm: float
    rain_by_hour_mm: tuple[float, ...]  # from local midnight on
    own_et0_mm: float | None = None
    filled: bool = False
    methods: Mapping[str, str] = NO_METHODS


class BegunDay(NamedTuple):
    """The day in which an answer begins, from one of its hours on."""

    day: date
    from_hour: int
    rain_by_hour_mm: tuple[float, ...]  # from local midnight on; 0 in the hours before


class LocalDays(NamedTuple):
    """The whole days of an answer in order, and what a gardener should know of the others."""

    days: tuple[LocalDay, ...]
    findings: tuple[str, ...] = ()
    begun: BegunDay | None = None


def days_of(rows: Rows, zone: tzinfo, site: Site) -> LocalDays:
    """The whole local days in a service's hours.

    Parameters
    ----------
    rows
        Of 1 to 6 whole hours, as from `sound_rows`.
    zone
        The garden's.
    site
        Where: the sun's height bounds the radiation of a day.

    Returns
    -------
    LocalDays
        Days of which every hour's rain and radiation is known, and all but three instants of
        temperature, dew point and wind; those are taken between their neighbours, in a straight
        line, and `filled` says so. A column that is empty throughout makes no day less whole: it
        is `None` in the inputs. Of the first day, where the answer begins within it, the rain of
        the rest is `begun`; of the last, where it ends within it, nothing is said.

    Notes
    -----
    Vapour pressure is the mean of e°(dew point) over the hours (FAO-56 eq 14, 11), wind the mean
    over the hours brought to 2 m (eq 47), radiation the sum of its hours. The lowest humidity is
    that of the hours, e°(dew point) over e°(temperature) (eq 10).
    """
    findings = rows.findings
    if not rows.hours.any():
        return LocalDays((), (*findings, "no two of the hours follow one another"))
    hours = _hours_of(rows)
    left_out: defaultdict[str, list[date]] = defaultdict(list)
    whole = []
    days = wall_days(hours.begins_s, zone)
    ends = (days[0].day, days[-1].day)
    for wall_day, sums in _with_sums(hours, days):
        fault = _fault(wall_day, sums)
        if not fault:
            whole.append(_day(wall_day, hours, sums))
        elif fault != _HOLE or wall_day.day not in ends:  # an answer begins and ends within a day
            left_out[fault].append(wall_day.day)
    found = _within_the_sky(whole, site, left_out)
    filled = [one.day for one in found if one.filled]
    findings += tuple(f"left out, {spans(gone)}: {why}" for why, gone in left_out.items() if gone)
    if filled:
        findings += (f"{FILLED}, on {spans(filled)}",)
    return LocalDays(tuple(found), findings, _begun(days[0], hours))


class _Hours(NamedTuple):
    """The rows cut into hours; NaN where nothing is known."""

    begins_s: Floats
    columns: dict[str, Floats]  # those of the rows, and vapour pressure where there is a dew point
    unsaid: dict[str, NDArray[np.bool_]]  # instants that the answer should have had and has not
    lowest_c: Floats
    highest_c: Floats
    rh_percent: Floats


_Sums = Mapping[str, float]
"""Of a day's hours, by column: NaN where one of them is not known."""


def _hours_of(rows: Rows) -> _Hours:
    row = np.repeat(np.arange(len(rows.hours)), rows.hours)
    first_of_row = np.repeat(np.cumsum(rows.hours) - rows.hours, rows.hours)
    into_row = np.arange(len(row)) - first_of_row
    begins_s = rows.begins_s[row] + into_row * HOUR_S
    columns, unsaid = {}, {}
    for name, column in rows.columns.items():
        if name in _INSTANTS:
            columns[name] = _between_neighbours(begins_s, rows.begins_s, column)
            unsaid[name] = np.isnan(column)[row] & (into_row == 0)
        elif name in ("tmin_c", "tmax_c"):  # with the hour that holds the row's middle
            columns[name] = np.where(into_row == rows.hours[row] // 2, column[row], np.nan)
        else:
            shared = rows.hours[row] if name in ("rain_mm", "et0_mm") else 1
            columns[name] = column[row] / shared
    unknown = np.full(len(begins_s), np.nan)
    temperature_c = columns.get("temperature_c", unknown)
    ea_kpa = rh_percent = unknown
    if "dew_point_c" in columns:
        ea_kpa = columns["vapour_pressure_kpa"] = _saturation_kpa(columns["dew_point_c"])
        rh_percent = np.minimum(100.0, 100.0 * ea_kpa / _saturation_kpa(temperature_c))
    return _Hours(
        begins_s,
        columns,
        unsaid,
        np.fmin(temperature_c, columns.get("tmin_c", unknown)),
        np.fmax(temperature_c, columns.get("tmax_c", unknown)),
        rh_percent,
    )


def _between_neighbours(at_s: Floats, begins_s: Floats, column: Floats) -> Floats:
    """Instants at each hour, in a straight line between those known; NaN where these lie far."""
    known = np.flatnonzero(~np.isnan(column))
    if len(known) == len(column) and np.array_equal(at_s, begins_s):
        return column
    if not len(known):
        return np.full(len(at_s), np.nan)
    times_s = begins_s[known]
    before = np.searchsorted(times_s, at_s, side="right") - 1
    after = np.searchsorted(times_s, at_s)
    inside = (before >= 0) & (after < len(known))
    before, after = np.maximum(before, 0), np.minimum(after, len(known) - 1)
    near = (known[after] - known[before] <= MOST_FILLED + 1) & (
        times_s[after] - times_s[before] <= LONGEST_BETWEEN_H * HOUR_S
    )
    return np.where(inside & near, np.interp(at_s, times_s, column[known]), np.nan)


def _saturation_kpa(temperature_c: Floats) -> Floats:
    return np.array(saturation_vapour_pressure(temperature_c.tolist()))


def _with_sums(hours: _Hours, days: Sequence[WallDay]) -> Iterator[tuple[WallDay, _Sums]]:
    """Each day with the sums of its columns, and how many instants of each are `unsaid`."""
    names = [*hours.columns, *map(_unsaid, hours.unsaid)]
    columns = np.array([*hours.columns.values(), *hours.unsaid.values()])
    for one in days:
        yield one, dict(zip(names, columns[:, one.hours].sum(axis=1).tolist(), strict=True))


def _unsaid(name: str) -> str:
    return f"unsaid {name}"


def _fault(wall_day: WallDay, sums: _Sums) -> str | None:
    """Why a day is not whole, in words; None if it is."""
    if not wall_day.whole:
        return _HOLE
    if isnan(sums.get("rain_mm", nan)):
        return _NO_RAIN
    if isnan(sums.get("radiation_w_m2", 0.0)):
        return _NO_SUN
    for name in _AIR:
        if name in sums and (sums[_unsaid(name)] > MOST_FILLED or isnan(sums[name])):
            return _NO_AIR
    if sums["rain_mm"] > QUANTITIES["rain_mm"].highest:
        return _TOO_WET
    return None


def _day(wall_day: WallDay, hours: _Hours, sums: _Sums) -> LocalDay:
    day, place = wall_day.day, wall_day.hours
    rain_by_hour_mm = hours.columns["rain_mm"][place].tolist()
    means = {name: total / len(rain_by_hour_mm) for name, total in sums.items()}
    wind_10m = _known(means.get("wind_10m_m_per_s", nan))
    radiation_w_m2 = _known(sums.get("radiation_w_m2", nan))
    return LocalDay(
        day,
        DayInputs(
            day,
            tmin_c=_known(float(np.fmin.reduce(hours.lowest_c[place]))),
            tmax_c=_known(float(np.fmax.reduce(hours.highest_c[place]))),
            tmean_c=_known(means.get("temperature_c", nan)),
            vapour_pressure_kpa=_known(means.get("vapour_pressure_kpa", nan)),  # (14)
            rhmin_percent=_known(float(hours.rh_percent[place].min())),
            radiation_mj_m2_day=None
            if radiation_w_m2 is None
            else mj_m2_hour_from_w_m2(radiation_w_m2),
            cloud_fraction=_known(means.get("cloud_fraction", nan)),
            wind_2m_m_per_s=None if wind_10m is None else wind_at_2m(wind_10m, WIND_HEIGHT_M),
        ),
        rain_mm=sums["rain_mm"],
        rain_by_hour_mm=tuple(rain_by_hour_mm),
        own_et0_mm=_known(sums.get("et0_mm", nan)),
        filled=any(sums.get(_unsaid(name), 0) for name in _AIR),
    )


def _begun(first: WallDay, hours: _Hours) -> BegunDay | None:
    if not first.from_hour:
        return None
    rest_mm = hours.columns["rain_mm"][first.hours]
    if np.isnan(rest_mm).any():
        return None
    return BegunDay(first.day, first.from_hour, (*[0.0] * first.from_hour, *rest_mm.tolist()))


def _known(value: float) -> float | None:
    return None if isnan(value) else value


def _within_the_sky(
    whole: list[LocalDay], site: Site, left_out: defaultdict[str, list[date]]
) -> list[LocalDay]:
    """Days that have no more radiation than the sky can send; the others go to `left_out`."""
    if not whole or whole[0].inputs.radiation_mj_m2_day is None:
        return whole
    most = most_of_a_day("radiation_mj_m2_day", {one.day: {} for one in whole}, site)
    bright = {
        one.day
        for one, limit in zip(whole, most, strict=True)
        if (one.inputs.radiation_mj_m2_day or 0.0) > limit
    }
    left_out[_NO_SUN].extend(sorted(bright))
    return [one for one in whole if one.day not in bright]
