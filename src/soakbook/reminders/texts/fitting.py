"""Words that fit a lock screen: a title of 60 characters, a body of 300."""

from collections.abc import Sequence
from typing import NamedTuple

from soakbook.quantities.saying import names

TITLE_LETTERS = 60
BODY_LETTERS = 300
LATE = "Late. "
"""What a body begins with that is sent late; room is left for it in every one."""

NAME_LETTERS = 16
CUT = "..."


class Text(NamedTuple):
    """What a reminder says."""

    title: str
    body: str


class Part(NamedTuple):
    """A sentence of a body; those of the highest rank are left out first where there is no room, never one of 0."""

    rank: int
    say: str


def text_of(title: str, parts: Sequence[Part]) -> Text:
    """A reminder of these sentences, as many of them as there is room for."""
    said = [part for part in parts if part.say]
    room = BODY_LETTERS - len(LATE)
    while len(_joined(said)) > room and any(part.rank for part in said):
        said.remove(max(said, key=lambda part: part.rank))
    return Text(cut(title, TITLE_LETTERS), cut(_joined(said), room))


def listed(items: Sequence[str], room: int, more: str = "bed") -> str:
    """`Chapel Wall 17 L, Bank 20 L and 3 more beds`: as many as fit, at least one."""
    for count in range(len(items), 0, -1):
        left = len(items) - count
        told = [*items[:count], f"{left} more {more}{'' if left == 1 else 's'}"] if left else items
        if len(names(told)) <= room or count == 1:
            return names(told)
    return ""


def cut(text: str, letters: int) -> str:
    """A text of at most so many letters, cut between words where that is near."""
    if len(text) <= letters:
        return text
    kept = text[: letters - len(CUT)]
    whole = kept.rpartition(" ")[0]
    return f"{(whole if len(whole) > len(kept) // 2 else kept).rstrip(' ,;:')}{CUT}"


def called(garden: str) -> str:
    """`Corrody`, of The Corrody, Marl Hatherby: what every title begins with."""
    short = garden.partition(",")[0].strip()
    short = short.removeprefix("The ").strip() or garden
    return cut(short, NAME_LETTERS)


def _joined(parts: Sequence[Part]) -> str:
    return " ".join(part.say for part in parts)
