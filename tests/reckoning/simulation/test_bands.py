"""Ranks of members."""

import numpy as np
import pytest

from soakbook.reckoning.simulation.bands import middle_of, ranks


@pytest.mark.parametrize("members", [1, 2, 5, 20, 201])
def test_ranks_are_numpys_quantiles(members: int) -> None:
    values = np.random.default_rng(members).normal(size=(3, members))
    shares = (0.0, 0.1, 0.35, 0.5, 0.9, 1.0)
    assert np.allclose(ranks(values, shares), np.quantile(values, shares, axis=-1), rtol=1e-15)
    assert np.allclose(middle_of(values), np.median(values, axis=-1), rtol=1e-15)
