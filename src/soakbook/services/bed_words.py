"""What a gardener says of a bed, read into the fields of its record: one reader an option."""

from collections.abc import Callable, Mapping
from typing import Any

from soakbook.errors import InputError
from soakbook.garden.records import Bed
from soakbook.garden.tables.places import place_key
from soakbook.garden.tables.soils import Grain, soil_key, squeezed_soil
from soakbook.quantities.measures import (
    parse_area_m2,
    parse_fraction,
    parse_jar,
    parse_length_m,
    parse_mm_per_h,
    parse_times,
)
from soakbook.reckoning.simulation.plots import ground_of
from soakbook.services.bounds import in_bounds

Fields = dict[str, Any]
Reader = Callable[[str], Fields]

STONES = {"none": 0.0, "no": 0.0, "some": 0.15, "few": 0.15, "many": 0.35}
"""common practice, no source."""

SAY_ONE_OF = ("soil", "squeeze", "jar")
"""Each of them says the soil."""

BY_JARS = ("jar", "jars")
"""Words for the share that jam jars have caught."""

GRAINS: Mapping[str, Grain] = {"gritty": "gritty", "silky": "silky"}


def bed_fields(typed: Mapping[str, str]) -> Fields:
    """The fields that options say, but for the tap, which the book must know.

    Parameters
    ----------
    typed : mapping of str
        Option -> as typed; an option that is none of a bed's is refused.

    Raises
    ------
    InputError
        An option that cannot be right, or the soil said in two ways.
    """
    ways = [name for name in SAY_ONE_OF if name in typed]
    if len(ways) > 1:
        raise InputError(ways[1], typed[ways[1]], f"the soil said once: {ways[0]} or {ways[1]}")
    fields: Fields = {}
    for name, text in typed.items():
        if name not in READERS:
            raise InputError(name, text, f"one of {', '.join(READERS)}")
        fields |= in_bounds(READERS[name](text), name, text)
    return fields


def _name(text: str) -> Fields:
    return {"name": text.strip()}


def _area(text: str) -> Fields:
    return {"area_m2": parse_area_m2(text)}


def _soil(text: str) -> Fields:
    return {"soil": soil_key(text), "sand_fraction": None, "clay_fraction": None}


def _squeeze(text: str) -> Fields:
    words = text.replace(",", " ").split()
    grain = GRAINS.get(words[-1].casefold()) if words else None
    if grain:
        words = words[:-1]
    return _soil(squeezed_soil(" ".join(words), grain))


def _jar(text: str) -> Fields:
    sand, clay = parse_jar(text)
    return {"sand_fraction": sand, "clay_fraction": clay}


def _hole(text: str) -> Fields:
    word = text.strip().casefold()
    if word in ("standing", "gone"):
        return {"hole": word, "hole_mm_h": None}
    if not word[:1].isdigit():
        raise InputError("hole", text, "standing, gone, or how fast it fell: 20mm/h")
    fell_mm_h = parse_mm_per_h(text, "hole")
    return {"hole": None, "hole_mm_h": fell_mm_h} if fell_mm_h else _hole("standing")


def _place(text: str) -> Fields:
    return {"place": place_key(text)}


def _times(field: str, record_field: str) -> Reader:
    def read(text: str) -> Fields:
        return {record_field: parse_times(text, field)}

    return read


def _rain_share(text: str) -> Fields:
    if text.strip().casefold() in BY_JARS:
        return {"rain_share": None}
    return {"rain_share": parse_times(text, "rain share")}


def _stones(text: str) -> Fields:
    word = text.strip().casefold()
    return {
        "stone_fraction": STONES[word] if word in STONES else parse_fraction(text, "stones"),
    }


def _organic(text: str) -> Fields:
    return {"organic_percent": 100 * parse_fraction(text, "organic matter")}


def _slope(text: str) -> Fields:
    level = text.strip().casefold() in ("level", "none", "flat")
    return {"slope_fraction": 0.0 if level else parse_fraction(text, "slope")}


def _depth(text: str) -> Fields:
    return {"bed_depth_m": parse_length_m(text, "depth")}


def _intake(text: str) -> Fields:
    return {"intake_mm_h": parse_mm_per_h(text, "intake")}


def _walk(text: str) -> Fields:
    return {"walk_m": parse_length_m(text, "walk")}


def _keeper(text: str) -> Fields:
    return {"keeper": text.strip() or None}


def _new_key(text: str) -> Fields:
    return {"key": text.strip()}


READERS: Mapping[str, Reader] = {
    "name": _name,
    "area": _area,
    "soil": _soil,
    "squeeze": _squeeze,
    "jar": _jar,
    "hole": _hole,
    "place": _place,
    "exposure": _times("exposure", "exposure_factor"),
    "rain_share": _rain_share,
    "stones": _stones,
    "organic": _organic,
    "slope": _slope,
    "depth": _depth,
    "intake": _intake,
    "walk": _walk,
    "keeper": _keeper,
    "new_key": _new_key,
}


def soil_of(bed: Bed) -> str:
    """The soil of a bed in words: by its jar, its class, or not known."""
    ground = ground_of(bed)
    if ground.guessed:
        return "soil not known"
    return f"{ground.soil.name} by the jar" if bed.sand_fraction is not None else ground.soil.name
