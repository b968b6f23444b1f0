"""Reading lanes off the step's records, whose fields are numbers, (planting, 1) or (planting, member) alike."""

from collections.abc import Mapping, Sequence
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.physics.records import Flows, Number, Plot, Stores
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.simulation.bands import middle_of
from soakbook.reckoning.simulation.draws import Floats

Rows = slice | NDArray[np.intp]
"""Some plantings of a garden, as its arrays are cut by them."""

Record = TypeVar("Record", Plot, Fixed, Stores, Flows)


def rows_of(record: Record, rows: slice) -> Record:
    """A record cut to some plantings; what is one number for all stays."""
    counts = [len(field) if isinstance(field, np.ndarray) and field.ndim else 1 for field in record]
    if rows.start == 0 and rows.stop >= max(counts):
        return record
    cut: Any = (
        field if count == 1 else np.asarray(field)[rows]
        for field, count in zip(record, counts, strict=True)
    )
    return type(record)(*cut)


def rows_at(numbers: Sequence[int]) -> Rows:
    """Plantings by their numbers, as a slice where they follow one another: that copies nothing."""
    first, last = numbers[0], numbers[-1]
    if list(numbers) == list(range(first, last + 1)):
        return slice(first, last + 1)
    return np.array(numbers)


def taken(record: Record, rows: Rows) -> Record:
    """A record cut to some plantings, in their order; every field of it has plantings for its first axis."""
    cut: Any = (np.asarray(field)[rows] for field in record)
    return type(record)(*cut)


def part_of(record: Record, rows: Rows, names: Sequence[str]) -> dict[str, Any]:
    """Some fields of some plantings; every field named has plantings for its first axis."""
    return {name: getattr(record, name)[rows] for name in names}


def with_rows(record: Record, *parts: tuple[Rows, Mapping[str, Number]]) -> Record:
    """A record with some fields of some plantings replaced, part by part; the old one stays as it was."""
    changed: dict[str, Any] = {}
    for rows, fields in parts:
        for name, values in fields.items():
            if name not in changed:
                changed[name] = np.array(getattr(record, name))
            changed[name][rows] = values
    whole: Record = record._replace(**changed)
    return whole


def grid(field: Number, shape: tuple[int, ...]) -> Floats:
    """A field spread over (planting, member), not copied."""
    values = np.asarray(field, np.float64)
    return values if values.shape == shape else np.broadcast_to(values, shape)


def full(record: Record, shape: tuple[int, ...]) -> Record:
    """A record with every field spread over (planting, member)."""
    spread: Any = (grid(field, shape) for field in record)
    return type(record)(*spread)


def members_of(field: Number, row: int) -> Floats:
    """A planting's value in every member, shape (member,) or (1,)."""
    values = np.asarray(field, np.float64)
    if values.ndim < 2:
        values = np.atleast_2d(values)
    one: Floats = values[0 if len(values) == 1 else row]
    return one


def plain_columns(record: Record, rows: slice) -> Record:
    """A record cut to some plantings in the plain run, every field (planting, 1), (1, 1) or a number."""
    cut: Any = (
        field
        if not isinstance(field, np.ndarray) or field.ndim < 2
        else field[rows if len(field) > 1 else slice(0, 1), :1]
        for field in record
    )
    return type(record)(*cut)


def plain(field: Number, row: int) -> float:
    """A planting's value in the plain run, member 0."""
    return float(members_of(field, row)[0])


def middle(field: Number, row: int) -> float:
    """A planting's value in the middle member."""
    return float(middle_of(members_of(field, row)))
