"""The soil of a record: a class by name, or grains and organic matter as fractions or per cent."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden.tables.soils import SOILS, UNKNOWN, SoilClass, soil_class, soil_key
from soakbook.reckoning.physics.soil import SoilWater, soil_water, texture_class
from soakbook.truth.organic_said import ENDINGS, organic_percent
from soakbook.truth.said import Said, number

MOST_CLAY = 0.60
GRAINS = ("sand", "silt", "clay")
CLASS_KEYS = ("class", "texture", "texture_class", "soil_class", "name")
STONE_KEYS = ("stone_fraction", "stones", "stones_fraction")
LETTERS = {
    "s": "sand",
    "ls": "loamy sand",
    "sl": "sandy loam",
    "l": "loam",
    "sil": "silt loam",
    "si": "silt",
    "scl": "sandy clay loam",
    "cl": "clay loam",
    "sicl": "silty clay loam",
    "sc": "sandy clay",
    "sic": "silty clay",
    "c": "clay",
}
"""Letters of the classes in the triangle of the Soil Survey Manual (USDA Handbook 18)."""


class Soil(NamedTuple):
    """A soil as it is reckoned."""

    soil: SoilClass
    water: SoilWater
    words: str
    """What was said of it, for the head of a table."""


def soil_of_class(name: str) -> Soil:
    """A soil of which only the class is known."""
    found = SOILS[name]
    return Soil(found, soil_water(name, found.sand_fraction, found.clay_fraction), name)


def read_soil(said: Said, findings: list[str]) -> Soil:
    """The soil a record names under `soil`, or by grains at its top.

    Parameters
    ----------
    said : Said
        The record's keys; those of the soil are taken out.
    findings : list of str
        What should be known of how it was understood is added.

    Raises
    ------
    InputError
        No soil, a class we do not know, grains that cannot be.
    """
    value = (said.take("soil", "texture", "soil_class") or ("soil", None))[1]
    own = said if not isinstance(value, Mapping) else Said(value, "soil")
    name = value if isinstance(value, str) else None
    if value is not None and not isinstance(value, str | Mapping):
        raise InputError("soil", value, "a class like 'silt loam', or a table with sand and clay")
    if own is not said:
        name = own.text(*CLASS_KEYS)
    stones = own.number(STONE_KEYS, 0.0, 0.9, "a share of the soil from 0 to 0.9") or 0.0
    grains = _grains(own, findings)
    organic = organic_percent(own, grains is not None and grains.in_percent, findings)
    if own is not said and own.left():
        findings.append(f"not understood, and left out: {', '.join(own.left())}")
    if grains is not None:
        return _by_grains(grains, organic, name, stones, findings)
    if name is None:
        raise InputError("soil", None, f"a class ({', '.join(SOILS)}), or sand and clay")
    return _by_class(name, organic, stones, findings)


def class_key(name: str) -> str:
    """The class a name means: also run together, by its letters in the triangle, with more behind it."""
    plain = re.sub(r"\(.*?\)|,.*|\bsoil\b", "", name.casefold()).strip()
    letters = re.sub(r"[^a-z]", "", plain)
    joined = {key.replace(" ", ""): key for key in SOILS}
    return LETTERS.get(letters) or joined.get(letters) or soil_key(plain or name)


def _by_class(name: str, organic: float, stones: float, findings: list[str]) -> Soil:
    key = class_key(name)
    if key == UNKNOWN:
        findings.append("the soil is not known and taken as loam")
    found = soil_class(key)
    water = soil_water(found.name, found.sand_fraction, found.clay_fraction, organic, stones)
    return Soil(found, water, found.name)


def _by_grains(
    grains: "_Grains", organic: float, name: str | None, stones: float, findings: list[str]
) -> Soil:
    sand, clay, _ = grains
    texture = texture_class(sand, clay)
    if name is not None and class_key(name) != texture:
        findings.append(f"sand and clay make {texture}, not {name}: sand and clay are taken")
    words = f"{texture} ({100 * sand:.0f} % sand, {100 * clay:.0f} % clay)"
    return Soil(SOILS[texture], soil_water(texture, sand, clay, organic, stones), words)


class _Grains(NamedTuple):
    sand: float
    clay: float
    in_percent: bool  # as they were said, without their names saying so


def _grains(said: Said, findings: list[str]) -> _Grains | None:
    """Sand and clay as fractions; None where no grains are said."""
    found = {grain: _share(said, grain) for grain in GRAINS}
    known = {grain: share for grain, share in found.items() if share is not None}
    if not known:
        return None
    if len(known) < 2:
        raise InputError("sand and clay", ", ".join(known), "both, or one of them and silt")
    bare = [share for share in known.values() if not share.stated]
    in_percent = any(share.value > 1 for share in bare)
    if in_percent:
        findings.append("sand, silt and clay above 1 are taken as per cent")
    plain = {grain: share.fraction(in_percent) for grain, share in known.items()}
    if len(plain) == 3 and not 0.97 <= sum(plain.values()) <= 1.03:
        raise InputError(
            "sand, silt and clay", round(sum(plain.values()), 3), "together 1, or 100 per cent"
        )
    sand = plain.get("sand", 1 - sum(plain.values()))
    clay = plain.get("clay", 1 - sum(plain.values()))
    if not (0 <= sand <= 1 and 0 <= clay <= MOST_CLAY and sand + clay <= 1 + 1e-9):
        right = f"sand from 0 to 1, clay from 0 to {MOST_CLAY:g}, together at most 1"
        raise InputError("sand and clay", f"{sand:.3g} and {clay:.3g}", right)
    return _Grains(sand, clay, in_percent)


class _Share(NamedTuple):
    value: float
    stated: str  # the ending that states its unit, or nothing

    def fraction(self, bare_is_percent: bool) -> float:
        percent = self.stated in ("_percent", "_pct") or (bare_is_percent and not self.stated)
        return self.value / 100 if percent else self.value


def _share(said: Said, grain: str) -> _Share | None:
    found = said.take(grain, *(f"{grain}{end}" for end in ENDINGS))
    if found is None:
        return None
    name, value = found
    stated = next((end for end in ENDINGS if name.endswith(end)), "")
    if stated == "_fraction":
        return _Share(
            number(name, value, 0, 1, "a fraction from 0 to 1; 0.2 for 20 per cent"), stated
        )
    return _Share(
        number(name, value, 0, 100, "a fraction from 0 to 1, or per cent up to 100"), stated
    )
