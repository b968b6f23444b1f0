"""Made answers in the documented shape of Open-Meteo's, and the recorded ones."""

import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from soakbook.weather.open_meteo.asking import ENSEMBLE_MODEL, UNITS

ANSWERS = Path(__file__).parents[1] / "answers"

Made = dict[str, Any]


def recorded(name: str) -> Made:
    """A real answer."""
    body: Made = json.loads((ANSWERS / name).read_text(encoding="utf-8"))
    return body


def labels(first: datetime, hours: int) -> list[str]:
    """Times as the service writes them."""
    return [f"{first + timedelta(hours=n):%Y-%m-%dT%H:%M}" for n in range(hours)]


def body_of(first: datetime, columns: dict[str, list[Any]], units: dict[str, str]) -> Made:
    """An answer with these columns, as long as the first of them."""
    hours = len(next(iter(columns.values())))
    return {
        "latitude": 51.88,
        "longitude": -2.26,
        "generationtime_ms": 0.91,
        "utc_offset_seconds": 0,
        "timezone": "GMT",
        "timezone_abbreviation": "GMT",
        "elevation": 42.0,
        "hourly_units": {"time": "iso8601", **units},
        "hourly": {"time": labels(first, hours), **columns},
    }


def made_body(first: datetime, hours: int, **columns: list[Any]) -> Made:
    """A forecast: 12 °C, dew point 8, wind 2, sun from 8 to 16 by the labels, no rain."""
    bright = [200.0 if 8 < (first + timedelta(hours=n)).hour <= 16 else 0.0 for n in range(hours)]
    all_columns: dict[str, list[Any]] = {
        "temperature_2m": [12.0] * hours,
        "dew_point_2m": [8.0] * hours,
        "wind_speed_10m": [2.0] * hours,
        "cloud_cover": [40] * hours,
        "shortwave_radiation": bright,
        "precipitation": [0.0] * hours,
        "et0_fao_evapotranspiration": [0.08] * hours,
    }
    return body_of(first, all_columns | columns, UNITS)


def made_members(first: datetime, hours: int, count: int = 51, model: str = "") -> Made:
    """An ensemble: member m has m/10 mm of rain and 0.1 mm of evaporation in every hour."""
    columns, units = {}, {}
    for variable, hourly in (("precipitation", 0.1), ("et0_fao_evapotranspiration", 0.0)):
        for member in range(count):
            name = f"{variable}_member{member:02}" if member else variable
            name += f"_{model}" if model and member else ""
            columns[name] = [round(hourly * member, 1) or (0.0 if hourly else 0.1)] * hours
            units[name] = "mm"
    return body_of(first, columns, units) | {"model": ENSEMBLE_MODEL}
