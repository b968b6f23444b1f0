"""Sizes, flows, times, slopes and soil jars as gardeners write them.

Each parser takes the text and what the gardener calls it, returns a plain number in the unit its
name says, and refuses what can be read two ways. Amounts of water are in `amounts`.
"""

import re

from soakbook.errors import InputError
from soakbook.quantities.amounts import Measures, litres, parse_amount
from soakbook.quantities.conversions import (
    Gallon,
    c_from_fahrenheit,
    depth_from_litres,
    litres_from_gallons,
    m2_from_square_feet,
    m2_from_square_yards,
    m_from_feet,
    mm_from_inches,
)
from soakbook.quantities.names import check
from soakbook.quantities.written import as_typed, bare_number, number_with_unit, spelled

SACK_L = 50.0
"""A sack of mulch where no other size is said. common practice, no source."""

_M = spelled(
    {
        "m metre metres meter meters": 1.0,
        "cm": 0.01,
        "mm": 0.001,
        'in inch inches "': mm_from_inches(1) / 1000,
        "ft foot feet": m_from_feet(1),
    }
)
_M2 = spelled(
    {
        "m2 sqm squaremetres squaremeters": 1.0,
        "ft2 sqft squarefeet": m2_from_square_feet(1),
        "yd2 sqyd squareyards": m2_from_square_yards(1),
    }
)
_MINUTES = spelled(
    {
        "h hr hrs hour hours": 60.0,
        "min mins minute minutes": 1.0,
        "s sec secs second seconds": 1 / 60,
    }
)
_MM_PER_H = spelled({"mm/h mm/hr mmanhour": 1.0, "cm/h": 10.0, "in/h in/hr": mm_from_inches(1)})
_HOURS_AND_MINUTES = re.compile(r"([0-9]{1,2})\s*h\s*([0-5][0-9])\s*(?:m|min)?", re.IGNORECASE)
_FILL = re.compile(
    r"(?P<volume>.*?[a-z])\s*(?:\bin\s+)?(?P<time>[0-9.½¼¾].*)", re.IGNORECASE | re.DOTALL
)
_DEGREES = re.compile(r"(?P<number>-?[0-9]+(?:\.[0-9]+)?)\s*°?\s*(?P<unit>[cf])", re.IGNORECASE)
_ONE_IN = re.compile(r"1\s*in\s*([0-9]+(?:\.[0-9]+)?)", re.IGNORECASE)
_UNIT = re.compile(r"(?P<spots>.*[0-9½¼¾])\s*(?P<unit>[a-z\"]*)", re.IGNORECASE | re.DOTALL)
_SACKS = re.compile(
    r"(?P<count>[^x×]*?)\s*(?:[x×]\s*(?P<size>[0-9.]+)\s*l|sacks?|bags?)", re.IGNORECASE
)


def parse_area_m2(text: str, field: str = "area") -> float:
    """Area [m², more than 0, at most 10000] of `18m2`, `18 m²`, `200 sq ft`, `20 sq yd`."""
    value, factor = number_with_unit(text, field, _M2, "18m2 or 200sqft")
    return check("area_m2", value * factor, field=field, typed=text)


def parse_length_m(text: str, field: str) -> float:
    """Length [m, at least 0] of `45cm`, `0.45m`, `50mm`, `18in`, `2ft`."""
    value, factor = number_with_unit(text, field, _M, "45cm, 0.45m or 18in")
    return value * factor


def parse_flow_l_per_min(text: str, field: str = "flow", gallon: Gallon = "uk") -> float:
    """Flow [L/min, more than 0, at most 200] of `14l/min`, `840 l/h`, `3gal/min`."""
    units = spelled(
        {
            "l/min lpermin laminute": 1.0,
            "l/h l/hr": 1 / 60,
            "gal/min gpm": litres_from_gallons(1, gallon),
            "ukgal/min": litres_from_gallons(1, "uk"),
            "usgal/min": litres_from_gallons(1, "us"),
        }
    )
    value, factor = number_with_unit(text, field, units, "14l/min or 3gal/min")
    return check("flow_l_per_min", value * factor, field=field, typed=text)


def parse_fill_l_per_min(
    text: str, field: str = "fill", gallon: Gallon = "uk", can_l: float = 10.0
) -> float:
    """Flow [L/min] of a fill test: `10l 43s`, `5gal in 80s`, `1can 43s`: so much, in so long."""
    examples = "how much and how long: 10l 43s"
    found = _FILL.fullmatch(text.strip())
    if found is None:
        raise InputError(field, text, f"write {examples}")
    with as_typed(text, field, examples):
        filled_l = litres(parse_amount(found["volume"], field), Measures(can_l, gallon), field)
        minutes = parse_minutes(found["time"], field)
    if minutes == 0:
        raise InputError(field, text, f"write {examples}")
    return check("flow_l_per_min", filled_l / minutes, field=field, typed=text)


def parse_minutes(text: str, field: str = "time") -> float:
    """Minutes [at least 0] of a stretch of time: `2h`, `45min`, `1h30`, `90s`, `1½h`."""
    clock = _HOURS_AND_MINUTES.fullmatch(text.strip())
    if clock is not None:
        return 60.0 * int(clock[1]) + int(clock[2])
    value, factor = number_with_unit(text, field, _MINUTES, "2h, 45min or 1h30")
    return value * factor


