"""One cell of a weather file: which mark parts tenths, and what its number looks like."""

import pytest

from soakbook.errors import InputError
from soakbook.weather.cells import value_of
from soakbook.weather.columns import Column

NO_MARKS: frozenset[str] = frozenset()
TMAX = Column("tmax", "High", "C")


@pytest.mark.parametrize(
    ("cell", "value"),
    [("12,5", 12.5), ("-0,5", -0.5), (",5", 0.5), ("12", 12.0), ("-99,9", None), ("1,2e1", 12.0)],
)
def test_a_comma_parts_tenths_where_that_was_said(cell: str, value: float | None) -> None:
    assert value_of(cell, TMAX, "today", NO_MARKS, decimal_comma=True) == value


@pytest.mark.parametrize(
    ("cell", "comma", "right"),
    [
        ("12,5", False, "a number with a point; if the file writes 12,5 with a comma, say --comma"),
        ("12.5", True, "a number with a comma, as was said; if the file has points, say --point"),
        ("1.234,5", True, "a number with no mark between thousands"),
        ("1,234.5", False, "a number with no mark between thousands"),
        ("1,2,3", True, "a number with no mark between thousands"),
        ("warm, dry", True, "a number, or nothing"),
        (",", True, "a number, or nothing"),
    ],
)
def test_the_other_mark_is_refused_and_never_guessed(cell: str, comma: bool, right: str) -> None:
    with pytest.raises(InputError) as caught:
        value_of(cell, TMAX, "today", NO_MARKS, decimal_comma=comma)
    assert (caught.value.value, caught.value.right) == (cell, right)


def test_more_inches_than_can_fall_look_like_millimetres() -> None:
    """25 in are 635 mm."""
    with pytest.raises(InputError) as caught:
        value_of("25", Column("rain", "rain_in", "in"), "today", NO_MARKS)
    assert caught.value.right == "from 0 to 500 mm; it looks like mm: say rain=rain_in:mm"
