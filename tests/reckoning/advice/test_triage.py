"""Limp leaves asked after: every branch of the trade's order of asking. Mostly common practice, no source."""

from typing import get_args

import pytest

from soakbook.garden.records import FeltClass
from soakbook.reckoning.advice.triage import (
    ASK,
    BY_HAND,
    HANDS,
    Action,
    Phase,
    Seen,
    Step,
    triage_of,
)

AT_DAWN = Seen("dawn", "05:30")
AT_THREE = Seen("noon", "15:00")
AT_EIGHT = Seen("dusk", "20:00")
NO_HOUR = Seen(None)
LIMP = (AT_DAWN, AT_THREE, AT_EIGHT, NO_HOUR)


@pytest.mark.parametrize(
    ("seen", "step", "action", "words"),
    [
        (AT_THREE, "dusk", "shade", "Limp at 15:00 in the sun is a note, not a call. Shade them"),
        (AT_THREE._replace(dusk_gone=True), "dawn", "wait", "Look again at dawn"),
        (AT_EIGHT, "dawn", "wait", "Limp at 20:00: look again at dawn"),
        (AT_DAWN, "ball", None, "feel the ball and a hand's breadth outside before anything"),
        (AT_DAWN._replace(hour="15:00"), "ball", None, "Limp at 15:00, and in the morning already"),
        (AT_DAWN._replace(has_ball=False), "bed", None, "feel the soil a hand's breadth from the"),
        (NO_HOUR, "ball", None, "Without its hour a wilt says little"),
        (AT_DAWN._replace(upright=True), "done", "wait", "They stand at 05:30: no water for the"),
        (AT_THREE._replace(upright=True), "done", "wait", "They stand at 15:00"),
        (AT_EIGHT._replace(upright=True), "dawn", "wait", "Look once more at dawn"),
        (NO_HOUR._replace(upright=True), "done", "wait", "They stand: no water"),
        (AT_DAWN._replace(soaked_since=True), "dusk", "wait", "Soaked since"),
        (AT_EIGHT._replace(soaked_since=True), "dawn", "wait", "Soaked since"),
    ],
)
def test_the_hour_is_asked_first(seen: Seen, step: Step, action: Action | None, words: str) -> None:
    found = triage_of(seen)
    assert (found.step, found.action) == (step, action)
    assert words in found.say
    assert not found.by_hand


BOTH: list[tuple[FeltClass, FeltClass, Action]] = [
    ("dust", "dust", "water"),
    ("dry", "dry", "water"),
    ("dry", "moist", "re_wet"),
    ("dry", "wet", "re_wet"),
    ("dust", "sour", "re_wet"),
    ("moist", "dry", "water"),
    ("moist", "moist", "wait"),
    ("moist", "wet", "hold"),
    ("moist", "sour", "hold"),
    ("wet", "dust", "water"),
    ("wet", "moist", "hold"),
    ("wet", "wet", "hold"),
    ("sour", "dry", "hold"),
    ("sour", "sour", "hold"),
]


@pytest.mark.parametrize(("ball", "bed", "action"), BOTH)
def test_at_dawn_the_finger_decides(ball: FeltClass, bed: FeltClass, action: Action) -> None:
    found = triage_of(AT_DAWN._replace(ball=ball, bed=bed))
    assert found.action == action
    assert found.by_hand
    assert found.step == ("tug" if action == "wait" else "done")


@pytest.mark.parametrize(
    ("bed", "action"), [("dust", "water"), ("dry", "water"), ("moist", "wait"), ("sour", "hold")]
)
def test_bare_roots_are_asked_of_the_bed_alone(bed: FeltClass, action: Action) -> None:
    found = triage_of(AT_DAWN._replace(has_ball=False, bed=bed))
    assert found.action == action
    assert found.say.startswith(f"Bed {bed}")


def test_every_pair_of_hands_has_its_rule() -> None:
    hands = set(HANDS.values())
    assert set(HANDS) == set(get_args(FeltClass))
    assert set(BY_HAND) == {(ball, bed) for ball in (*hands, None) for bed in hands}


@pytest.mark.parametrize("seen", LIMP)
@pytest.mark.parametrize(("ball", "bed", "action"), [one for one in BOTH if one[0] != "moist"])
def test_a_ball_that_is_dry_or_wet_outranks_the_hour(
    seen: Seen, ball: FeltClass, bed: FeltClass, action: Action
) -> None:
    assert triage_of(seen._replace(ball=ball, bed=bed)).action == action


