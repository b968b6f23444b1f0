"""Heat in a gardener's words: what lies ahead is likely, what has begun is not."""

from datetime import date

import pytest

from soakbook.garden.heat import HeatSpell
from soakbook.garden.heat_words import heat_words

FIRST, LAST = date(2031, 7, 8), date(2031, 7, 14)


@pytest.mark.parametrize(
    ("today", "open_ended", "words"),
    [
        (7, False, "Heat likely from Tue 8 to Mon 14, up to 34 °C."),
        (7, True, "Heat likely from Tue 8 to Mon 14 at least, up to 34 °C."),
        (8, False, "Heat from today, likely to Mon 14, up to 34 °C."),
        (10, False, "Heat since Tue 8, likely to Mon 14, up to 34 °C."),
        (14, False, "Heat since Tue 8, likely up to 34 °C today; tomorrow likely cooler."),
        (14, True, "Heat since Tue 8, likely up to 34 °C today."),
    ],
)
def test_heat_before_and_while_it_lasts(today: int, open_ended: bool, words: str) -> None:
    heat = HeatSpell(FIRST, LAST, 33.8, 0, today == 7, open_ended)
    assert heat_words(heat, date(2031, 7, today)) == words


def test_heat_of_which_today_is_not_known() -> None:
    heat = HeatSpell(FIRST, date(2031, 7, 10), 33.8, 0, False, True)
    words = "Heat since Tue 8, up to 34 °C yesterday; of today nothing is known."
    assert heat_words(heat, date(2031, 7, 11)) == words
