"""What a gardener says of a planting, read into the fields of its record."""

import math
import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, NamedTuple

from soakbook.errors import InputError
from soakbook.garden.records import FeltClass, Garden
from soakbook.garden.tables.balls import POT_WIDTHS_M, dug_ball, mix_key, pot_diameter_m
from soakbook.garden.tables.canopies import canopy_from_spans_m2
from soakbook.garden.tables.kinds import default_pot_l
from soakbook.garden.tables.lines import between
from soakbook.garden.tables.soils import soil_key
from soakbook.quantities.amounts import Measures, litres, parse_amount
from soakbook.quantities.dates import parse_day
from soakbook.quantities.measures import parse_area_m2, parse_length_m
from soakbook.quantities.names import check
from soakbook.quantities.written import number_with_unit, spelled
from soakbook.services.bounds import in_bounds

Fields = dict[str, Any]

YES_NO = {"yes": True, "no": False}
HEFTS: Mapping[str, FeltClass] = {"light": "dry", "heavy": "wet"}
"""What a finger would find in a pot of that weight. common practice, no source."""

LEAF_DAYS_AHEAD = 300
"""A day of leaf out or leaf fall mostly lies ahead, in the season to come."""

POT_EXAMPLES = "7.5l, 9cm or 2gal"

_WIDTH = re.compile(r'(cm|mm|m|in|inch|inches|ft|")\s*$', re.IGNORECASE)
_SPANS = re.compile(r"(?P<count>.+?)\s*(?:hand\s*)?spans?", re.IGNORECASE)
_AREA = re.compile(r"(m2|m²|ft2|ft²|yd2|yd²|sq.*)\s*$", re.IGNORECASE)
_WEEKS = spelled({"w wk wks week weeks": 1.0, "month months": 52 / 12})
ORIGINS = ("pot", "ball", "bare")


class Context(NamedTuple):
    """What reading an option depends on."""

    garden: Garden
    today: date


Reader = Callable[[str, Context], Fields]


def origin_fields(typed: Mapping[str, str], context: Context) -> Fields:
    """Origin, size and width of the ball, where they were said; nothing else.

    Raises
    ------
    InputError
        Said in two ways, or not to be read.
    """
    ways = [name for name in ORIGINS if name in typed]
    if len(ways) > 1:
        raise InputError(ways[1], typed[ways[1]], f"one way it came: {ways[0]} or {ways[1]}")
    if "deep" in typed and "ball" not in typed:
        raise InputError("deep", typed["deep"], "with --ball: only a dug ball is dug deep")
    if "pot" in typed:
        return _pot(typed["pot"], context.garden)
    if "ball" in typed:
        width_m = parse_length_m(typed["ball"], "ball")
        volume_l = dug_ball(width_m, "deep" in typed) if width_m else 0.0
        _check_ball("ball", volume_l, typed["ball"])
        width_m = check("ball_diameter_m", width_m, field="ball", typed=typed["ball"])
        return {"origin": "dug", "ball_volume_l": volume_l, "ball_diameter_m": width_m}
    if "bare" in typed:
        return {"origin": "bare", "ball_volume_l": 0.0, "ball_diameter_m": 0.0}
    return {}


def usual_origin(words: str) -> Fields:
    """How such a plant usually comes."""
    pot_l = default_pot_l(words)
    if pot_l is None:
        return {"origin": "bare", "ball_volume_l": 0.0, "ball_diameter_m": 0.0}
    return {"origin": "pot", "ball_volume_l": pot_l, "ball_diameter_m": pot_diameter_m(pot_l)}


def plant_fields(typed: Mapping[str, str], context: Context) -> Fields:
    """The fields that the other options say, each read by itself.

    Raises
    ------
    InputError
        An option that cannot be right, or that is none of a planting's.
    """
    fields: Fields = {}
    for name, text in typed.items():
        if name not in READERS:
            raise InputError(name, text, f"one of {', '.join(READERS)}")
        fields |= in_bounds(READERS[name](text, context), name, text)
    return fields


