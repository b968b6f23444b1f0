"""Made records: weather by a formula, and what the balance itself makes of it as what was measured."""

import csv
import math
from collections.abc import Callable, Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import NamedTuple

import numpy as np

from soakbook.truth.bucket import forcing_of, root_zone, run_plain
from soakbook.truth.record import Record, read_record
from soakbook.truth.series import Series, read_series
from soakbook.weather.reference_et import extraterrestrial_radiation

Row = dict[str, str]
LINES = {
    "name": '"Made"',
    "latitude_deg": "48.0",
    "longitude_deg": "9.0",
    "elevation_m": "400",
    "wind_height_m": "2",
    "soil": '"silt loam"',
    "root_depth_m": "0.5",
    "sensor_depths_cm": "[10, 30]",
    "cover": '"grass"',
}


class Read(NamedTuple):
    """A record read whole."""

    record: Record
    series: Series


def weather(first: date, days: int, latitude_deg: float = 48.0) -> list[Row]:
    """Mild weather with wet springs and a dry summer, the seasons turned in the south."""
    dates = [first + timedelta(days=n) for n in range(days)]
    sun = extraterrestrial_radiation(dates, latitude_deg)
    rows = []
    for n, (day, above_air) in enumerate(zip(dates, sun, strict=True)):
        of_year = day.timetuple().tm_yday + (182 if latitude_deg < 0 else 0)
        warm = -math.cos(2 * math.pi * (of_year - 15) / 365)
        wet = n % 4 == 0 or (n % 11 == 5 and warm < 0.5)
        rows.append(
            {
                "date": day.isoformat(),
                "rain_mm": f"{(16.0 if warm < 0.6 else 4.0) if wet else 0.0:.1f}",
                "tmin_c": f"{5 + 9 * warm:.2f}",
                "tmax_c": f"{15 + 10 * warm:.2f}",
                "rh_pct": "70",
                "wind_m_s": "2.0",
                "rs_mj": f"{0.5 * above_air:.3f}",
                "vwc_10": f"{0.3 + n % 7 / 1000:g}",
                "vwc_30": f"{0.3 + n % 5 / 1000:g}",
            }
        )
    return rows


def write(
    folder: Path, rows: list[Row], said: Mapping[str, str | None] = {}, more: str = ""
) -> Path:
    """RECORD.toml and RECORD.csv of some rows; `said` over `LINES`, None leaving a line out."""
    lines = {**LINES, **said}
    toml = "\n".join(f"{key} = {value}" for key, value in lines.items() if value is not None)
    path = folder / "made.toml"
    path.write_text(f"{toml}\n{more}\n", encoding="utf-8")
    with (folder / "made.csv").open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, fieldnames=list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return path


def read(path: Path) -> Read:
    """The record and its series."""
    record = read_record(path)
    return Read(record, read_series(record))


def of_itself(
    folder: Path,
    rows: list[Row],
    said: Mapping[str, str | None] = {},
    change: Callable[[int, float], float] = lambda _day, theta: theta,
    more: str = "",
) -> Path:
    """A record whose readings are the balance's own, each changed by `change`."""
    found = read(write(folder, rows, said, more))
    forcing = forcing_of(found.series, found.series.cover)
    depth = found.series.root_depth_m
    zone = root_zone(found.record.soil, depth, float(forcing.kcb.max()), found.record.depletion_p)
    course = run_plain(forcing, [zone], depth)
    sensors = [name for name in rows[0] if name.startswith("vwc")]
    fluxes = {"et_mm": course.et_mm[0], "percolation_mm": course.drained_mm[0]}
    for n, row in enumerate(rows):
        theta = change(n, float(course.theta[0][n]))
        row |= {name: "" if np.isnan(theta) else f"{theta:.6f}" for name in sensors}
        row |= {name: f"{values[n]:.6f}" for name, values in fluxes.items() if name in row}
    return write(folder, rows, said, more)
