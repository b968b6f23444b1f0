"""Stand-ins for radiation against a clear sky that FAO-56 prints and radiation that KNMI measured.

FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes, Smith 1998); KNMI station 260 De Bilt, daily values of
2014-2019 (data/debilt_nl_daily_2014_2019.csv; origin and licence in data/README.md). The equation for cloud is Kasten
and Czeplak 1980, from memory.
"""

import csv
from collections.abc import Sequence
from datetime import date
from math import fsum, sqrt
from pathlib import Path

import pytest

from soakbook.weather.reference_et import DayInputs, Site, daylight_hours, reference_et

DE_BILT = Site(52.1, 2.0)
RECORD = Path(__file__).parents[2] / "data" / "debilt_nl_daily_2014_2019.csv"


@pytest.mark.parametrize(
    ("cloud_fraction", "tmin_c", "tmax_c", "expected_mj", "tolerance_mj"),
    [
        (0.0, 0.0, 30.0, 30.90, 0.05),  # both say clear: Rso, as printed
        (1.0, 0.0, 30.0, 30.90 * 0.625, 0.05),  # overcast but a wide range: (0.25 + 1) / 2 of it
        (1.0, 15.0, 15.0, 30.90 * 0.125, 0.05),  # overcast and no range at all: half of 0.25
    ],
    ids=["clear", "overcast, wide range", "overcast, no range"],
)
def test_limits_at_uccle(
    cloud_fraction: float, tmin_c: float, tmax_c: float, expected_mj: float, tolerance_mj: float
) -> None:
    """FAO-56 Ex. 18, p. 72: Uccle, 50.80 N, 100 m, 6 July: Rso 30.90 MJ/m2, printed to 0.01 of chained roundings."""
    day = DayInputs(date(2031, 7, 6), tmin_c, tmax_c, cloud_fraction=cloud_fraction)
    (found,) = reference_et([day], Site(50.8, 100.0))
    assert found.radiation_mj_m2_day == pytest.approx(expected_mj, abs=tolerance_mj)


def summers() -> list[dict[str, str]]:
    with RECORD.open(encoding="utf-8") as lines:
        return [row for row in csv.DictReader(lines) if 4 <= int(row["date"][5:7]) <= 9]


def radiation(rows: Sequence[dict[str, str]], *, clouded: bool) -> list[float]:
    """By range alone, or with the share of the day without sunshine standing in for cloud."""
    days = [date.fromisoformat(row["date"]) for row in rows]
    inputs = [
        DayInputs(
            day,
            float(row["tmin_c"]),
            float(row["tmax_c"]),
            cloud_fraction=max(0.0, 1 - float(row["sun_h"]) / daylight_h) if clouded else None,
        )
        for day, row, daylight_h in zip(days, rows, daylight_hours(days, 52.1), strict=True)
    ]
    return [found.radiation_mj_m2_day or 0.0 for found in reference_et(inputs, DE_BILT)]


def test_cloud_beside_the_range_comes_nearer_to_measured_radiation() -> None:
    """De Bilt, April to September 2014-2019, column rs_mj: error of a day, in MJ/m2.

    The record has no cloud; the share of the day without sunshine stands in for it, which is kinder than cloud (thin
    cloud lets the sun through), so the sum comes out too sunny: this checks the way, not its bias.
    """
    rows = summers()
    measured = [float(row["rs_mj"]) for row in rows]
    errors = {}
    for clouded in (False, True):
        found = radiation(rows, clouded=clouded)
        squares = [(mj - was) ** 2 for mj, was in zip(found, measured, strict=True)]
        errors[clouded] = sqrt(fsum(squares) / len(squares))
    assert errors[True] < 0.95 * errors[False]
    assert errors[False] == pytest.approx(4.2, abs=0.05)


def test_the_range_alone_is_seven_in_a_hundred_too_sunny_at_de_bilt() -> None:
    """The same days of column rs_mj: what the mean of cloud and range leans on is off by so much."""
    rows = summers()
    too_sunny = fsum(radiation(rows, clouded=False)) / fsum(float(row["rs_mj"]) for row in rows)
    assert too_sunny == pytest.approx(1.072, abs=0.001)
