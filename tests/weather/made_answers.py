"""Whole answers of both services for any place and time, made of one sky: what a good morning's answer would be.

The sky: temperature along a sine with its top at three in the afternoon by the sun, 0.6 of what comes from above the
air, a light wind, 0.1 mm of rain in every hour. Its sun is reckoned by FAO-56 by the hour, not by the product.
"""

import math
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from soakbook.weather.hearing import Spot
from soakbook.weather.open_meteo.asking import UNITS
from tests.published.fao56_hourly import above_the_air, hourly_et0
from tests.weather.open_meteo.made import Made, body_of, made_members

GLOUCESTER = Spot(51.88, -2.26, 42.0, ZoneInfo("Europe/London"))
HOUR = timedelta(hours=1)

PAST_DAYS, DAYS_AHEAD, MEMBERS_AHEAD = 3, 4, 4
"""Of the answers; the real ones reach farther, which would only take longer."""

HOURLY_STEPS, LONG_STEPS = 54, 11
"""Of the second service's answer: to noon of the third day by the hour, then every six hours."""

MET_UNITS = {
    "air_temperature": "celsius",
    "air_temperature_max": "celsius",
    "air_temperature_min": "celsius",
    "cloud_area_fraction": "%",
    "dew_point_temperature": "celsius",
    "precipitation_amount": "mm",
    "wind_speed": "m/s",
}


def temperature_at(moment: datetime, longitude_deg: float) -> float:
    """Of the sky, 5 to 15 °C."""
    solar_h = moment.hour + moment.minute / 60 + longitude_deg / 15
    return round(10 + 5 * math.sin((solar_h - 9) * math.pi / 12), 1)


def forecast(
    now: datetime, spot: Spot = GLOUCESTER, past: int = PAST_DAYS, ahead: int = DAYS_AHEAD
) -> Made:
    """The first service's hours, whole days of UTC round that of `now`."""
    first = _midnight(now) - timedelta(days=past)
    hours = [first + HOUR * n for n in range(24 * (past + ahead))]
    above = above_the_air([at - HOUR / 2 for at in hours], spot.latitude_deg, spot.longitude_deg)
    temperature = [temperature_at(at, spot.longitude_deg) for at in hours]
    sun = [round(float(one), 1) for one in 0.6 * above]
    et0 = hourly_et0(
        temperature, 4.0, 3.0, sun, above, elevation_m=spot.elevation_m, night_clearness=0.8
    )
    columns: dict[str, list[Any]] = {
        "temperature_2m": temperature,
        "dew_point_2m": [4.0] * len(hours),
        "wind_speed_10m": [3.0] * len(hours),
        "cloud_cover": [40] * len(hours),
        "shortwave_radiation": sun,
        "precipitation": [0.1] * len(hours),
        "et0_fao_evapotranspiration": [round(float(one), 2) for one in et0],
    }
    place = {"latitude": spot.latitude_deg, "longitude": spot.longitude_deg}
    return body_of(first, columns, UNITS) | place


def ensemble(now: datetime, count: int = 51) -> Made:
    """The first service's futures, from yesterday by UTC on."""
    first = _midnight(now) - timedelta(days=1)
    return made_members(first, 24 * (1 + MEMBERS_AHEAD), count)


def locationforecast(now: datetime, spot: Spot = GLOUCESTER) -> Made:
    """The second service's steps, from six o'clock by UTC on."""
    first = _midnight(now) + 6 * HOUR
    hourly = [first + HOUR * n for n in range(HOURLY_STEPS)]
    long = [hourly[-1] + HOUR + 6 * HOUR * n for n in range(LONG_STEPS)]
    steps = [_step(at, spot, next_hour=True, last=False) for at in hourly]
    steps += [_step(at, spot, next_hour=False, last=at == long[-1]) for at in long]
    meta = {"updated_at": f"{_midnight(now) + 5 * HOUR:%Y-%m-%dT%H:%M:%SZ}", "units": MET_UNITS}
    where = [spot.longitude_deg, spot.latitude_deg, spot.elevation_m]
    return {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": where},
        "properties": {"meta": dict(meta), "timeseries": steps},
    }


def _step(at: datetime, spot: Spot, *, next_hour: bool, last: bool) -> Made:
    temperature = temperature_at(at, spot.longitude_deg)
    details = {
        "air_temperature": temperature,
        "dew_point_temperature": 4.0,
        "wind_speed": 3.0,
        "cloud_area_fraction": 40.0,
    }
    data: Made = {"instant": {"details": details}}
    if next_hour:
        data["next_1_hours"] = {"details": {"precipitation_amount": 0.1}}
    if not last:
        within = [temperature_at(at + HOUR * n, spot.longitude_deg) for n in range(7)]
        data["next_6_hours"] = {
            "details": {
                "precipitation_amount": 0.6,
                "air_temperature_min": min(within),
                "air_temperature_max": max(within),
            }
        }
    return {"time": f"{at:%Y-%m-%dT%H:%M:%SZ}", "data": data}


def _midnight(now: datetime) -> datetime:
    return now.astimezone(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
