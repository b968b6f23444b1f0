"""A kept dawn as bytes and back: a digest, a line of words, then the arrays' own numbers one after the other.

Nothing in them is run or looked up. Whatever is not exactly what was written here is None and no error: the season
is then reckoned from its beginning.
"""

import json
from collections.abc import Mapping
from datetime import date
from hashlib import blake2b
from typing import Any

import numpy as np

from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.kept import CLASSES, SQUARED_NUMBERS, Kept

FORMAT = "soakbook.dawn/1"
NUMBERS = np.dtype("<f8")
DIGEST_BYTES = 32
MOST = 1_000_000
"""Nothing is counted in a garden that there are more of: what says so is no dawn of ours."""


def as_bytes(kept: Kept) -> bytes:
    """A kept dawn, to be written whole."""
    words = {
        "format": FORMAT,
        "day": kept.day.toordinal(),
        "mark": kept.mark,
        "members": kept.members,
        "plantings": kept.plantings,
        "beds": kept.beds,
        "moved_on": [None if one is None else one.toordinal() for one in kept.moved_on],
        "squared": len(kept.squared),
    }
    arrays = (np.ascontiguousarray(getattr(kept, name), NUMBERS) for name in _shapes(words))
    content = b"".join([json.dumps(words).encode(), b"\n", *(one.tobytes() for one in arrays)])
    return _digest(content) + content


def from_bytes(found: bytes) -> Kept | None:
    """The kept dawn of some bytes; None where they are anything else, or not all of it."""
    digest, content = found[:DIGEST_BYTES], found[DIGEST_BYTES:]
    if digest != _digest(content):
        return None
    line, _, numbers = content.partition(b"\n")
    try:
        words = json.loads(line)
        if words["format"] != FORMAT:
            return None
        kept = Kept(
            day=date.fromordinal(words["day"]),
            mark=str(words["mark"]),
            members=int(words["members"]),
            plantings=tuple(words["plantings"]),
            beds=tuple(words["beds"]),
            moved_on=tuple(
                None if one is None else date.fromordinal(one) for one in words["moved_on"]
            ),
            **_arrays(numbers, _shapes(words)),
        )
    except (ValueError, LookupError, TypeError, OverflowError, RecursionError):
        return None
    return kept if _sound(kept) else None


def _digest(content: bytes) -> bytes:
    return blake2b(content, digest_size=DIGEST_BYTES).digest()


def _shapes(words: Mapping[str, Any]) -> dict[str, tuple[int, ...]]:
    """The shapes of the arrays by their names, in the order in which they lie."""
    plantings, beds = len(words["plantings"]), len(words["beds"])
    members, squared = int(words["members"]), int(words["squared"])
    if not (0 < members <= MOST and 0 <= squared <= MOST):
        raise ValueError(words)
    return {
        "stores": (len(Stores._fields), plantings, members),
        "of_planting": (plantings, len(OF_PLANTING), members),
        "of_bed": (beds, len(OF_BED), members),
        "et0_moved_then": (beds, members),
        "squared": (squared, SQUARED_NUMBERS),
    }


def _arrays(numbers: bytes, shapes: Mapping[str, tuple[int, ...]]) -> dict[str, Floats]:
    """The arrays by their names; a ValueError where the bytes are not just as many."""
    found, begin = {}, 0
    flat = np.frombuffer(numbers, NUMBERS)
    for name, shape in shapes.items():
        end = begin + int(np.prod(shape))
        found[name] = flat[begin:end].reshape(shape).astype(np.float64)
        begin = end
    if begin != len(flat):
        raise ValueError(begin)
    return found


def _sound(kept: Kept) -> bool:
    """Whether every number is one, and every class of a feel is a class."""
    arrays = (kept.stores, kept.of_planting, kept.of_bed, kept.et0_moved_then, kept.squared)
    return (
        all(np.isfinite(one).all() for one in arrays)
        and set(kept.squared[:, 0].tolist()) <= set(range(len(CLASSES)))
        and len(kept.moved_on) == len(kept.beds)
    )
