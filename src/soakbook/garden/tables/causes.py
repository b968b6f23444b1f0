"""Why plants are lost: the words a loss is entered with. common practice, no source."""

from soakbook.garden import nearest

CAUSES: dict[str, str] = {
    "drought": "ball and bed dried out",
    "dry ball": "ball dried out in a bed that was not dry",
    "drowned": "stood too wet",
    "scorch": "heat, sun or wind on the leaves",
    "frost": "frost or cold wind",
    "eaten": "slugs, weevils, voles, rabbits or deer",
    "disease": "rot, blight or canker",
    "broken": "trodden, strimmed, snapped or blown over",
    "weedkiller": "weedkiller, or its residue in manure",
    "poor plant": "weak or pot-bound when it came",
    "stolen": "taken",
    "other": "another cause",
    "unknown": "not known",
}

MOVED = "moved"
PARTED = "parted"
ELSEWHERE: dict[str, str] = {
    MOVED: "dug up for another bed",
    PARTED: "in another bed from this morning on, where they stood before",
}
"""Why plants are no longer counted in a bed though they live: no words for a loss that somebody enters."""

_WORDS: dict[str, str] = {
    "drought": "dry|thirst|dried out",
    "dry ball": "ball",
    "drowned": "waterlogged|wet|too wet|rotted",
    "scorch": "heat|sun|wind|wind burn",
    "frost": "cold|winter",
    "eaten": "slugs|weevil|vine weevil|voles|rabbits|deer|pest",
    "disease": "rot|blight|canker|fungus",
    "broken": "damage|trodden|strimmed|snapped|blown over",
    "weedkiller": "spray drift|manure",
    "poor plant": "pot-bound|poor stock|weak",
    "stolen": "theft|taken",
    "unknown": "?|not known",
}
CAUSE_WORDS: dict[str, str] = {
    word: key for key, words in _WORDS.items() for word in words.split("|")
}


def cause_key(word: str) -> str:
    """The cause a word means: a key of `CAUSES`."""
    return nearest.find(word, CAUSES, "cause", CAUSE_WORDS)
