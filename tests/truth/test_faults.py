"""How many wrong cells are slips, and how many a wrong column."""

from datetime import date, timedelta

import pytest

from soakbook.errors import InputError
from soakbook.truth.faults import FEW, Fault, left_out, read_cells

DAYS = [date(2015, 1, 1) + timedelta(days=n) for n in range(1000)]


def said(faults: int, of: int) -> str:
    return left_out("rain", "r", [Fault(n, "-1", "more") for n in range(faults)], of, DAYS)


def test_cells() -> None:
    found = read_cells(
        ["1", "", "-9999", "T", "wet", "11"], lambda x: 2 * x, lambda x: x < 20, "less", {"t": 0.0}
    )
    assert found.values == [2.0, None, None, 0.0, None, None]
    assert found.faults == [
        Fault(4, "wet", "a number with a point, or nothing"),
        Fault(5, "11", "less"),
    ]
    assert (found.markers, found.words, found.known) == (1, 1, 4)


def test_a_few_are_slips_whatever_their_share() -> None:
    assert "5 values of 10 left out, '-1' on 2015-01-01" in said(FEW, 10)
    with pytest.raises(InputError, match="so on 6 of 10 days"):
        said(FEW + 1, 10)


def test_two_in_a_hundred_are_slips_and_more_are_not() -> None:
    assert said(20, 1000)
    with pytest.raises(InputError, match="rain on 2015-01-01, column 'r'"):
        said(21, 1000)
