"""Reading between the rows of a short table of the trade."""

import math
from collections.abc import Sequence
from itertools import pairwise


def between(rows: Sequence[tuple[float, float]], x: float, power: float) -> float:
    """The table's value at x [> 0]: straight lines between rows, beyond them the end row scaled.

    Parameters
    ----------
    rows : sequence of (x, value)
        Rising in x, all above 0.
    x : float
        Where to read.
    power : float
        Beyond an end the value goes with x to this power: 1/3 for widths by volume, say, where
        things beyond the table have the shape of those at its end.
    """
    if x <= rows[0][0]:
        return _scaled(rows[0], x, power)
    for (x0, y0), (x1, y1) in pairwise(rows):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return _scaled(rows[-1], x, power)


def _scaled(end: tuple[float, float], x: float, power: float) -> float:
    return end[1] * math.pow(x / end[0], power)
