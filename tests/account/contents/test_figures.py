"""Figures in words: changes with both ends on one side, on both, or none."""

import pytest

from soakbook.account.contents.figures import changed, cubic, money, ranged, share, whole


def doubt(low: float, middle: float, high: float) -> dict[str, float]:
    return {"low": low, "middle": middle, "high": high}


@pytest.mark.parametrize(
    ("of", "said"),
    [
        (doubt(237.0, 281.6, 329.0), "282 more (237 to 329)"),
        (doubt(-55.1, -39.0, -22.0), "39 fewer (22 to 55)"),
        (doubt(-6.0, -3.0, 30.0), "3 fewer (6 fewer to 30 more)"),
        (doubt(0.0, 5.0, 11.0), "5 more (0 to 11)"),
        (doubt(-8.0, 0.0, 2.0), "0 (8 fewer to 2 more)"),
        (doubt(0.0, 0.0, 0.0), "the same"),
        (doubt(-0.2, 0.1, 0.3), "the same"),
    ],
)
def test_a_change_says_which_way_it_goes(of: dict[str, float], said: str) -> None:
    assert changed(of) == said


def test_figures_are_of_a_kind_and_what_is_not_known_is_a_dash() -> None:
    assert ranged(doubt(27801.5, 32525.5, 35060.5), cubic) == "32.53 (27.80 to 35.06)"
    assert whole(1234.4) == "1,234"
    assert money(12.584, "GBP") == "GBP 12.58"
    assert share(1.0, 8.0) == "12½"
    assert whole(None) == cubic(None) == money(None, "GBP") == share(1.0, 0.0) == "-"
