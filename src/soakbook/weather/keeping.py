"""From the local days of a service's answer to what the book keeps: values, hours of rain, findings.

Reference evaporation is reckoned here, by `reference_et`, as for every other weather. Numbers are
rounded, so that an answer read twice says the same twice.
"""

from collections.abc import Iterator, Sequence
from datetime import date, datetime
from typing import NamedTuple

from soakbook.garden.weather import WeatherKind, WeatherSeries, WeatherValue
from soakbook.weather.answers import Told
from soakbook.weather.hours import FILLED, LocalDay, LocalDays
from soakbook.weather.reference_et import ReferenceEt, Site, reference_et

DECIMALS = {
    "rain_mm": 2,
    "et0_mm": 3,
    "tmin_c": 2,
    "tmax_c": 2,
    "tmean_c": 2,
    "rhmin_percent": 1,
    "wind_2m_m_per_s": 2,
    "radiation_mj_m2_day": 3,
    "vapour_pressure_kpa": 4,
}
"""Variables that are kept of a day, in order."""

HOUR_DECIMALS = 3  # an hour of rain: a sixth of a tenth of a millimetre

METHODS = {
    "rain_mm": "sum of the day's hours",
    "tmin_c": "lowest of the day's hours",
    "tmax_c": "highest of the day's hours",
    "tmean_c": "mean of the day's hours",
    "rhmin_percent": "lowest of the day's hours, from dew point and temperature",
    "wind_2m_m_per_s": "mean of the day's hours at 10 m, brought down to 2 m",
    "radiation_mj_m2_day": "sum of the day's hours",
    "vapour_pressure_kpa": "mean of the day's hours, from the dew point",
}
_FROM_INSTANTS = frozenset(DECIMALS) - {"rain_mm", "radiation_mj_m2_day"}

CHECK_DAYS = 14
CHECK_RATIO = (0.90, 1.15)  # theirs to ours, in the four brightest months; measured hours gave 1.04
_BRIGHT_MONTHS = {True: (5, 6, 7, 8), False: (11, 12, 1, 2)}  # north of the equator or not


class _Issue(NamedTuple):
    """What all values of an answer share."""

    source: str
    today: date
    fetched_at: datetime
    issued_at: datetime

    def kind_of(self, day: date) -> WeatherKind:
        return "analysed" if day < self.today else "forecast"

    def issue_of(self, day: date) -> datetime | None:
        return None if day < self.today else self.issued_at


def told_of(
    found: LocalDays,
    site: Site,
    *,
    today: date,
    source: str,
    fetched_at: datetime,
    issued_at: datetime,
) -> Told:
    """What of an answer's days goes into the book.

    Parameters
    ----------
    found
        Whole days, and what was found of the others.
    site
        Where.
    today
        The garden's. Days before it are analysed; it and those after it are forecast.
    source
        Whose weather it is.
    fetched_at, issued_at
        When the answer came, and when the service made it; with their zones.

    Returns
    -------
    Told
        Values of every day, and its hours of rain, dry or not. An analysed value has no issue: the
        same said again on another morning is the same.

    Notes
    -----
    The service's own evaporation is not kept. Over fourteen days of the four brightest months it
    should be within 0.90 and 1.15 of ours; outside, a finding says that a unit may be wrong.
    """
    issue = _Issue(source, today, fetched_at, issued_at)
    reckoned = reference_et([one.inputs for one in found.days], site)
    values = [
        value
        for one, et in zip(found.days, reckoned, strict=True)
        for value in _values(one, et, issue)
    ]
    return Told(
        tuple(values),
        tuple(_rain_hours(one, issue) for one in found.days),
        (*found.findings, *_check(found.days, reckoned, site, source)),
    )


def _values(one: LocalDay, et: ReferenceEt, issue: _Issue) -> Iterator[WeatherValue]:
    kind, issued_at = issue.kind_of(one.day), issue.issue_of(one.day)
    methods = {**METHODS, "et0_mm": et.method, **one.methods}
    known = {"rain_mm": one.rain_mm, "et0_mm": et.et0_mm}
    for variable, decimals in DECIMALS.items():
        value = known[variable] if variable in known else getattr(one.inputs, variable)
        if value is None:
            continue
        behind = f"; {FILLED}" if one.filled and variable in _FROM_INSTANTS else ""
        yield WeatherValue(
            one.day,
            variable,
            round(value, decimals) + 0.0,  # no negative zero
            issue.source,
            kind,
            issue.fetched_at,
            issued_at,
            methods[variable] + behind,
        )


def _rain_hours(one: LocalDay, issue: _Issue) -> WeatherSeries:
    return WeatherSeries(
        one.day,
        "hours",
        "rain_mm",
        tuple(round(mm, HOUR_DECIMALS) for mm in one.rain_by_hour_mm),
        issue.source,
        issue.kind_of(one.day),
        issue.fetched_at,
        issue.issue_of(one.day),
        one.methods.get("rain_mm", ""),
    )


def _check(
    days: Sequence[LocalDay], reckoned: Sequence[ReferenceEt], site: Site, source: str
) -> tuple[str, ...]:
    """What to say where the service's own evaporation is far from ours."""
    bright = _BRIGHT_MONTHS[site.latitude_deg >= 0]
    both = [
        (one.own_et0_mm, et.et0_mm)
        for one, et in zip(days, reckoned, strict=True)
        if one.own_et0_mm is not None and et.et0_mm is not None and one.day.month in bright
    ]
    if len(both) < CHECK_DAYS:
        return ()
    theirs, ours = (sum(column) for column in zip(*both, strict=True))
    low, high = CHECK_RATIO
    if low * ours <= theirs <= high * ours:
        return ()
    return (
        f"the evaporation that {source} gives, {theirs:.1f} mm in {len(both)} days, is far from"
        f" ours, {ours:.1f} mm: a unit may be wrong",
    )
