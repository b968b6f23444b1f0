"""Where a garden is, as it is pasted from a map or typed: `52.3 N 0.4 W`, `52.3, -0.4`, `33.9 S`."""

import re

from soakbook.errors import InputError
from soakbook.quantities.names import check

_PLACE = re.compile(r"(?P<lat>.+?[NSns]|[^\s,;]+)(?:[\s;]+|,\s+|,(?=.*\.))(?P<lon>.+)")
# A bare comma parts two numbers only where a point stands: `52,3` may be one number.
_DEGREES = re.compile(
    r"(?P<sign>-?)(?P<number>\d+(?:\.\d+)?)\s*°?\s*(?P<end>[NSEW]?)", re.IGNORECASE
)
_SIGNS = {
    "latitude_deg": {"": 1, "N": 1, "S": -1},
    "longitude_deg": {"": 1, "E": 1, "W": -1},
}


def parse_place(text: str) -> tuple[float, float]:
    """Degrees north and east of `52.3 N 0.4 W` or `52.3, -0.4`; south and west are below 0."""
    found = _PLACE.fullmatch(text.strip())
    if found is None:
        raise InputError("place", text, "degrees north and east: 52.3 N 0.4 W, or 52.3, -0.4")
    return parse_latitude(found["lat"]), parse_longitude(found["lon"])


def parse_latitude(text: str) -> float:
    """Degrees north [-90 to 90] of `52.3`, `52.3 N`, `33.9 S`."""
    return _degrees(text, "latitude_deg", "degrees north: 52.3, 52.3 N, or 33.9 S")


def parse_longitude(text: str) -> float:
    """Degrees east [-180 to 180] of `4.9`, `4.9 E`, `0.4 W`."""
    return _degrees(text, "longitude_deg", "degrees east: 4.9, 4.9 E, or 0.4 W")


def said_place(latitude_deg: float, longitude_deg: float) -> str:
    """`52.3° north, 0.4° west`."""
    north = "north" if latitude_deg >= 0 else "south"
    east = "east" if longitude_deg >= 0 else "west"
    return f"{abs(latitude_deg):g}° {north}, {abs(longitude_deg):g}° {east}"


def to_a_kilometre(degrees: float) -> float:
    """Degrees to two decimals, about a kilometre: what of a garden's place may leave the house."""
    return round(degrees, 2) + 0.0  # no negative zero


def _degrees(text: str, name: str, right: str) -> float:
    found = _DEGREES.fullmatch(text.strip())
    field = name.removesuffix("_deg")
    if (
        found is None
        or found["end"].upper() not in _SIGNS[name]
        or (found["sign"] and found["end"])
    ):
        raise InputError(field, text, right)
    sign = -1 if found["sign"] else _SIGNS[name][found["end"].upper()]
    return check(name, sign * float(found["number"]), field=field, typed=text)
