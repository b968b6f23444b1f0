"""A record read whole: frost that nobody measured, cover in columns, water given, air a little more than full."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from soakbook.truth.sky import Sky
from soakbook.weather.reference_et import saturation_vapour_pressure
from tests.truth.made import Row, read, weather, write

ROWS = weather(date(2015, 4, 1), 40)


def rows(**same: str) -> list[Row]:
    return [row | same for row in ROWS]


def sky(folder: Path, found: list[Row]) -> Sky:
    return read(write(folder, found)).series.sky


def test_ten_days_of_frost_freeze_the_ground_unless_its_warmth_is_measured(tmp_path: Path) -> None:
    """From the tenth day of a mean of -1 C: 0 or above before, by the mean of the days so far."""
    cold = [
        row | {"tmin_c": "-4", "tmax_c": "2"} if n >= 10 else row | {"tmin_c": "0", "tmax_c": "2"}
        for n, row in enumerate(ROWS)
    ]
    series = read(write(tmp_path, cold)).series
    assert np.flatnonzero(series.frozen).tolist() == list(range(15, 40))
    assert any("25 days taken as likely frozen" in one for one in series.findings)
    warm = [row | {"tsoil_5_c": "4"} for row in cold]
    assert not read(write(tmp_path, warm)).series.frozen.any()


def test_cover_in_columns(tmp_path: Path) -> None:
    found = rows(kcb="0.5", ground_cover="40")
    found[20] |= {"kcb": "", "ground_cover": ""}
    series = read(write(tmp_path, found, {"cover": None})).series
    kcb, ground = series.cover.on(series.days)
    assert kcb == pytest.approx(np.full(40, 0.5))
    assert ground == pytest.approx(np.full(40, 0.4))
    assert not any("taken as grass" in one for one in series.findings)


def test_water_given_counts_as_rain(tmp_path: Path) -> None:
    plain = sky(tmp_path, rows())
    given = sky(tmp_path, rows(irrigation_mm="3"))
    assert given.rain_mm == pytest.approx(plain.rain_mm + 3)


def test_vapour_beyond_what_the_air_can_hold_is_capped_there(tmp_path: Path) -> None:
    """Full is the mean of night and noon, FAO-56 equation 12, and half a degree: a tenth more is capped."""

    def full(row: Row, more: float) -> str:
        ends = saturation_vapour_pressure([float(row["tmin_c"]), float(row["tmax_c"])])
        return f"{more * sum(ends) / 2:.4f}"

    with_mean = [
        row | {"tmean_c": f"{(float(row['tmin_c']) + float(row['tmax_c'])) / 2:.2f}"}
        for row in ROWS
    ]
    at_full = [row | {"ea_kpa": full(row, 1.0)} for row in with_mean]
    beyond = [row | {"ea_kpa": full(row, 1.1)} for row in with_mean]
    found = sky(tmp_path, beyond)
    assert any("capped at what the air can hold on" in one for one in found.findings)
    assert found.et0_mm == pytest.approx(sky(tmp_path, at_full).et0_mm, abs=0.1)


def test_a_day_whose_night_is_warmer_than_its_noon_loses_both(tmp_path: Path) -> None:
    """Its reference evaporation is that of the days either side."""
    wrong = rows()
    wrong[20] |= {"tmin_c": "30"}
    blank = rows()
    blank[20] |= {"tmin_c": "", "tmax_c": ""}
    assert sky(tmp_path, wrong).et0_mm == pytest.approx(sky(tmp_path, blank).et0_mm)
