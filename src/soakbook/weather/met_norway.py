"""MET Norway, Locationforecast 2.0 complete: what to ask, what is no answer, and the answer as a table of hours.

A forecast for the whole world, about nine days ahead: by the hour for some 55 hours, then every 6 hours. It has no
past and no radiation (`sunless` stands in for that). Days are made of the table in `hours`.

References
----------
MET Norway, Locationforecast 2.0 documentation and data model, api.met.no and docs.api.met.no (github
metno/weatherapi-docs at 23d20d9, 2023); an answer recorded in July 2020.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from soakbook.quantities.places import to_a_kilometre
from soakbook.weather.answers import Column, HourTable
from soakbook.weather.hearing import Heard, Spot, heard_of
from soakbook.weather.hearing import Question as Asked

if TYPE_CHECKING:
    from soakbook.weather.hour_rows import Rows
    from soakbook.weather.session import Outside

NAME = "MET Norway"
LIFETIME_S = 1800  # where it says nothing of its own; it always does
BASE_URL = "https://api.met.no/weatherapi/locationforecast/2.0"
HOUR = timedelta(hours=1)
SIX_HOURS = timedelta(hours=6)
LARGEST = 1e9  # in size; more than any detail has in any unit


class Question(NamedTuple):
    """Where to ask and with which parameters, all as text: the same place is the same text."""

    url: str
    params: dict[str, str]


_UNITS = {
    "air_temperature": "celsius",
    "dew_point_temperature": "celsius",
    "wind_speed": "m/s",
    "cloud_area_fraction": "%",
    "precipitation_amount": "mm",
    "air_temperature_min": "celsius",
    "air_temperature_max": "celsius",
}
"""The details that we read, and the unit each must be in."""

_SPANS = ("instant", "next_1_hours", "next_6_hours")
_Details = Mapping[str, float]


class _Step(NamedTuple):
    """One step of the answer: its time, and the details of the instant and of what follows."""

    begins: datetime
    instant: _Details
    next_hour: _Details
    next_six_hours: _Details


def question(
    latitude_deg: float, longitude_deg: float, elevation_m: float, base_url: str = BASE_URL
) -> Question:
    """What to ask for a place: two decimals of a degree, about a kilometre, and whole metres.

    The service refuses more than four decimals; two keep the garden's own address in the house.
    """
    return Question(
        f"{base_url}/complete",
        {
            "lat": _two_decimals(latitude_deg),
            "lon": _two_decimals(longitude_deg),
            "altitude": str(round(elevation_m)),
        },
    )


def issued_at(body: object) -> datetime | None:
    """When the forecast was made, UTC; None where the answer does not say, `ValueError` where it says no moment."""
    said = _inside(body, "properties", "meta").get("updated_at")
    return None if said is None else _time(said)


def hour_table(body: object) -> HourTable:
    """The steps of an answer as rows; a `ValueError` says why a body is no forecast that can be read.

    It is none without steps in rising order of time, with another unit than celsius, m/s, % and mm, or with a value
    that is no number. What is missing from single steps is no fault; what no weather has is dropped by `hour_rows`.

    A sum or an extreme is taken from the span that is as long as the row itself: the next hour's in the hourly part,
    the next six hours' behind it, so that no rain is counted twice. Where that span says nothing, or a step is
    missing behind the row, it is not known. Within an hour the instants tell the extremes well enough.
    """
    steps = _steps(body)
    spans = [_span(step, lasts) for step, lasts in zip(steps, _lengths(steps), strict=True)]
    instants = [step.instant for step in steps]
    cloud_percent = _column(instants, "cloud_area_fraction")
    return HourTable(
        begins=tuple(step.begins for step in steps),
        temperature_c=_column(instants, "air_temperature"),
        dew_point_c=_column(instants, "dew_point_temperature"),
        wind_10m_m_per_s=_column(instants, "wind_speed"),
        cloud_fraction=tuple(None if c is None else c / 100 for c in cloud_percent),
        rain_mm=_column(spans, "precipitation_amount"),
        tmin_c=_column(spans, "air_temperature_min"),
        tmax_c=_column(spans, "air_temperature_max"),
    )


def read_met_norway(
    outside: "Outside", spot: Spot, now: datetime, *, base_url: str = BASE_URL
) -> Heard:
    """The days to come as forecast: one future, no past, radiation from cloud and the range of temperature.

    Of the day of issue only the rest is told, and so only its rain.

    Parameters
    ----------
    outside : Outside
        The way out.
    spot : Spot
        Where.
    now : datetime
        Zone-aware.
    base_url : str
        Where the service is.

    Raises
    ------
    WeatherError
        Nothing came.
    """
    from soakbook.weather.hours import days_of
    from soakbook.weather.keeping import told_of
    from soakbook.weather.session import Request

    asked = question(spot.latitude_deg, spot.longitude_deg, spot.elevation_m, base_url)
    answer = outside.get_json(Request(NAME, asked.url, asked.params, LIFETIME_S), _said, now)
    issued = answer.said.issued_at or answer.fetched_at
    found = days_of(answer.said.rows, spot.zone, spot.site)
    told = told_of(
        found,
        spot.site,
        today=min(now.astimezone(spot.zone).date(), issued.astimezone(spot.zone).date()),
        source=NAME,
        fetched_at=answer.fetched_at,
        issued_at=issued,
    )
    fared = (Asked("forecast", answer.trouble),)
    return heard_of(NAME, told, issued_at=issued, questions=fared, begun=found.begun)


class _Said(NamedTuple):
    """What is wanted of an answer."""

    rows: "Rows"
    issued_at: datetime | None


def _said(body: object) -> _Said:
    """Also holds the steps to what only they together show: before the answer is kept in the place of a good one."""
    from soakbook.weather.hour_rows import sound_rows

    return _Said(sound_rows(hour_table(body), NAME), issued_at(body))


def _two_decimals(degrees: float) -> str:
    return f"{to_a_kilometre(degrees):.2f}"


def _lengths(steps: Sequence[_Step]) -> list[timedelta]:
    """How long each row lasts: to the next one; the last as long as the one before."""
    between = [later.begins - step.begins for step, later in pairwise(steps)]
    return [*between, between[-1] if between else HOUR]


def _span(step: _Step, lasts: timedelta) -> _Details:
    return {HOUR: step.next_hour, SIX_HOURS: step.next_six_hours}.get(lasts, {})


def _column(rows: Sequence[_Details], name: str) -> Column:
    return tuple(row.get(name) for row in rows)


def _steps(body: object) -> list[_Step]:
    """The answer's steps, everything in them checked."""
    listed = _inside(body, "properties").get("timeseries")
    if not isinstance(listed, list) or not listed:
        raise ValueError("no forecast: properties.timeseries is missing or empty")
    units = _inside(body, "properties", "meta", "units")
    steps = [_step(entry, units) for entry in listed]
    for step, later in pairwise(steps):
        if later.begins <= step.begins:
            raise ValueError(
                f"timeseries out of order: {later.begins:%Y-%m-%dT%H:%MZ} follows "
                f"{step.begins:%Y-%m-%dT%H:%MZ}"
            )
    return steps


