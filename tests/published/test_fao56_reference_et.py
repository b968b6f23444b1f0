"""Worked examples of FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes, Smith 1998).

Tolerances are half of the last printed digit, unless said: the examples chain rounded values, we do
not. Days of the year are put into 2031, which is no leap year.
"""

from datetime import date
from math import radians
from typing import NamedTuple

import pandas as pd
import pyet
import pytest

from soakbook.weather.reference_et import (
    DayInputs,
    ReferenceEt,
    Site,
    daylight_hours,
    extraterrestrial_radiation,
    reference_et,
    saturation_vapour_pressure,
    wind_at_2m,
)


class Published(NamedTuple):
    """A printed value with its citation."""

    where: str
    latitude_deg: float
    day: date
    expected: float
    tolerance: float


def reckoned(inputs: DayInputs, site: Site) -> ReferenceEt:
    (result,) = reference_et([inputs], site)
    return result


SKY = [
    Published("Ex. 8, p. 47", -20.0, date(2031, 9, 3), 32.2, 0.05),
    Published("Ex. 10, p. 50", -22.9, date(2031, 5, 15), 25.1, 0.05),
    Published("Ex. 15, p. 61", 45.72, date(2031, 7, 15), 40.6, 0.05),
    Published("Ex. 17, p. 70", 13 + 44 / 60, date(2031, 4, 15), 38.06, 0.01),
    Published("Ex. 18, p. 72", 50.8, date(2031, 7, 6), 41.09, 0.01),
]

DAYLIGHT = [
    Published("Ex. 9, p. 49", -20.0, date(2031, 9, 3), 11.7, 0.05),
    Published("Ex. 10, p. 50", -22.9, date(2031, 5, 15), 10.9, 0.05),
    Published("Ex. 17, p. 70", 13 + 44 / 60, date(2031, 4, 15), 12.31, 0.01),
    Published("Ex. 18, p. 72", 50.8, date(2031, 7, 6), 16.1, 0.05),
]


@pytest.mark.parametrize("printed", SKY, ids=lambda printed: printed.where)
def test_radiation_above_the_air(printed: Published) -> None:
    (found,) = extraterrestrial_radiation([printed.day], printed.latitude_deg)
    assert found == pytest.approx(printed.expected, abs=printed.tolerance)


@pytest.mark.parametrize("printed", DAYLIGHT, ids=lambda printed: printed.where)
def test_hours_of_daylight(printed: Published) -> None:
    (found,) = daylight_hours([printed.day], printed.latitude_deg)
    assert found == pytest.approx(printed.expected, abs=printed.tolerance)


def test_saturation_vapour_pressure() -> None:
    """Ex. 3, p. 36: 24.5 and 15.0 °C hold 3.075 and 1.705 kPa, on the mean 2.39 (not e° of the
    mean, 2.30).
    """
    warm, cool = saturation_vapour_pressure([24.5, 15.0])
    assert warm == pytest.approx(3.075, abs=0.0006)
    assert cool == pytest.approx(1.705, abs=0.0006)
    assert (warm + cool) / 2 == pytest.approx(2.39, abs=0.005)


def test_vapour_pressure_from_the_extremes_of_humidity() -> None:
    """Ex. 5, p. 39, eq 17: Tmin 18 at 82 %, Tmax 25 at 54 %: 1.70 kPa."""
    day = DayInputs(date(2031, 7, 1), 18.0, 25.0, rhmax_percent=82.0, rhmin_percent=54.0)
    assert reckoned(day, Site(40, 0)).vapour_pressure_kpa == pytest.approx(1.70, abs=0.005)


def test_vapour_pressure_from_mean_humidity() -> None:
    """Ex. 5, p. 39, eq 19: the mean of 82 and 54 % gives 1.78 kPa."""
    day = DayInputs(date(2031, 7, 1), 18.0, 25.0, rh_mean_percent=68.0)
    assert reckoned(day, Site(40, 0)).vapour_pressure_kpa == pytest.approx(1.78, abs=0.005)


def test_radiation_from_sunshine() -> None:
    """Ex. 10, p. 50, eq 35: Rio, 15 May, 220 h of sun in 31 days: 14.5 MJ a day."""
    day = DayInputs(date(2031, 5, 15), 19.1, 25.1, sunshine_h=220 / 31)
    assert reckoned(day, Site(-22.9, 0)).radiation_mj_m2_day == pytest.approx(14.5, abs=0.05)


def test_radiation_from_the_range_of_temperature() -> None:
    """Ex. 15, p. 61, eq 50: Lyon, July, 14.8 to 26.6 °C, inland: 22.3 MJ a day."""
    day = DayInputs(date(2031, 7, 15), 14.8, 26.6)
    assert reckoned(day, Site(45.72, 200)).radiation_mj_m2_day == pytest.approx(22.3, abs=0.05)


def test_wind_brought_down_from_10_m() -> None:
    """Ex. 14, p. 56, eq 47: 3.2 m/s at 10 m is 2.4 at 2 m, factor 0.75."""
    assert wind_at_2m(3.2, 10.0) == pytest.approx(2.4, abs=0.05)
    assert wind_at_2m(1.0, 10.0) == pytest.approx(0.75, abs=0.005)


