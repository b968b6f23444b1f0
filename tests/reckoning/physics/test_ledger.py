import numpy as np
import pytest

from soakbook.reckoning.physics.ledger import held_l, imbalance_mm
from soakbook.reckoning.physics.records import Flows, Stores

BEFORE = Stores(1.0, 0.0, 0.0, 2.0, 10.0, 30.0, 5.0)
NOTHING = Flows(*[0.0] * len(Flows._fields))


def test_held_water_is_mulch_and_three_stores() -> None:
    assert held_l(0.5, BEFORE) == 42.5


def test_a_still_day_closes() -> None:
    assert imbalance_mm(0.5, BEFORE, BEFORE, NOTHING) == 0.0


@pytest.mark.parametrize(
    ("flow", "change_l"),
    [
        ("rain_l", 1.0),
        ("soak_l", 1.0),
        ("given_lost_l", -1.0),
        ("transpired_l", -1.0),
        ("soil_evaporated_l", -1.0),
        ("mulch_evaporated_l", -1.0),
        ("drained_l", -1.0),
        ("run_off_l", -1.0),
    ],
)
def test_each_flow_moves_the_stores_its_own_way(flow: str, change_l: float) -> None:
    after = BEFORE._replace(beyond_store_l=30.0 + change_l)
    assert imbalance_mm(0.5, BEFORE, after, NOTHING._replace(**{flow: 1.0})) == 0.0
    assert imbalance_mm(0.5, BEFORE, BEFORE, NOTHING._replace(**{flow: 1.0})) == -change_l / 0.5


def test_flows_within_the_plant_do_not_count() -> None:
    inner = NOTHING._replace(asked_l=3.0, ball_drunk_l=1.0, exchange_to_ball_l=1.0, intake_mm=4.0)
    assert imbalance_mm(0.5, BEFORE, BEFORE, inner) == 0.0


def test_water_set_right_by_a_feel_is_accounted_for() -> None:
    after = BEFORE._replace(ball_store_l=1.25)
    assert imbalance_mm(0.5, BEFORE, after, NOTHING, corrected_l=-0.75) == 0.0


def test_lanes_are_judged_apart() -> None:
    after = BEFORE._replace(ball_store_l=np.array([2.0, 2.5, np.nan]))
    found = imbalance_mm(0.5, BEFORE, after, NOTHING)
    assert np.array_equal(found, [0.0, 1.0, np.nan], equal_nan=True)
