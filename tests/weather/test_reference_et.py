"""Which measurement counts, what stands in for a missing one, and what is said of it."""

import subprocess
import sys
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pyet
import pytest

from soakbook.errors import InputError
from soakbook.weather.reference_et import (
    HUMIDITY_FROM_LOW,
    NO_TEMPERATURES,
    SUN_FROM_RANGE,
    WIND_TAKEN,
    DayInputs,
    ReferenceEt,
    Site,
    daylight_hours,
    extraterrestrial_radiation,
    reference_et,
    wind_at_2m,
)

SITE = Site(52.1, 2.0)
FULL = DayInputs(
    date(2031, 7, 6),
    12.3,
    21.5,
    tmean_c=17.0,
    vapour_pressure_kpa=1.4,
    dew_point_c=11.0,
    rhmax_percent=84.0,
    rhmin_percent=63.0,
    rh_mean_percent=73.0,
    radiation_mj_m2_day=22.0,
    sunshine_h=9.0,
    wind_2m_m_per_s=2.1,
)


def one(day: DayInputs, site: Site = SITE) -> ReferenceEt:
    (result,) = reference_et([day], site)
    return result


def test_the_method_names_equation_program_and_version() -> None:
    assert one(FULL).method == f"FAO-56 Penman-Monteith, pyet {pyet.__version__}"


@pytest.mark.parametrize(
    ("gone", "expected"),
    [
        ((), 1.4),
        (
            ("vapour_pressure_kpa",),
            1.313,
        ),  # dew point 11 °C: FAO-56 annex 2, table 2.3, e°(11) = 1.313
        (("vapour_pressure_kpa", "dew_point_c"), 1.409),  # the extremes: FAO-56 Ex. 18
    ],
)
def test_the_best_humidity_counts(gone: tuple[str, ...], expected: float) -> None:
    without: dict[str, Any] = dict.fromkeys(gone)
    found = one(replace(FULL, **without))
    assert found.vapour_pressure_kpa == pytest.approx(expected, abs=0.001)
    assert found.gaps == ()


def test_one_extreme_of_humidity_alone_is_not_enough() -> None:
    half = replace(FULL, vapour_pressure_kpa=None, dew_point_c=None, rhmax_percent=None)
    alone = replace(half, rh_mean_percent=None)
    assert one(half).gaps == ()
    assert one(alone).gaps == (HUMIDITY_FROM_LOW,)
    # e°(12.3 °C), FAO-56 Ex. 18
    assert one(alone).vapour_pressure_kpa == pytest.approx(1.431, abs=0.001)


def test_radiation_counts_before_sunshine() -> None:
    assert one(FULL).radiation_mj_m2_day == 22.0
    sunshine_only = one(replace(FULL, radiation_mj_m2_day=None))
    assert sunshine_only.radiation_mj_m2_day != 22.0
    assert sunshine_only.gaps == ()


def test_every_stand_in_is_named_in_order() -> None:
    bare = one(DayInputs(date(2031, 7, 6), 12.3, 21.5))
    assert bare.gaps == (HUMIDITY_FROM_LOW, SUN_FROM_RANGE, WIND_TAKEN)
    assert bare.method.endswith(
        "; humidity from the night's low; sun from the day's range of temperature"
        "; wind taken as 2 m/s"
    )
    assert bare.wind_2m_m_per_s == 2.0


@pytest.mark.parametrize(
    "day", [replace(FULL, tmin_c=None), replace(FULL, tmax_c=None)], ids=["no low", "no high"]
)
def test_without_its_temperatures_a_day_has_no_et0(day: DayInputs) -> None:
    found = one(day)
    assert found.et0_mm is None
    assert found.gaps == (NO_TEMPERATURES,)


def test_days_come_back_in_the_order_given_with_the_unknown_between() -> None:
    known, unknown = FULL, DayInputs(date(2031, 7, 7))
    found = reference_et([known, unknown, known], SITE)
    assert [result.et0_mm is None for result in found] == [False, True, False]
    assert found[0] == found[2]


def test_no_days_need_no_sums() -> None:
    assert reference_et([], SITE) == ()


