"""The ensemble of a record: open it is the plain run with doubt, felt it follows the hand."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from soakbook.garden.records import FeltClass
from soakbook.truth.bucket import Forcing, forcing_of, root_zone, run_plain
from soakbook.truth.feels import Ensemble, Feels, Handled, run_ensemble
from soakbook.truth.soil_said import soil_of_class
from tests.truth.made import Read, read, weather, write

DAYS = 120
ZONE = root_zone(soil_of_class("silt loam"), 0.5, 0.9, 0.5)


@pytest.fixture
def made(tmp_path: Path) -> Read:
    return read(write(tmp_path, weather(date(2015, 4, 1), DAYS)))


def forced(made: Read) -> Forcing:
    return forcing_of(made.series, made.series.cover)


def run(made: Read, runs: list[Feels], members: int = 50) -> Ensemble:
    """The runs of one hand."""
    handled = [Handled(0, f"run {number}", feels) for number, feels in enumerate(runs)]
    return run_ensemble(made.series.days, forced(made), ZONE, handled, members)


def test_a_single_member_is_the_plain_run(made: Read) -> None:
    course = run_plain(forced(made), [ZONE], 0.5)
    assert run(made, [{}], 1).middle[0] == pytest.approx(course.wetness[0], abs=1e-12)


def test_the_open_run_does_not_hear_the_others(made: Read) -> None:
    felt: Feels = dict.fromkeys(range(10, DAYS, 3), "dust")
    assert np.array_equal(run(made, [{}, felt]).middle[0], run(made, [{}]).middle[0])


@pytest.mark.parametrize(("felt", "lower"), [("dust", True), ("sour", False)])
def test_a_reckoning_follows_the_hand(made: Read, felt: FeltClass, lower: bool) -> None:
    found = run(made, [{}, dict.fromkeys(range(20, 60, 3), felt)])
    opened, squared = found.middle[:, 50]
    assert (squared < opened) == lower
    assert np.array_equal(found.middle[0, :20], found.middle[1, :20])


def test_stores_stay_between_empty_and_full(made: Read) -> None:
    for felt in ("dust", "sour"):
        found = run(made, [dict.fromkeys(range(DAYS), felt)])
        assert found.low.min() >= 0
        assert found.theta_high.max() <= 0.6


def test_each_hand_has_an_ensemble_of_its_own(made: Read) -> None:
    """Two hands that feel nothing differ by their luck; the same hand twice does not."""
    runs = [Handled(hand, "open", {}) for hand in (0, 1, 0)]
    found = run_ensemble(made.series.days, forced(made), ZONE, runs, 50)
    assert np.array_equal(found.low[0], found.low[2])
    assert not np.array_equal(found.low[0], found.low[1])
    assert found.middle[0] == pytest.approx(found.middle[1], abs=0.2)
