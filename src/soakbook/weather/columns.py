"""One column of a weather file: its quantity and its unit, as said or as its header states them.

The textual form is `QUANTITY=COLUMN:UNIT`: `rain=Precip:in`, `tmax=High:F`, `wind=Wind:km/h@10m`. A
header that states quantity and unit itself (`tmin_c`, `Tmax (°F)`, `wind10_ms`) is recognised; a
unit is never guessed. Which columns of a whole file are taken is in `column_map`.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.quantities import conversions, names
from soakbook.weather.reference_et import wind_at_2m


class Quantity(NamedTuple):
    """One of our variables, as a file may bring it."""

    variable: str  # as kept in the book
    span: str  # its entry in `quantities.names`
    measure: str  # which units it can have
    called: tuple[str, ...]  # by headers, tidied

    @property
    def words(self) -> str:
        """Plain words for it."""
        return names.QUANTITIES[self.span].words


def _each(bases: Iterable[str], statistics: Iterable[str]) -> tuple[str, ...]:
    """Names like "temp min", "min temp"; and "tmin" where the base is short."""
    bases, statistics = tuple(bases), tuple(statistics)
    apart = [f"{base} {word}" for base in bases for word in statistics]
    before = [f"{word} {base}" for base in bases for word in statistics]
    joined = [f"{base}{word}" for base in bases if len(base) <= 2 for word in statistics]
    return (*apart, *before, *joined)


_TEMPERATURE = ("t", "temp", "temperature")
_HUMIDITY = ("rh", "humidity", "relative humidity")
_LOW, _HIGH, _MEAN = (
    ("min", "minimum", "lowest", "low"),
    ("max", "maximum", "highest", "high"),
    ("mean", "avg", "average"),
)
_SUN = ("rs", "radiation", "solar", "solar radiation", "global radiation")
_WIND = ("wind", "wind speed", "windspeed", "u")

QUANTITIES: dict[str, Quantity] = {
    "rain": Quantity(
        "rain_mm", "rain_mm", "depth", ("rain", "rainfall", "precipitation", "precip")
    ),
    "tmin": Quantity("tmin_c", "tmin_c", "temperature", _each(_TEMPERATURE, _LOW)),
    "tmax": Quantity("tmax_c", "tmax_c", "temperature", _each(_TEMPERATURE, _HIGH)),
    "tmean": Quantity("tmean_c", "tmean_c", "temperature", _each(_TEMPERATURE, _MEAN)),
    "rh": Quantity(
        "rh_mean_percent", "rhmean_percent", "share", (*_HUMIDITY, *_each(_HUMIDITY, _MEAN))
    ),
    "rhmin": Quantity("rhmin_percent", "rhmin_percent", "share", _each(_HUMIDITY, _LOW)),
    "rhmax": Quantity("rhmax_percent", "rhmax_percent", "share", _each(_HUMIDITY, _HIGH)),
    "sun": Quantity("sunshine_h", "sunshine_hours", "time", ("sun", "sunshine")),
    "radiation": Quantity("radiation_mj_m2_day", "radiation_mj_m2_day", "radiation", _SUN),
    "wind": Quantity(
        "wind_2m_m_per_s", "wind_m_per_s", "speed", (*_WIND, *_each(_WIND[:2], _MEAN))
    ),
    "vapour": Quantity(
        "vapour_pressure_kpa",
        "vapour_pressure_kpa",
        "pressure",
        ("vapour pressure", "vapor pressure", "ea"),
    ),
    "dew": Quantity("dew_point_c", "dew_point_c", "temperature", ("dew point", "dewpoint", "tdew")),
}
"""The word of the textual form -> our variable. What is not here is not read from files."""

UNITS: dict[str, dict[str, Callable[[float], float]]] = {
    "depth": {"mm": float, "in": conversions.mm_from_inches},
    "temperature": {"C": float, "F": conversions.c_from_fahrenheit},
    "share": {"%": float},
    "time": {"h": float},
    "radiation": {
        "MJ/m2": float,
        "W/m2": conversions.mj_m2_day_from_w_m2,
        "J/cm2": conversions.mj_m2_from_j_cm2,
    },
    "speed": {
        "m/s": float,
        "km/h": conversions.m_per_s_from_km_per_h,
        "mph": conversions.m_per_s_from_mph,
        "kn": conversions.m_per_s_from_knots,
    },
    "pressure": {"kPa": float, "hPa": conversions.kpa_from_hpa},
}
"""Measure -> unit -> what brings it into ours. W/m2 is the mean over the day's 24 hours."""

LIKELY_WHEN_TOO_HIGH = {"in": "mm", "C": "F", "MJ/m2": "W/m2", "kPa": "hPa", "m/s": "km/h"}
"""Unit -> the unit in which numbers that are too high for it are likely written."""

