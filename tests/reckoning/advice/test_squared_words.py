"""A feel's change in words: what was reckoned, how far it moved, what is thought since."""

from typing import Any

import pytest

from soakbook.reckoning.advice.squared_words import felt_of, said
from soakbook.reckoning.simulation.touches import Change, Squared
from tests.reckoning.gardens import PLANTED, at, feel


def squared(**fields: Any) -> Squared:
    """A ball reckoned drying at 0.52, felt dry, moved to 0.45; its limit 0.40."""
    given: dict[str, Any] = {
        "day": PLANTED,
        "feel_uid": "a feel",
        "bed_uid": "bed",
        "planting_uid": "bed/roses",
        "store": "ball",
        "felt": "dry",
        "expected": 0.60,
        "now": 0.52,
        "sodden": (False, False),
        "limit": 0.40,
        "innovation": -1.0,
        "learned": {"ball": -0.1, "aw": 0.0, "p": 2.0},
    }
    given |= fields
    change = Change(*(given.pop(name) for name in Change._fields))
    return Squared(**given, change=lambda: change)


def test_how_far_the_store_was_moved_towards_what_was_felt() -> None:
    """From 0.60 to 0.52, of the way to the middle of dry at 0.35: a third."""
    assert said([squared()]) == (
        "Reckoned then: ball drying. I have moved the ball down a third of the way."
    )


@pytest.mark.parametrize(
    ("now", "way"),
    [
        (0.54, "down a quarter of the way"),
        (0.47, "down half-way"),
    ],
)
def test_the_way_in_words(now: float, way: str) -> None:
    assert said([squared(now=now)]).endswith(f"I have moved the ball {way}.")


def test_a_new_state_is_named_before_the_way() -> None:
    assert "moved the ball from drying to wanting" in said([squared(now=0.41)])
    up = squared(felt="wet", expected=0.30, now=0.72)
    assert "moved the ball from wanting to holding" in said([up])


def test_what_was_expected_is_left_where_it_is() -> None:
    same = squared(expected=0.48, now=0.46)
    assert said([same]) == "Reckoned then: ball drying, much as felt."


def test_sour_has_no_upper_end() -> None:
    """However far above what it can keep: the finger says no other thing."""
    flooded = squared(store="bed", felt="sour", expected=1.9, now=1.7, sodden=(True, True))
    assert said([flooded]) == "Reckoned then: bed sodden, much as felt."


def test_two_stores_stand_in_one_sentence_each() -> None:
    bed = squared(store="bed", felt="moist", expected=1.15, now=1.02, sodden=(True, False))
    assert said([squared(), bed]) == (
        "Reckoned then: ball drying and bed sodden. I have moved the ball down a third of the way and the bed "
        "from sodden to holding."
    )


@pytest.mark.parametrize(
    ("learned", "words"),
    [
        ({"ball": -0.6}, "the ball keeps less"),
        ({"ball": 0.6}, "the ball keeps more"),
        ({"share": -0.3}, "less of the rain gets there"),
        ({"exposure": 0.4}, "the place dries faster"),
    ],
)
def test_what_is_thought_of_bed_and_planting_since(learned: dict[str, float], words: str) -> None:
    assert said([squared(learned=learned)]).endswith(f"and now think {words} than I had assumed.")


def test_what_both_stores_taught_is_added_up() -> None:
    two = [squared(learned={"aw": 0.2}), squared(store="bed", learned={"aw": 0.2})]
    assert "the soil holds more" in said(two)
    against = [squared(learned={"aw": 0.2}), squared(store="bed", learned={"aw": -0.2})]
    assert "soil holds" not in said(against)


def test_no_multiplier_is_shown_as_a_number() -> None:
    text = said([squared(learned={"ball": -0.6, "aw": 0.5, "kcb": 0.9})])
    assert not any(letter.isdigit() for letter in text)


def test_a_feel_is_shown_with_what_it_changed() -> None:
    felt = feel(at(PLANTED, 6, 30), ball="dry", bed="moist", by="Ann", unsure=True)
    shown = felt_of(felt, [squared(feel_uid=felt.uid), squared(feel_uid="another")])
    assert shown is not None
    assert (shown.ball, shown.bed, shown.by, shown.unsure) == ("dry", "moist", "Ann", True)
    assert shown.at == at(PLANTED, 6, 30).isoformat()
    (one,) = shown.squared
    assert (one.store, one.expected_state, one.now_state) == ("ball", "drying", "drying")
    assert shown.say == said([squared()])
    assert felt_of(None, [squared()]) is None


def test_a_feel_of_what_is_not_reckoned_changed_nothing() -> None:
    shown = felt_of(feel(PLANTED, ball="dry"), [])
    assert shown is not None
    assert (shown.squared, shown.say) == ((), "")


def test_a_rounding_below_nothing_is_shown_as_nothing() -> None:
    felt = feel(at(PLANTED, 6, 30), ball="dust")
    shown = felt_of(felt, [squared(feel_uid=felt.uid, felt="dust", expected=-1e-18, now=-1e-18)])
    assert shown is not None
    assert (shown.squared[0].expected_fraction, shown.squared[0].now_fraction) == (0.0, 0.0)
