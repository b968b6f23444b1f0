"""States of many stores at once are those of one by one."""

import numpy as np

from soakbook.reckoning.advice.stages import STATES, state_numbers, state_of


def test_on_a_grid_with_every_edge_both_are_the_same() -> None:
    """Thresholds from 0.2 to 0.9; wetness at each border, a hair to both sides, and not known."""
    limits = np.linspace(0.2, 0.9, 15)
    edges = np.concatenate([[0.0, 0.7, 1.0, 1.3, np.nan], limits, limits + 0.05, 0.5 * limits])
    wetness = np.concatenate([edges, np.nextafter(edges, -1), np.nextafter(edges, 2)])
    wet, limit, sodden = (
        one.ravel() for one in np.meshgrid(wetness, limits, [False, True], indexing="ij")
    )
    found = [STATES[number] for number in state_numbers(wet, limit, sodden)]
    one_by_one = [
        state_of(float(a), float(b), bool(c)) for a, b, c in zip(wet, limit, sodden, strict=True)
    ]
    assert found == one_by_one
    assert set(found) == set(STATES)