def test_net_radiation_inside_pyet() -> None:
    """Ex. 11 and 12, p. 52-53: Rio, May: Rnl 3.5, Rn 7.6 MJ. The library we lean on, by its own
    functions.
    """
    day = pd.DatetimeIndex(["2031-05-15"])
    given = {"tmax": 25.1, "tmin": 19.1, "ea": 2.1, "rs": 14.4561}
    series = {name: pd.Series([value], day) for name, value in given.items()}
    # eq 36, clear sky 0.75 Ra: the example has no height
    clear_sky = 0.75 * pyet.extraterrestrial_r(day, radians(-22.9))
    longwave = pyet.calc_rad_long(**series, rso=clear_sky)
    net = pyet.calc_rad_net(tmean=None, **series, rso=clear_sky)
    assert float(longwave.iloc[0]) == pytest.approx(3.5, abs=0.05)
    assert float(net.iloc[0]) == pytest.approx(7.6, abs=0.05)


UCCLE = Site(50.8, 100.0)
UCCLE_WIND = wind_at_2m(10 / 3.6, 10.0)
UCCLE_DAY = DayInputs(
    date(2031, 7, 6),
    12.3,
    21.5,
    rhmax_percent=84.0,
    rhmin_percent=63.0,
    sunshine_h=9.25,
    wind_2m_m_per_s=UCCLE_WIND,
)


def test_a_day_at_uccle() -> None:
    """Ex. 18, p. 72-73: 6 July, 10 km/h at 10 m: u2 2.078, ea 1.409, Rs 22.07, ET0 3.88 mm."""
    found = reckoned(UCCLE_DAY, UCCLE)
    assert found.et0_mm == pytest.approx(3.88, abs=0.005)
    assert found.wind_2m_m_per_s == pytest.approx(2.078, abs=0.001)
    assert found.vapour_pressure_kpa == pytest.approx(1.409, abs=0.001)
    assert found.radiation_mj_m2_day == pytest.approx(22.07, abs=0.01)
    assert found.gaps == ()


def test_a_month_at_bangkok() -> None:
    """Ex. 17, p. 70-71: April, ET0 5.72 mm with soil heat G 0.14 MJ, which single days leave out
    (eq 42).

    Without it ET0 is higher by 0.408 Δ G / (Δ + γ (1 + 0.34 u2)) = 0.039, with the example's Δ
    0.246, γ 0.0674.
    """
    day = DayInputs(
        date(2031, 4, 15),
        25.6,
        34.8,
        30.2,
        vapour_pressure_kpa=2.85,
        sunshine_h=8.5,
        wind_2m_m_per_s=2.0,
    )
    soil_heat_mm = 0.408 * 0.246 * 0.14 / (0.246 + 0.0674 * (1 + 0.34 * 2))
    found = reckoned(day, Site(13 + 44 / 60, 2.0))
    assert found.et0_mm == pytest.approx(5.72 + soil_heat_mm, abs=0.01)
    assert found.radiation_mj_m2_day == pytest.approx(22.65, abs=0.01)


def test_a_month_at_lyon_with_nothing_but_temperatures() -> None:
    """Ex. 20, p. 77: Lyon, July, 14.8 to 26.6 °C, 200 m: 4.56 mm. The printed result is from
    memory.
    """
    found = reckoned(DayInputs(date(2031, 7, 15), 14.8, 26.6), Site(45.72, 200.0))
    assert found.et0_mm == pytest.approx(4.56, abs=0.005)
    assert len(found.gaps) == 3


# Monthly means of a coastal station in Angola, Fig. 18, p. 69: Tmin, Tmax, mean humidity, wind
# [km/day], sunshine [h], printed ET0 [mm]. How the figure takes humidity and the day of the month
# is not said, so the check is a loose one: 0.2 mm.
ANGOLA = [
    (22.8, 29.6, 81, 78, 4.0, 3.4),
    (22.7, 30.3, 82, 69, 4.6, 3.7),
    (23.0, 30.6, 80, 78, 5.1, 3.8),
    (23.0, 30.2, 82, 69, 5.0, 3.5),
    (22.0, 28.6, 84, 69, 3.8, 2.9),
    (19.2, 26.5, 81, 69, 3.3, 2.6),
    (17.6, 25.1, 78, 78, 3.2, 2.6),
    (18.6, 25.3, 78, 78, 2.6, 2.6),
    (20.5, 26.5, 78, 104, 2.0, 2.8),
    (22.5, 28.0, 79, 130, 2.2, 3.1),
    (23.0, 28.7, 80, 104, 3.2, 3.3),
    (23.0, 29.1, 82, 95, 3.8, 3.4),
]


def test_a_year_on_the_coast_of_angola() -> None:
    """FAO-56, fig. 18, p. 69: the last column, to 0.2 mm, because its conventions are not said."""
    days = [
        DayInputs(
            date(2031, month, 15),
            low,
            high,
            rh_mean_percent=humidity,
            sunshine_h=sunshine,
            wind_2m_m_per_s=wind / 86.4,
        )
        for month, (low, high, humidity, wind, sunshine, _) in enumerate(ANGOLA, start=1)
    ]
    found = [result.et0_mm for result in reference_et(days, Site(-5.33, 20.0))]
    assert found == pytest.approx([row[-1] for row in ANGOLA], abs=0.2)