def _pot(text: str, garden: Garden) -> Fields:
    """A pot by its litres, or by its width as small ones are sold."""
    if _WIDTH.search(text):
        width_m = parse_length_m(text, "pot")
        rows = [(across_m, volume_l) for volume_l, across_m in POT_WIDTHS_M]
        volume_l = between(rows, width_m, power=3) if width_m else 0.0
    else:
        volume_l = litres(parse_amount(text, "pot", POT_EXAMPLES), _measures(garden), "pot")
        width_m = pot_diameter_m(volume_l)
    _check_ball("pot", volume_l, text)
    return {"origin": "pot", "ball_volume_l": volume_l, "ball_diameter_m": width_m}


def _check_ball(field: str, volume_l: float, text: str) -> None:
    """Refuse a ball of nothing, or of more than anybody plants."""
    check("ball_volume_l", volume_l, field=field, typed=text)
    if not volume_l:
        raise InputError(field, text, "more than nothing, unless it came --bare")


def _measures(garden: Garden) -> Measures:
    return Measures(can_l=garden.can_l, gallon=garden.gallon)


def _name(text: str, _: Context) -> Fields:
    return {"name": text.strip()}


def _mix(text: str, _: Context) -> Fields:
    return {"mix": mix_key(text)}


def _dug_from(text: str, _: Context) -> Fields:
    return {"dug_from_soil": soil_key(text)}


def _leaves(text: str, _: Context) -> Fields:
    return {"canopy_start_m2": _canopy_m2(text, "leaves")}


def _leaves_full(text: str, _: Context) -> Fields:
    return {"canopy_full_m2": _canopy_m2(text, "leaves full")}


def _canopy_m2(text: str, field: str) -> float:
    """Ground under leaves so far across, by the ruler or in spans of a hand."""
    spans = _SPANS.fullmatch(text.strip())
    if spans:
        count, _ = number_with_unit(f"{spans['count']} m", field, {"m": 1.0}, "2spans or 35cm")
        return canopy_from_spans_m2(count)
    return math.pi / 4 * parse_length_m(text, field) ** 2


def _weeks(text: str, _: Context) -> Fields:
    typed = text if re.search(r"[a-z]", text, re.IGNORECASE) else f"{text} weeks"
    weeks, factor = number_with_unit(typed, "weeks", _WEEKS, "12 or 12weeks")
    return {"weeks_to_full": weeks * factor}


def _leaf(text: str, _: Context) -> Fields:
    return {"leaf": text.strip().casefold().replace("-", "_").replace(" ", "_")}


def _leaf_day(name: str) -> Reader:
    def read(text: str, context: Context) -> Fields:
        field = name.removesuffix("_on").replace("_", " ")
        return {name: parse_day(text, field, context.today, ahead_days=LEAF_DAYS_AHEAD)}

    return read


def _spacing(text: str, _: Context) -> Fields:
    """The ground of one plant: an area, or the distance from plant to plant."""
    if _AREA.search(text):
        return {"cell_m2": parse_area_m2(text, "spacing")}
    return {"cell_m2": parse_length_m(text, "spacing") ** 2}


def _usual(text: str, context: Context) -> Fields:
    amount = parse_amount(text, "usual dose")
    return {"usual_dose_l": litres(amount, _measures(context.garden), "usual dose")}


def _heft(text: str, _: Context) -> Fields:
    """A pot lifted before planting: light is dry through, heavy is wet."""
    word = text.strip().casefold()
    if word not in HEFTS:
        raise InputError("heft", text, f"one of {', '.join(HEFTS)}")
    return {"ball_felt": HEFTS[word]}


def _watered_in(text: str, _: Context) -> Fields:
    word = text.strip().casefold()
    if word not in YES_NO:
        raise InputError("watered in", text, "yes or no")
    return {"watered_in": YES_NO[word]}


READERS: Mapping[str, Reader] = {
    "name": _name,
    "mix": _mix,
    "dug_from": _dug_from,
    "leaves": _leaves,
    "leaves_full": _leaves_full,
    "weeks": _weeks,
    "leaf": _leaf,
    "leaf_out": _leaf_day("leaf_out_on"),
    "leaf_fall": _leaf_day("leaf_fall_on"),
    "spacing": _spacing,
    "usual": _usual,
    "watered_in": _watered_in,
    "heft": _heft,
    "ball_felt": lambda text, _: {"ball_felt": text.strip().casefold()},
    "bed_felt": lambda text, _: {"bed_felt": text.strip().casefold()},
}
