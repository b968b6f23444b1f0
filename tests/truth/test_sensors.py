"""The profile's mean, and what is left out of it."""

import numpy as np
import pytest

from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.sensors import FLAT_DAYS, layer_weights, profile_of


def moving(level: float, days: int = 100) -> Floats:
    return np.array([level + 0.001 * (day % 9) for day in range(days)])


def test_layers_reach_half_way_to_the_next_sensor_and_end_with_the_roots() -> None:
    """5, 10, 20, 50 cm in 60 cm of roots: 7.5, 7.5, 20 and 25 cm."""
    assert layer_weights((5, 10, 20, 50), 60) == pytest.approx(
        (7.5 / 60, 7.5 / 60, 20 / 60, 25 / 60)
    )
    assert layer_weights((10,), 30) == (1.0,)


def test_the_mean_is_weighted() -> None:
    found = profile_of({10.0: moving(0.2), 30.0: moving(0.4)}, 0.5, None, 0.5)
    assert found.weights == pytest.approx((0.4, 0.6))
    assert found.theta[0] == pytest.approx(0.4 * 0.2 + 0.6 * 0.4)
    assert found.findings == ()


def test_a_day_on_which_one_is_silent_has_no_mean() -> None:
    gappy = moving(0.4)
    gappy[3] = np.nan
    found = profile_of({10.0: moving(0.2), 30.0: gappy}, 0.5, None, 0.5)
    assert np.flatnonzero(np.isnan(found.theta)).tolist() == [3]


def test_a_sensor_that_hardly_reads_does_not_take_the_others_days() -> None:
    dying = moving(0.4)
    dying[30:] = np.nan
    found = profile_of({10.0: moving(0.2), 30.0: dying}, 0.5, None, 0.5)
    assert found.depths_cm == (10,)
    assert "30 readings of 100" in found.findings[0]


@pytest.mark.parametrize(("length", "kept"), [(FLAT_DAYS, False), (FLAT_DAYS - 1, True)])
def test_a_stopped_sensor(length: int, kept: bool) -> None:
    stopped = moving(0.3)
    stopped[40 : 40 + length] = 0.25
    found = profile_of({10.0: stopped}, 0.2, None, 0.5)
    assert np.isnan(found.theta[45]) != kept


def test_more_than_the_soil_holds_is_said() -> None:
    found = profile_of({10.0: moving(0.56)}, 0.2, None, 0.5)
    assert "on 100 days" in found.findings[0]
