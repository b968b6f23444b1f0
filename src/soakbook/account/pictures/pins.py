"""Feels pinned on: where each flag with its word flies, so that none lies on another. Pure geometry, in points."""

from collections.abc import Sequence
from typing import NamedTuple

from soakbook.account.pictures.ink import SMALL_PT, room_pt

ROWS = 2
ROW_PT = 12.5
"""Height of a row of flags. [pt]"""
BETWEEN_PT = 2.0
"""Least room between two flags of a row. [pt]"""


class Pin(NamedTuple):
    """A feel's pin at `x_pt`; its flag begins at `flag_pt` in a row, or has no row where there was no room for it."""

    x_pt: float
    word: str
    row: int | None
    flag_pt: float


def flag_pt(word: str) -> float:
    """Width of a flag with a word [pt]."""
    return room_pt(word, SMALL_PT) + 4


def placed(feels: Sequence[tuple[float, str]], right_pt: float) -> list[Pin]:
    """Pins for feels in the order of their days; row 0 lies nearest the soil.

    Parameters
    ----------
    feels : sequence of (x, word)
        Where the day lies [pt], and what was felt.
    right_pt : float
        Where the sheet ends [pt]; a flag at its edge flies to the left.
    """
    free_from = [float("-inf")] * ROWS
    pins = []
    for x, word in feels:
        begins = min(x, right_pt - flag_pt(word))
        rows = [row for row in range(ROWS) if free_from[row] <= begins]
        row = rows[0] if rows else None
        if row is not None:
            free_from[row] = begins + flag_pt(word) + BETWEEN_PT
        pins.append(Pin(x, word, row, begins))
    return pins
