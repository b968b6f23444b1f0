"""The single store: it is the product's own day, its water adds up, and it knows when it is blind."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from soakbook.reckoning.physics.ledger import imbalance_mm
from soakbook.reckoning.physics.records import Sky
from soakbook.reckoning.physics.settling import settle
from soakbook.truth.bucket import (
    ANEW_AFTER_DAYS,
    Forcing,
    first_stores,
    forcing_of,
    one_day,
    root_zone,
    run_plain,
)
from soakbook.truth.soil_said import soil_of_class
from tests.truth.made import read, weather, write

SILT_LOAM = soil_of_class("silt loam")


def forcing(days: int, rain_mm: float = 0.0, et0_mm: float = 4.0, kcb: float = 0.9) -> Forcing:
    def every(value: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.full(days, value)

    blind = np.zeros(days, np.bool_)
    anew = blind.copy()
    anew[0] = True
    return Forcing(every(rain_mm), every(et0_mm), every(1.2), every(kcb), every(0.95), blind, anew)


@pytest.mark.parametrize("rain_mm", [0.0, 8.0, 90.0])
def test_a_days_water_adds_up(rain_mm: float) -> None:
    zone = root_zone(SILT_LOAM, 0.5, 0.9, 0.5)
    fixed, stores = settle(zone.plot), first_stores(97.5)
    sky = Sky(rain_mm, 5.0, 4.0, 0.0, 1.2)
    after, flows = one_day(sky, 0.7, 0.8, zone.plot, fixed, stores)
    assert float(np.max(np.abs(imbalance_mm(1.0, stores, after, flows)))) < 1e-9


def test_without_rain_it_dries_to_the_wilting_point_and_no_further() -> None:
    course = run_plain(forcing(400), [root_zone(SILT_LOAM, 0.5, 0.9, 0.5)], 0.5)
    assert (np.diff(course.theta[0]) <= 0).all()
    assert course.theta[0, -1] == pytest.approx(float(SILT_LOAM.water.wilting_point), abs=1e-3)


def test_in_steady_rain_what_it_cannot_drink_drains() -> None:
    course = run_plain(forcing(200, rain_mm=10.0), [root_zone(SILT_LOAM, 0.5, 0.9, 0.5)], 0.5)
    assert course.et_mm[0, -1] + course.drained_mm[0, -1] == pytest.approx(10.0, abs=1e-6)
    assert course.settled[-1]


def test_bare_ground_drinks_nothing() -> None:
    bare = forcing(30, kcb=0.0)._replace(ground_cover=np.zeros(30))
    course = run_plain(bare, [root_zone(SILT_LOAM, 0.5, 0.0, 0.5)], 0.5)
    tew = 1000 * 0.10 * float(SILT_LOAM.water.field_capacity - 0.5 * SILT_LOAM.water.wilting_point)
    assert course.et_mm[0].sum() == pytest.approx(tew, rel=0.05)


def test_soils_side_by_side_are_the_soils_alone() -> None:
    zones = [root_zone(soil_of_class(name), 0.5, 0.9, 0.5) for name in ("silt loam", "sand")]
    together = run_plain(forcing(60, rain_mm=3.0), zones, 0.5)
    for row, zone in enumerate(zones):
        alone = run_plain(forcing(60, rain_mm=3.0), [zone], 0.5)
        assert together.theta[row] == pytest.approx(alone.theta[0], abs=1e-12)


def test_the_start_is_forgotten_when_the_soil_has_been_full() -> None:
    dry = run_plain(forcing(60), [root_zone(SILT_LOAM, 0.5, 0.9, 0.5)], 0.5)
    wet = run_plain(forcing(60, rain_mm=15.0), [root_zone(SILT_LOAM, 0.5, 0.9, 0.5)], 0.5)
    assert not dry.settled[:30].any()
    assert not wet.settled[0]
    assert wet.settled[20:].all()


@pytest.mark.parametrize(("gap", "anew"), [(ANEW_AFTER_DAYS, False), (ANEW_AFTER_DAYS + 1, True)])
def test_a_long_gap_of_rain_begins_a_run_anew(tmp_path: Path, gap: int, anew: bool) -> None:
    rows = weather(date(2015, 1, 1), 120)
    for row in rows[40 : 40 + gap]:
        row["rain_mm"] = ""
    series = read(write(tmp_path, rows)).series
    found = forcing_of(series, series.cover)
    assert found.blind.sum() == gap
    assert np.flatnonzero(found.anew).tolist() == ([0, 40 + gap] if anew else [0])
