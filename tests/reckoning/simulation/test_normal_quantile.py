"""The inverse of the normal distribution, against the standard library's own."""

from statistics import NormalDist

import numpy as np

from soakbook.reckoning.simulation.normal_quantile import normal_quantile


def test_it_is_that_of_the_standard_library_from_end_to_end() -> None:
    """statistics.NormalDist, one number at a time; both sides of where the source's pieces meet."""
    ends = [1.4e-11, 1e-4, 0.0749999999, 0.075, 0.0750000001, 0.5]
    inside = np.random.default_rng(1).random(20_000)
    asked = np.concatenate([ends, 1 - np.array(ends), inside])
    expected = [NormalDist().inv_cdf(one) for one in asked.tolist()]
    np.testing.assert_allclose(normal_quantile(asked), expected, rtol=1e-15, atol=1e-15)


def test_a_table_keeps_its_shape() -> None:
    """1.6449 and 1.9600: tables of the standard normal, from memory."""
    found = normal_quantile(np.array([[0.5, 0.95], [0.025, 0.975]]))
    np.testing.assert_allclose(found, [[0, 1.6449], [-1.9600, 1.9600]], atol=5e-5)
