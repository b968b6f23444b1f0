"""Plain shapes as arrays of (point, 2), in points, y down. What they mean is said where they are drawn."""

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]


def box(left: float, top: float, right: float, bottom: float) -> "Points":
    """A rectangle's four corners [pt]."""
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom)], float)


def line(*points: tuple[float, float]) -> "Points":
    """A line through points [pt]."""
    return np.array(points, float)


def ring(middle: tuple[float, float], radius_pt: float) -> "Points":
    """A circle of 24 corners [pt]."""
    turn = np.linspace(0, 2 * np.pi, 25)
    return np.column_stack(
        [middle[0] + radius_pt * np.cos(turn), middle[1] + radius_pt * np.sin(turn)]
    )


def runs(marked: "NDArray[np.bool_]") -> list[tuple[int, int]]:
    """Where something holds without a break: first place, and the one after the last."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], marked, [False]]).astype(int)))
    return [(int(begin), int(end)) for begin, end in pairwise(edges)][::2]
