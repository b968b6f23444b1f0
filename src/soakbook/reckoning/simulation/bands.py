"""Ranks and means of members. A rank is read off one sort: it equals numpy's quantile, whose call costs more."""

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


def mean_of(values: Floats) -> Floats:
    """Mean of the members, shape (...); numpy's own word for it costs as much again as the sum."""
    mean: Floats = np.add.reduce(values, axis=-1) / values.shape[-1]
    return mean


def middle_of(values: Floats) -> Floats:
    """The middle member's value, shape (...)."""
    return ranks(values, (0.5,))[0]