@pytest.mark.parametrize("bed", [None, *get_args(FeltClass)])
def test_a_moist_ball_in_the_afternoon_leaves_it_to_the_hour(bed: FeltClass | None) -> None:
    found = triage_of(AT_THREE._replace(ball="moist", bed=bed))
    assert (found.step, found.action) == ("dusk", "shade")
    assert found.say.startswith("Ball moist")
    assert triage_of(NO_HOUR._replace(ball="moist", bed=bed)).step == "dawn"


@pytest.mark.parametrize(
    ("ball", "bed", "step"),
    [
        ("dry", None, "bed"),
        ("moist", None, "bed"),
        ("wet", None, "bed"),
        (None, "wet", "ball"),
        (None, "dry", "ball"),
    ],
)
def test_the_other_place_is_felt_too(
    ball: FeltClass | None, bed: FeltClass | None, step: Step
) -> None:
    found = triage_of(AT_DAWN._replace(ball=ball, bed=bed))
    assert (found.step, found.action) == (step, None)
    assert found.say.startswith(f"Ball {ball}" if ball else f"Bed {bed}")


def test_a_sour_ball_needs_no_second_finger() -> None:
    assert triage_of(AT_DAWN._replace(ball="sour")).action == "hold"


def test_a_feel_at_odds_with_itself_is_felt_again() -> None:
    found = triage_of(AT_DAWN._replace(ball="sour", bed="dust"))
    assert (found.step, found.action) == ("ball", None)
    assert "hardly dust-dry" in found.say


@pytest.mark.parametrize("has_ball", [True, False])
def test_moist_and_moved_lately_is_cut_back(has_ball: bool) -> None:
    """Cut back by a quarter to a third after a move: gardeners' answers, at second hand."""
    seen = AT_DAWN._replace(ball="moist" if has_ball else None, bed="moist", has_ball=has_ball)
    assert triage_of(seen).action == "wait"
    found = triage_of(seen._replace(moved_lately=True))
    assert (found.step, found.action) == ("done", "cut_back")
    assert "cut the top back by a third" in found.say


def test_a_move_explains_nothing_where_the_ball_is_dry_or_the_bed_wet() -> None:
    for ball, bed, action in BOTH:
        if (ball, bed) != ("moist", "moist"):
            seen = AT_DAWN._replace(ball=ball, bed=bed, moved_lately=True)
            assert triage_of(seen).action == action


def test_big_soft_leaves_flag_with_wet_roots() -> None:
    """A nursery's answer on hydrangeas, at second hand."""
    assert "flag with wet roots" in triage_of(AT_THREE._replace(soft_leaves=True)).say
    assert "flag with wet roots" not in triage_of(AT_THREE).say


@pytest.mark.parametrize(
    ("seen", "told"),
    [
        (AT_THREE._replace(afternoons=2), ""),
        (AT_THREE._replace(afternoons=3), "likely the wrong place or dose, not want of water. "),
        (AT_THREE._replace(afternoons=4, ball="dry", bed="dry"), "the wrong place or dose. "),
        (AT_DAWN._replace(afternoons=3), ""),
    ],
)
def test_three_afternoons_in_a_week_tell_of_the_place(seen: Seen, told: str) -> None:
    say = triage_of(seen).say
    assert told in say
    assert ("afternoons in a week" in say) == bool(told)


def test_whatever_is_seen_there_is_a_question_or_one_thing_to_do() -> None:
    phases: tuple[tuple[Phase | None, str], ...] = (
        ("dawn", "06:00"),
        ("noon", "15:00"),
        ("dusk", "21:00"),
        (None, ""),
    )
    classes = (None, *get_args(FeltClass))
    actions = set()
    for phase, hour in phases:
        for ball in classes:
            for bed in classes:
                for has_ball, moved in ((True, True), (True, False), (False, False)):
                    seen = Seen(
                        phase, hour, ball=ball if has_ball else None, bed=bed,
                        has_ball=has_ball, moved_lately=moved,
                    )  # fmt: skip
                    found = triage_of(seen)
                    assert found.ask == ASK[found.step]
                    assert found.action or found.ask
                    assert not {"{", "}"} & set(found.say)
                    actions.add(found.action)
    assert actions == {None, *get_args(Action)}
