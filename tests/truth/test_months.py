"""Months by number, by name, and from one to another."""

from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.truth.months import months_of


@pytest.mark.parametrize(
    ("value", "months"),
    [
        ([4, 5, 4], (4, 5)),
        (["Apr", "september"], (4, 9)),
        ("4-6", (4, 5, 6)),
        ("Nov - Feb", (11, 12, 1, 2)),
        ("May to June", (5, 6)),
        (7, (7,)),
    ],
)
def test_months(value: Any, months: tuple[int, ...]) -> None:
    assert months_of("months", value) == months


@pytest.mark.parametrize("value", [[], [13], ["Ma"], "4-13", True, [4.5]])
def test_no_months(value: Any) -> None:
    with pytest.raises(InputError, match="months like"):
        months_of("months", value)
