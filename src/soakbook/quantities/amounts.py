"""Amounts of water as gardeners say them: litres, cans, minutes of a tap, gallons, depths.

What a can, a minute or a gallon comes to is the garden's affair and is passed in as `Measures`.
Sizes, flows and other measures of a garden are in `measures`.
"""

from dataclasses import dataclass
from typing import Literal

from soakbook.errors import InputError
from soakbook.quantities.conversions import (
    L_PER_M3,
    Gallon,
    litres_from_depth,
    litres_from_gallons,
    mm_from_inches,
)
from soakbook.quantities.names import check
from soakbook.quantities.written import number_with_unit, spelled

AmountUnit = Literal["l", "m3", "can", "tank", "gal", "ukgal", "usgal", "s", "min", "h", "mm", "in"]

AMOUNT_EXAMPLES = "208l, 7cans, 12min, 15.6mm, 0.6in or 5gal"
DEPTH_EXAMPLES = "15.6mm or 0.6in"

_UNITS: dict[str, AmountUnit] = spelled(
    {
        "l litre litres liter liters ltr": "l",
        "m3": "m3",
        "can cans": "can",
        "tank tanks": "tank",
        "gal gals gallon gallons": "gal",
        "ukgal ukgals ukgallon ukgallons impgal impgallon impgallons": "ukgal",
        "usgal usgals usgallon usgallons": "usgal",
        "s sec secs second seconds": "s",
        "min mins minute minutes": "min",
        "h hr hrs hour hours": "h",
        "mm millimetre millimetres millimeter millimeters": "mm",
        'in inch inches "': "in",
    }
)

MINUTES: dict[AmountUnit, float] = {"s": 1 / 60, "min": 1.0, "h": 60.0}
"""Units of the time a tap is open -> minutes."""


@dataclass(frozen=True, slots=True)
class Amount:
    """So much water, in the unit it was said in, with the words as typed."""

    value: float
    unit: AmountUnit
    typed: str


@dataclass(frozen=True, slots=True)
class Measures:
    """What a can, a gallon, a minute, a tank and a millimetre come to here. `None`: not known."""

    can_l: float = 10.0
    gallon: Gallon = "uk"
    flow_l_per_min: float | None = None
    area_m2: float | None = None
    tank_l: float | None = None


def parse_amount(text: str, field: str = "amount", examples: str = AMOUNT_EXAMPLES) -> Amount:
    """The amount a gardener typed: `208l`, `208 L`, `7cans`, `2½ min`, `15.6mm`, `5 us gal`.

    A plain `gal` is the garden's own. `trace`, the gauge wetted but not filled, is 0 mm.

    Raises
    ------
    InputError
        No unit, a unit that can be read two ways, a comma, a minus.
    """
    if text.strip().casefold() == "trace":
        return Amount(0.0, "mm", text)
    value, unit = number_with_unit(text, field, _UNITS, examples)
    return Amount(value, unit, text)


def litres(amount: Amount, measures: Measures, field: str = "amount") -> float:
    """Litres of an amount.

    Parameters
    ----------
    amount : Amount
        Any unit; millimetres and inches are depths over the whole area.
    measures : Measures
        What a can, a gallon, a minute and a millimetre come to here.
    field : str
        What the gardener calls it.

    Returns
    -------
    float
        [L, more than 0, at most 100000]

    Raises
    ------
    InputError
        Minutes without a flow, tanks without a tank, a depth without an area, or more than can be
        right.
    """
    return check("litres", _litres(amount, measures, field), field=field, typed=amount.typed)


def parse_depth_mm(text: str, field: str = "rain") -> float:
    """Millimetres of what a gauge or a jar caught [mm, 0 to 500]: `15.6mm`, `0.6in`, `trace`.

    Raises
    ------
    InputError
        No depth, or a deeper one than can be right.
    """
    return rain_mm(parse_amount(text, field, DEPTH_EXAMPLES), field)


def rain_mm(amount: Amount, field: str = "rain") -> float:
    """Millimetres of a gauge reading [mm, 0 to 500]; only depths are taken."""
    if amount.unit not in ("mm", "in"):
        raise InputError(field, amount.typed, f"rain is a depth: {DEPTH_EXAMPLES}")
    depth = amount.value if amount.unit == "mm" else mm_from_inches(amount.value)
    return check("rain_mm", depth, field=field, typed=amount.typed)


def _litres(amount: Amount, measures: Measures, field: str) -> float:
    if amount.unit in MINUTES:
        if measures.flow_l_per_min is None:
            right = "minutes need a tap with a flow; give litres or cans"
            raise InputError(field, amount.typed, right)
        return amount.value * MINUTES[amount.unit] * measures.flow_l_per_min
    if amount.unit in ("mm", "in"):
        if measures.area_m2 is None:
            right = "a depth needs the area it falls on; give litres or cans"
            raise InputError(field, amount.typed, right)
        return litres_from_depth(rain_mm(amount, field), measures.area_m2)
    if amount.unit == "tank":
        if measures.tank_l is None:
            right = "tanks need a tap with a --tank; give litres or cans"
            raise InputError(field, amount.typed, right)
        return amount.value * measures.tank_l
    return amount.value * _l_each(amount.unit, measures)


def _l_each(unit: AmountUnit, measures: Measures) -> float:
    each = {
        "l": 1.0,
        "m3": L_PER_M3,
        "can": measures.can_l,
        "gal": litres_from_gallons(1, measures.gallon),
        "ukgal": litres_from_gallons(1, "uk"),
        "usgal": litres_from_gallons(1, "us"),
    }
    return each[unit]