def test_a_coast_has_more_sun_for_the_same_range() -> None:
    """FAO-56 p. 60: kRs 0.19 instead of 0.16, while both stay below clear sky."""
    day = DayInputs(date(2031, 7, 6), 12.3, 19.0)
    inland, coast = one(day), one(day, replace(SITE, coastal=True))
    assert inland.radiation_mj_m2_day is not None
    assert coast.radiation_mj_m2_day == pytest.approx(inland.radiation_mj_m2_day * 0.19 / 0.16)


def test_a_wide_range_brings_no_more_than_a_clear_sky() -> None:
    """FAO-56 eq 37 at sea level: 0.75 of what comes from above the air."""
    day = DayInputs(date(2031, 7, 6), -5.0, 40.0)
    (above_air,) = extraterrestrial_radiation([day.day], 52.1)
    assert one(day, Site(52.1, 0.0)).radiation_mj_m2_day == pytest.approx(0.75 * above_air)


def test_sunshine_beyond_the_daylight_is_a_full_day_of_sun() -> None:
    day = replace(FULL, radiation_mj_m2_day=None)
    (daylight,) = daylight_hours([day.day], 52.1)
    assert one(replace(day, sunshine_h=daylight + 0.3)) == one(replace(day, sunshine_h=daylight))


def test_the_mean_temperature_is_the_middle_where_it_is_not_measured() -> None:
    middle = replace(FULL, tmean_c=(12.3 + 21.5) / 2)
    assert one(replace(FULL, tmean_c=None)).et0_mm == pytest.approx(one(middle).et0_mm)
    assert one(FULL).et0_mm != pytest.approx(one(middle).et0_mm)


def test_wind_at_two_metres_stays() -> None:
    assert wind_at_2m(3.2, 2.0) == 3.2


@pytest.mark.parametrize("latitude_deg", [90.0, 80.0, 66.6, 0.0, -66.6, -80.0, -90.0])
def test_polar_day_and_night_are_reckoned_without_a_word(latitude_deg: float) -> None:
    """Warnings are errors here. Every third day is known by nothing but temperature, another by
    sunshine.
    """
    days = [
        DayInputs(
            date(2031, 1, 1) + timedelta(days=n),
            -45.0 + n / 10,
            -40.0 + n / 10,
            sunshine_h=[None, 0.0, 24.0][n % 3],
        )
        for n in range(365)
    ]
    found = [result.et0_mm for result in reference_et(days, Site(latitude_deg, 3000.0))]
    assert all(et0 is not None and 0 <= et0 < 15 for et0 in found)


def test_the_pole_has_no_sun_in_winter_and_no_night_in_summer() -> None:
    winter, summer = daylight_hours([date(2031, 12, 21), date(2031, 6, 21)], 80.0)
    assert winter == 0.0
    assert summer == pytest.approx(24.0)
    assert extraterrestrial_radiation([date(2031, 12, 21)], 80.0) == (0.0,)


def test_latitude_in_degrees_is_turned_for_pyet() -> None:
    """The southern summer is in January."""
    january, july = (
        replace(FULL, day=date(2031, month, 6), radiation_mj_m2_day=None) for month in (1, 7)
    )
    south = [
        result.radiation_mj_m2_day for result in reference_et([january, july], Site(-35.0, 0.0))
    ]
    assert south[0] is not None
    assert south[1] is not None
    assert south[0] > south[1]


def test_a_low_above_the_high_is_refused() -> None:
    with pytest.raises(InputError, match=r"tmin_c on 2031-07-06: 22 cannot be right; at most"):
        reference_et([replace(FULL, tmin_c=22.0)], SITE)


def test_a_latitude_beyond_the_pole_is_refused() -> None:
    with pytest.raises(InputError, match=r"latitude: 91 "):
        reference_et([FULL], Site(91.0, 0.0))


def test_importing_it_loads_neither_pandas_nor_pyet() -> None:
    code = (
        "import sys, soakbook.weather.files, soakbook.weather.reference_et;"
        "print({'pandas', 'pyet', 'numpy', 'xarray'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"
