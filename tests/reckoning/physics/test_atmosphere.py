import numpy as np
import pytest

from soakbook.reckoning.physics.atmosphere import kc_max


def test_still_damp_reference_air_gives_one_and_a_fifth() -> None:
    assert kc_max(2.0, 45.0) == 1.2


def test_height_matters_only_where_the_air_is_not_the_reference() -> None:
    assert kc_max(2.0, 45.0, plant_height_m=2.0) == 1.2
    assert kc_max(4.0, 25.0, plant_height_m=3.0) == pytest.approx(1.2 + 0.08 + 0.08)


def test_wind_and_dryness_raise_it_lane_by_lane() -> None:
    found = kc_max(np.array([1.0, 2.0, 4.0]), np.array([60.0, 45.0, 30.0]))
    assert isinstance(found, np.ndarray)
    assert found[0] < found[1] < found[2]


def test_a_missing_value_stays_missing() -> None:
    assert np.isnan(kc_max(np.nan, 45.0))
