"""A hole looked into, as a wetness."""

from itertools import pairwise

import pytest

from soakbook.reckoning.simulation.looking import looked_wetness


@pytest.mark.parametrize(
    ("wet_to_cm", "wetness"),
    [(0.0, 0.35), (12.5, 0.66), (25.0, 0.97), (40.0, 0.97)],
)
def test_wet_above_and_dry_below(wet_to_cm: float, wetness: float) -> None:
    """Of 25 cm: the part that is wet counts as wet, 0.97, the rest as dry, 0.35; common practice, no source."""
    assert looked_wetness(wet_to_cm, 25.0) == pytest.approx(wetness)


def test_the_deeper_it_is_wet_the_wetter_it_is() -> None:
    found = [looked_wetness(depth_cm, 20.0) for depth_cm in range(21)]
    assert all(one < next_one for one, next_one in pairwise(found))
