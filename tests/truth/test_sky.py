"""A record's reference evaporation: by the product's own, and by the dryness that was measured."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from soakbook.weather.reference_et import saturation_vapour_pressure
from tests.truth.made import Row, read, weather, write

ROWS = weather(date(2015, 4, 1), 40)


def mean_only() -> list[Row]:
    """The rows with the mean temperature alone, and the dryness of 70 % of humidity at that mean."""
    found = []
    for row in ROWS:
        mean = (float(row["tmin_c"]) + float(row["tmax_c"])) / 2
        dry = 0.3 * saturation_vapour_pressure([mean])[0]
        kept = {
            key: value for key, value in row.items() if key not in ("tmin_c", "tmax_c", "rh_pct")
        }
        found.append(kept | {"tmean_c": f"{mean:.3f}", "vpd_hpa": f"{10 * dry:.6f}"})
    return found


def test_mean_temperature_and_dryness_come_near_the_whole(tmp_path: Path) -> None:
    whole = read(write(tmp_path, ROWS)).series.sky
    found = read(write(tmp_path, mean_only())).series.sky
    assert found.et0_mm == pytest.approx(whole.et0_mm, rel=0.12)
    assert any("dryness of the air on 40 days" in one for one in found.findings)


def test_dryness_goes_before_humidity(tmp_path: Path) -> None:
    damp = [row | {"rh_pct": "100"} for row in ROWS]
    dry = [row | {"vpd_kpa": "1.5"} for row in damp]
    assert (
        read(write(tmp_path, dry)).series.sky.et0_mm > read(write(tmp_path, damp)).series.sky.et0_mm
    ).all()


def test_a_day_without_temperatures_takes_the_mean_of_ten(tmp_path: Path) -> None:
    rows = [dict(row) for row in ROWS]
    for row in rows[20:26]:
        row |= {"tmin_c": "", "tmax_c": ""}
    sky = read(write(tmp_path, rows)).series.sky
    assert [n for n, known in enumerate(sky.et0_known) if not known] == list(range(20, 26))
    assert sky.et0_mm[20:26] == pytest.approx(np.full(6, sky.et0_mm[10:20].mean()))


def test_the_gauge_read_at_breakfast(tmp_path: Path) -> None:
    """Booked to the day before it was read at 09:00: nine hours of it fell on the day of reading."""
    sky = read(write(tmp_path, ROWS, {"rain_day": '"09:00 before"'})).series.sky
    first, second = float(ROWS[4]["rain_mm"]), float(ROWS[5]["rain_mm"])
    assert sky.rain_mm[5] == pytest.approx(first * 9 / 24 + second * 15 / 24)
