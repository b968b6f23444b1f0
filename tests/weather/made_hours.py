"""Made hours, as a parser of a service's answer hands them over."""

import math
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from soakbook.weather.answers import Column, HourTable
from soakbook.weather.reference_et import Site

GLOUCESTER = Site(51.88, 42.0)


def begins(first: datetime, count: int, step_h: int = 1) -> tuple[datetime, ...]:
    """Moments one step apart."""
    return tuple(first + timedelta(hours=step_h * n) for n in range(count))


def made_hours(first: datetime, count: int, **columns: Column) -> HourTable:
    """Mild hours from `first` on without rain: 10 to 20 °C, dew point 8, wind 3, up to 500 W/m²."""
    moments = begins(first, count)
    height = [math.sin((at.hour - 6) / 12 * math.pi) for at in moments]
    table = HourTable(
        moments,
        temperature_c=tuple(15 + 5 * up for up in height),
        dew_point_c=(8.0,) * count,
        wind_10m_m_per_s=(3.0,) * count,
        cloud_fraction=(0.4,) * count,
        radiation_w_m2=tuple(max(0.0, 500 * up) for up in height),
        rain_mm=(0.0,) * count,
        et0_mm=(0.1,) * count,
    )
    return with_columns(table, columns)


def with_columns(table: HourTable, columns: Mapping[str, Column]) -> HourTable:
    """The hours with other columns, by name."""
    anything: dict[str, Any] = dict(columns)
    return table._replace(**anything)


def only(table: HourTable, rows: Sequence[int]) -> HourTable:
    """Some rows of the hours, in this order."""
    anything: dict[str, Any] = {
        name: tuple(column[n] for n in rows) if column else ()
        for name, column in table._asdict().items()
    }
    return HourTable(**anything)


def changed(column: Column, places: dict[int, float | None]) -> Column:
    """The column with other values in some places."""
    return tuple(places.get(n, value) for n, value in enumerate(column))
