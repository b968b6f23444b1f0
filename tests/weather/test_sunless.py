"""Stand-ins for radiation: what a clear and an overcast sky come to, many days at once."""

import math
from datetime import date

import numpy as np
import pytest

from soakbook.errors import InputError
from soakbook.weather.reference_et import (
    SUN_FROM_CLOUD,
    SUN_FROM_RANGE,
    DayInputs,
    Site,
    extraterrestrial_radiation,
    reference_et,
)
from soakbook.weather.sunless import KRS_COAST, radiation_from_cloud, radiation_from_range

CLEAR_SKY = np.array([30.0, 20.0, 8.0])


def test_a_clear_sky_gives_all_and_an_overcast_one_a_quarter() -> None:
    """By cloud alone, which is left when the range says the same as cloud."""
    clear, overcast = np.zeros(3), np.ones(3)
    assert radiation_from_cloud(clear, CLEAR_SKY, CLEAR_SKY) == pytest.approx(CLEAR_SKY)
    quarter = 0.25 * CLEAR_SKY
    assert radiation_from_cloud(overcast, quarter, CLEAR_SKY) == pytest.approx(quarter)


def test_cloud_and_range_count_half_each() -> None:
    """Overcast with a range that tells of a clear sky: (0.25 + 1) / 2."""
    found = radiation_from_cloud(np.ones(3), CLEAR_SKY, CLEAR_SKY)
    assert found == pytest.approx(0.625 * CLEAR_SKY)


def test_half_a_sky_of_cloud_takes_little() -> None:
    """1 - 0.75 x 0.5^3.4, reckoned apart as exp(3.4 ln 0.5) = 0.09473: 0.92895 of a clear sky by cloud."""
    found = radiation_from_cloud(np.array([0.5]), np.array([0.0]), np.array([1.0]))
    assert found == pytest.approx([0.92895 / 2], abs=5e-6)


def test_more_cloud_is_never_more_sun() -> None:
    cloud = np.linspace(0, 1, 101)
    found = radiation_from_cloud(cloud, np.full(101, 12.0), np.full(101, 25.0))
    assert (np.diff(found) < 0)[1:].all()


def test_a_wide_range_is_a_clear_sky_and_none_is_dark() -> None:
    low, high = np.array([0.0, 0.0, 5.0]), np.array([36.0, 9.0, 5.0])
    found = radiation_from_range(low, high, np.full(3, 40.0), np.full(3, 30.0))
    assert found == pytest.approx([30.0, 0.16 * 3 * 40, 0.0])


def test_a_day_without_cloud_stays_unknown_among_others() -> None:
    found = radiation_from_cloud(np.array([0.0, math.nan]), np.full(2, 30.0), np.full(2, 30.0))
    assert found[0] == 30.0
    assert math.isnan(found[1])


SITE = Site(52.1, 0.0)
BARE = DayInputs(date(2031, 7, 6), 12.3, 21.5)


def clouded(cloud_fraction: float | None) -> DayInputs:
    return DayInputs(BARE.day, 12.3, 21.5, cloud_fraction=cloud_fraction)


def test_reference_et_takes_cloud_where_there_is_no_sun() -> None:
    """At sea level a clear sky lets 0.75 through (FAO-56 eq 37); the range 0.16 sqrt(9.2)."""
    (above_air,) = extraterrestrial_radiation([BARE.day], 52.1)
    overcast, bare = reference_et([clouded(1.0), BARE], SITE)
    by_range, by_cloud = 0.16 * math.sqrt(9.2) * above_air, 0.25 * 0.75 * above_air
    assert bare.radiation_mj_m2_day == pytest.approx(by_range)
    assert overcast.radiation_mj_m2_day == pytest.approx((by_range + by_cloud) / 2)
    assert SUN_FROM_CLOUD in overcast.gaps
    assert SUN_FROM_RANGE not in overcast.gaps
    assert "sun from cloud and the day's range of temperature" in overcast.method
    assert SUN_FROM_RANGE in bare.gaps


def test_a_coast_has_its_own_range_under_cloud_too() -> None:
    (above_air,) = extraterrestrial_radiation([BARE.day], 52.1)
    (found,) = reference_et([clouded(1.0)], Site(52.1, 0.0, coastal=True))
    by_range = min(KRS_COAST * math.sqrt(9.2), 0.75) * above_air
    assert found.radiation_mj_m2_day == pytest.approx((by_range + 0.1875 * above_air) / 2)


def test_measured_sun_counts_before_cloud() -> None:
    measured = DayInputs(BARE.day, 12.3, 21.5, radiation_mj_m2_day=22.0, cloud_fraction=1.0)
    sunny = DayInputs(BARE.day, 12.3, 21.5, sunshine_h=9.0, cloud_fraction=1.0)
    without = DayInputs(BARE.day, 12.3, 21.5, sunshine_h=9.0)
    by_radiation, by_sunshine, plain = reference_et([measured, sunny, without], SITE)
    assert by_radiation.radiation_mj_m2_day == 22.0
    assert by_sunshine.radiation_mj_m2_day == plain.radiation_mj_m2_day
    assert SUN_FROM_CLOUD not in by_radiation.gaps + by_sunshine.gaps


@pytest.mark.parametrize("cloud_fraction", [-0.01, 85.0])
def test_cloud_that_is_no_share_is_refused(cloud_fraction: float) -> None:
    with pytest.raises(InputError, match=r"cloud_fraction on 2031-07-06: .* from 0, a clear sky"):
        reference_et([clouded(cloud_fraction)], SITE)
