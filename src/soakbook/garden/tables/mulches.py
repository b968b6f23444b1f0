"""Mulches: how much evaporation they keep back, how much rain they drink, how they settle."""

import math
from typing import NamedTuple

from soakbook.garden import nearest


class MulchKind(NamedTuple):
    """One kind of mulch.

    `half_cm` is the depth that halves the soil's evaporation, `take_mm_per_cm` the rain each dry
    centimetre drinks, `settles_to` the part of the depth left at the end of the season. A sheet
    works alike whatever its depth: it has no half.
    """

    name: str
    half_cm: float
    take_mm_per_cm: float
    settles_to: float
    sheet: bool = False


# chip: half CP (2-6; published depth curves disagree, R); take R by analogy with needle litter,
# under 0.62 mm/cm after showers of 6-9 mm (0.3-1.0). compost, gravel: M. straw: M (evaporation
# 8-27 % over a water table, R). sheet: FAO-56 chapter 10, evaporation cut by 50 to 80 %, R.
MULCHES: dict[str, MulchKind] = {
    "chip": MulchKind("wood chip or bark", 3.5, 0.6, 0.8),
    "compost": MulchKind("compost, manure or leaf mould", 4.5, 1.2, 0.6),
    "straw": MulchKind("straw", 3.0, 0.5, 0.5),
    "gravel": MulchKind("gravel", 4.5, 0.2, 1.0),
    "sheet": MulchKind("woven sheet or plastic", math.nan, 0.0, 1.0, sheet=True),
}

_WORDS: dict[str, str] = {
    "chip": "wood chip, bark|wood chip|woodchip|chips|bark|bark chips|arborist chips|shavings",
    "compost": "garden compost|green waste|manure|muck|farmyard manure|leaf mould|leaf mold|"
    "leaves|spent hops|mushroom compost|soil improver",
    "straw": "hay|bracken|grass clippings",
    "gravel": "shingle|slate|grit|pebbles|stone",
    "sheet": "fabric|membrane|plastic|woven sheet|cardboard",
}
MULCH_WORDS: dict[str, str] = {
    word: key for key, words in _WORDS.items() for word in words.split("|")
}


def mulch_key(word: str) -> str:
    """The mulch a word means: a key of `MULCHES`."""
    return nearest.find(word, MULCHES, "mulch", MULCH_WORDS)
