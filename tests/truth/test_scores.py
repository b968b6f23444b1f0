"""Scores by hand."""

import numpy as np
import pytest

from soakbook.truth.scores import covered, score, weekly


def test_errors_by_hand() -> None:
    """Errors 1, 1, 4: bias 2, RMSE root of 6, ub root of 2."""
    found = score(np.array([2.0, 3.0, 7.0]), np.array([1.0, 2.0, 3.0]))
    assert found is not None
    assert (found.n, found.bias) == (3, 2.0)
    assert found.rmse == pytest.approx(6**0.5)
    assert found.ub == pytest.approx(2**0.5)
    assert found.ub**2 + found.bias**2 == pytest.approx(found.rmse**2)
    assert found.r2 == pytest.approx(25 / 28)


def test_too_little_to_score() -> None:
    assert score(np.ones(2), np.ones(2)) is None
    assert covered(np.zeros(2), np.ones(2), np.ones(2)) is None
    flat = score(np.ones(3), np.array([1.0, 2.0, 3.0]))
    assert flat is not None
    assert flat.r2 is None


def test_share_inside_a_band() -> None:
    assert covered(np.zeros(4), np.ones(4), np.array([0.0, 0.5, 1.0, 1.1])) == 0.75


def test_weeks_need_four_days() -> None:
    values = np.arange(21.0)
    compared = np.ones(21, np.bool_)
    compared[7:11] = False
    assert weekly(values, np.arange(21) // 7, compared) == pytest.approx([3.0, 17.0])