SPELLINGS: dict[str, tuple[str, ...]] = {
    "mm": ("mm",),
    "in": ("in", "inch", "inches"),
    "C": ("c", "degc", "deg c", "celsius"),
    "F": ("f", "degf", "deg f", "fahrenheit"),
    "%": ("%", "pct", "percent", "per cent"),
    "h": ("h", "hr", "hrs", "hours"),
    "MJ/m2": ("mj", "mj/m2", "mj/m2/d", "mj/m2/day", "mj m2", "mj m2 d", "mj m2 day", "mj m 2 d 1"),
    "W/m2": ("w/m2", "w m2", "wm2", "w m 2"),
    "J/cm2": ("j/cm2", "j cm2", "j cm 2"),
    "m/s": ("m/s", "ms", "m s", "mps", "m per s", "m s 1"),
    "km/h": ("km/h", "km h", "kmh", "kph", "km per h", "km h 1"),
    "mph": ("mph",),
    "kn": ("kn", "kt", "kts", "knots"),
    "kPa": ("kpa",),
    "hPa": ("hpa", "mbar"),
}
"""Unit -> how it is written, tidied."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a file and what stands in it.

    `height_m` is the wind gauge's, `None` where not said and for everything else.
    """

    quantity: str
    header: str
    unit: str
    height_m: float | None = None

    @property
    def text(self) -> str:
        """The textual form, as `parse_column` reads it."""
        height = "" if self.height_m is None else f"@{self.height_m:g}m"
        return f"{self.quantity}={self.header}:{self.unit}{height}"

    @property
    def method(self) -> str:
        """What is done to its values beyond the unit, in words; empty when nothing is."""
        return "" if self.height_m in {None, 2.0} else f"from {self.height_m:g} m"

    @property
    def hint_when_too_high(self) -> str:
        """Unit that its numbers look like when too high, and how to say it; empty if none."""
        likely = LIKELY_WHEN_TOO_HIGH.get(self.unit)
        if likely is None:
            return ""
        return f"; it looks like {likely}: say {replace(self, unit=likely).text}"

    def in_our_unit(self, value: float) -> float:
        """Value in the unit of its variable, at the column's own height."""
        return UNITS[QUANTITIES[self.quantity].measure][self.unit](value)

    def as_kept(self, value: float) -> float:
        """Value, already in our unit, as the book keeps it: wind brought to 2 m."""
        return value if self.height_m is None else wind_at_2m(value, self.height_m)


@dataclass(frozen=True, slots=True)
class UnitUnsaid:
    """A header that names a quantity but no unit."""

    quantity: str
    header: str


def parse_column(text: str) -> Column:
    """Column said as `QUANTITY=COLUMN:UNIT`, for wind `QUANTITY=COLUMN:UNIT@HEIGHTm`.

    Raises
    ------
    InputError
        Not of this form, or a quantity, unit or height we do not know.
    """
    quantity, equals, rest = text.partition("=")
    quantity = quantity.strip().casefold()
    if not equals or not rest.strip():
        raise InputError("column", text, "QUANTITY=COLUMN:UNIT, for example rain=Precip:in")
    if quantity not in QUANTITIES:
        raise InputError("quantity of a column", quantity, f"one of {', '.join(QUANTITIES)}")
    header, colon, unit = rest.rpartition(":")
    if not colon or not header.strip():
        raise InputError(QUANTITIES[quantity].words, text, with_unit(quantity, rest.strip()))
    unit, _, height = unit.partition("@")
    canonical = _unit(quantity, unit)
    if canonical is None:
        raise InputError(
            f"unit of {QUANTITIES[quantity].words}",
            unit.strip(),
            f"one of {', '.join(_units(quantity))}",
        )
    return Column(quantity, header.strip(), canonical, _height(quantity, height))


def recognise(header: str) -> Column | UnitUnsaid | None:
    """Quantity and unit that a header states; a quantity alone; or `None`, nothing we know."""
    for quantity, pattern in _PATTERNS.items():
        if said := pattern.fullmatch(tidy(header)):
            height = said["height"] or said["height_behind"] if quantity == "wind" else None
            if said["unit"] is None:
                return UnitUnsaid(quantity, header)
            unit = _unit(quantity, said["unit"])
            if unit is not None:
                return Column(quantity, header, unit, float(height) if height else None)
    return None


def is_reference_et(header: str) -> bool:
    """Whether a header tells of somebody else's reference evapotranspiration."""
    return _REFERENCE_ET.match(tidy(header)) is not None


def with_unit(quantity: str, header: str) -> str:
    """How to say the unit of a column, in every unit there is for it."""
    height = "@2m" if quantity == "wind" else ""
    ways = [f"{quantity}={header}:{unit}{height}" for unit in _units(quantity)]
    return f"a stated unit: {' or '.join(ways)} (or {quantity}=- to leave it out)"


def tidy(text: str) -> str:
    """Lower case of a header or a unit, marks and brackets gone, words apart by one blank."""
    plain = text.casefold().replace("²", "2").replace("⁻", "-").replace("¹", "1").replace("°", "")
    return re.sub(r"[^a-z0-9/%.]+", " ", plain).strip()


def _units(quantity: str) -> tuple[str, ...]:
    return tuple(UNITS[QUANTITIES[quantity].measure])


def _unit(quantity: str, written: str) -> str | None:
    return next((unit for unit in _units(quantity) if tidy(written) in SPELLINGS[unit]), None)


def _height(quantity: str, written: str) -> float | None:
    if not written.strip():
        return None
    said = re.fullmatch(r"(\d+(?:\.\d+)?) ?m", tidy(written))
    if quantity != "wind" or said is None:
        raise InputError("height of a column", written.strip(), "for wind only, in metres: @10m")
    return names.check("wind_height_m", float(said[1]))


def _pattern(quantity: Quantity) -> re.Pattern[str]:
    called = "|".join(sorted(map(re.escape, quantity.called), key=len, reverse=True))
    spelt = "|".join(re.escape(way) for unit in UNITS[quantity.measure] for way in SPELLINGS[unit])
    unit = f"(?: (?P<unit>{spelt}))?"
    if quantity.measure != "speed":
        return re.compile(f"(?:{called}){unit}")
    number = r"\d+(?:\.\d+)?"
    return re.compile(
        f"(?:{called})(?: ?(?P<height>{number})(?: ?m)?)?{unit}(?: (?P<height_behind>{number}) ?m)?"
    )


_PATTERNS = {word: _pattern(quantity) for word, quantity in QUANTITIES.items()}
_REFERENCE_ET = re.compile(r"(?:et|et0|eto|pet|etref|evapotranspiration|reference et)(?: |$)")
