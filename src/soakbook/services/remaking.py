"""An entry made anew with something of it said otherwise. What that comes to is in `amend_answer`."""

from collections.abc import Callable, Mapping
from dataclasses import asdict
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import (
    AnyEntry,
    BedEntry,
    Catch,
    Feel,
    Left,
    Look,
    Loss,
    MulchLaid,
    Rain,
    Ruler,
    Soak,
    Wilt,
)
from soakbook.services.correction import Case, Said
from soakbook.services.desk import Desk
from soakbook.services.remade_by_hand import (
    feel_again,
    left_again,
    loss_again,
    soak_again,
    wilt_again,
)
from soakbook.services.remade_measures import (
    catch_again,
    look_again,
    mulch_again,
    rain_again,
    ruler_again,
)

OF_ALL = ("note", "done_by")
OF_A_BED = ("in_bed", "planting")


class _Again(NamedTuple):
    """How a kind of entry is made anew, and what of it can be said otherwise."""

    make: Callable[[Case], AnyEntry]
    options: tuple[str, ...]


def remade(desk: Desk, old: AnyEntry, said: Said) -> AnyEntry:
    """The entry as it is to be, superseding the old one; not yet in the book.

    Parameters
    ----------
    desk : Desk
        Without the old entry in its pages; its pen says when it happened where that is corrected.
    old : Entry
    said : mapping
        What is said otherwise.

    Raises
    ------
    InputError
        Something that this kind of entry does not have, or that cannot be right.
    """
    kind = type(old)
    _check_has(kind, said)
    case = Case(desk, old, said)
    fresh: AnyEntry = _KINDS[kind].make(case)
    by, note = said.get("done_by"), said.get("note")
    given = {name: getattr(fresh, name) for name in asdict(fresh)} | {
        "supersedes": old.uid,
        "by": old.by if by is None else by.strip() or None,
        "note": old.note if note is None else note.strip() or None,
        "corrected_by": desk.pen.by,
    }
    return admit(kind, **given)


def options_of(kind: type[AnyEntry]) -> tuple[str, ...]:
    """What can be said otherwise of a kind of entry, beside its hour."""
    of_bed = OF_A_BED if issubclass(kind, BedEntry) and kind not in _OF_THE_BED else ()
    beds = ("in_bed",) if kind in _OF_THE_BED else of_bed
    return (*_KINDS[kind].options, *beds, *OF_ALL)


def _check_has(kind: type[AnyEntry], said: Said) -> None:
    has = options_of(kind)
    for name, value in said.items():
        if name not in has:
            words = ["AMOUNT" if one == "amount" else f"--{one.replace('_', '-')}" for one in has]
            hint = "; --in-bed moves it to another bed" if name == "bed" and "in_bed" in has else ""
            right = f"this kind of entry has {', '.join(words)} and --at{hint}"
            raise InputError(name.replace("_", "-"), value, right)


_OF_THE_BED = (MulchLaid, Catch, Ruler)
"""Kinds that are about a bed and never about one planting of it."""

_KINDS: Mapping[type[AnyEntry], _Again] = {
    Soak: _Again(soak_again, ("amount", "kind", "method")),
    Rain: _Again(rain_again, ("amount", "from", "kind")),
    Feel: _Again(feel_again, ("ball", "bed", "unsure")),
    Wilt: _Again(wilt_again, ()),
    Left: _Again(left_again, ("reason",)),
    Loss: _Again(loss_again, ("count", "cause")),
    MulchLaid: _Again(mulch_again, ("amount", "kind")),
    Catch: _Again(catch_again, ("amount", "gauge")),
    Ruler: _Again(ruler_again, ("amount",)),
    Look: _Again(look_again, ("amount",)),
}
