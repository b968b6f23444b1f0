"""Time and days as they are said."""

from datetime import date

import pytest

from soakbook.cli import said
from soakbook.quantities.saying import litres

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
    assert [said.times(count) for count in (2, 3, 7, 10, 11)] == [
        *("two", "three", "seven", "ten"),
        "11",
    ]


@pytest.mark.parametrize(
    ("value", "text"), [(1, "5 min"), (20, "20 min"), (38, "40 min"), (62, "1 h")]
)
def test_nobody_waits_to_the_minute(value: float, text: str) -> None:
    assert said.wait(value) == text


def test_the_sum_is_that_of_the_amounts_as_they_are_printed() -> None:
    """22½ L is printed as 22 L: two of them are 44, not 45."""
    assert [litres(one) for one in (22.5, 22.5, 1.5)] == ["22 L", "22 L", "1½ L"]
    assert said.litres_in_all([22.5, 22.5]) == "44 L"
    assert said.litres_in_all([1.5, 1.0]) == "2½ L"
    assert said.litres_in_all([]) == "0 L"
