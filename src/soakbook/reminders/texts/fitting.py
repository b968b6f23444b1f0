"""Words that fit a lock screen: a title of 60 characters, a body of 300, each one line of plain text.

A name or a rule may come from a stranger's book: however long it is, and whatever is in it, what must be said is said.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple
from unicodedata import category

from soakbook.quantities.dates import short_day
from soakbook.quantities.saying import names

TITLE_LETTERS = 60
BODY_LETTERS = 300
LATE_LETTERS = len("Late, for Wed 30. ")
"""Room that is left in every body for `late_words`."""

NAME_LETTERS = 16
BED_LETTERS = 30
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
    said = [part._replace(say=one_line(part.say)) for part in parts if part.say]
    room = BODY_LETTERS - LATE_LETTERS
    while len(_joined(said)) > room and any(part.rank for part in said):
        said.remove(max(said, key=lambda part: part.rank))
    return Text(cut(one_line(title), TITLE_LETTERS), cut(_joined(said), room))


def late_words(day: date) -> str:
    """What a body begins with that is sent late: its `this evening` and `tomorrow` are that day's."""
    return f"Late, for {short_day(day)}. "


def listed(items: Sequence[str], room: int, more: str = " bed") -> str:
    """`Chapel Wall 17 L, Bank 20 L and 3 more beds`: as many as fit, at least one, and that cut where it must be."""
    for count in range(len(items), 0, -1):
        told = names(_counted_out(items, count, more))
        if len(told) <= room:
            return told
    if not items:
        return ""
    first, *rest = _counted_out(items, 1, more)
    left_room = room - len(names(["", *rest]))
    return names([cut(first, max(left_room, len(CUT) + 1)), *rest])


def cut(text: str, letters: int) -> str:
    """A text of at most so many letters, cut between words where that is near."""
    if len(text) <= letters:
        return text
    kept = text[: letters - len(CUT)]
    whole = kept.rpartition(" ")[0]
    return f"{(whole if len(whole) > len(kept) // 2 else kept).rstrip(' ,;:')}{CUT}"


def one_line(text: str) -> str:
    """A text without breaks of line and other marks that no screen shows."""
    return " ".join("".join(c for c in text if c.isspace() or category(c) != "Cc").split())


def bed_called(name: str) -> str:
    """A bed's name, cut where it is a long one."""
    return cut(one_line(name), BED_LETTERS)


def that_fits(*titles: str) -> str:
    """The first of several titles that has room, else the last."""
    return next((one for one in titles if len(one) <= TITLE_LETTERS), titles[-1])


def called(garden: str) -> str:
    """`Corrody`, of The Corrody, Marl Hatherby: what every title begins with."""
    whole = one_line(garden)
    short = whole.partition(",")[0].strip()
    short = short.removeprefix("The ").strip() or whole
    return cut(short, NAME_LETTERS)


def _counted_out(items: Sequence[str], count: int, more: str) -> Sequence[str]:
    """The first so many, and how many are left."""
    left = len(items) - count
    if not left:
        return items
    return [*items[:count], f"{left:,} more{more}{'s' if more and left != 1 else ''}"]


def _joined(parts: Sequence[Part]) -> str:
    return " ".join(part.say for part in parts)
