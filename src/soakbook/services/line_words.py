"""Beds, plantings and taps as one line each: `Chapel Wall, 18 m2, sandy loam, south wall foot, A`.

A line becomes the words and options of its command, `bed`, `plant` or `tap`, which read and enter it.
"""

import re
from collections.abc import Collection, Sequence
from itertools import chain, count
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden.nearest import plain
from soakbook.garden.tables.soils import soil_key, squeezed_soil
from soakbook.services.origin_words import is_origin, origin_said

BED_LINE = "name, size, soil, place, tap"
PLANT_LINE = "bed, what, how many, pot or ball, when"
HELP = "?"
LONGEST_KEY = 30
ARTICLES = ("the", "a", "an")

_TAP = re.compile(r"(?P<key>.+?)[\s,;:]+(?P<test>[0-9.½¼¾].*)")
_SECONDS = re.compile(r"[0-9]+(?:\.[0-9]+)?")


class BedLine(NamedTuple):
    """A bed as its line has it: key, and options as typed; whether its soil is to be asked."""

    key: str
    typed: dict[str, str]
    ask_soil: bool


class PlantLine(NamedTuple):
    """A planting as its line has it."""

    bed: str
    kind: str
    plants: str
    typed: dict[str, str]


def key_for(name: str, taken: Collection[str], names: Collection[str] = ()) -> str:
    """A short key out of a bed's name, `chapel` of Chapel Wall.

    It is none of those taken, and no other bed's name, all of them as `nearest.plain` has them.

    Raises
    ------
    InputError
        Nothing in the name that a key could be made of.
    """
    words = [re.sub(r"['’]s$|[^\w]", "", word) for word in name.casefold().split()]
    words = [word for word in words if word and word not in ARTICLES] or [
        word for word in words if word
    ]
    if not words:
        raise InputError("bed", name, "a name with a letter in it: Chapel Wall")
    numbered = (f"{words[0][: LONGEST_KEY - 6]}-{number}" for number in count(2))
    choices = chain((words[0][:LONGEST_KEY], "-".join(words)[:LONGEST_KEY]), numbered)
    own = plain(name)

    def is_free(key: str) -> bool:
        word = plain(key)
        return word not in taken and (word == own or word not in names)

    return next(filter(is_free, choices))


def bed_line(text: str, keys: Collection[str], taps: Sequence[str]) -> BedLine:
    """A bed's line, read.

    Parameters
    ----------
    text : str
        Name and size; then soil, `?` to be asked; place; tap. What is left off at its end is not known, but for
        the tap where there is one alone.
    keys : collection of str
        Of the beds there are.
    taps : sequence of str
        Keys of the taps there are.

    Raises
    ------
    InputError
        Too few parts or too many, or a tap that has to be said.
    """
    parts = _parts(text)
    if not 2 <= len(parts) <= 5 or not all(parts[:2]):
        raise InputError("bed", text, f"{BED_LINE}: Chapel Wall, 18 m2, sandy loam, open, A")
    name, area, soil, place, tap = (*parts, "", "", "")[:5]
    if not tap and len(taps) > 1:
        raise InputError("tap", None, f"which one, as the fifth: {', '.join(taps)} or none")
    tap = tap or "".join(taps)
    options = {"name": name, "area": area, "place": place, "tap": tap}
    typed = {option: said for option, said in options.items() if said}
    if soil and soil != HELP:
        typed |= soil_said(soil)
    return BedLine(key_for(name, {plain(key) for key in keys}), typed, soil == HELP)


def soil_said(text: str) -> dict[str, str]:
    """Soil, or squeeze where a text is what a pinch does."""
    try:
        soil_key(text)
    except InputError as no_soil:
        try:
            squeezed_soil(text)
        except InputError:
            raise no_soil from None
        return {"squeeze": text}
    return {"soil": text}


def plant_line(text: str) -> PlantLine:
    """A planting's line, read.

    Parameters
    ----------
    text : str
        Bed, what, how many; then how they came and when, either of which may be left off; then a name.

    Raises
    ------
    InputError
        Too few parts or too many, or one that says nothing of how they came.
    """
    parts = _parts(text)
    if not 3 <= len(parts) <= 6 or not all(parts[:3]):
        right = f"{PLANT_LINE}: chapel, climbing rose, 6, 7.5 L pot, 20 mar"
        raise InputError("planting", text, right)
    bed, kind, plants, *more = parts
    typed: dict[str, str] = {}
    if more and (is_origin(more[0]) or len(more) > 1):
        came = more.pop(0)
        typed |= origin_said(came) if came else {}
    for option, said in zip(("on", "name"), more, strict=False):
        if said:
            typed[option] = said
    return PlantLine(bed, kind, plants, typed)


def tap_line(text: str, can_l: float) -> tuple[str, dict[str, str]]:
    """Key and options of a tap's line: `A 43`, the seconds to fill a can, or `A 14l/min`.

    Raises
    ------
    InputError
        No letter, or nothing after it.
    """
    found = _TAP.fullmatch(text.strip())
    if found is None:
        raise InputError("tap", text, f"its letter and the seconds to fill {can_l:g} L: A 43")
    test = found["test"].strip()
    if "/" in test or test.casefold().endswith("gpm"):
        return found["key"], {"flow": test}
    seconds = f"{test}s" if _SECONDS.fullmatch(test) else test
    return found["key"], {"fill": f"{can_l:g}l {seconds}"}


def _parts(text: str) -> list[str]:
    """The parts of a line: between tabs, semicolons, or else commas."""
    separator = next((mark for mark in "\t;" if mark in text), None)
    return [part.strip() for part in text.split(separator or ",")]
