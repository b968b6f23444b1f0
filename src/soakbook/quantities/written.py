"""A number with its unit, read as a gardener writes it: `208l`, `2½ min`, `18 m²`, `5 uk gal`.

What can be read two ways is refused: a comma, a missing unit, a sign. Which units there are, and
what they come to, is the caller's.
"""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import TypeVar

from soakbook.errors import InputError

Unit = TypeVar("Unit")

LARGEST = 1e9
"""Beyond this nobody measures anything in a garden."""

_PARTS = {"¼": 0.25, "½": 0.5, "¾": 0.75}
_NUMBER = re.compile(
    r"(?P<number>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)?\s*(?P<part>[¼½¾])?(?P<rest>.*)", re.DOTALL
)
_COMMA = re.compile(r"[0-9]+,[0-9]+")
_THOUSANDS = re.compile(r"[0-9]{1,3},[0-9]{3}(?![0-9])")


def number_with_unit(
    text: str, field: str, units: Mapping[str, Unit], examples: str
) -> tuple[float, Unit]:
    """The number, not below 0, and what its unit stands for.

    Parameters
    ----------
    text : str
        As typed.
    field : str
        What the gardener calls it.
    units : mapping
        Every spelling, small letters without spaces, to what it stands for.
    examples : str
        What would be right.

    Raises
    ------
    InputError
        No number, no unit, another unit, a comma, a minus.
    """
    number, rest = leading_number(text, field, examples)
    spelling = "".join(rest.casefold().split()).translate({ord("²"): "2", ord("³"): "3"})
    if not spelling:
        raise InputError(field, text, f"say of what: {examples}")
    if spelling not in units:
        raise InputError(field, text, f"write {examples}")
    return number, units[spelling]


@contextmanager
def as_typed(text: str, field: str, examples: str) -> Iterator[None]:
    """Say a fault in a part of a text of the whole text."""
    try:
        yield
    except InputError as fault:
        raise InputError(field, text, f"write {examples}") from fault


def spelled(table: Mapping[str, Unit]) -> dict[str, Unit]:
    """One entry for every spelling, from a table whose keys are spellings parted by spaces."""
    return {spelling: unit for keys, unit in table.items() for spelling in keys.split()}


def bare_number(text: str, field: str, examples: str) -> float:
    """A number, not below 0, that stands alone."""
    number, rest = leading_number(text, field, examples)
    if rest:
        raise InputError(field, text, f"write {examples}")
    return number


def leading_number(text: str, field: str, examples: str) -> tuple[float, str]:
    """The number a text begins with, and what follows it."""
    stripped = text.strip()
    if _COMMA.search(stripped):
        raise InputError(field, text, _without_comma(stripped))
    if stripped.startswith(("-", "−", "–")):
        raise InputError(field, text, f"nothing below 0: {examples}")
    found = _NUMBER.fullmatch(stripped)
    if found is None or (found["number"] is None and found["part"] is None):
        raise InputError(field, text, f"write {examples}")
    number = float(found["number"] or 0) + _PARTS.get(found["part"] or "", 0.0)
    if number > LARGEST:
        raise InputError(field, text, f"a number of a size a garden knows: {examples}")
    return number, found["rest"].strip()


def _without_comma(text: str) -> str:
    point = text.replace(",", ".")
    if _THOUSANDS.search(text):
        return f"a comma can be read two ways: write {text.replace(',', '')} or {point}"
    return f"write {point}"
