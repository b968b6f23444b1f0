"""What weather cannot be: faults that stop an import, and findings that a gardener should know of.

Bounds of single values are in `quantities.names`; here is what only the day as a whole, or the file
as a whole, can show. Nothing is mended here.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby

from soakbook.errors import InputError
from soakbook.quantities import names
from soakbook.weather.columns import QUANTITIES, Column
from soakbook.weather.days import spans
from soakbook.weather.gaps import Days
from soakbook.weather.reference_et import (
    Site,
    daylight_hours,
    extraterrestrial_radiation,
    saturation_vapour_pressure,
)

SLACK_C = 0.5  # of dew point over air temperature: two instruments. common practice, no source
RADIATION_SLACK = 1.1  # of radiation over what comes from above the air
RADIATION_SLACK_MJ = 0.5  # twilight where the sun hardly rises. common practice, no source
SUNSHINE_SLACK_H = 1.0  # refraction near the polar circle. common practice, no source
STUCK_DAYS = 10  # running, at one value: a stopped instrument. common practice, no source
FEWEST_DAYS_OF_A_MEAN = 3
WETTEST_MEAN_MM = (
    60.0  # of days with rain; the wettest stations have 40. common practice, no source
)
WINDIEST_MEAN_M_PER_S = 12.0  # at 2 m; windy coasts have 8. common practice, no source


def check_days(days: Days, columns: Mapping[str, Column], site: Site) -> None:
    """Refuse what cannot be right, naming the first day on which it is not.

    Parameters
    ----------
    days
        What was read, in our units.
    columns
        Variable -> the column it came from.
    site
        Where: the sun's height bounds radiation and sunshine.

    Raises
    ------
    InputError
        The lowest of a day above its highest; air damper than it can be; more sun than there is; a
        whole file that looks as if it were in another unit.
    """
    for variable in ("tmax_c", "tmean_c", "tmin_c"):
        _check_mean(days, columns.get(variable), lambda known: _hottest_mean(known, site))
    _check_mean(days, columns.get("wind_2m_m_per_s"), lambda _known: WINDIEST_MEAN_M_PER_S)
    _check_rain_is_in_inches(days, columns.get("rain_mm"))
    _check_humidity_is_in_per_cent(days, columns)
    _check_order(days, columns, "tmin_c", "tmax_c")
    _check_order(days, columns, "rhmin_percent", "rhmax_percent")
    for variable, (most, right) in _MOST_OF_A_DAY.items():
        if variable in columns:
            _check_against(days, columns[variable], most(days, site), right)


def most_of_a_day(variable: str, days: Days, site: Site) -> Sequence[float]:
    """The most that a variable of `BOUNDED` can be on each day."""
    return _MOST_OF_A_DAY[variable][0](days, site)


def instrument_findings(days: Days) -> tuple[str, ...]:
    """Signs of an instrument that has stopped: wind that never moves, humidity stuck at the top."""
    findings = [
        f"wind stood at one value on {spans(run)}: likely a stuck cup"
        for run in _runs(days, "wind_2m_m_per_s", lambda value: value)
    ]
    findings += [
        f"humidity never left the top on {spans(run)}: likely a wet or worn sensor"
        for run in _runs(days, "rh_mean_percent", lambda value: True if value >= 99.5 else None)
    ]
    return tuple(findings)


def _check_mean(days: Days, column: Column | None, most: Callable[[list[date]], float]) -> None:
    """Refuse a file whose mean tells of another unit."""
    if column is None:
        return
    variable = QUANTITIES[column.quantity].variable
    known = {day: values[variable] for day, values in days.items() if variable in values}
    if len(known) < FEWEST_DAYS_OF_A_MEAN:
        return
    mean, limit = math.fsum(known.values()) / len(known), most(list(known))
    if mean > limit:
        raise InputError(
            f"mean of column {column.header!r}",
            _with_unit(column, mean),
            f"at most {_with_unit(column, limit)} here at that season{column.hint_when_too_high}",
        )


def _hottest_mean(days: list[date], site: Site) -> float:
    """Mean temperature that no place passes: 20 °C + 0.9 °C for each MJ/m2 above the air.

    Places with the hottest days (Kuwait in July, the Sahel in April) stay 8 °C below the line,
    while a British file in Fahrenheit lies above it in every month. (common practice, no source)
    """
    above_air = extraterrestrial_radiation(days, site.latitude_deg)
    return 20.0 + 0.9 * math.fsum(above_air) / len(above_air)


def _check_rain_is_in_inches(days: Days, column: Column | None) -> None:
    """Refuse inches by which a wet day brings more than any climate does: they are millimetres."""
    if column is None or column.unit != "in":
        return
    wet = [day["rain_mm"] for day in days.values() if day.get("rain_mm", 0.0) > 0]
    mean = math.fsum(wet) / len(wet) if wet else 0.0
    if mean > WETTEST_MEAN_MM:
        say = replace(column, unit="mm").text
        raise InputError(
            f"mean of the wet days in column {column.header!r}",
            _with_unit(column, mean),
            f"at most {WETTEST_MEAN_MM:g} mm; these look like mm said as inches: say {say}",
        )


def _check_humidity_is_in_per_cent(days: Days, columns: Mapping[str, Column]) -> None:
    for variable in ("rh_mean_percent", "rhmin_percent", "rhmax_percent"):
        highest = max((day[variable] for day in days.values() if variable in day), default=100.0)
        if highest <= 1.01:
            header = columns[variable].header
            raise InputError(f"highest of column {header!r}", highest, "per cent, 85 for 0.85")


def _check_order(days: Days, columns: Mapping[str, Column], low: str, high: str) -> None:
    for day, values in days.items():
        if low in values and high in values and values[low] > values[high]:
            most = _with_unit(columns[high], values[high])
            raise InputError(
                _where(columns[low], day),
                _with_unit(columns[low], values[low]),
                f"at most {most}, which is {columns[high].header!r} of that day",
            )


def _check_against(days: Days, column: Column, most: Sequence[float], right: str) -> None:
    variable = QUANTITIES[column.quantity].variable
    for (day, values), limit in zip(days.items(), most, strict=True):
        if values.get(variable, -math.inf) > limit:
            raise InputError(
                _where(column, day),
                _with_unit(column, values[variable]),
                f"at most {_with_unit(column, limit)}, {right}{column.hint_when_too_high}",
            )


def _warmest(days: Days, _site: Site) -> list[float]:
    """Temperature of the air at most, so far as the file has it; the hottest there is where not."""
    hottest = names.QUANTITIES["temperature_c"].highest
    known = [values.get("tmean_c", values.get("tmax_c", hottest)) for values in days.values()]
    return [temperature_c + SLACK_C for temperature_c in known]


def _saturation(days: Days, site: Site) -> Sequence[float]:
    """What the air holds at its mean, or by the mean of night and noon (FAO-56 eq 12), which is more."""
    at_mean = saturation_vapour_pressure(_warmest(days, site))
    either = [
        saturation_vapour_pressure([day.get(name, -60.0) + SLACK_C for day in days.values()])
        for name in ("tmin_c", "tmax_c")
    ]
    return [max(mean, (low + high) / 2) for mean, low, high in zip(at_mean, *either, strict=True)]


def _radiation(days: Days, site: Site) -> list[float]:
    above_air = extraterrestrial_radiation(list(days), site.latitude_deg)
    return [RADIATION_SLACK * value + RADIATION_SLACK_MJ for value in above_air]


def _daylight(days: Days, site: Site) -> list[float]:
    return [hours + SUNSHINE_SLACK_H for hours in daylight_hours(list(days), site.latitude_deg)]


_MOST_OF_A_DAY: dict[str, tuple[Callable[[Days, Site], Sequence[float]], str]] = {
    "dew_point_c": (_warmest, "about the warmth of the air"),
    "vapour_pressure_kpa": (_saturation, "all that the air can hold"),
    "radiation_mj_m2_day": (_radiation, "all that the sky can send"),
    "sunshine_h": (_daylight, "from sunrise to sunset"),
}

BOUNDED = tuple(_MOST_OF_A_DAY)
"""Variables that the air or the sun bound from day to day."""


def _where(column: Column, day: date) -> str:
    return f"{QUANTITIES[column.quantity].words} on {day}, column {column.header!r}"


def _with_unit(column: Column, value: float) -> str:
    """Value in our unit, to be read beside a column that may be in another."""
    return f"{value:.3g} {names.QUANTITIES[QUANTITIES[column.quantity].span].unit}"


def _runs(days: Days, variable: str, mark: Callable[[float], object]) -> Iterator[list[date]]:
    """Long runs of days on which a value keeps the same mark; `None` marks none."""
    known = [(day, mark(values[variable])) for day, values in days.items() if variable in values]
    for kept, group in groupby(known, key=lambda item: item[1]):
        run = [day for day, _ in group]
        if kept is not None and len(run) >= STUCK_DAYS:
            yield run
