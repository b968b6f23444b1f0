"""Tally strokes: four and one across for five, as on a bothy door. Pure geometry, in points, y down."""

from typing import TYPE_CHECKING

from soakbook.account.pictures.shapes import line

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

FIVE = 5
STROKE_PT, APART_PT, LEAN_PT = 11.0, 2.7, 0.7
"""Height of a stroke, room between two, and how far every other leans: a hand draws no fence. [pt]"""
GROUP_PT = 4 * APART_PT + 2.4
"""Room of five. [pt]"""
GROUP_ROW_PT = STROKE_PT + 4.0
"""Height of a row of groups. [pt]"""


def rows_of_groups(count: int, room_pt: float) -> int:
    """Rows that so many strokes take in a place so wide [pt]; none for none."""
    groups = -(-count // FIVE)
    return -(-groups // _in_a_row(room_pt))


def tally(count: int, left_pt: float, top_pt: float, room_pt: float) -> "list[Points]":
    """So many strokes, a line each, in groups of five, as many groups side by side as the place has room for."""
    found = []
    for number in range(count):
        group, place = divmod(number, FIVE)
        row, column = divmod(group, _in_a_row(room_pt))
        left, top = left_pt + column * GROUP_PT, top_pt + row * GROUP_ROW_PT
        if place == FIVE - 1:
            right = left + 3 * APART_PT
            low, high = top + 0.75 * STROKE_PT, top + 0.25 * STROKE_PT
            ends = ((left - 1.2, low), (right + 1.2, high))
        else:
            x = left + place * APART_PT
            lean = LEAN_PT if place % 2 else -LEAN_PT / 2
            ends = ((x + lean, top), (x, top + STROKE_PT))
        found.append(line(*ends))
    return found


def _in_a_row(room_pt: float) -> int:
    return max(int((room_pt + 1.0) / GROUP_PT), 1)
