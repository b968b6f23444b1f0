import numpy as np
import pytest

from soakbook.reckoning.physics.words import either, greater, lesser, one_minus_exp, over


def test_one_minus_exp_is_right_to_the_last_digit() -> None:
    x = np.geomspace(1e-12, 50, 100_001)
    expected = -np.expm1(-x)
    assert np.max(np.abs(one_minus_exp(x) / expected - 1)) < 1e-15


def test_one_minus_exp_at_the_ends() -> None:
    assert one_minus_exp(0.0) == 0.0
    assert one_minus_exp(1e15) == 1.0


def test_one_minus_exp_of_a_number_and_an_array_agree() -> None:
    x = np.array([[0.0, 0.3], [2.0, 60.0]])
    found = one_minus_exp(x)
    assert isinstance(found, np.ndarray)
    assert found.tolist() == [[float(one_minus_exp(float(value))) for value in row] for row in x]


def test_lesser_and_greater_limit_numbers_and_arrays() -> None:
    assert (lesser(3.0, 2.0), greater(3.0, 5.0)) == (2.0, 5.0)
    assert np.array_equal(lesser(np.array([1.0, 3.0]), 2.0), [1.0, 2.0])
    assert np.array_equal(greater(np.array([[1.0], [3.0]]), np.array([2.0])), [[2.0], [3.0]])


@pytest.mark.parametrize(("value", "limit"), [(np.nan, 1.0), (1.0, np.nan)])
def test_what_is_not_a_number_stays_so(value: float, limit: float) -> None:
    assert np.isnan(lesser(value, limit))
    assert np.isnan(greater(value, limit))
    assert np.isnan(over(value, limit))
    assert np.isnan(one_minus_exp(value + limit))


def test_either_chooses_lane_by_lane() -> None:
    assert np.array_equal(either(np.array([True, False]), 1.0, 2.0), [1.0, 2.0])
    assert either(True, 1.0, 2.0) == 1.0


def test_over_nothing_is_a_number() -> None:
    assert over(6.0, 3.0) == 2.0
    assert over(0.0, 0.0) == 0.0
    assert np.isfinite(over(1.0, 0.0))
