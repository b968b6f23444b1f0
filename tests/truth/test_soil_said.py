"""A record's soil: the same grains said in every way make the same soil."""

from typing import Any

import pytest

from soakbook.garden.tables.soils import SOILS
from soakbook.truth.said import Said
from soakbook.truth.soil_said import LETTERS, Soil, class_key, read_soil, soil_of_class


def read(keys: dict[str, Any]) -> Soil:
    return read_soil(Said(keys), [])


@pytest.mark.parametrize(
    "keys",
    [
        {"soil": "silt loam"},
        {"soil": "Silt-Loam"},
        {"soil": "siltloam"},
        {"soil": "SiL"},
        {"soil": "Silt loam (Crider series)"},
        {"soil": {"class": "silt loam", "organic_matter": 2.5}},
        {"soil": {"class": "silt loam"}},
        {"soil": {"sand": 0.20, "clay": 0.15}},
        {"soil": {"sand": 20, "clay": 15}},
        {"soil": {"sand_percent": 20, "clay_fraction": 0.15}},
        {"soil": {"silt": 65, "clay": 15}},
        {"soil": {"sand": 20, "silt": 65, "clay": 15, "organic_matter": 2.5}},
        {"soil": {"sand": 0.20, "clay": 0.15, "organic_matter": 0.025}},
        {"soil": {"sand": 0.20, "clay": 0.15, "organic_matter_percent": 2.5}},
        {"sand": 0.20, "clay": 0.15},
    ],
)
def test_ways_to_say_silt_loam(keys: dict[str, Any]) -> None:
    found, whole = read(keys), soil_of_class("silt loam")
    assert found.soil.name == "silt loam"
    assert found.water.field_capacity == pytest.approx(whole.water.field_capacity)


def test_organic_matter_and_stones_count() -> None:
    plain = read({"soil": {"sand": 0.2, "clay": 0.15}}).water
    rich = read({"soil": {"sand": 0.2, "clay": 0.15, "organic_matter": 0.05}}).water
    stony = read({"soil": {"class": "silt loam", "stones": 0.5}}).water
    assert rich.field_capacity > plain.field_capacity
    assert stony.field_capacity == pytest.approx(plain.field_capacity / 2)


def test_a_class_with_organic_matter_has_the_grains_of_its_class() -> None:
    of_class = read({"soil": {"class": "silt loam", "organic_matter": 5}}).water
    of_grains = read({"soil": {"sand": 20, "clay": 15, "organic_matter": 5}}).water
    assert of_class == of_grains


@pytest.mark.parametrize("letters", LETTERS)
def test_letters_of_the_triangle(letters: str) -> None:
    assert class_key(letters.upper()) == LETTERS[letters]
    assert LETTERS[letters] in SOILS
