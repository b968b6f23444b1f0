"""What annotations say, and that records and the registry of quantities say the same."""

import math
from datetime import date, datetime
from types import ModuleType
from typing import Annotated, Any, Literal

import pytest

from soakbook.garden import entries, records
from soakbook.garden.annotations import bases, hints, inside, is_record, kinds, right, span, words
from soakbook.garden.bounds import Bounds
from soakbook.quantities.names import QUANTITIES


def _numbers(module: ModuleType) -> list[tuple[str, str, tuple[object, ...]]]:
    """(record, field, bounds) of every number in the records of a module."""
    types: list[Any] = [one for one in vars(module).values() if is_record(one)]
    return [
        (one.__name__, name, bounds)
        for one in types
        if one.__module__ == module.__name__
        for name, hint in hints(one).items()
        for base, bounds in kinds(hint)
        if base in (int, float)
    ]


NUMBERS = sorted({*_numbers(records), *_numbers(entries)}, key=str)


@pytest.mark.parametrize(("record", "field", "bounds"), NUMBERS)
def test_records_and_registry_hold_the_same_bounds(
    record: str, field: str, bounds: tuple[object, ...]
) -> None:
    assert field in QUANTITIES, f"{record}.{field} has no name in the registry"
    named, written = QUANTITIES[field], span(bounds, field)
    assert (written.lowest, written.above_lowest) == (named.lowest, named.above_lowest)
    if math.isfinite(written.highest):
        assert (written.highest, written.below_highest) == (named.highest, named.below_highest)


def test_every_number_of_every_record_was_looked_at() -> None:
    assert len(NUMBERS) > 30


@pytest.mark.parametrize(
    ("hint", "name", "says"),
    [
        (
            Annotated[float, Bounds(gt=0, le=200)],
            "flow_l_per_min",
            "more than 0 and at most 200 L/min",
        ),
        (Annotated[float, Bounds(ge=0, lt=0.9)] | None, "x", "from 0 to below 0.9"),
        (Annotated[int, Bounds(ge=1)], "count", "a whole number 1 or more plants"),
        (Literal["keen", "fair"], "readiness", "one of keen, fair"),
        (date | None, "day", "a day such as 2031-05-15"),
        (bool, "unsure", "yes or no"),
        (tuple[records.Flow, ...], "flows", "a list"),
        (records.Flow, "flow", "with flow_l_per_min, tested_on"),
    ],
)
def test_what_a_field_may_hold_in_words(hint: Any, name: str, says: str) -> None:
    assert right(hint, name) == says


def test_a_place_in_a_record_in_words() -> None:
    assert words(("flows", 0, "flow_l_per_min")) == "flows 1 flow"
    assert words(("bed_uid",)) == "bed"


def test_inside_a_record() -> None:
    assert bases(inside(records.Tap, "flows")) == {tuple[records.Flow, ...]}
    assert inside(inside(records.Tap, "flows"), 0) is records.Flow
    assert inside(records.Tap, "nothing") is None
    assert bases(hints(entries.Soak)["happened_at"]) == {date, datetime}
