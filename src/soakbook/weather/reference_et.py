"""Reference evapotranspiration by FAO-56 Penman-Monteith: the only home of pyet.

pyet wants a date index and radians, raises bare exceptions and gives numbers without saying what
stood in for a missing measurement; all that is dealt with here. Units, columns and files are
elsewhere: what comes in is already in our units. One equation of FAO-56 that pyet has no function
for stands here, (47); what stands in for radiation is in `sunless`. pyet and pandas are imported
inside the functions, because the morning must not wait for them.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

from soakbook.errors import InputError
from soakbook.weather import sunless

if TYPE_CHECKING:
    import pandas as pd

    from soakbook.weather.wall_clock import Floats

    _Measured = Mapping[str, Floats]

WIND_WHERE_UNKNOWN_M_PER_S = 2.0  # FAO-56 p. 63: mean of over 2000 stations

HUMIDITY_FROM_LOW = "humidity from the night's low"
SUN_FROM_CLOUD = "sun from cloud and the day's range of temperature"
SUN_FROM_RANGE = "sun from the day's range of temperature"
WIND_TAKEN = "wind taken as 2 m/s"
NO_TEMPERATURES = "no lowest and highest temperature, so no ET0"


@dataclass(frozen=True, slots=True)
class Site:
    """Where the weather was measured: all that the sums need of it."""

    latitude_deg: float  # [-90, 90], south negative
    elevation_m: float  # [-430, 5000]
    coastal: bool = False  # within a few kilometres of a large water
    longitude_deg: float | None = (
        None  # [-180, 180], west negative; holds a file's clock to the sun
    )


@dataclass(frozen=True, slots=True)
class DayInputs:
    """What was measured on one day; `None` where nothing was.

    Of humidity the first that is there counts: vapour pressure, dew point, highest with lowest,
    mean. Of the sun: radiation, then hours of sunshine, then cloud, 0 for a clear sky and 1 for an
    overcast one.
    """

    day: date
    tmin_c: float | None = None
    tmax_c: float | None = None
    tmean_c: float | None = None
    vapour_pressure_kpa: float | None = None
    dew_point_c: float | None = None
    rhmax_percent: float | None = None
    rhmin_percent: float | None = None
    rh_mean_percent: float | None = None
    radiation_mj_m2_day: float | None = None
    sunshine_h: float | None = None
    cloud_fraction: float | None = None
    wind_2m_m_per_s: float | None = None


@dataclass(frozen=True, slots=True)
class ReferenceEt:
    """One day's reference ET with what it was made from.

    `gaps` says in a gardener's words what stood in for a missing measurement; `method` is the whole
    of it.
    """

    day: date
    et0_mm: float | None
    vapour_pressure_kpa: float | None
    radiation_mj_m2_day: float | None
    wind_2m_m_per_s: float | None
    gaps: tuple[str, ...]
    method: str


def reference_et(days: Sequence[DayInputs], site: Site) -> tuple[ReferenceEt, ...]:
    """FAO-56 reference evapotranspiration of each day, in the order given.

    Use it for any number of days at once: one call costs the same for a day as for a year. Days may
    repeat. Soil heat is left out, as FAO-56 does for single days (eq 42).

    Parameters
    ----------
    days
        What was measured on each day.
    site
        Where.

    Returns
    -------
    tuple of ReferenceEt
        `et0_mm` is `None`, and said so, on a day without its lowest or highest temperature.

    Raises
    ------
    InputError
        A lowest temperature above the highest; cloud outside 0 to 1; a latitude that is none.

    Notes
    -----
    Missing humidity: dew point taken as the night's low (eq 48). Missing sun: from cloud and the
    day's range of temperature (`sunless`), without cloud from that range alone (eq 50), at most
    clear sky (eq 37). Missing wind: 2 m/s. Sunshine becomes
    radiation by Angstrom with a 0.25, b 0.50 (eq 35). Where Tmean is not measured it is the mean of
    Tmin and Tmax (eq 9).

    References
    ----------
    Allen, Pereira, Raes, Smith 1998, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56:
    eq 6 and chapter 3; missing data pp. 58-63.
    """
    _check_latitude(site.latitude_deg)
    reckonable = [day for day in days if _has_temperatures(day)]
    if not reckonable:
        return tuple(_without_temperatures(day) for day in days)
    for day in reckonable:
        _check(day)
    reckoned = iter(_reckoned(reckonable, site))
    return tuple(
        next(reckoned) if _has_temperatures(day) else _without_temperatures(day) for day in days
    )


def wind_at_2m(wind_m_per_s: float, height_m: float) -> float:
    """Wind speed two metres above short grass, from one at another height (FAO-56 eq 47)."""
    if height_m == 2.0:
        return wind_m_per_s
    return wind_m_per_s * 4.87 / math.log(67.8 * height_m - 5.42)  # (47)


def extraterrestrial_radiation(days: Sequence[date], latitude_deg: float) -> tuple[float, ...]:
    """Radiation above the air on each day, MJ/m2 (FAO-56 eq 21): the ground can have no more."""
    _check_latitude(latitude_deg)
    return tuple(_above_air(tuple(days), latitude_deg).tolist())


def daylight_hours(days: Sequence[date], latitude_deg: float) -> tuple[float, ...]:
    """Hours from sunrise to sunset (FAO-56 eq 34): 0 in polar night, 24 in polar day."""
    import pandas as pd
    import pyet

    _check_latitude(latitude_deg)
    index = pd.DatetimeIndex(list(days))
    return tuple(pyet.daylight_hours(index, math.radians(latitude_deg)).tolist())


def saturation_vapour_pressure(temperatures_c: Sequence[float]) -> tuple[float, ...]:
    """Vapour pressure of air that can hold no more, kPa (FAO-56 eq 11), at each temperature."""
    import numpy as np
    import pyet

    return tuple(pyet.calc_e0(np.array(temperatures_c)).tolist())


def _check_latitude(latitude_deg: float) -> None:
    if not -90.0 <= latitude_deg <= 90.0:
        raise InputError("latitude", latitude_deg, "degrees from -90 (south) to 90 (north)")


def _check(day: DayInputs) -> None:
    low, high, cloud = day.tmin_c, day.tmax_c, day.cloud_fraction
    if low is not None and high is not None and low > high:
        raise InputError(f"tmin_c on {day.day}", low, f"at most the day's highest, {high}")
    if cloud is not None and (cloud < 0 or cloud > 1):
        right = "from 0, a clear sky, to 1, an overcast one"
        raise InputError(f"cloud_fraction on {day.day}", cloud, right)


def _has_temperatures(day: DayInputs) -> bool:
    return day.tmin_c is not None and day.tmax_c is not None


def _without_temperatures(day: DayInputs) -> ReferenceEt:
    return ReferenceEt(day.day, None, None, None, None, (NO_TEMPERATURES,), "")


def _reckoned(days: Sequence[DayInputs], site: Site) -> list[ReferenceEt]:
    import numpy as np
    import pandas as pd
    import pyet

    measured = {
        name: np.array([getattr(day, name) for day in days], dtype=float)  # None becomes NaN
        for name in DayInputs.__dataclass_fields__
        if name != "day"
    }
    above_air = _above_air(tuple(day.day for day in days), site.latitude_deg)
    tmin, tmax, wind = measured["tmin_c"], measured["tmax_c"], measured["wind_2m_m_per_s"]
    tmean = _first_known([measured["tmean_c"], (tmin + tmax) / 2])
    ea = _first_known(_vapour_pressures(measured))
    rs = _first_known(_radiations(measured, above_air, site))
    wind = np.where(np.isnan(wind), WIND_WHERE_UNKNOWN_M_PER_S, wind)
    # Of these pyet wants two as series; each further one costs more than its sums.
    et0 = pyet.pm_fao56(
        tmean,
        wind,
        rs=pd.Series(rs, index=above_air.index),
        ea=ea,
        tmax=tmax,
        tmin=tmin,
        elevation=site.elevation_m,
        rso=pyet.calc_rso(above_air, site.elevation_m),  # (37)
    )
    made_by = f"FAO-56 Penman-Monteith, pyet {pyet.__version__}"
    used = (column.tolist() for column in (et0, ea, rs, wind))
    return [_result(day, values, made_by) for day, *values in zip(days, *used, strict=True)]


def _result(day: DayInputs, values: list[float], made_by: str) -> ReferenceEt:
    et0, ea, rs, wind = values
    gaps = _gaps(day)
    return ReferenceEt(day.day, et0, ea, rs, wind, gaps, "; ".join((made_by, *gaps)))


def _vapour_pressures(measured: "_Measured") -> "Iterator[Floats]":
    """Actual vapour pressure, kPa, by every way there is, the best first."""
    import pyet

    yield measured["vapour_pressure_kpa"]
    yield pyet.calc_e0(measured["dew_point_c"])  # (14)
    temperatures = {"tmin": measured["tmin_c"], "tmax": measured["tmax_c"]}
    humidities = {"rhmax": measured["rhmax_percent"], "rhmin": measured["rhmin_percent"]}
    yield pyet.calc_ea(**temperatures, **humidities)  # (17)
    yield pyet.calc_ea(**temperatures, rh=measured["rh_mean_percent"])  # (19)
    yield pyet.calc_ea(**temperatures)  # (48)


def _radiations(
    measured: "_Measured", above_air: "pd.Series[float]", site: Site
) -> "Iterator[Floats]":
    """Radiation on the ground, MJ a square metre, by every way there is, the best first."""
    import numpy as np
    import pandas as pd
    import pyet

    yield measured["radiation_mj_m2_day"]
    latitude = math.radians(site.latitude_deg)
    daylight = pyet.daylight_hours(above_air.index, latitude)
    # Refraction lets a recorder see more than eq 34's hours, by which eq 35 divides.
    sunshine = pd.Series(np.minimum(measured["sunshine_h"], daylight), index=above_air.index)
    possible = np.where(daylight > 0, daylight, 24.0)
    yield pyet.calc_rad_sol_in(sunshine, latitude, nn=possible).to_numpy()  # (35)
    k_rs = sunless.KRS_COAST if site.coastal else sunless.KRS_INLAND
    clear_sky = pyet.calc_rso(above_air, site.elevation_m).to_numpy()  # (37)
    by_range = sunless.radiation_from_range(
        measured["tmin_c"], measured["tmax_c"], above_air.to_numpy(), clear_sky, k_rs
    )
    yield sunless.radiation_from_cloud(measured["cloud_fraction"], by_range, clear_sky)
    yield by_range


def _first_known(ways: "Iterable[Floats]") -> "Floats":
    """Of each day by the first way that knows it; the later ones take long, and are gone only where they must be."""
    import numpy as np

    others = iter(ways)
    known = next(others)
    while np.isnan(known).any() and (other := next(others, None)) is not None:
        known = np.where(np.isnan(known), other, known)
    return known


def _gaps(day: DayInputs) -> tuple[str, ...]:
    both_extremes = day.rhmax_percent is not None and day.rhmin_percent is not None
    humidity = (day.vapour_pressure_kpa, day.dew_point_c, day.rh_mean_percent)
    gaps = []
    if not both_extremes and all(value is None for value in humidity):
        gaps.append(HUMIDITY_FROM_LOW)
    if day.radiation_mj_m2_day is None and day.sunshine_h is None:
        gaps.append(SUN_FROM_RANGE if day.cloud_fraction is None else SUN_FROM_CLOUD)
    if day.wind_2m_m_per_s is None:
        gaps.append(WIND_TAKEN)
    return tuple(gaps)


@lru_cache(maxsize=1)
def _above_air(days: tuple[date, ...], latitude_deg: float) -> "pd.Series[float]":
    """Radiation above the air on each day, MJ a square metre (FAO-56 eq 21), by the day.

    The last one is kept: the check of a service's days asks for it, and so do their sums right behind it.
    """
    import pandas as pd
    import pyet

    index = pd.DatetimeIndex(list(days))
    radiation: pd.Series[float] = pyet.extraterrestrial_r(index, math.radians(latitude_deg))
    return radiation
