"""FAO-56 reference ET hour by hour, written out for checks: the product reckons by the day.

Allen, Pereira, Raes, Smith 1998, FAO Irrigation and Drainage Paper 56: eq 53 with the equations that it names.
Arrays of any one shape, or single numbers. Soil heat is 0.1 of net radiation by day, 0.5 by night (eq 45, 46).
"""

from datetime import datetime

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

MJ_PER_W_H = 0.0036


def vapour_pressure(temperature_c: ArrayLike) -> Floats:
    """kPa of full air (eq 11)."""
    T = np.asarray(temperature_c, dtype=float)
    return np.asarray(0.6108 * np.exp(17.27 * T / (T + 237.3)))


def above_the_air(middles: list[datetime], latitude_deg: float, longitude_deg: float) -> Floats:
    """Mean radiation above the air in the hours round these moments of UTC [W/m²] (eq 28 to 33)."""
    J = np.array([at.timetuple().tm_yday for at in middles])
    t = np.array([at.hour + at.minute / 60 for at in middles])
    phi = np.radians(latitude_deg)
    d_r = 1 + 0.033 * np.cos(2 * np.pi * J / 365)  # (23)
    delta = 0.409 * np.sin(2 * np.pi * J / 365 - 1.39)  # (24)
    b = 2 * np.pi * (J - 81) / 364  # (33)
    S_c = 0.1645 * np.sin(2 * b) - 0.1255 * np.cos(b) - 0.025 * np.sin(b)  # (32)
    omega = np.pi / 12 * (t + longitude_deg / 15 + S_c - 12)  # (31), east of Greenwich, UTC
    omega = (omega + np.pi) % (2 * np.pi) - np.pi
    omega_s = np.arccos(np.clip(-np.tan(phi) * np.tan(delta), -1, 1))  # (25)
    first = np.clip(omega - np.pi / 24, -omega_s, omega_s)  # (29)
    last = np.clip(omega + np.pi / 24, -omega_s, omega_s)  # (30)
    R_a = (12 * 60 / np.pi * 0.0820 * d_r) * (
        (last - first) * np.sin(phi) * np.sin(delta)
        + np.cos(phi) * np.cos(delta) * (np.sin(last) - np.sin(first))
    )  # (28)
    return np.asarray(np.maximum(0.0, R_a) / MJ_PER_W_H)


def hourly_et0(
    temperature_c: ArrayLike,
    dew_point_c: ArrayLike,
    wind_10m_m_per_s: ArrayLike,
    radiation_w_m2: ArrayLike,
    above_air_w_m2: ArrayLike,
    *,
    elevation_m: float,
    night_clearness: ArrayLike,
) -> Floats:
    """ET0 of each hour [mm] (eq 53); Rs/Rso of hours without sun is `night_clearness`."""
    T = np.asarray(temperature_c, dtype=float)
    u_2 = np.asarray(wind_10m_m_per_s) * 4.87 / np.log(67.8 * 10 - 5.42)  # (47)
    R_s, R_a = (np.asarray(each) * MJ_PER_W_H for each in (radiation_w_m2, above_air_w_m2))
    R_so = (0.75 + 2e-5 * elevation_m) * R_a  # (37)
    sunlit = R_so > 0
    clearness = np.where(sunlit, R_s / np.where(sunlit, R_so, 1.0), night_clearness)
    clearness = np.clip(clearness, 0.3, 1.0)
    e_a, e_full = vapour_pressure(dew_point_c), vapour_pressure(T)
    R_nl = 2.043e-10 * (T + 273.16) ** 4 * (0.34 - 0.14 * np.sqrt(e_a)) * (1.35 * clearness - 0.35)
    R_n = 0.77 * R_s - R_nl  # (38), (39), (40)
    G = np.where(R_s > 0, 0.1, 0.5) * R_n  # (45), (46)
    slope = 4098 * e_full / (T + 237.3) ** 2  # (13)
    gamma = 0.665e-3 * 101.3 * ((293 - 0.0065 * elevation_m) / 293) ** 5.26  # (7), (8)
    by_sun = 0.408 * slope * (R_n - G)
    by_wind = gamma * 37 / (T + 273) * u_2 * (e_full - e_a)
    return np.asarray((by_sun + by_wind) / (slope + gamma * (1 + 0.34 * u_2)))  # (53)
