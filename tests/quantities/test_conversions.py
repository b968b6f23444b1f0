"""Every factor against pint's registry, another program's; litres and depth there and back."""

from collections.abc import Callable
from functools import partial

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.quantities import conversions as ours

DAY = "86400 s"
HOUR = "3600 s"
REFERENCE: list[tuple[Callable[[float], float], str, str]] = [
    (partial(ours.litres_from_gallons, gallon="uk"), "imperial_gallon", "liter"),
    (partial(ours.litres_from_gallons, gallon="us"), "US_liquid_gallon", "liter"),
    (ours.mm_from_inches, "inch", "millimeter"),
    (ours.m_from_feet, "foot", "meter"),
    (ours.m2_from_square_feet, "foot**2", "meter**2"),
    (ours.m2_from_square_yards, "yard**2", "meter**2"),
    (ours.m_per_s_from_km_per_h, "kilometer/hour", "meter/second"),
    (ours.m_per_s_from_mph, "mile/hour", "meter/second"),
    (ours.m_per_s_from_knots, "knot", "meter/second"),
    (ours.kpa_from_hpa, "hectopascal", "kilopascal"),
    (ours.kpa_from_hpa, "millibar", "kilopascal"),
    (ours.mj_m2_from_langleys, "langley", "megajoule/meter**2"),
    (ours.mj_m2_from_j_cm2, "joule/centimeter**2", "megajoule/meter**2"),
]


@pytest.fixture(scope="module")
def registry() -> "pint.UnitRegistry[float]":
    return pint.UnitRegistry()


@pytest.mark.parametrize(("function", "theirs", "unit"), REFERENCE)
def test_factor_is_pints(
    registry: "pint.UnitRegistry[float]", function: Callable[[float], float], theirs: str, unit: str
) -> None:
    for value in (1.0, 0.6, 1234.5):
        expected = registry.Quantity(value, theirs).to(unit).magnitude
        assert function(value) == pytest.approx(expected, rel=1e-12)
    assert function(0.0) == 0.0


@pytest.mark.parametrize("fahrenheit", [-40.0, 0.0, 32.0, 68.0, 212.0])
def test_fahrenheit_is_pints(registry: "pint.UnitRegistry[float]", fahrenheit: float) -> None:
    expected = registry.Quantity(fahrenheit, "degF").to("degC").magnitude
    assert ours.c_from_fahrenheit(fahrenheit) == pytest.approx(expected, abs=1e-9)


def test_watts_over_a_day_and_an_hour_are_pints(registry: "pint.UnitRegistry[float]") -> None:
    flux = registry.Quantity(250.0, "watt/meter**2")
    for function, span in ((ours.mj_m2_day_from_w_m2, DAY), (ours.mj_m2_hour_from_w_m2, HOUR)):
        expected = (flux * registry(span)).to("megajoule/meter**2").magnitude
        assert function(250.0) == pytest.approx(expected, rel=1e-12)


def test_watts_over_a_day_as_printed() -> None:
    """FAO-56 table 3: 1 W m-2 = 0.0864 MJ m-2 day-1, as printed."""
    assert ours.mj_m2_day_from_w_m2(1.0) == pytest.approx(0.0864, abs=1e-12)


def test_a_wet_evening_on_the_long_border() -> None:
    """15.6 mm on 46 m2: 1 mm on 1 m2 is 1 L, by geometry."""
    assert ours.litres_from_depth(15.6, 46.0) == pytest.approx(717.6)
    assert ours.depth_from_litres(717.6, 46.0) == pytest.approx(15.6)


def test_depth_is_a_depth_by_pint(registry: "pint.UnitRegistry[float]") -> None:
    """A rate taken for an amount, or metres for millimetres, would be a thousandfold wrong."""
    volume = registry.Quantity(7.0, "millimeter") * registry.Quantity(18.0, "meter**2")
    assert ours.litres_from_depth(7.0, 18.0) == pytest.approx(volume.to("liter").magnitude)


@given(st.floats(0, 1e4), st.floats(1e-3, 1e4))
def test_litres_and_depth_there_and_back(depth_mm: float, area_m2: float) -> None:
    litres = ours.litres_from_depth(depth_mm, area_m2)
    assert ours.depth_from_litres(litres, area_m2) == pytest.approx(depth_mm, rel=1e-12, abs=1e-300)
