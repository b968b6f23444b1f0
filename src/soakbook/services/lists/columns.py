"""Which column of a list is what: by its name in any usual wording, or as it was said.

A unit that a header states holds for the bare numbers below it; none is ever guessed.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.quantities.written import spelled

LEFT_OUT = "none"
LONGEST_CELL = 500
SHOWN = 60
"""Letters of a cell or a header that are said back."""

OF_BEDS: Mapping[str, str] = {
    "area": "area, bed area, size, bed size, square metres, sqm, m2",
    "soil": "soil, soil type, soil class, texture, topsoil",
    "place": "place, position, situation, aspect, site, exposure",
    "tap": "tap, water from, watered from",
    "walk": "walk, way, distance, distance to tap",
    "slope": "slope",
    "stones": "stones",
    "depth": "depth, soil depth, made soil",
    "keeper": "keeper, kept by, looked after by",
}
BEDS: Mapping[str, str] = {
    "bed": "bed, border, key, bed key, bed no, bed number",
    "name": "name, bed name, border name, called",
    **OF_BEDS,
    "squeeze": "squeeze, feel",
    "hole": "hole, drain hole",
}
PLANTINGS: Mapping[str, str] = {
    "bed": "bed, border, bed name, bed key, bed no, bed number, where, location",
    "kind": (
        "plant, what, kind, species, variety, cultivar, plant name, latin name, botanical name, common name, "
        "taxon, what was planted"
    ),
    "count": (
        "count, how many, number, no, nos, nr, qty, quantity, plants, number of plants, no of plants, pieces, #"
    ),
    "size": (
        "size, came as, supplied as, stock, stock size, form, how, spec, specification, pot or ball, pot ball, "
        "pot ball bare, plant size"
    ),
    "pot": "pot, pots, pot size, container, container size, pot volume",
    "ball": "ball, root ball, rootball, dug ball, ball width, ball size, ball across",
    "bare": "bare, bare root, bare rooted, bareroot, bare roots",
    "on": (
        "planted, planted on, on, date, when, day, planting date, date planted, plant date, planting day, "
        "date of planting"
    ),
    "name": "name, label, called, group",
    "like": "like, as, class, type, plant type, plant class, drinks like",
    "mix": "mix, compost, potting mix",
    "spacing": "spacing, centres, planting distance, apart",
    "leaves": "leaves, leaves across, leaves now, width now",
    "leaves_full": "leaves full, leaves grown, leaves when grown, width grown, spread",
    "usual": "usual, usual dose",
    "watered_in": "watered in",
    **{name: words for name, words in OF_BEDS.items() if name in ("soil", "tap")},
    "area": "area, bed area, bed size, area of bed",
    "place": "place, situation, aspect, site, exposure",
}
"""What a column is, to the names it goes by."""

_UNITS = spelled(
    {
        "l litre litres liter liters ltr": "l",
        "gal gallon gallons": "gal",
        "cm": "cm",
        "mm": "mm",
        "m metre metres meter meters": "m",
        "in inch inches": "in",
        "ft foot feet": "ft",
        "m2 m² sqm": "m2",
        "sqft ft2 ft²": "sqft",
        "sqyd yd2 yd²": "sqyd",
    }
)
_WITH_UNIT = {"area", "pot", "ball", "spacing", "leaves", "leaves_full", "usual", "walk", "depth"}
_BARE_NUMBER = re.compile(r"[0-9.,½¼¾\s]+")
_BRACKETS = re.compile(r"[(\[](?P<inside>[^)\]]*)[)\]]")


class Column(NamedTuple):
    """One column that is taken: what it is, its header, where it stands, the unit that its header states."""

    what: str
    header: str
    place: int
    unit: str

    def cell(self, text: str) -> str:
        """A cell with the header's unit, where it has none of its own.

        Raises
        ------
        InputError
            A formula, whose value is not in the list; or more than any cell says.
        """
        if len(text) > LONGEST_CELL:
            right = f"at most {LONGEST_CELL} letters, not {len(text):,}"
            raise InputError(self.header[:SHOWN], f"{text[:SHOWN]}...", right)
        if text.startswith("="):
            raise InputError(self.header[:SHOWN], text, "the value itself, not a formula")
        return f"{text} {self.unit}" if self.unit and _BARE_NUMBER.fullmatch(text) else text


def columns_of(
    headers: Sequence[str], known: Mapping[str, str], said: Iterable[str], name: str
) -> tuple[Column, ...]:
    """The columns that are taken.

    Parameters
    ----------
    headers : sequence of str
        As they stand in the list.
    known : mapping
        `BEDS` or `PLANTINGS`.
    said : iterable of str
        Texts such as `bed=Border`; `none=Price` leaves a column out.
    name : str
        What the list is called.

    Raises
    ------
    InputError
        A column that was said and is not there, one that is not understood, two for one thing.
    """
    by_hand = _said(headers, known, said)
    words = {_tidy(word): what for what, words in known.items() for word in words.split(",")}
    found: dict[str, list[Column]] = {}
    strange = []
    for place, header in enumerate(headers):
        what, unit = _understood(header, words, by_hand)
        if what is None:
            strange.append(header or f"the one without a name, number {place + 1}")
        elif what != LEFT_OUT:
            found.setdefault(what, []).append(Column(what, header, place, unit))
    if "kind" in known and "kind" not in found and "name" in found:
        found["kind"] = [one._replace(what="kind") for one in found.pop("name")]
    if strange:
        _refuse_strange(strange, known, name)
    for what, columns in found.items():
        if len(columns) > 1:
            both = " and ".join(repr(one.header[:SHOWN]) for one in columns[:20])
            right = f"one column for {what}; --column none={columns[1].header!r} leaves one out"
            raise InputError("columns", both, right)
    return tuple(columns[0] for columns in found.values())


def need(columns: Iterable[Column], needed: Iterable[str], name: str) -> None:
    """Refuse a list in which something is missing that every line must have.

    Raises
    ------
    InputError
        Names what is missing, and how a column of another name is said to be it.
    """
    there = {one.what for one in columns}
    missing = [what for what in needed if what not in there]
    if missing:
        right = (
            f"a column each for {', '.join(needed)}; there is none for {', '.join(missing)}: its first line "
            f"names them, or --column {missing[0]}=HEADER does"
        )
        raise InputError("list", name, right)


def _said(
    headers: Sequence[str], known: Mapping[str, str], said: Iterable[str]
) -> Mapping[str, str]:
    """Header, tidied -> what it was said to be."""
    by_hand = {}
    for text in said:
        what, _, header = (part.strip() for part in text.partition("="))
        what = what.casefold().replace("-", "_").replace(" ", "_")
        if what not in (*known, LEFT_OUT) or not header:
            raise InputError("column", text, f"bed=Border, with one of {', '.join(known)} or none")
        if _tidy(header) not in [_tidy(one) for one in headers]:
            there = ", ".join(one[:SHOWN] for one in headers[:20])
            raise InputError("column", header, f"a column of the list: {there}")
        by_hand[_tidy(header)] = what
    return by_hand


def _understood(
    header: str, words: Mapping[str, str], by_hand: Mapping[str, str]
) -> tuple[str | None, str]:
    """What a column is, None where nobody knows, and the unit that its header states."""
    whole, (bare, unit) = _tidy(header), _parted(header)
    what = by_hand.get(whole) or words.get(whole)
    if what is None and bare != whole:
        what = words.get(bare)
    return what, unit if what in _WITH_UNIT else ""


def _parted(header: str) -> tuple[str, str]:
    """A header without what stands in brackets or is a unit at its end, and that unit."""
    brackets = _BRACKETS.search(header)
    if brackets is not None:
        inside = "".join(brackets["inside"].casefold().split())
        return _tidy(_BRACKETS.sub(" ", header)), _UNITS.get(inside, "")
    *first, last = _tidy(header).split() or [""]
    if first and last in _UNITS:
        return " ".join(first), _UNITS[last]
    return _tidy(header), _UNITS.get(last, "")


def _tidy(header: str) -> str:
    return " ".join(re.sub(r"[_\-./:?]", " ", header.casefold()).split())


def _refuse_strange(strange: list[str], known: Mapping[str, str], name: str) -> None:
    shown = ", ".join(repr(one[:SHOWN]) for one in strange[:20])
    right = (
        f"columns that say one of {', '.join(known)}. Say what it is, --column bed=HEADER, or leave it out, "
        "--column none=HEADER"
    )
    raise InputError(f"columns of {name}", shown, right)
