"""Weekdays on which somebody comes, and spans of days."""

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.quantities.dates import MONTHS, WEEKDAYS
from soakbook.quantities.spans import parse_span, weekdays

Refusal = Callable[[Callable[[], object]], InputError | None]

THURSDAY = date(2031, 5, 15)


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("mon-sat", {0, 1, 2, 3, 4, 5}),
        ("mon - sat", {0, 1, 2, 3, 4, 5}),
        ("Mon to Fri", {0, 1, 2, 3, 4}),
        ("mon,wed,fri", {0, 2, 4}),
        ("mon and thu", {0, 3}),
        ("mon  wed – fri", {0, 2, 3, 4}),
        ("mon-wed, sat", {0, 1, 2, 5}),
        ("sat-mon", {5, 6, 0}),
        ("sun", {6}),
        ("every day", set(range(7))),
        ("weekends", {5, 6}),
        ("weekdays", {0, 1, 2, 3, 4}),
    ],
)
def test_weekdays(text: str, days: set[int]) -> None:
    """Monday is 0."""
    assert weekdays(text) == days


@pytest.mark.parametrize("text", ["", "x", "mo", "mon-", "-mon", "mon,,fri", "mon-tue-wed", "1-5"])
def test_what_is_no_weekday_is_refused(text: str) -> None:
    with pytest.raises(InputError) as told:
        weekdays(text, "comes")
    assert (told.value.field, told.value.value) == ("comes", text)


@given(st.integers(0, 6), st.integers(0, 6))
def test_a_run_holds_its_ends_and_no_gap(first: int, last: int) -> None:
    days = weekdays(f"{WEEKDAYS[first]}-{WEEKDAYS[last][:3]}")
    assert {first, last} <= days
    assert len(days) == (last - first) % 7 + 1


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("9jul..17jul", date(2031, 7, 9), date(2031, 7, 17)),
        ("9jul-17jul", date(2031, 7, 9), date(2031, 7, 17)),
        ("9-17 jul", date(2031, 7, 9), date(2031, 7, 17)),
        ("9 to 17 July 2032", date(2032, 7, 9), date(2032, 7, 17)),
        ("18jul..5sep", date(2031, 7, 18), date(2031, 9, 5)),
        ("9aug-17aug", date(2031, 8, 9), date(2031, 8, 17)),
        ("1apr..3apr", date(2031, 4, 1), date(2031, 4, 3)),
        ("2031-07-09..2031-07-17", date(2031, 7, 9), date(2031, 7, 17)),
        ("20dec..5jan", date(2031, 12, 20), date(2032, 1, 5)),
        ("20dec..5jan2032", date(2031, 12, 20), date(2032, 1, 5)),
        ("today..tomorrow", THURSDAY, date(2031, 5, 16)),
        ("9jul", date(2031, 7, 9), date(2031, 7, 9)),
        ("2031-07-09", date(2031, 7, 9), date(2031, 7, 9)),
    ],
)
def test_spans(text: str, first: date, last: date) -> None:
    """Told on 15 May 2031."""
    assert parse_span(text, "away", THURSDAY) == (first, last)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "x..y",
        "9..x",
        "17jul..9jul",
        "17jul2031..9jul2031",
        "2031-07-09-2031-07-17",
        "29-30feb",
        "9/7-17/7",
        "9..17",
    ],
)
def test_what_is_no_span_is_refused(text: str) -> None:
    with pytest.raises(InputError) as told:
        parse_span(text, "away", THURSDAY)
    assert (told.value.field, told.value.value) == ("away", text)


@given(st.dates(date(1910, 1, 1), date(2190, 1, 1)), st.integers(-60, 299), st.integers(0, 290))
def test_a_span_ahead_needs_no_year(today: date, ahead: int, length: int) -> None:
    first = today + timedelta(days=ahead)
    last = first + timedelta(days=length)
    text = "..".join(f"{day.day}{MONTHS[day.month - 1][:3]}" for day in (first, last))
    assert parse_span(text, "away", today) == (first, last)


@given(st.text() | st.from_regex(r"[0-9a-z]{0,9} ?(\.\.|-|to)? ?[0-9a-z-]{0,10}"))
def test_garbage_is_read_or_refused(refusal: Refusal, text: str) -> None:
    for read in (lambda: weekdays(text), lambda: parse_span(text, "away", THURSDAY)):
        told = refusal(read)
        assert told is None or told.value == text
