"""Ranks of members, read off one sort; equal to numpy's quantiles, whose call costs more than the sort."""

from collections.abc import Sequence

import numpy as np

from soakbook.reckoning.simulation.draws import Floats


def ranks(values: Floats, shares: Sequence[float]) -> list[Floats]:
    """The values below which given shares of the members lie.

    Parameters
    ----------
    values : ndarray, shape (..., member)
    shares : sequence of float
        [0-1]

    Returns
    -------
    list of ndarray, shape (...)
        One for each share, between two members in proportion.
    """
    ordered = np.sort(values, axis=-1)
    last = ordered.shape[-1] - 1
    found = []
    for share in shares:
        place = share * last
        lower = int(place)
        below, above = ordered[..., lower], ordered[..., min(lower + 1, last)]
        found.append(below + (place - lower) * (above - below))
    return found


def middle_of(values: Floats) -> Floats:
    """The middle member's value, shape (...)."""
    return ranks(values, (0.5,))[0]
