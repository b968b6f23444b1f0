"""Units of other countries and of weather files, turned into ours: one function a unit.

Water has two units in a garden, litres and millimetres over a ground: only `litres_from_depth`
and `depth_from_litres` go between them. Wind brought down to 2 m is weather and lives there.

References
----------
NIST Special Publication 811 (2008), appendix B.8: inch, foot, yard, mile per hour, knot, US and
UK gallon, langley, degree Fahrenheit. Weights and Measures Act 1985 (UK), schedule 1: gallon.
FAO Irrigation and Drainage Paper 56, table 3: W m-2 over a day. Factors from memory, each held
to pint's registry by a test.
"""

from typing import Literal

Gallon = Literal["uk", "us"]

GALLON_L: dict[Gallon, float] = {"uk": 4.54609, "us": 3.785411784}
L_PER_M3 = 1000
INCH_MM = 25.4
FOOT_M = 0.3048
YARD_M = 0.9144
MILE_PER_HOUR_M_PER_S = 0.44704
KNOT_M_PER_S = 1852 / 3600
LANGLEY_MJ_M2 = 0.04184
SECONDS_A_DAY = 86400
SECONDS_AN_HOUR = 3600


def litres_from_depth(depth_mm: float, area_m2: float) -> float:
    """Litres that stand `depth_mm` deep over `area_m2`: 1 mm on 1 m² is 1 L."""
    return depth_mm * area_m2


def depth_from_litres(litres: float, area_m2: float) -> float:
    """Depth [mm] of so many litres spread over `area_m2` [m², > 0]."""
    return litres / area_m2


def litres_from_gallons(gallons: float, gallon: Gallon) -> float:
    """Litres in UK or US gallons."""
    return gallons * GALLON_L[gallon]


def mm_from_inches(inches: float) -> float:
    """Millimetres in inches."""
    return inches * INCH_MM


def m_from_feet(feet: float) -> float:
    """Metres in feet."""
    return feet * FOOT_M


def m2_from_square_feet(square_feet: float) -> float:
    """Square metres in square feet."""
    return square_feet * FOOT_M**2


def m2_from_square_yards(square_yards: float) -> float:
    """Square metres in square yards."""
    return square_yards * YARD_M**2


def c_from_fahrenheit(fahrenheit: float) -> float:
    """Degrees Celsius of a temperature in degrees Fahrenheit."""
    return (fahrenheit - 32) / 1.8


def m_per_s_from_km_per_h(km_per_h: float) -> float:
    """Metres per second in kilometres per hour."""
    return km_per_h / 3.6


def m_per_s_from_mph(miles_per_hour: float) -> float:
    """Metres per second in miles per hour."""
    return miles_per_hour * MILE_PER_HOUR_M_PER_S


def m_per_s_from_knots(knots: float) -> float:
    """Metres per second in knots."""
    return knots * KNOT_M_PER_S


def kpa_from_hpa(hpa: float) -> float:
    """Kilopascals in hectopascals, which are millibars."""
    return hpa / 10


def mj_m2_from_langleys(langleys: float) -> float:
    """MJ/m² in langleys (thermochemical calories per cm²)."""
    return langleys * LANGLEY_MJ_M2


def mj_m2_from_j_cm2(joules_per_cm2: float) -> float:
    """MJ/m² in J/cm²."""
    return joules_per_cm2 / 100


def mj_m2_day_from_w_m2(watts_per_m2: float) -> float:
    """MJ/m² that a mean of so many W/m² brings in a day of 24 hours."""
    return watts_per_m2 * SECONDS_A_DAY / 1e6


def mj_m2_hour_from_w_m2(watts_per_m2: float) -> float:
    """MJ/m² that a mean of so many W/m² brings in an hour."""
    return watts_per_m2 * SECONDS_AN_HOUR / 1e6
