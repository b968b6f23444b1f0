"""A record's weather, day by day: rain, reference evaporation, and what limits evaporation.

Read by the same reader as a garden's weather file. Reference evaporation is reckoned by FAO-56 on every
day that allows it; where the air's dryness was measured as such it is taken as it is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import NamedTuple

import numpy as np

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.skies import RECENT_DAYS, kc_max_of
from soakbook.truth.columns import Columns
from soakbook.truth.mending import mended
from soakbook.truth.record import Record
from soakbook.truth.sheet import Sheet
from soakbook.truth.toml_words import in_toml_words
from soakbook.weather.files import read_weather_table
from soakbook.weather.reference_et import (
    DayInputs,
    reference_et,
    saturation_vapour_pressure,
)

LONG_AGO = datetime.max.replace(tzinfo=UTC)
"""A record is read as long after its last day: no day of it is unfinished."""
LEAST_VAPOUR_PRESSURE_KPA = 0.01

ByDay = dict[date, dict[str, float]]


class Sky(NamedTuple):
    """Weather of every day from the record's first to its last."""

    days: tuple[date, ...]
    rain_mm: Floats
    """Not a number where it is not known."""
    et0_mm: Floats
    """Filled where it could not be reckoned: the mean of the ten days before."""
    et0_known: tuple[bool, ...]
    kc_max: Floats
    tmean_c: Floats
    """Not a number where it is not known."""
    findings: tuple[str, ...]


def read_sky(
    record: Record, columns: Columns, sheet: Sheet, dryness_kpa: Mapping[date, float]
) -> Sky:
    """The weather of a record.

    Parameters
    ----------
    record : Record
        For its place.
    columns : Columns
        Which column is what.
    sheet : Sheet
        The record's table.
    dryness_kpa : mapping of date to float
        Measured vapour pressure deficit, where there is any.

    Raises
    ------
    InputError
        Values that cannot be, a day twice, no rain, or too little to reckon ET0 from.
    """
    words = {column.quantity for column in columns.weather.columns}
    _check_enough(words, bool(dryness_kpa))
    said = replace(
        columns.weather,
        date_header=sheet.date_header,
        date_order=record.date_order,
        rain_day=record.rain_day,
    )
    table, mended_findings = mended(sheet, columns.weather.columns, record.site)
    try:
        read = read_weather_table(
            table, record.table.name, record.site, LONG_AGO, said, gaps_allowed=True
        )
    except InputError as fault:
        raise in_toml_words(fault) from fault
    values: ByDay = {}
    for value in read.values:
        values.setdefault(value.day, {})[value.variable] = value.value
    findings = mended_findings + [
        one for one in read.findings if not (dryness_kpa or "tmin" not in words) or "ET0" not in one
    ]
    findings += _own_et0(record, values, dryness_kpa)
    days = [date.fromordinal(n) for n in range(read.first.toordinal(), read.last.toordinal() + 1)]
    rain = np.array([values.get(day, {}).get("rain_mm", np.nan) for day in days])
    if np.isnan(rain).all():
        raise InputError("rain", None, "on some days at least")
    known = [values.get(day, {}).get("et0_mm") for day in days]
    if all(one is None for one in known):
        raise InputError("temperature", None, "on some days at least, for reference evaporation")
    limit = np.array([kc_max_of(_seen(day, values.get(day, {}))) for day in days])
    return Sky(
        tuple(days),
        rain,
        _filled(known),
        tuple(one is not None for one in known),
        limit,
        np.array([_mean_c(values.get(day, {})) for day in days]),
        tuple(findings),
    )


def _check_enough(words: set[str], dryness: bool) -> None:
    if "rain" not in words:
        raise InputError("column of rain", None, "rain_mm, or rain_mm = its name under columns")
    if {"tmin", "tmax"} <= words:
        return
    if "tmean" not in words:
        raise InputError("columns of temperature", None, "tmin_c and tmax_c, or tmean_c")
    if not dryness and not words & {"vapour", "dew", "rh", "rhmax"}:
        raise InputError(
            "column of humidity", None, "rh_pct, ea_kpa or vpd_kpa where only tmean_c is measured"
        )
    if not words & {"radiation", "sun"}:
        raise InputError("column of the sun", None, "rs_mj or sun_h where only tmean_c is measured")


def _own_et0(record: Record, values: ByDay, dryness_kpa: Mapping[date, float]) -> list[str]:
    """ET0, put into `values`, of days whose dryness was measured or that have a mean temperature alone."""
    mean_only = [
        day for day, known in values.items() if "tmean_c" in known and "et0_mm" not in known
    ]
    again = sorted({*mean_only, *(day for day in dryness_kpa if _warmth(values.get(day, {})))})
    if not again:
        return []
    inputs = [_inputs(day, values[day]) for day in again]
    dry = _vapour_pressures(inputs, dryness_kpa)
    for one in reference_et(dry, record.site):
        if one.et0_mm is not None:
            values[one.day]["et0_mm"] = one.et0_mm
    findings = []
    if mean_only:
        findings.append(f"ET0 from the mean temperature of the day alone on {len(mean_only)} days")
    if dryness_kpa:
        findings.append(f"ET0 by the measured dryness of the air on {len(dryness_kpa)} days")
    no_wind = sum("wind_2m_m_per_s" not in values[day] for day in again)
    if no_wind:
        findings.append(f"ET0 with wind taken as 2 m/s on {no_wind} of {len(again)} days")
    return findings


def _mean_c(known: Mapping[str, float]) -> float:
    middle = (known.get("tmin_c", np.nan) + known.get("tmax_c", np.nan)) / 2
    return known.get("tmean_c", middle)


def _warmth(known: Mapping[str, float]) -> bool:
    return "tmean_c" in known or {"tmin_c", "tmax_c"} <= known.keys()


def _inputs(day: date, known: Mapping[str, float]) -> DayInputs:
    fields = {name: value for name, value in known.items() if name not in ("rain_mm", "et0_mm")}
    if not {"tmin_c", "tmax_c"} <= fields.keys():
        fields |= {"tmin_c": fields["tmean_c"], "tmax_c": fields["tmean_c"]}
    return DayInputs(day, **fields)


def _vapour_pressures(
    inputs: Sequence[DayInputs], dryness_kpa: Mapping[date, float]
) -> list[DayInputs]:
    """The days with the vapour pressure that makes their measured dryness, FAO-56 eqs 11 and 12."""
    lows = saturation_vapour_pressure([float(one.tmin_c or 0.0) for one in inputs])
    highs = saturation_vapour_pressure([float(one.tmax_c or 0.0) for one in inputs])
    found = []
    for one, low, high in zip(inputs, lows, highs, strict=True):
        if one.day in dryness_kpa:
            left = max((low + high) / 2 - dryness_kpa[one.day], LEAST_VAPOUR_PRESSURE_KPA)
            found.append(replace(one, vapour_pressure_kpa=left))
        else:
            found.append(one)
    return found


def _seen(day: date, known: Mapping[str, float]) -> WeatherDay:
    return WeatherDay(
        day, rhmin_percent=known.get("rhmin_percent"), wind_2m_m_per_s=known.get("wind_2m_m_per_s")
    )


def _filled(known: Sequence[float | None]) -> Floats:
    """ET0 without gaps: the mean of the last ten known days, before the first the mean of the next ten."""
    recent = [value for value in known if value is not None][:RECENT_DAYS]
    found = []
    for value in known:
        if value is None:
            found.append(sum(recent) / len(recent))
        else:
            found.append(value)
            recent = [*recent, value][-RECENT_DAYS:]
    return np.array(found)
