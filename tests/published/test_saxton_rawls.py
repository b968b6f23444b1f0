"""Soil water from grains and organic matter against printed values of its authors.

Saxton and Rawls (2006), Soil Sci. Soc. Am. J. 70:1569-1578. The table was read as transcribed in the
tests of the public repository tehilinski/SWCharEst (tests/SaxtonRawls_Table3.R); of the paper itself
only the abstract pages were seen.
"""

from typing import NamedTuple

import pytest

from soakbook.reckoning.physics.soil import pedotransfer

ORGANIC_PERCENT = 2.5
HALF_A_PERCENT = 0.005  # water is printed in whole per cent
CONDUCTIVITY_TOLERANCE = 0.06  # printed to 0.1 mm/h, and a last digit of rounding


class Row(NamedTuple):
    """A line of table 3: sand and clay by mass, water by volume, per cent as printed."""

    name: str
    sand: float
    clay: float
    wilting_point_percent: float
    field_capacity_percent: float
    saturation_percent: float
    conductivity_mm_h: float


TABLE_3 = [
    Row("sand", 0.88, 0.05, 5, 10, 46, 108.1),
    Row("loamy sand", 0.80, 0.05, 5, 12, 46, 96.7),
    Row("sandy loam", 0.65, 0.10, 8, 18, 45, 50.3),
    Row("silt loam", 0.20, 0.15, 11, 31, 48, 16.1),
    Row("silt", 0.10, 0.05, 6, 30, 48, 22.0),
    Row("clay loam", 0.30, 0.35, 22, 36, 48, 4.3),
    Row("silty clay loam", 0.10, 0.35, 22, 38, 51, 5.7),
    Row("sandy clay", 0.50, 0.40, 25, 36, 44, 1.4),
    Row("clay", 0.25, 0.50, 30, 42, 50, 1.1),
]


@pytest.mark.parametrize("row", TABLE_3, ids=lambda row: row.name)
def test_table_3(row: Row) -> None:
    water = pedotransfer(row.sand, row.clay, ORGANIC_PERCENT)
    assert water.wilting_point == pytest.approx(row.wilting_point_percent / 100, abs=HALF_A_PERCENT)
    assert water.field_capacity == pytest.approx(
        row.field_capacity_percent / 100, abs=HALF_A_PERCENT
    )
    assert water.saturation == pytest.approx(row.saturation_percent / 100, abs=HALF_A_PERCENT)
    assert water.conductivity_mm_h == pytest.approx(
        row.conductivity_mm_h, abs=CONDUCTIVITY_TOLERANCE
    )


def test_six_digits_of_another_program() -> None:
    """Head of src/SWCharEst.py in the same repository: sand 85 %, clay 4 %, organic matter 2.08 %.

    Tolerance: two of the last printed digit; conductivity there is in cm/s.
    """
    water = pedotransfer(0.85, 0.04, 2.08)
    assert water.wilting_point == pytest.approx(0.039999, abs=2e-6)
    assert water.field_capacity == pytest.approx(0.097846, abs=2e-6)
    assert water.saturation == pytest.approx(0.454455, abs=2e-6)
    assert water.conductivity_mm_h / 36_000 == pytest.approx(0.003096, abs=1e-6)


def test_two_slips_seen_in_public_code_are_not_ours() -> None:
    """Loam, sand 40 %, clay 20 %: 1.238 for 1.283 gives 0.2757, organic matter as 0.025 gives 0.2528."""
    assert pedotransfer(0.40, 0.20, 2.5).field_capacity == pytest.approx(0.2796, abs=1e-4)
