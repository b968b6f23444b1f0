"""Mulches and the words for them."""

import math

import pytest

from soakbook.errors import InputError
from soakbook.garden.tables.mulches import MULCH_WORDS, MULCHES, mulch_key


def test_a_full_cover_of_chip_halves_evaporation_as_fao_says() -> None:
    """FAO-56 chapter 10: about 0.50 at full cover of organic mulch, here at 3.5 cm of chip."""
    assert 2 ** (-3.5 / MULCHES["chip"].half_cm) == pytest.approx(0.50)


def test_what_chip_drinks_is_within_what_was_measured() -> None:
    """Needle litter: under 0.62 mm/cm after showers of 6-9 mm, 0.88 usable, 1.0 wet through."""
    assert 0.3 <= MULCHES["chip"].take_mm_per_cm <= 0.62


def test_only_a_sheet_has_no_half() -> None:
    for kind in MULCHES.values():
        assert math.isnan(kind.half_cm) is kind.sheet
        assert kind.sheet or kind.half_cm > 0
        assert 0 < kind.settles_to <= 1
        assert kind.take_mm_per_cm >= 0
    assert [key for key, kind in MULCHES.items() if kind.sheet] == ["sheet"]


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("chip", "chip"),
        ("bark", "chip"),
        ("wood chip, bark", "chip"),
        ("Farmyard manure", "compost"),
        ("leaf mould", "compost"),
        ("straw", "straw"),
        ("shingle", "gravel"),
        ("woven sheet", "sheet"),
        ("plastic", "sheet"),
    ],
)
def test_words_for_a_mulch(word: str, key: str) -> None:
    assert mulch_key(word) == key


def test_no_word_means_two_mulches() -> None:
    assert set(MULCH_WORDS.values()) == set(MULCHES)
    for word, key in MULCH_WORDS.items():
        assert mulch_key(word) == key


def test_an_unknown_mulch_is_refused() -> None:
    with pytest.raises(InputError, match="known: chip, compost, straw, gravel, sheet"):
        mulch_key("rubber")
