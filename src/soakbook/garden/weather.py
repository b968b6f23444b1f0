"""Weather as the book keeps it and as the reckoning reads it.

A value is kept for ever with where it came from; a day is the best that is known of it now.
"""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Literal, NamedTuple

WeatherKind = Literal["measured", "analysed", "forecast", "filled"]

WEATHER_KINDS: tuple[WeatherKind, ...] = ("measured", "analysed", "forecast", "filled")
"""Best first."""


class WeatherValue(NamedTuple):
    """One variable on one local day, as one source said it.

    `method` names how a filled or reckoned value was made, in a gardener's words; empty when read as it stands.
    """

    day: date
    variable: str
    value: float
    source: str
    kind: WeatherKind
    fetched_at: datetime
    issued_at: datetime | None = None
    method: str = ""


NO_SOURCES: Mapping[str, tuple[str, WeatherKind, str]] = {}


class WeatherDay(NamedTuple):
    """The best known values of one local day; `None` where nothing is known."""

    day: date
    rain_mm: float | None = None
    et0_mm: float | None = None
    tmin_c: float | None = None
    tmax_c: float | None = None
    tmean_c: float | None = None
    rhmin_percent: float | None = None
    wind_2m_m_per_s: float | None = None
    rain_by_hour_mm: tuple[float, ...] = ()
    """The shape of the day's rain, whosever its total is: an hour each from local midnight; empty: not known."""
    sources: Mapping[str, tuple[str, WeatherKind, str]] = NO_SOURCES
    """variable -> (source, kind, method)"""


class WeatherSeries(NamedTuple):
    """One variable of one local day in many numbers, as one source said it at once.

    Of "hours" they are the day's hours from local midnight on, 23 to 25 of them; of "members" the day's value in
    each future of a forecast, the control first; of "mean hours" its hours in the mean of the futures.
    """

    day: date
    of: Literal["hours", "members", "mean hours"]
    variable: str
    numbers: tuple[float, ...]
    source: str
    kind: WeatherKind
    fetched_at: datetime
    issued_at: datetime | None = None
    method: str = ""


class ForecastDay(NamedTuple):
    """What one issue of a forecast says of one local day; None and empty where it says nothing."""

    day: date
    rain_mm: float | None = None
    et0_mm: float | None = None
    tmin_c: float | None = None
    tmax_c: float | None = None
    tmean_c: float | None = None
    rain_by_hour_mm: tuple[float, ...] = ()
    rain_members_mm: tuple[float, ...] = ()
    et0_members_mm: tuple[float, ...] = ()
    mean_by_hour_mm: tuple[float, ...] = ()
    """Rain of each hour in the mean of the members."""
    from_hour: int = 0
    """So many of its hours had gone by and the issue says nothing of them: rain is that of the rest; evaporation and
    extremes, which are a whole day's, are not told."""


class Forecast(NamedTuple):
    """One issue of one service's forecast, its days in order."""

    source: str
    issued_at: datetime
    days: tuple[ForecastDay, ...]
    begun: ForecastDay | None = None
    """The day of issue where only the rest of it is told."""
