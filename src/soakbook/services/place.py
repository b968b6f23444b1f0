"""How high a place lies and which clock it keeps, where a weather service knows."""

from datetime import datetime
from typing import NamedTuple

from soakbook.errors import WeatherError
from soakbook.services.weather_asking import places_of
from soakbook.store.places import cache_folder
from soakbook.weather.open_meteo.reading import read_place
from soakbook.weather.session import Outside

PATIENCE_S = 8.0
"""Somebody is waiting at a question; without an answer it is simply asked."""


class Place(NamedTuple):
    """What a service knows of a place."""

    elevation_m: float
    timezone: str


def looked_up(latitude_deg: float, longitude_deg: float, *, now: datetime) -> Place | None:
    """Height and clock of a place; None where nobody could be asked or nothing came."""
    try:
        with Outside(cache_folder(), "soakbook", patience_s=PATIENCE_S) as outside:
            urls = places_of().open_meteo
            elevation_m, zone = read_place(outside, latitude_deg, longitude_deg, now, urls=urls)
    except WeatherError:
        return None
    return Place(round(elevation_m), zone)
