"""What reference ET must be whatever the weather and wherever the place."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.weather.reference_et import DayInputs, Site, extraterrestrial_radiation, reference_et

SITES = st.builds(Site, st.floats(-80, 80), st.floats(-400, 4000))
DATES = st.integers(0, 365 * 20).map(lambda n: date(2020, 1, 1) + timedelta(days=n))


@st.composite
def full_days(draw: st.DrawFn) -> DayInputs:
    """Any possible day, of dry to damp air, with all that is needed measured."""
    low = draw(st.floats(-50, 35))
    return DayInputs(
        draw(DATES),
        low,
        low + draw(st.floats(0, 25)),
        rh_mean_percent=draw(st.floats(5, 100)),
        radiation_mj_m2_day=draw(st.floats(0, 35)),
        wind_2m_m_per_s=draw(st.floats(0, 20)),
    )


def et0(day: DayInputs, site: Site) -> float:
    (result,) = reference_et([day], site)
    assert result.et0_mm is not None
    return result.et0_mm


@given(full_days(), SITES)
def test_never_below_nothing_nor_beyond_belief(day: DayInputs, site: Site) -> None:
    assert 0 <= et0(day, site) < 60


@given(st.lists(full_days(), min_size=1, max_size=6), SITES)
def test_a_batch_is_its_days_one_by_one(days: list[DayInputs], site: Site) -> None:
    """What one day lacks must not reach its neighbours in the same call."""
    mixed = [
        replace(day, rh_mean_percent=None, radiation_mj_m2_day=None) if n % 2 else day
        for n, day in enumerate(days)
    ]
    for day, result in zip(mixed, reference_et(mixed, site), strict=True):
        (alone,) = reference_et([day], site)
        assert result.method == alone.method
        assert result.et0_mm == pytest.approx(alone.et0_mm, abs=1e-9)


@given(
    full_days(),
    SITES,
    st.sampled_from(["rh_mean_percent", "radiation_mj_m2_day", "wind_2m_m_per_s"]),
)
def test_each_gap_is_named_and_filled(day: DayInputs, site: Site, gone: str) -> None:
    without: dict[str, Any] = {gone: None}
    (result,) = reference_et([replace(day, **without)], site)
    assert result.et0_mm is not None
    assert len(result.gaps) == 1


@given(full_days(), SITES)
def test_sun_made_up_is_never_more_than_comes_from_above(day: DayInputs, site: Site) -> None:
    (above_air,) = extraterrestrial_radiation([day.day], site.latitude_deg)
    guesses = [
        replace(day, radiation_mj_m2_day=None, sunshine_h=sunshine_h)
        for sunshine_h in (None, 0.0, 5.0, 24.0)
    ]
    for result in reference_et(guesses, site):
        assert result.radiation_mj_m2_day is not None
        assert 0 <= result.radiation_mj_m2_day <= 0.84 * above_air + 1e-9
