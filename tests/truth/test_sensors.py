"""The profile's mean, and what is left out of it."""

import numpy as np
import pytest

from soakbook.errors import InputError
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.probes import ROOT_ZONE, Probe, at, probe_weights
from soakbook.truth.sensors import FLAT_DAYS, profile_of


def moving(level: float, days: int = 100) -> Floats:
    return np.array([level + 0.001 * (day % 9) for day in range(days)])


def test_layers_reach_half_way_to_the_next_sensor_and_end_with_the_roots() -> None:
    """5, 10, 20, 50 cm in 60 cm of roots: 7.5, 7.5, 20 and 25 cm."""
    assert probe_weights([at(5), at(10), at(20), at(50)], 60) == pytest.approx(
        (7.5 / 60, 7.5 / 60, 20 / 60, 25 / 60)
    )
    assert probe_weights([at(10)], 30) == (1.0,)


def test_the_mean_is_weighted() -> None:
    found = profile_of({at(10): moving(0.2), at(30): moving(0.4)}, 0.5, None, 0.5)
    assert found.weights == pytest.approx((0.4, 0.6))
    assert found.theta[0] == pytest.approx(0.4 * 0.2 + 0.6 * 0.4)
    assert found.findings == ()


def test_a_day_on_which_one_is_silent_has_no_mean() -> None:
    gappy = moving(0.4)
    gappy[3] = np.nan
    found = profile_of({at(10): moving(0.2), at(30): gappy}, 0.5, None, 0.5)
    assert np.flatnonzero(np.isnan(found.theta)).tolist() == [3]


def test_a_sensor_that_hardly_reads_does_not_take_the_others_days() -> None:
    dying = moving(0.4)
    dying[30:] = np.nan
    found = profile_of({at(10): moving(0.2), at(30): dying}, 0.5, None, 0.5)
    assert found.probes == (at(10),)
    assert "30 readings of 100" in found.findings[0]


@pytest.mark.parametrize(("length", "kept"), [(FLAT_DAYS, False), (FLAT_DAYS - 1, True)])
def test_a_stopped_sensor(length: int, kept: bool) -> None:
    stopped = moving(0.3)
    stopped[40 : 40 + length] = 0.25
    found = profile_of({at(10): stopped}, 0.2, None, 0.5)
    assert np.isnan(found.theta[45]) != kept


def test_more_than_the_soil_holds_is_said() -> None:
    found = profile_of({at(10): moving(0.56)}, 0.2, None, 0.5)
    assert "on 100 days" in found.findings[0]


def test_means_of_layers_are_weighted_by_their_thickness() -> None:
    layers = {Probe(10, 0): moving(0.2), Probe(40, 10): moving(0.4)}
    found = profile_of(layers, None, None, 0.5)
    assert found.root_depth_m == pytest.approx(0.4)
    assert found.weights == pytest.approx((0.25, 0.75))


def test_a_layer_that_reaches_below_the_roots_is_taken_for_them() -> None:
    found = profile_of({Probe(65, 0): moving(0.3)}, 0.5, None, 0.5)
    assert found.weights == (1.0,)
    assert found.findings == ("the mean of 0 to 65 cm is taken for that down to 50 cm",)


def test_the_mean_of_the_root_zone_needs_its_depth() -> None:
    found = profile_of({ROOT_ZONE: moving(0.3)}, 0.5, None, 0.5)
    assert found.probes == (Probe(50, 0),)
    with pytest.raises(InputError, match="root_depth_m is missing"):
        profile_of({ROOT_ZONE: moving(0.3)}, None, None, 0.5)


def test_what_goes_before_what() -> None:
    """Layers before sensors, either before the mean of all; layers that overlap are refused."""
    found = profile_of({Probe(30, 0): moving(0.3), at(10): moving(0.2)}, 0.3, None, 0.5)
    assert found.probes == (Probe(30, 0),)
    assert any("which are left out: 10 cm" in one for one in found.findings)
    found = profile_of({ROOT_ZONE: moving(0.3), at(10): moving(0.2)}, 0.3, None, 0.5)
    assert found.probes == (at(10),)
    with pytest.raises(InputError, match="one below the other"):
        profile_of({Probe(30, 0): moving(0.3), Probe(60, 20): moving(0.2)}, 0.6, None, 0.5)


def test_a_depth_without_a_column_is_done_without() -> None:
    found = profile_of({at(10): moving(0.2), at(30): moving(0.4)}, 0.5, [10, 20, 30], 0.5)
    assert found.probes == (at(10), at(30))
    assert found.findings == ("of sensor_depths_cm no column, and done without: 20 cm",)
