"""Weather as the book keeps it and as the reckoning reads it.

A value is kept for ever with where it came from; a day is the best that is known of it now.
"""

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

WeatherKind = Literal["measured", "analysed", "forecast", "filled"]

WEATHER_KINDS: tuple[WeatherKind, ...] = ("measured", "analysed", "forecast", "filled")
"""Best first."""


@dataclass(frozen=True, slots=True)
class WeatherValue:
    """One variable on one local day (or in one UTC hour), as one source said it.

    `method` names how a filled or reckoned value was made, in a gardener's words; empty when read as it stands.
    """

    day: date
    variable: str
    value: float
    source: str
    kind: WeatherKind
    fetched_at: datetime
    hour_utc: datetime | None = None
    issued_at: datetime | None = None
    method: str = ""


@dataclass(frozen=True, slots=True)
class WeatherDay:
    """The best known values of one local day; `None` where nothing is known."""

    day: date
    rain_mm: float | None = None
    et0_mm: float | None = None
    tmin_c: float | None = None
    tmax_c: float | None = None
    tmean_c: float | None = None
    rhmin_percent: float | None = None
    wind_2m_m_per_s: float | None = None
    sources: dict[str, tuple[str, WeatherKind, str]] = field(default_factory=dict)
    """variable -> (source, kind, method)"""
