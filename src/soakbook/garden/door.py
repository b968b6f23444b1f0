"""The door: a record is let in when every field can be right, else all its faults are said at once.

Bounds stand in the records' annotations; pydantic checks them, and what a gardener is told is made
from the same annotations in the words of `quantities.names`. Rules between fields are in `sense`.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import is_dataclass
from datetime import date, datetime, time
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar, cast, get_args

from soakbook.errors import InputError, refused
from soakbook.garden.annotations import SAYS, Place, bases, hints, inside, is_record, right, words
from soakbook.garden.records import strict
from soakbook.garden.sense import Fault, faults

if TYPE_CHECKING:
    from pydantic import ConfigDict, TypeAdapter, ValidationError

Record = TypeVar("Record")

_BARE_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_WRITTEN_TIME = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}.*|[0-9]{2}:[0-9]{2}.*")


def admit(record_type: type[Record], /, **values: object) -> Record:
    """The record made of the values, when they can all be right.

    Parameters
    ----------
    record_type : type
        A record of `garden.records` or an entry of `garden.entries`.
    **values
        Its fields, as parsed or as read from a file: a number, day or moment may be written out;
        records inside it may be mappings.

    Returns
    -------
    Record

    Raises
    ------
    InputError
        Names every field that cannot be right, its value and what would be right.
    """
    from pydantic import ValidationError

    kind: Any = record_type
    fields = hints(kind)
    given = {name: _day_as_day(value, fields.get(name)) for name, value in values.items()}
    wrong = list(_mistaken(given, record_type, ()))
    try:
        record: Record = _adapter(kind).validate_python(given)
    except ValidationError as error:
        wrong += _refused(error, record_type)
    else:
        if not wrong:
            return _sensible(record)
    raise _input_error([_fault(record_type, given, place) for place in dict.fromkeys(wrong)])


def admit_all(
    record_type: type[Record], rows: Sequence[Mapping[str, object]], where: Callable[[int], str]
) -> list[Record]:
    """The records made of many rows at once: what `admit` says of each, in a tenth of the time.

    Parameters
    ----------
    record_type : type
        As for `admit`.
    rows : sequence of mappings
        Fields of each, without records inside; days and moments read already, and no number a yes or no.
    where : callable
        What the gardener calls the row of that number, such as a line of a file.

    Returns
    -------
    list

    Raises
    ------
    InputError
        Of the first row that cannot be right: where it stands, and every field of it, as `admit` says it.
    """
    from pydantic import ValidationError

    try:
        records: list[Record] = _adapter(list[record_type]).validate_python(rows)  # type: ignore[valid-type]
        for record in records:
            _sensible(record)
    except (ValidationError, InputError):
        return [_admit_at(record_type, row, where(number)) for number, row in enumerate(rows)]
    return records


def _admit_at(record_type: type[Record], row: Mapping[str, object], where: str) -> Record:
    try:
        return admit(record_type, **row)
    except InputError as fault:
        raise InputError(f"{where}, {fault.field}", fault.value, fault.right) from fault


def _sensible(record: Record) -> Record:
    told = [
        Fault(name, value.isoformat(), SAYS[datetime])
        for name in hints(type(record))
        if isinstance(value := getattr(record, name), datetime) and value.tzinfo is None
    ] or faults(record)
    if told:
        raise _input_error([fault._replace(field=words((fault.field,))) for fault in told])
    return record


def _input_error(told: list[Fault]) -> InputError:
    first, *others = told
    more = "".join(f"; {refused(*one)}" for one in others)
    return InputError(first.field, first.value, first.right + more)


def _fault(record_type: type, given: Mapping[str, object], place: Place) -> Fault:
    hint: Any = record_type
    value: Any = given
    for step in place:
        within, hint = hint, inside(hint, step)
        if hint is None:
            known = ", ".join(name for base in bases(within) for name in hints(base))
            return Fault(words(place), value[step], f"no such field; there are: {known}")
        if isinstance(step, str) and step not in value:
            return Fault(words(place), None, right(hint, step))
        value = value[step] if isinstance(step, str) else list(value)[step]
    return Fault(words(place), value, right(hint, str(place[-1])))


def _refused(error: "ValidationError", record_type: type) -> Iterator[Place]:
    """The places pydantic names, without what it adds about the parts of a union."""
    for one in error.errors(include_url=False):
        place: list[str | int] = []
        hint: Any = record_type
        for step in one["loc"]:
            in_record = any(is_record(base) for base in bases(hint))
            hint = inside(hint, step)
            if hint is not None or in_record:
                place.append(step)
            if hint is None:
                break
        yield tuple(place)


def _mistaken(value: object, hint: Any, place: Place) -> Iterator[Place]:
    """What pydantic would take in silence: booleans for numbers, seconds since 1970 for days."""
    may_be = bases(hint)
    if isinstance(value, bool):
        if bool not in may_be:
            yield place
    elif isinstance(value, int | float | str) and may_be & {date, datetime, time}:
        if not isinstance(value, str) or not _WRITTEN_TIME.fullmatch(value):
            yield place
    elif isinstance(value, Mapping):
        for name, part in value.items():
            yield from _mistaken(part, inside(hint, name), (*place, name))
    elif isinstance(value, list | tuple | set | frozenset):
        for number, part in enumerate(value):
            yield from _mistaken(part, inside(hint, number), (*place, number))


def _day_as_day(value: object, hint: Any) -> object:
    """A bare day stays a day where a moment would do too: pydantic would make it midnight."""
    if isinstance(value, str) and {date, datetime} <= bases(hint) and _BARE_DAY.fullmatch(value):
        try:
            return date.fromisoformat(value)
        except ValueError:
            return value
    return value


@cache
def _adapter(record_type: Any) -> "TypeAdapter[Any]":
    from pydantic import TypeAdapter

    # A dataclass brings its strictness along.
    if is_dataclass(record_type) or any(is_dataclass(one) for one in get_args(record_type)):
        return TypeAdapter(record_type)
    return TypeAdapter(record_type, config=cast("ConfigDict", strict))
