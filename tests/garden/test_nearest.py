"""Which name a typed word means."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.garden.nearest import find

BEDS = ("chapel", "warden", "dole", "bank", "infirm", "wellct", "ride", "school")
WALLS = ("south", "north")
WORDS = {"south wall foot": "south", "north wall foot": "north", "south wall": "south"}


@pytest.mark.parametrize(
    ("word", "key"),
    [("chapel", "chapel"), (" CHAPEL ", "chapel"), ("ch", "chapel"), ("firm", "infirm")],
)
def test_exact_then_beginning_then_part(word: str, key: str) -> None:
    assert find(word, BEDS, "bed") == key


def test_an_exact_name_wins_over_a_longer_one() -> None:
    assert find("bed", ("bed of roses", "bed", "rose bed"), "bed") == "bed"


def test_of_two_that_differ_in_a_hyphen_the_one_typed_to_the_letter_is_meant() -> None:
    both = ("east-bed", "east bed")
    assert [find(word, both, "bed") for word in both] == list(both)


def test_words_for_a_key_lead_to_the_key() -> None:
    assert find("South-Wall", WALLS, "place", WORDS) == "south"
    assert find("south", WALLS, "place", WORDS) == "south"
    assert find("sou", WALLS, "place", WORDS) == "south"


def test_several_are_named_and_none_is_taken() -> None:
    with pytest.raises(InputError, match=r"place: 'wall' .* could be south or north"):
        find("wall", WALLS, "place", WORDS)


def test_a_slip_is_offered_and_not_taken() -> None:
    with pytest.raises(InputError, match=r"bed: 'chapple' .* did you mean chapel\? known: chapel,"):
        find("chapple", BEDS, "bed")


@pytest.mark.parametrize("word", ["", " ", "c", "xyz", "chapel wall"])
def test_nothing_like_it(word: str) -> None:
    with pytest.raises(InputError) as told:
        find(word, BEDS, "bed")
    assert told.value.value == word
    assert "known: chapel, warden" in told.value.right


def test_an_empty_book_says_so() -> None:
    with pytest.raises(InputError, match="known: none yet"):
        find("chapel", (), "bed")


@given(st.sampled_from(BEDS), st.integers(2, 8))
def test_what_is_found_holds_the_word(bed: str, letters: int) -> None:
    word = bed[:letters]
    assert find(word, BEDS, "bed") == bed


@given(st.text())
def test_garbage_finds_a_key_or_is_refused(word: str) -> None:
    try:
        key = find(word, WALLS, "place", WORDS)
    except InputError:
        return
    assert key in WALLS