def parse_mm_per_h(text: str, field: str) -> float:
    """Speed [mm/h, at least 0] at which water falls in a hole or sinks in: `20mm/h`, `1in/h`."""
    value, factor = number_with_unit(text, field, _MM_PER_H, "20mm/h or 1in/h")
    return value * factor


def parse_temperature_c(text: str, field: str = "temperature") -> float:
    """Temperature [°C] of `27c`, `27 °C`, `80f`; a bare number could be either."""
    said = _DEGREES.fullmatch(text.strip())
    if said is None:
        raise InputError(field, text, "write 27c or 80f")
    degrees = float(said["number"])
    return c_from_fahrenheit(degrees) if said["unit"].casefold() == "f" else degrees


def parse_fraction(text: str, field: str) -> float:
    """A part of the whole [0-1]: `0.25`, `25%`, or a slope `1 in 4`."""
    examples = "a part of the whole: 0.25, 25% or 1 in 4"
    plain = text.strip()
    slope = _ONE_IN.fullmatch(plain)
    if slope is not None and float(slope[1]) >= 1:
        return 1 / float(slope[1])
    with as_typed(text, field, examples):
        number = bare_number(plain.removesuffix("%"), field, examples)
    fraction = number / 100 if plain.endswith("%") else number
    if fraction > 1:
        raise InputError(field, text, f"write {examples}")
    return fraction


def parse_times(text: str, field: str) -> float:
    """How many times as much [at least 0]: `0.45`, `45%`, `1.2`, `120%`."""
    plain, examples = text.strip(), "a number such as 0.45, 45% or 1.2"
    with as_typed(text, field, examples):
        number = bare_number(plain.removesuffix("%"), field, examples)
    return number / 100 if plain.endswith("%") else number


def parse_jar(text: str, field: str = "jar") -> tuple[float, float]:
    """Sand and clay fractions of a settled jar of soil, from the heights of sand, silt and clay.

    Parameters
    ----------
    text : str
        Three heights from the bottom up, in any one unit: `6,3,1`, `6 3 1`, `6.5/3/1`.
    field : str
        What the gardener calls it.

    Returns
    -------
    sand_fraction, clay_fraction : float
        [0-1]; silt is the rest.

    Raises
    ------
    InputError
        Not three heights, or nothing in the jar.

    Notes
    -----
    Heights stand for masses: the three settle to much the same density. common practice, no source.
    """
    examples = "three heights, of sand, silt and clay: 6,3,1"
    parts = [part for part in re.split(r"[,;/\s]+", text.strip()) if part]
    if len(parts) != 3:
        raise InputError(field, text, f"write {examples}")
    with as_typed(text, field, examples):
        sand, silt, clay = (bare_number(part, field, examples) for part in parts)
    whole = sand + silt + clay
    if whole == 0:
        raise InputError(field, text, f"write {examples}")
    return sand / whole, clay / whole


def parse_dressing_cm(text: str, area_m2: float, field: str = "mulch") -> float:
    """Depth of a mulch [cm, more than 0, at most 30], from a ruler or from sacks over the bed.

    Parameters
    ----------
    text : str
        `5cm`, `2in`, `12 sacks` (of 50 L), `12x60l`.
    area_m2 : float
        Ground it was spread on [m², > 0].
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        Neither a depth nor sacks, or deeper than can be right.
    """
    examples = "5cm, 2in, 12sacks or 12x60l"
    sacks = _SACKS.fullmatch(text.strip())
    if sacks is None:
        value, factor = number_with_unit(text, field, _M, examples)
        depth_cm = 100 * value * factor
    else:
        with as_typed(text, field, examples):
            count = bare_number(sacks["count"], field, examples)
            size_l = bare_number(sacks["size"], field, examples) if sacks["size"] else SACK_L
        depth_cm = depth_from_litres(count * size_l, area_m2) / 10
    return check("depth_cm", depth_cm, field=field, typed=text)


def parse_spots_cm(text: str, field: str = "ruler") -> tuple[float, int]:
    """Mean depth [cm, at least 0] and number of spots that a ruler was put into.

    Parameters
    ----------
    text : str
        Depths in centimetres, or in a unit said after the last: `4,5,3,5,4`, `4 5 3 cm`, `2,1½,2in`; one alone
        with its unit: `4cm`.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        No depths; one without a unit; two parted by a comma, which can be read as one.
    """
    examples = "the depth in some spots: 4,5,3,5,4 or 4cm"
    found = _UNIT.fullmatch(text.strip())
    if found is None or text.strip().startswith(("-", "−", "–")):
        raise InputError(field, text, f"write {examples}")
    spots = [part for part in re.split(r"[,;/\s]+", found["spots"]) if part]
    unit = found["unit"].casefold() or ("" if len(spots) == 1 else "cm")
    if len(spots) == 2 and re.fullmatch(r"[0-9]+,[0-9]+", found["spots"]):
        right = f"{'.'.join(spots)}cm, or a third spot: two and a comma can be read as one"
        raise InputError(field, text, right)
    with as_typed(text, field, examples):
        depths_cm = [100 * parse_length_m(f"{spot}{unit}", field) for spot in spots]
    return sum(depths_cm) / len(depths_cm), len(depths_cm)
