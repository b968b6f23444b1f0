"""How large the leaves of a new plant are, and how soon they are full: guesses until confirmed.

All common practice, no source, but the spans of a hand, which are geometry.
"""

import math
from typing import NamedTuple

from soakbook.garden.records import Origin
from soakbook.garden.tables.kinds import classify, default_pot_l, row_of
from soakbook.garden.tables.lines import between

HAND_SPAN_M = 0.20
SAME_SHAPE = 2 / 3
"""Areas of like shapes go with volume to this power."""


class Canopy(NamedTuple):
    """Ground under the leaves of one plant when planted and when grown, and the weeks between."""

    start_m2: float
    full_m2: float
    weeks_to_full: float


Sizes = tuple[tuple[float, Canopy], ...]

_PLUG = (0.5, Canopy(0.01, 0.10, 8))

# By litres of pot or ball. The shrub of 10 L stands between 0.20-0.45 and 0.20-0.40 of trials'
# plants; climbers of 3 L and soft leaves of 3 L are the specimen garden's.
_POTTED: dict[str, Sizes] = {
    "perennial": (_PLUG, (2, Canopy(0.03, 0.15, 7))),
    "shrub": (
        _PLUG,
        (3, Canopy(0.07, 0.30, 12)),
        (4, Canopy(0.07, 0.30, 12)),
        (5, Canopy(0.10, 0.40, 12)),
        (10, Canopy(0.20, 0.45, 14)),
    ),
    "climber": (_PLUG, (3, Canopy(0.06, 0.30, 10)), (7.5, Canopy(0.10, 0.60, 12))),
    "soft": (_PLUG, (3, Canopy(0.06, 0.25, 12)), (10, Canopy(0.15, 0.50, 14))),
    "tree": (_PLUG, (45, Canopy(0.6, 1.2, 26))),
}
_DUG_SHRUB: Sizes = ((30, Canopy(0.10, 0.50, 16)),)
_CONIFER: Sizes = ((40, Canopy(0.35, 0.45, 20)),)
_BARE = {"whip": Canopy(0.01, 0.08, 10), "bare_shrub": Canopy(0.02, 0.30, 16)}


def default_canopy(kind_words: str, origin: Origin, pot_l: float | None = None) -> Canopy:
    """The leaves such a plant usually has.

    Parameters
    ----------
    kind_words : str
        As for `kinds.classify`.
    origin : Origin
        pot, dug or bare.
    pot_l : float, optional
        Litres of the pot or the dug ball [L, > 0]; the usual one where not given.

    Returns
    -------
    Canopy
        Straight lines between the sizes listed; beyond them a plant of the same shape. Not yet
        held to the plant's share of its bed.
    """
    if origin == "bare":
        return _BARE.get(classify(kind_words, origin).key, _PLUG[1])
    row = row_of(kind_words)
    sizes = _sizes(row, origin)
    litres = pot_l or (
        sizes[-1][0] if origin == "dug" else default_pot_l(kind_words) or sizes[0][0]
    )
    start, full, weeks = (
        between([(size, canopy[place]) for size, canopy in sizes], litres, power)
        for place, power in enumerate((SAME_SHAPE, SAME_SHAPE, 0.0))
    )
    return Canopy(round(start, 3), round(full, 3), round(weeks))


def canopy_from_spans_m2(spans: float) -> float:
    """Ground under leaves so many spans of a hand across [m²]."""
    return math.pi / 4 * (HAND_SPAN_M * spans) ** 2


def _sizes(row: str, origin: Origin) -> Sizes:
    if row == "conifer":
        return _CONIFER
    if origin == "dug" and row in ("shrub", "climber", "whip"):
        return _DUG_SHRUB
    return _POTTED.get(row, _POTTED["shrub"])
