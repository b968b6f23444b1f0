"""What a service said, brought into our units and hours, before it becomes days.

Parsers of services make an `HourTable`; `hours` makes days of it; what goes into the book is `Told`.
"""

from datetime import datetime
from typing import NamedTuple

from soakbook.garden.weather import WeatherSeries, WeatherValue

Column = tuple[float | None, ...]
"""A value for each row, None where nothing was said; empty where the service never says it."""


class HourTable(NamedTuple):
    """Rows of a service's answer in time, each from its own `begins` to the next row's.

    Temperature, dew point, wind and cloud are instants at `begins`. Radiation is the mean and rain, ET0 the sum
    over the row's time, lowest and highest temperature its extremes. The last row lasts as long as the one before.
    """

    begins: tuple[datetime, ...]  # UTC, rising
    temperature_c: Column = ()
    dew_point_c: Column = ()
    wind_10m_m_per_s: Column = ()
    cloud_fraction: Column = ()
    radiation_w_m2: Column = ()
    rain_mm: Column = ()
    et0_mm: Column = ()  # the service's own, for a check
    tmin_c: Column = ()
    tmax_c: Column = ()


class Told(NamedTuple):
    """What of one answer goes into the book, and what a gardener should know of it."""

    values: tuple[WeatherValue, ...]
    series: tuple[WeatherSeries, ...]
    findings: tuple[str, ...] = ()
