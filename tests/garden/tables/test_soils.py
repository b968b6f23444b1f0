"""The twelve texture classes and the words for them."""

from itertools import pairwise

import pytest

from soakbook.errors import InputError
from soakbook.garden.tables.soils import (
    SOILS,
    SQUEEZES,
    UNKNOWN,
    Grain,
    soil_class,
    soil_key,
    squeezed_soil,
)

# Percent of sand and clay of each class's point: Saxton & Rawls 2006, table 3.
SAXTON_RAWLS_TABLE_3 = {
    "sand": (88, 5),
    "loamy sand": (80, 5),
    "sandy loam": (65, 10),
    "loam": (40, 20),
    "silt loam": (20, 15),
    "silt": (10, 5),
    "sandy clay loam": (60, 25),
    "clay loam": (30, 35),
    "silty clay loam": (10, 35),
    "silty clay": (10, 45),
    "sandy clay": (50, 40),
    "clay": (25, 50),
}
# REW, mm, lowest and highest: FAO-56 table 19.
FAO_TABLE_19_REW = {
    "sand": (2, 7),
    "loamy sand": (4, 8),
    "sandy loam": (6, 10),
    "loam": (8, 10),
    "silt loam": (8, 11),
    "silt": (8, 11),
    "silty clay loam": (8, 11),
    "silty clay": (8, 12),
    "clay": (8, 12),
}


def test_classes_stand_at_the_published_points() -> None:
    percent = {
        name: (round(100 * soil.sand_fraction), round(100 * soil.clay_fraction))
        for name, soil in SOILS.items()
    }
    assert percent == SAXTON_RAWLS_TABLE_3


@pytest.mark.parametrize("name", FAO_TABLE_19_REW)
def test_readily_evaporable_water_is_within_the_published_span(name: str) -> None:
    lowest, highest = FAO_TABLE_19_REW[name]
    assert lowest <= SOILS[name].rew_mm <= highest


def test_a_soil_that_takes_water_more_slowly_drains_no_faster() -> None:
    by_intake = sorted(SOILS.values(), key=lambda soil: -soil.intake_mm_h)
    for faster, slower in pairwise(by_intake):
        if faster.intake_mm_h > slower.intake_mm_h and slower.name not in ("silt loam", "silt"):
            assert faster.drain_days <= slower.drain_days


def test_the_three_clays_are_heavy() -> None:
    heavy = {name for name, soil in SOILS.items() if soil.heavy}
    assert heavy == {"sandy clay", "silty clay", "clay"}


def test_keys_are_names() -> None:
    assert all(key == soil.name for key, soil in SOILS.items())


def test_a_soil_nobody_has_felt_is_taken_for_loam() -> None:
    assert soil_class(UNKNOWN) is SOILS["loam"]
    assert soil_class("clay") is SOILS["clay"]


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("Clay", "clay"),
        ("sandy-loam", "sandy loam"),
        ("?", "unknown"),
        ("unknown", "unknown"),
        ("heavy clay", "clay"),
        ("silty clay l", "silty clay loam"),
    ],
)
def test_words_for_a_soil(word: str, key: str) -> None:
    assert soil_key(word) == key


def test_a_soil_that_could_be_several_is_refused() -> None:
    with pytest.raises(InputError, match="sandy loam or sandy clay loam or sandy clay"):
        soil_key("sandy")


@pytest.mark.parametrize(
    ("squeeze", "grain", "key"),
    [
        ("falls apart", None, "loamy sand"),
        ("ball", None, "sandy loam"),
        ("short ribbon", None, "loam"),
        ("short ribbon", "gritty", "sandy loam"),
        ("short ribbon", "silky", "silt loam"),
        ("ribbon", None, "clay loam"),
        ("ribbon", "gritty", "sandy clay loam"),
        ("ribbon", "silky", "silty clay loam"),
        ("long ribbon", None, "clay"),
        ("long ribbon", "gritty", "sandy clay"),
        ("long ribbon", "silky", "silty clay"),
    ],
)
def test_what_a_squeeze_tells(squeeze: str, grain: Grain | None, key: str) -> None:
    """Ribbons after Thien 1979's flow diagram; the two without a ribbon common practice."""
    assert squeezed_soil(squeeze, grain) == key


def test_every_squeeze_tells_a_soil_of_the_table() -> None:
    for squeeze in SQUEEZES.values():
        assert {squeeze.soil, squeeze.gritty_soil, squeeze.silky_soil} <= set(SOILS)


def test_a_longer_ribbon_tells_a_finer_soil() -> None:
    clay = [SOILS[squeeze.soil].clay_fraction for squeeze in SQUEEZES.values()]
    assert clay == sorted(clay)
