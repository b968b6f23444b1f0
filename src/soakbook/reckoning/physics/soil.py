"""What a soil holds: from its grains and organic matter, and from the name of its class.

Intake, drainage and readily evaporable water of a class are tables of the trade and stand there.
"""

from typing import NamedTuple

import numpy as np

from soakbook.reckoning.physics.records import Number
from soakbook.reckoning.physics.words import greater

ORGANIC_PERCENT = 2.5
SKIN_DEPTH_M = 0.10
REW_OF_TEW = 0.8
LEAST_WILTING_POINT = 0.01  # (1) falls below nothing in clean sand without organic matter

FAO_MIDPOINTS = {  # field capacity, wilting point: FAO-56 table 19, middle of each range
    "sand": (0.12, 0.045),
    "loamy sand": (0.15, 0.065),
    "sandy loam": (0.23, 0.11),
}


class SoilWater(NamedTuple):
    """Water a soil holds, as fractions of its volume."""

    field_capacity: Number  # FC
    wilting_point: Number  # WP
    saturation: Number  # SAT
    conductivity_mm_h: Number  # Ksat


def soil_water(
    texture: str,
    sand_fraction: float,
    clay_fraction: float,
    organic_percent: float = ORGANIC_PERCENT,
    stone_fraction: float = 0.0,
) -> SoilWater:
    """What a bed's soil holds, by its class and its grains.

    The three lightest classes take the mean of `pedotransfer` and FAO-56's midpoints for field
    capacity and wilting point: suction of 33 kPa is not reached there in days of draining.

    Parameters
    ----------
    texture : str
        Class by `texture_class`.
    sand_fraction, clay_fraction, organic_percent : float
        As in `pedotransfer`.
    stone_fraction : float
        Share of the volume that is stone and holds nothing [0, below 1].

    Returns
    -------
    SoilWater
        Of the whole soil, stones included; conductivity is that of the soil between them.

    References
    ----------
    FAO Irrigation and Drainage Paper 56, table 19.
    """
    water = pedotransfer(sand_fraction, clay_fraction, organic_percent)
    capacity, wilting = water.field_capacity, water.wilting_point
    if texture in FAO_MIDPOINTS:
        fao_capacity, fao_wilting = FAO_MIDPOINTS[texture]
        capacity = (capacity + fao_capacity) / 2
        wilting = (wilting + fao_wilting) / 2
    fine = 1.0 - stone_fraction
    return SoilWater(
        capacity * fine, wilting * fine, water.saturation * fine, water.conductivity_mm_h
    )


def pedotransfer(
    sand_fraction: Number, clay_fraction: Number, organic_percent: Number = ORGANIC_PERCENT
) -> SoilWater:
    """What a soil holds and how fast it leads water when full, from grains and organic matter.

    Parameters
    ----------
    sand_fraction, clay_fraction : number or array
        By mass of the fine earth [0-1; clay at most 0.60].
    organic_percent : number or array
        Organic matter, per cent by weight [0-8].

    Returns
    -------
    SoilWater
        Field capacity at 33 kPa, wilting point at 1500 kPa.

    References
    ----------
    Saxton and Rawls (2006), Soil Sci. Soc. Am. J. 70:1569-1578, table 1. The coefficient 1.283 is
    sometimes copied as 1.238, which does not give the paper's own table 3.
    """
    S, C, OM = sand_fraction, clay_fraction, organic_percent
    a = -0.024 * S + 0.487 * C + 0.006 * OM + 0.005 * S * OM - 0.013 * C * OM + 0.068 * S * C
    a = a + 0.031
    WP = greater(a + (0.14 * a - 0.02), LEAST_WILTING_POINT)  # (1)
    b = -0.251 * S + 0.195 * C + 0.011 * OM + 0.006 * S * OM - 0.027 * C * OM + 0.452 * S * C
    b = b + 0.299
    FC = b + (1.283 * b * b - 0.374 * b - 0.015)  # (2)
    c = 0.278 * S + 0.034 * C + 0.022 * OM - 0.018 * S * OM - 0.027 * C * OM - 0.584 * S * C
    c = c + 0.078
    S33 = c + (0.636 * c - 0.107)  # (3)
    SAT = FC + greater(S33 - 0.097 * S + 0.043, 0.0)  # (4)
    B = np.log(1500.0 / 33.0) / np.log(FC / WP)  # (5)
    Ksat = 1930.0 * (SAT - FC) ** (3.0 - 1.0 / B)  # (6)
    return SoilWater(FC, WP, SAT, Ksat)


def total_evaporable_mm(
    field_capacity: Number, wilting_point: Number, skin_depth_m: Number = SKIN_DEPTH_M
) -> Number:
    """Water the sun can take from the top of a bare soil, TEW [mm].

    References
    ----------
    FAO Irrigation and Drainage Paper 56, eq 73.
    """
    return 1000.0 * (field_capacity - 0.5 * wilting_point) * skin_depth_m  # (7)


def readily_evaporable_mm(table_rew_mm: float, tew_mm: float) -> float:
    """Of that, what goes at full rate: REW of the class, at most 0.8 TEW [mm]."""
    return min(table_rew_mm, REW_OF_TEW * tew_mm)  # (7)


def texture_class(sand_fraction: float, clay_fraction: float) -> str:
    """USDA class of a soil, the rest of it being silt.

    Parameters
    ----------
    sand_fraction, clay_fraction : float
        By mass of the fine earth [0-1, together at most 1].

    Returns
    -------
    str
        One of the twelve classes.

    References
    ----------
    USDA Natural Resources Conservation Service, Soil Survey Manual, ch. 3, texture triangle.
    """
    sand, clay = round(sand_fraction, 9), round(clay_fraction, 9)
    silt = round(1.0 - sand - clay, 9)
    if clay >= 0.27:
        return _heavy_class(sand, silt, clay)
    if silt + 1.5 * clay < 0.15:
        return "sand"
    if silt + 2.0 * clay < 0.30:
        return "loamy sand"
    if silt >= 0.50:
        return "silt" if silt >= 0.80 and clay < 0.12 else "silt loam"
    if clay >= 0.20 and silt < 0.28 and sand > 0.45:
        return "sandy clay loam"
    return "sandy loam" if sand > 0.52 or clay < 0.07 else "loam"


def _heavy_class(sand: float, silt: float, clay: float) -> str:
    """Class of a soil of 27 % clay or more."""
    if sand > 0.45:
        return "sandy clay" if clay >= 0.35 else "sandy clay loam"
    if clay >= 0.40:
        return "silty clay" if silt >= 0.40 else "clay"
    return "clay loam" if sand > 0.20 else "silty clay loam"
