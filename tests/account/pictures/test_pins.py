"""Flags fly beside each other, never on each other."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from soakbook.account.pictures.pins import ROWS, flag_pt, placed

WORDS = st.sampled_from(["dust", "dry", "moist", "wet", "sour"])


@given(st.lists(st.tuples(st.floats(60, 560), WORDS), max_size=80).map(sorted))
def test_no_flag_lies_on_another_or_off_the_sheet(feels: list[tuple[float, str]]) -> None:
    pins = placed(feels, 568.0)
    assert [(pin.x_pt, pin.word) for pin in pins] == feels
    for row in range(ROWS):
        flags = [(pin.flag_pt, pin.flag_pt + flag_pt(pin.word)) for pin in pins if pin.row == row]
        assert all(end <= begin for (_, end), (begin, _) in pairwise(flags))
        assert all(end <= 568.0 for _, end in flags)
    for pin in pins:
        assert pin.flag_pt <= pin.x_pt <= pin.flag_pt + flag_pt(pin.word)


def test_a_flag_goes_up_a_row_then_goes_without() -> None:
    pins = placed([(100.0, "moist"), (103.0, "wet"), (106.0, "dry"), (300.0, "dust")], 568.0)
    assert [pin.row for pin in pins] == [0, 1, None, 0]
