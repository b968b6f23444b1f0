"""Time and days as they are said."""

from datetime import date

import pytest

from soakbook.cli import said

MORNING = date(2031, 5, 15)


@pytest.mark.parametrize(
    ("value", "text"), [(2.0, "2 h"), (1.5, "1 h 30"), (0.75, "45 min"), (1.1, "1 h 06")]
)
def test_hours(value: float, text: str) -> None:
    assert said.hours(value) == text


@pytest.mark.parametrize(
    ("value", "text"), [(4, "4 s"), (90, "90 s"), (120, "2 min"), (135, "2 min 15 s")]
)
def test_seconds(value: int, text: str) -> None:
    assert said.seconds(value) == text


@pytest.mark.parametrize(
    ("when", "text"),
    [
        ("2031-05-15", "today"),
        ("2031-05-16", "Fri 16"),
        ("2031-05-16T07:00:00+01:00", "Fri 16"),
        ("2031-06-02", "2 June"),
    ],
)
def test_a_day_of_a_date_or_a_moment(when: str, text: str) -> None:
    assert said.day(when, MORNING) == text


@pytest.mark.parametrize(
    ("when", "text"),
    [
        ("2031-05-15", "today"),
        ("2031-05-13", "Tue"),
        ("2031-05-09", "Fri"),
        ("2031-05-08", "8 May"),
    ],
)
def test_since(when: str, text: str) -> None:
    assert said.since(when, MORNING) == text


def test_the_hour_of_a_moment_and_none_of_a_day() -> None:
    assert said.clock("2031-05-15T06:30:00+01:00") == "06:30"
    assert said.clock("2031-05-15") == ""


def test_names_in_a_sentence() -> None:
    assert said.listed([]) == ""
    assert said.listed(["Ann"]) == "Ann"
    assert said.listed(["Ann", "Tom"]) == "Ann and Tom"
    assert said.listed(["Ann", "Tom", "Joe"]) == "Ann, Tom and Joe"


def test_times_are_words_while_they_are_short() -> None:
    assert [said.times(count) for count in (2, 3, 7)] == ["two", "three", "7"]
