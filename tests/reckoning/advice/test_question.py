"""At most one question a morning: the one whose answer narrows the spread most."""

from datetime import timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Flow, Tap
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.question import question_of
from soakbook.reckoning.advice.rounds import morning_on
from tests.reckoning.gardens import PLANTED, at, bed, pages, roses, soak, weather

DAY = PLANTED + timedelta(days=20)
KNOWN: dict[str, Any] = {
    "sand_fraction": 0.4,
    "clay_fraction": 0.2,
    "rain_share": 1.0,
    "hole": "gone",
}


def judgement(*entries: AnyEntry, members: int = 60, **of_bed: Any) -> Judgement:
    taps = of_bed.pop("taps", ())
    book = pages(
        [roses()],
        entries,
        beds=[bed(**of_bed)],
        days=weather(PLANTED - timedelta(days=5), 40),
        taps=taps,
    )
    found = morning_on(book, DAY, members).judgement
    assert found is not None
    return found


def test_where_all_is_known_nothing_is_asked() -> None:
    assert question_of(judgement(**KNOWN)) is None


def test_what_would_tell_next_to_nothing_is_not_asked() -> None:
    """The share of the rain in the middle of a dry spell: known to matter little, left unasked."""
    of = judgement(place="half shade", **(KNOWN | {"rain_share": None}))
    assert question_of(of) is None


def test_the_drain_hole_is_asked_for_where_a_slow_bed_stands_sodden() -> None:
    flood = soak(at(DAY - timedelta(days=1), 19), 2000.0)
    question = question_of(judgement(flood, soil="clay"))
    assert question is not None
    assert (question.about, question.bed) == ("hole", "bed")
    assert "30 cm hole" in question.ask


@pytest.mark.parametrize(("days_ago", "is_asked"), [(30, False), (31, True)])
def test_a_hose_test_is_asked_for_again_after_thirty_days(days_ago: int, is_asked: bool) -> None:
    tap = Tap("tap", "A", flows=(Flow(12.0, DAY - timedelta(days=days_ago)),))
    question = question_of(judgement(tap="A", taps=(tap,), **KNOWN))
    assert (question is not None and question.about == "flow") is is_asked


def test_a_tap_that_no_bed_uses_is_not_asked_after() -> None:
    old = Tap("tap", "B", flows=(Flow(12.0, PLANTED - timedelta(days=90)),))
    assert question_of(judgement(taps=(old,), **KNOWN)) is None


def test_no_second_finger_is_asked_for_where_the_round_sends_one() -> None:
    """A ball soaked the day before yesterday may be drying or not: a finger would tell."""
    of = judgement(soak(at(DAY - timedelta(days=2), 7), 60.0), **KNOWN)
    asked = question_of(of)
    assert asked is not None
    assert asked.about in ("feel", "look")
    assert question_of(of, {"another"}) == asked
    assert question_of(of, {"bed"}) is None
