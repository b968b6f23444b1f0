"""What a record's annotations say of a field: its types, its bounds, and both in plain words."""

import math
import types
from dataclasses import is_dataclass
from datetime import date, datetime, time
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from soakbook.garden.bounds import Bounds
from soakbook.quantities.names import QUANTITIES, Quantity

Place = tuple[str | int, ...]
"""Where in a record: a field, or a field inside a field, or one of many."""

SAYS: dict[object, str] = {
    bool: "yes or no",
    str: "some words",
    date: "a day such as 2031-05-15",
    datetime: "a moment with its zone, such as 2031-05-15T07:10+01:00",
    time: "an hour such as 07:00",
}


def hints(record_type: Any) -> dict[str, Any]:
    """Types of a record's fields by name; nothing for what is no record."""
    return _hints_once(record_type)


def is_record(kind: Any) -> bool:
    """Whether something is a type of record: an entry, or one of the lasting things."""
    return is_dataclass(kind) or hasattr(kind, "_fields")


def kinds(hint: Any) -> list[tuple[Any, tuple[object, ...]]]:
    """The types a field may have, None apart, each with its bounds."""
    if get_origin(hint) is Annotated:
        base, *bounds = get_args(hint)
        return [(kind, (*inner, *bounds)) for kind, inner in kinds(base)]
    if get_origin(hint) in (Union, types.UnionType):
        parts = [part for part in get_args(hint) if part is not types.NoneType]
        return [kind for part in parts for kind in kinds(part)]
    return [(hint, ())]


def bases(hint: Any) -> set[Any]:
    """The types a field may have, without their bounds."""
    return {base for base, _ in kinds(hint)}


def inside(hint: Any, step: str | int) -> Any:
    """The type of a field of a record, or of one of many; None where there is no such thing."""
    for base, _ in kinds(hint):
        if isinstance(step, str) and is_record(base):
            return hints(base).get(step)
        if isinstance(step, int) and get_origin(base) in (tuple, frozenset):
            return get_args(base)[0]
    return None


def right(hint: Any, name: str) -> str:
    """What a field may hold, in words."""
    return " or ".join(
        dict.fromkeys(_one_right(base, bounds, name) for base, bounds in kinds(hint))
    )


def words(place: Place) -> str:
    """What a gardener calls a place in a record."""
    return " ".join(str(step + 1) if isinstance(step, int) else _name(step) for step in place)


def span(bounds: tuple[object, ...], name: str) -> Quantity:
    """The numbers that bounds allow, in the unit of that name."""
    known = QUANTITIES.get(name)
    lowest, highest, above, below = -math.inf, math.inf, False, False
    for bound in bounds:
        if isinstance(bound, Bounds):
            above, below = bound.gt is not None, bound.lt is not None
            lowest = next((end for end in (bound.gt, bound.ge) if end is not None), -math.inf)
            highest = next((end for end in (bound.lt, bound.le) if end is not None), math.inf)
    return Quantity(name, known.unit if known else "", lowest, highest, above, below)


@cache
def _hints_once(record_type: Any) -> dict[str, Any]:
    return get_type_hints(record_type, include_extras=True) if is_record(record_type) else {}


def _one_right(base: Any, bounds: tuple[object, ...], name: str) -> str:
    if get_origin(base) is Literal:
        return f"one of {', '.join(get_args(base))}"
    if base in (int, float):
        return ("a whole number " if base is int else "") + span(bounds, name).right
    if is_record(base):
        return f"with {', '.join(hints(base))}"
    return SAYS.get(base, "a list")


def _name(field: str) -> str:
    known = QUANTITIES.get(field)
    return known.words if known else field.removesuffix("_uid").replace("_", " ")
