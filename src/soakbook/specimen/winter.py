"""The specimen's weather before its season, invented: `python -m soakbook.specimen.winter` writes it to `weather.csv`.

A mild wet autumn and winter as middle England has them, from 1 October to the day before the record's own first, so
that the garden can be reckoned as if it had been planted in October. Nothing of the record is touched, and no forecast
was ever issued for these days.

Each month has its normals: highest and lowest temperature, humidity, sun, wind and rain. Rain comes and stays away in
spells; a month's rain is drawn and then scaled to the month's sum. Warmth wanders about its normals and hands on most
of itself from day to day; wet days are milder by night, dull and damp. The dice are seeded, by the first seed from 1
on with which it rains on 12 to 18 days of every month. Normals and spreads are common practice, no source.
"""

import csv
import math
import tempfile
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import NamedTuple

from soakbook.specimen import text
from soakbook.specimen.build import FETCHED
from soakbook.specimen.climate import NORMAL, RECORD_BEGINS
from soakbook.weather.column_map import columns_said
from soakbook.weather.files import read_weather_file
from soakbook.weather.reference_et import Site

FIRST = date(2030, 10, 1)
SEED = 7
DAY = timedelta(days=1)

WET_AFTER_WET, WET_AFTER_DRY = 0.62, 0.36
WARMTH_CARRIED, WARMTH_SD_C = 0.75, 2.6


class Month(NamedTuple):
    """What a month is like."""

    tmax_c: float
    tmin_c: float
    humidity_percent: float
    sun_h: float
    """Of a dry day."""
    wind_2m_m_per_s: float
    rain_mm: float
    """Of the whole month."""


MONTHS = {
    10: Month(14.2, 7.2, 80, 4.6, 2.3, 75),
    11: Month(9.8, 4.0, 85, 3.2, 2.3, 62),
    12: Month(7.2, 1.9, 88, 2.2, 2.3, 58),
    1: Month(6.8, 1.4, 88, 2.6, 2.4, 54),
}

Row = dict[str, str]


def rows() -> list[Row]:
    """The days before the record, as lines of weather.csv."""
    drawn = list(_drawn(Random(SEED)))
    return [
        line | {"eto_mm": f"{et0_mm:.2f}"}
        for line, et0_mm in zip(drawn, _et0_mm(drawn), strict=True)
    ]


def _drawn(dice: Random) -> Iterator[Row]:
    days = [FIRST + number * DAY for number in range((RECORD_BEGINS - FIRST).days)]
    rain_mm = _rain_mm(days, dice)
    warmth = 0.0
    for day in days:
        month, wet = MONTHS[day.month], rain_mm[day] > 0
        warmth = WARMTH_CARRIED * warmth + math.sqrt(1 - WARMTH_CARRIED**2) * _normal(dice)
        low = month.tmin_c + WARMTH_SD_C * warmth + (1.2 if wet else -1.0)
        high = max(low + 1.5, month.tmax_c + WARMTH_SD_C * warmth - (0.6 if wet else -0.4))
        damp = month.humidity_percent + (5 if wet else -3) + 3 * _normal(dice)
        sun_h = month.sun_h * (0.25 if wet else 1.0) * 1.6 * dice.random()
        yield {
            "date": day.isoformat(),
            "tmax_c": f"{high:.1f}",
            "tmin_c": f"{low:.1f}",
            "rh_mean_pct": f"{min(98, max(68, damp)):.0f}",
            "sun_h": f"{sun_h:.1f}",
            "wind2m_ms": f"{max(0.8, month.wind_2m_m_per_s + 0.5 * _normal(dice)):.1f}",
            "rain_mm": f"{rain_mm[day]:g}",
        }


def _rain_mm(days: list[date], dice: Random) -> dict[date, float]:
    """Rain of each day in tenths: spells of wet days with amounts exponential, scaled to each month's sum."""
    amounts, wet = {}, True
    for day in days:
        wet = dice.random() < (WET_AFTER_WET if wet else WET_AFTER_DRY)
        amounts[day] = -math.log(1 - dice.random()) if wet else 0.0
    total = {
        number: sum(amount for day, amount in amounts.items() if day.month == number)
        for number in MONTHS
    }
    return {
        day: round(amount * MONTHS[day.month].rain_mm / total[day.month], 1)
        for day, amount in amounts.items()
    }


def _et0_mm(drawn: list[Row]) -> list[float]:
    """Reference ET of the days, as the book that ships has it."""
    place = text.garden()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "weather.csv"
        _write(path, list(drawn[0]), drawn)
        site = Site(place.latitude_deg, place.elevation_m)
        found = read_weather_file(path, site, FETCHED, columns_said([]))
    return [one.value for one in found.values if one.variable == "et0_mm"]


def _normal(dice: Random) -> float:
    """A normal number out of `random`, the one draw that Python keeps the same between its versions."""
    return NORMAL.inv_cdf(dice.random())


def _write(path: Path, columns: list[str], lines: list[Row]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, columns, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(lines)


def main() -> None:
    """Write the days before the record among the specimen's text."""
    target = Path(__file__).parent / "source" / "weather.csv"
    record = [line for line in text.rows("weather") if line["date"] >= RECORD_BEGINS.isoformat()]
    _write(target, list(record[0]), [*rows(), *record])
    print(f"{target}: {(RECORD_BEGINS - FIRST).days} days before {RECORD_BEGINS}")


if __name__ == "__main__":
    main()
