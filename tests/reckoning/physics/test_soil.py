import numpy as np
import pytest

from soakbook.reckoning.physics.soil import (
    FAO_MIDPOINTS,
    pedotransfer,
    readily_evaporable_mm,
    soil_water,
    texture_class,
    total_evaporable_mm,
)

# one point well inside each class of the USDA triangle, and points on its borders (sand, clay)
CLASSES = [
    ("sand", 0.92, 0.03),
    ("loamy sand", 0.82, 0.06),
    ("sandy loam", 0.65, 0.10),
    ("sandy loam", 0.52, 0.06),
    ("loam", 0.40, 0.20),
    ("loam", 0.52, 0.07),
    ("loam", 0.45, 0.26),
    ("silt loam", 0.20, 0.15),
    ("silt loam", 0.50, 0.00),
    ("silt loam", 0.08, 0.12),
    ("silt", 0.10, 0.05),
    ("silt", 0.20, 0.00),
    ("sandy clay loam", 0.60, 0.25),
    ("sandy clay loam", 0.60, 0.34),
    ("clay loam", 0.33, 0.34),
    ("clay loam", 0.45, 0.27),
    ("silty clay loam", 0.10, 0.34),
    ("silty clay loam", 0.20, 0.39),
    ("sandy clay", 0.52, 0.42),
    ("sandy clay", 0.65, 0.35),
    ("silty clay", 0.07, 0.46),
    ("silty clay", 0.20, 0.40),
    ("clay", 0.20, 0.60),
    ("clay", 0.45, 0.40),
]


@pytest.mark.parametrize(("name", "sand", "clay"), CLASSES)
def test_texture_triangle(name: str, sand: float, clay: float) -> None:
    assert texture_class(sand, clay) == name


def test_every_point_of_the_triangle_holds_more_when_full_than_when_wilted() -> None:
    for sand in np.arange(0, 101) / 100:
        for clay in np.arange(0, min(61, 101 - round(100 * sand))) / 100:
            water = soil_water(texture_class(sand, clay), sand, clay)
            assert 0 < water.wilting_point < water.field_capacity < water.saturation < 1
            assert water.conductivity_mm_h > 0


@pytest.mark.parametrize("organic_percent", [0.0, 8.0])
def test_the_edges_of_the_equations_stay_numbers(organic_percent: float) -> None:
    sand, clay = np.meshgrid(np.linspace(0, 1, 41), np.linspace(0, 0.6, 25))
    inside = sand + clay <= 1
    water = pedotransfer(sand[inside], clay[inside], organic_percent)
    assert all(np.isfinite(field).all() for field in water)
    assert np.all(water.saturation >= water.field_capacity)


def test_numbers_and_arrays_agree() -> None:
    many = pedotransfer(np.array([0.4, 0.1]), np.array([0.2, 0.35]))
    one = pedotransfer(0.1, 0.35)
    assert [field[1] for field in many if isinstance(field, np.ndarray)] == list(one)


def test_what_is_not_a_number_stays_so() -> None:
    assert all(np.isnan(field) for field in pedotransfer(np.nan, 0.2))


@pytest.mark.parametrize("name", list(FAO_MIDPOINTS))
def test_light_soils_stand_between_the_two_sources(name: str) -> None:
    sand, clay = {"sand": (0.88, 0.05), "loamy sand": (0.8, 0.05), "sandy loam": (0.65, 0.1)}[name]
    equations, mixed = pedotransfer(sand, clay), soil_water(name, sand, clay)
    capacity, wilting = FAO_MIDPOINTS[name]
    assert mixed.field_capacity == pytest.approx((equations.field_capacity + capacity) / 2)
    assert mixed.wilting_point == pytest.approx((equations.wilting_point + wilting) / 2)
    assert mixed.saturation == equations.saturation


def test_finer_soils_take_the_equations_as_they_are() -> None:
    assert soil_water("loam", 0.4, 0.2) == pedotransfer(0.4, 0.2)


def test_a_fifth_of_stones_holds_a_fifth_less() -> None:
    fine, stony = soil_water("loam", 0.4, 0.2), soil_water("loam", 0.4, 0.2, stone_fraction=0.2)
    assert np.array(stony[:3]) == pytest.approx(0.8 * np.array(fine[:3]))
    assert stony.conductivity_mm_h == fine.conductivity_mm_h


def test_readily_evaporable_is_at_most_four_fifths_of_all() -> None:
    tew = float(total_evaporable_mm(0.1, 0.04))
    assert tew == pytest.approx(8.0)
    assert readily_evaporable_mm(9.0, tew) == pytest.approx(6.4)
    assert readily_evaporable_mm(5.0, tew) == 5.0
