"""Forecasts made by hand, for the small gardens of `gardens`."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from soakbook.garden.weather import Forecast, ForecastDay
from tests.reckoning.gardens import at

SERVICE = "a service"


def at_noon(rain_mm: float) -> tuple[float, ...]:
    """A day's hours with rain from twelve to one."""
    return (0.0,) * 12 + (rain_mm,) + (0.0,) * 11


def foretold(day: date, rain_mm: float = 0.0, **fields: Any) -> ForecastDay:
    """One day of a forecast: rain at noon, 2 mm of ET0, 11 to 21 degC, no members."""
    given: dict[str, Any] = {
        "rain_mm": rain_mm,
        "rain_by_hour_mm": at_noon(rain_mm),
        "et0_mm": 2.0,
        "tmin_c": 11.0,
        "tmax_c": 21.0,
        "tmean_c": 16.0,
    }
    return ForecastDay(day, **given | fields)


def issued(day: date, *days: ForecastDay, hour: int = 0, source: str = SERVICE) -> Forecast:
    """An issue of a day; at midnight nothing of that day has fallen yet."""
    return Forecast(source, at(day, hour), days)


def in_members(
    day: date, fall_mm: Sequence[float], asked_mm: Sequence[float] = (), **fields: Any
) -> ForecastDay:
    """A day with members, each with its rain at noon and its ET0; its plain rain is the last one's."""
    given: dict[str, Any] = {
        "rain_mm": fall_mm[-1],
        "rain_members_mm": tuple(fall_mm),
        "et0_members_mm": tuple(asked_mm) or (2.0,) * len(fall_mm),
        "rain_by_hour_mm": at_noon(fields.get("rain_mm", fall_mm[-1])),
        "mean_by_hour_mm": at_noon(sum(fall_mm) / len(fall_mm)),
    }
    return foretold(day, **given | fields)


def wet_in(tenths: int, rain_mm: float) -> tuple[float, ...]:
    """Rain in ten members, the last so many of them wet."""
    return (0.0,) * (10 - tenths) + (rain_mm,) * tenths


def promising(
    first: date,
    rain_mm: Mapping[date, float],
    *,
    tenths: int = 10,
    days: int = 8,
    hour: int = 0,
    source: str = SERVICE,
) -> Forecast:
    """An issue of ten members, of which so many have the rain of each day and the others none."""
    every = (first + timedelta(days=n) for n in range(days))
    said = (in_members(day, wet_in(tenths, rain_mm.get(day, 0.0))) for day in every)
    return issued(first, *said, hour=hour, source=source)
