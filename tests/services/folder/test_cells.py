"""What a cell says is read back equal, and no spreadsheet takes it for a sum."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.services.folder import cells
from soakbook.services.folder.cells import Cell


@given(st.text(st.characters(codec="utf-8") | st.sampled_from("=+-@＝＋－＠\t\r\n'")))
def test_text_comes_back_and_begins_like_no_sum(text: str) -> None:
    cell = cells.TEXT.write(text)
    assert cell
    assert not cell.startswith(tuple("=+-@＝＋－＠\t\r\n"))
    assert cells.TEXT.read(cell) == text


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("=1+1", "'=1+1"),
        ("'tis", "''tis"),
        ("", "'"),
        ("-5cm", "'-5cm"),
        ("＝1", "'＝1"),
        ("\n=1", "'\n=1"),
        ("Zoë", "Zoë"),
    ],
)
def test_an_apostrophe_stands_before_it(text: str, cell: str) -> None:
    assert cells.guarded(text) == cell


@given(st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(10**14), 10**14))
def test_a_number_is_not_touched(value: float) -> None:
    cell = cells.NUMBER.write(value)
    assert cell == repr(value)
    back = cells.NUMBER.read(cell)
    assert (back, type(back)) == (value, type(value))


@given(st.lists(st.floats(0, 50) | st.integers(-5, 50), max_size=6).map(tuple))
def test_a_list_of_numbers_comes_back(values: tuple[float, ...]) -> None:
    back = cells.NUMBERS.read(cells.NUMBERS.write(values))
    assert back == values
    assert list(map(type, back)) == list(map(type, values))


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        (cells.NUMBER, "nan"),
        (cells.NUMBER, "inf"),
        (cells.NUMBER, "1e999"),
        (cells.NUMBER, "1_000"),
        (cells.NUMBER, "12,5"),
        (cells.NUMBER, " 5"),
        (cells.NUMBER, "٣"),
        (cells.NUMBER, "True"),
        (cells.WHOLE, "1.5"),
        (cells.YES_NO, "1"),
        (cells.YES_NO, "Yes"),
        (cells.DAY, "2031-02-30"),
        (cells.DAY, "20310214"),
        (cells.DAY, "1899-12-31"),
        (cells.MOMENT, "2031-05-15"),
        (cells.MOMENT, "2031-05-15T07:10:00"),
        (cells.MOMENT, "2031-05-15T07:10:00+15:00"),
        (cells.MOMENT, "2031-05-15T07:10:00+01:00:30"),
        (cells.MOMENT, "9999-12-31T23:59:59-05:00"),
        (cells.MOMENT, "1700000000"),
        (cells.WHEN, "15/5/2031"),
        (cells.NUMBERS, "1  2"),
        (cells.NUMBERS, "1 nan"),
    ],
)
def test_what_cannot_be_right_is_refused(cell: Cell, text: str) -> None:
    with pytest.raises(ValueError, match=r".*"):
        cell.read(text)


@pytest.mark.parametrize(
    ("cell", "text", "value"),
    [(cells.YES_NO, "yes", True), (cells.WHOLE, "-3", -3), (cells.OFTEN_EMPTY, "'=x", "=x")],
)
def test_what_is_right_is_read(cell: Cell, text: str, value: Any) -> None:
    assert cell.read(text) == value
