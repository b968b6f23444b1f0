"""Words that fit a lock screen, whatever names are like."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.reminders.texts.fitting import (
    BODY_LETTERS,
    TITLE_LETTERS,
    Part,
    bed_called,
    called,
    cut,
    late_words,
    listed,
    one_line,
    text_of,
    that_fits,
)


@pytest.mark.parametrize(
    ("garden", "short"),
    [
        ("The Corrody, Marl Hatherby", "Corrody"),
        ("Corrody", "Corrody"),
        ("The", "The"),
        (", Marl", ", Marl"),
        ("The Botanical Garden of the Old Priory", "Botanical..."),
        ("The Marl\nPit\x00", "Marl Pit"),
    ],
)
def test_a_garden_is_called_by_its_first_words(garden: str, short: str) -> None:
    assert called(garden) == short


def test_as_many_are_listed_as_there_is_room_for() -> None:
    beds = ["Chapel Wall 17 L", "Bank 20 L", "Schoolroom 70 L"]
    assert listed(beds, 60) == "Chapel Wall 17 L, Bank 20 L and Schoolroom 70 L"
    assert listed(beds, 42) == "Chapel Wall 17 L, Bank 20 L and 1 more bed"
    assert listed(beds, 36) == "Chapel Wall 17 L and 2 more beds"
    assert listed(beds, 10, "") == "C... and 2 more"
    assert listed([], 10) == ""


@given(st.lists(st.text(min_size=1), max_size=120), st.integers(40, 300))
def test_a_list_never_takes_more_room_than_it_has(items: list[str], room: int) -> None:
    assert len(listed(items, room)) <= room


@given(st.text(), st.integers(8, 100))
def test_a_text_is_cut_to_its_room_and_kept_where_it_fits(text: str, letters: int) -> None:
    found = cut(text, letters)
    assert len(found) <= letters
    assert found == text or len(text) > letters


@given(st.text())
def test_a_line_has_no_breaks_and_marks_that_no_screen_shows(text: str) -> None:
    found = one_line(text)
    assert len(found.splitlines()) <= 1
    assert found.isprintable() or any(not c.isprintable() and ord(c) > 159 for c in found)
    assert one_line(found) == found


def test_families_and_flags_stay_whole() -> None:
    assert one_line("🏴󠁧󠁢󠁥󠁮󠁧󠁿 👩‍🌾") == "🏴󠁧󠁢󠁥󠁮󠁧󠁿 👩‍🌾"


def test_what_is_least_wanted_is_left_out_first() -> None:
    parts = [Part(0, "a" * 100 + "."), Part(2, "b" * 100 + "."), Part(1, "c" * 90 + ".")]
    body = text_of("t", [*parts, Part(0, "end.")]).body
    assert body == f"{'a' * 100}. {'c' * 90}. end."


@given(st.text(min_size=1), st.lists(st.tuples(st.integers(0, 3), st.text()), min_size=1))
def test_a_text_has_room_for_late(title: str, parts: list[tuple[int, str]]) -> None:
    found = text_of(title, [Part(*one) for one in parts])
    assert len(found.title) <= TITLE_LETTERS
    assert len(late_words(date(2031, 12, 31)) + found.body) <= BODY_LETTERS


def test_the_first_title_that_fits_is_taken() -> None:
    assert that_fits("x" * 61, "y" * 60, "z") == "y" * 60
    assert that_fits("x" * 61, "y" * 62) == "y" * 62
    assert bed_called("Warden's Long Border by the Gate House") == "Warden's Long Border by..."
