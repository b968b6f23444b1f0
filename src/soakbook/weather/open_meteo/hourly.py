"""Hours of Open-Meteo's answers: what a body must have, and its columns in our names.

Bodies come as parsed JSON. Whatever is wrong with one is a `ValueError` that says what, for whoever
fetches to refuse the body before it takes the place of a good one.
"""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from types import NoneType
from typing import cast

from soakbook.quantities.names import QUANTITIES
from soakbook.weather.answers import HourTable
from soakbook.weather.days import YEARS
from soakbook.weather.open_meteo.asking import ET0, NAMES, RAIN, UNITS

OF_THE_HOUR_BEFORE = frozenset({"shortwave_radiation", RAIN, ET0})
"""Labelled with the end of their hour; the others are instants."""

NOT_NEEDED = frozenset({"cloud_cover", ET0})  # a place may lack them
NOT_THERE = "undefined"  # the unit of a variable that it has not for the place

HOUR = timedelta(hours=1)

Body = Mapping[str, object]

_NUMBERS = {int, float, NoneType}
_LARGEST = 10**9
_MIDNIGHT_UTC = datetime(1970, 1, 1, tzinfo=UTC)
_MIDNIGHT = _MIDNIGHT_UTC.replace(tzinfo=None)


def place_of(body: Body) -> tuple[float, str]:
    """Height above the sea [m] and time zone of the place that an answer is for.

    `ValueError` where it has none.
    """
    _check_no_error(body)
    elevation_m, zone = body.get("elevation"), body.get("timezone")
    span = QUANTITIES["elevation_m"]
    if isinstance(elevation_m, bool) or not isinstance(elevation_m, int | float):
        raise ValueError("no height of the place")
    if not span.holds(elevation_m):
        raise ValueError(f"a height of the place of {elevation_m} m; {span.right} can be")
    if not isinstance(zone, str) or not zone:
        raise ValueError("no time zone of the place")
    return float(elevation_m), zone


def hour_table(body: Body) -> HourTable:
    """The hours of an answer of forecast or archive; a `ValueError` says why a body is none.

    Columns must be there, as long as the times, of numbers, in the units asked for; temperature,
    dew point, wind, radiation and rain must say something. Sums and means, which the service labels
    with the end of their hour, stand at its beginning: that of the first label falls away, and the
    last hour has none.
    """
    hourly, units = hourly_of(body)
    begins = times_of(hourly)
    label_at = dict(
        zip(reversed(begins), reversed(range(len(begins))), strict=True)
    )  # first counts
    ends = [label_at.get(begin + HOUR) for begin in begins]
    columns = {}
    for name, ours in NAMES.items():
        column = column_of(hourly, units, name, UNITS[name])
        if name not in NOT_NEEDED and _is_empty(column):
            raise ValueError(f"{name} says nothing for this place")
        if name in OF_THE_HOUR_BEFORE:
            column = [None if end is None else column[end] for end in ends]
        columns[ours] = () if _is_empty(column) else tuple(column)
    cloud_percent = columns["cloud_fraction"]
    columns["cloud_fraction"] = tuple(None if c is None else c / 100 for c in cloud_percent)
    return HourTable(begins, **columns)


def hourly_of(body: Body) -> tuple[dict[str, list[object]], dict[str, object]]:
    """Hourly columns of a body and their units; `ValueError` where it is no answer in UTC."""
    _check_no_error(body)
    hourly, units = body.get("hourly"), body.get("hourly_units")
    if not isinstance(hourly, dict) or not isinstance(units, dict):
        raise ValueError("no hourly columns with their units")
    if body.get("utc_offset_seconds") != 0:
        raise ValueError(f"times {body.get('utc_offset_seconds')} s off UTC, which was asked for")
    labels = hourly.get("time")
    if not isinstance(labels, list) or not labels:
        raise ValueError("no times")
    return hourly, units


def times_of(hourly: Mapping[str, list[object]]) -> tuple[datetime, ...]:
    """The labels of hourly columns as moments; `ValueError` where one is none."""
    labels = hourly["time"]
    if set(map(type, labels)) != {str}:
        raise ValueError("a time that is no text")
    moments = list(map(datetime.fromisoformat, cast("list[str]", labels)))
    if any(at.tzinfo is not None for at in moments):
        raise ValueError("a time with an offset of its own")
    for at in (min(moments), max(moments)):
        if at.year not in YEARS:
            raise ValueError(f"a time in the year {at.year}")
    # A quarter of the time that replacing their zone would take.
    return tuple([_MIDNIGHT_UTC + (at - _MIDNIGHT) for at in moments])


def column_of(
    hourly: Mapping[str, list[object]], units: Mapping[str, object], name: str, unit: str
) -> list[float | None]:
    """A column; `ValueError` where it is missing, not of numbers, too short or long, or in another unit."""
    column = hourly.get(name)
    if not isinstance(column, list):
        raise ValueError(f"no column {name}")
    if len(column) != len(hourly["time"]):
        raise ValueError(f"{name} has {len(column)} values for {len(hourly['time'])} times")
    types = set(map(type, column))
    if not types <= _NUMBERS:
        raise ValueError(f"{name} has a value that is no number")
    if int in types and any(type(value) is int and abs(value) > _LARGEST for value in column):
        raise ValueError(f"{name} has a number that is too large")
    said = units.get(name)
    nothing = said == NOT_THERE and types == {NoneType}
    if said != unit and not nothing:
        raise ValueError(f"{name} is in {said}, not in {unit}, which was asked for")
    return cast("list[float | None]", column)


def _is_empty(column: Sequence[float | None]) -> bool:
    return all(value is None for value in column)


def _check_no_error(body: Body) -> None:
    if not isinstance(body, Mapping):
        raise ValueError("not the answer for one place")
    if body.get("error"):
        raise ValueError(str(body.get("reason") or "an error without a reason"))
