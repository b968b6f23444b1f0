"""Promises as a page says them."""

from datetime import date

import pytest

from soakbook.garden.promise_words import bar_words, promise_words, reliability_words, tenths_of
from soakbook.garden.promises import JudgedPromise, Outcome, Promise, Reliability

TODAY = date(2031, 5, 20)


def judged(
    outcome: Outcome, fell_mm: float | None, *, share: float = 0.85, good: bool = True
) -> JudgedPromise:
    promise = Promise(date(2031, 5, 14), date(2031, 5, 15), share, 9.2, good)
    return JudgedPromise("a service", date(2031, 5, 14), 1, promise, fell_mm, outcome)


@pytest.mark.parametrize(
    ("outcome", "fell_mm", "end"),
    [
        ("kept", 15.6, "kept, 15.6 mm fell."),
        ("broken", 1.2, "broken, 1.2 mm fell."),
        ("not yet known", 0.0, "not yet known, 0 mm fell so far as is known."),
        ("not yet known", None, "not yet known."),
    ],
)
def test_a_promise_in_a_line(outcome: Outcome, fell_mm: float | None, end: str) -> None:
    assert promise_words(judged(outcome, fell_mm), TODAY) == (
        "Wed 14, a service: good promise of 5 mm or more by Thu 15, in 85% of its futures, in the middle 9.2 mm: "
        + end
    )


def test_a_doubtful_one_is_called_so() -> None:
    said = promise_words(judged("broken", 0.0, share=0.4, good=False), TODAY)
    assert "doubtful promise" in said
    assert "40%" in said


def test_how_a_service_kept_its_word() -> None:
    assert (
        reliability_words(Reliability("a service", 1, 9, 6, 180))
        == "a service, 1 day ahead: 9 good promises on 180 mornings, 6 kept, 3 broken."
    )
    assert (
        reliability_words(Reliability("a service", None, 0, 0, 1))
        == "a service, all in all: no good promise on 1 morning, none judged yet."
    )


def test_from_where_on_a_service_is_believed() -> None:
    assert (
        bar_words(Reliability("a service", None, 9, 9, 180))
        == "a service: a promise is good from 70% of its futures on."
    )
    assert (
        bar_words(Reliability("a service", None, 27, 18, 180))
        == "a service: a promise is good from 76% of its futures on, not 70%: it broke 9 of 27."
    )


@pytest.mark.parametrize(
    ("share", "bar", "tenths"),
    [
        (0.7, 0.7, 7),
        (0.699, 0.7, 6),
        (0.65, 0.7, 6),
        (0.74, 0.76, 7),
        (0.949, 0.95, 9),
        (0.96, 0.95, 10),
        (0.01, 0.7, 1),
    ],
)
def test_tenths_keep_to_their_side_of_the_bar(share: float, bar: float, tenths: int) -> None:
    """What is not believed is never said to be as many tenths as what is."""
    assert tenths_of(share, bar) == tenths
