"""What a gardener's words for a plant mean: its class, whether it keeps its leaves, its usual pot.

The last word known counts, as the noun does in English: a tree fern is a fern. How a plant came
turns the class: a rose from a pot, a dug one and a bare-rooted one drink differently.
"""

import re

from soakbook.errors import InputError
from soakbook.garden.records import Leaf, Origin
from soakbook.garden.tables.balls import DEFAULT_POTS_L
from soakbook.garden.tables.kind_words import (
    DIES_DOWN_WORDS,
    EVERGREEN_WORDS,
    HEDGING_WORDS,
    KIND_WORDS,
)
from soakbook.garden.tables.plants import PLANT_CLASSES, PlantClass

ROWS = ("shrub", "climber", "perennial", "soft", "conifer", "whip", "tree", "dry_shrub")
"""What a plant can be said to be like, with --as."""

# Row and origin to class, where the class is not the row itself.
_TURNED: dict[tuple[str, Origin], str] = {
    ("shrub", "dug"): "dug_shrub",
    ("shrub", "bare"): "bare_shrub",
    ("tree", "dug"): "dug_shrub",
    ("tree", "bare"): "bare_shrub",
    ("climber", "pot"): "shrub",
    ("climber", "dug"): "dug_shrub",
    ("climber", "bare"): "bare_shrub",
    ("whip", "pot"): "shrub",
    ("whip", "dug"): "dug_shrub",
    ("conifer", "pot"): "potted_conifer",
}


def classify(kind_words: str, origin: Origin) -> PlantClass:
    """The class of a plant, from what a gardener calls it and how it came.

    Parameters
    ----------
    kind_words : str
        "climbing rose", "14 bush roses", "hornbeam whips"; a row or the key of a class will do.
    origin : Origin
        pot, dug or bare.

    Raises
    ------
    InputError
        No word of it known.
    """
    row = row_of(kind_words)
    if origin == "bare" and row in ("shrub", "tree") and HEDGING_WORDS & set(_singular(kind_words)):
        return PLANT_CLASSES["whip"]
    return PLANT_CLASSES[_TURNED.get((row, origin), row)]


def row_of(kind_words: str) -> str:
    """Which of `ROWS` the words mean, however the plant came."""
    said = [KIND_WORDS[word] for word in _singular(kind_words) if word in KIND_WORDS]
    if not said:
        raise InputError("kind", kind_words, _what_would_do(kind_words))
    return said[-1]


def leaf_of(kind_words: str, plant: PlantClass) -> Leaf:
    """Whether the plant keeps its leaves, from its words or else its class."""
    words = set(_singular(kind_words))
    if words & EVERGREEN_WORDS:
        return "evergreen"
    if words & DIES_DOWN_WORDS:
        return "dies_down"
    return plant.leaf


def default_pot_l(kind_words: str) -> float | None:
    """Litres of the pot such a plant usually comes in; None for a hedge, which comes bare."""
    return DEFAULT_POTS_L.get(row_of(kind_words))


def _singular(kind_words: str) -> list[str]:
    """The words in order, small, each as it is known: roses as rose, grasses as grass."""
    words = re.findall(r"[a-z]+(?:_[a-z]+)*", kind_words.casefold())
    return [next((form for form in _forms(word) if form in KIND_WORDS), word) for word in words]


def _forms(word: str) -> tuple[str, ...]:
    return word, word.removesuffix("s"), word.removesuffix("es"), re.sub("ies$", "y", word)


def _what_would_do(kind_words: str) -> str:
    for word in reversed(_singular(kind_words)):
        from difflib import get_close_matches  # only a slip needs it, no morning does

        close = get_close_matches(word, KIND_WORDS, n=1, cutoff=0.75)
        if close:
            return f"did you mean {close[0]}? Or say what it is like with --as: {', '.join(ROWS)}"
    return f"not a plant known here: say what it is like with --as: {', '.join(ROWS)}"