def _step(entry: object, units: Mapping[str, object]) -> _Step:
    said = _mapping(entry, "a step of timeseries")
    begins = _time(said.get("time"))
    at = f"at {begins:%Y-%m-%dT%H:%MZ}"
    data = _mapping(said.get("data"), f"data {at}")
    if "instant" not in data:
        raise ValueError(f"no instant {at}")
    return _Step(begins, *(dict(_details(data, span, units, at)) for span in _SPANS))


def _details(
    data: Mapping[str, object], span: str, units: Mapping[str, object], at: str
) -> Iterator[tuple[str, float]]:
    """The details of one span that we read; none where the span, or its details, are not there."""
    said = _mapping(data.get(span) or {}, f"{span} {at}").get("details") or {}
    for name, value in _mapping(said, f"details of {span} {at}").items():
        if name not in _UNITS or value is None:
            continue
        if units.get(name) != _UNITS[name]:
            raise ValueError(f"unit of {name}: {units.get(name)!r}, not {_UNITS[name]!r}")
        if (
            not isinstance(value, int | float)
            or isinstance(value, bool)
            or not abs(value) < LARGEST
        ):
            raise ValueError(f"{name} {at}: {value!r}, not a number")
        yield name, float(value)


def _inside(body: object, *path: str) -> Mapping[str, object]:
    """What stands at a path of objects; empty where the path ends early."""
    found = _mapping(body, "the body")
    for name in path:
        found = _mapping(found.get(name) or {}, name)
    return found


def _mapping(found: object, where: str) -> Mapping[str, object]:
    if not isinstance(found, dict):
        raise ValueError(f"{where} is no object: {str(found)[:40]!r}")
    return found


def _time(said: object) -> datetime:
    """A moment written with its offset or Z, in UTC."""
    right = "not a moment like 2031-05-03T06:00:00Z"
    try:
        moment = datetime.fromisoformat(str(said))
        if moment.tzinfo is not None:
            return moment.astimezone(UTC)
    except (ValueError, OverflowError) as fault:
        raise ValueError(f"{str(said)[:40]!r}: {right}") from fault
    raise ValueError(f"{str(said)[:40]!r}: {right}")
