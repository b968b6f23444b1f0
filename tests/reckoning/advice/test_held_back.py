"""Held back where the soil is too wet, and a dry ball in it re-wetted."""

from datetime import timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from tests.reckoning.advice.judged import BEFORE, DAY, DUG, judged, morning
from tests.reckoning.gardens import PLANTED, at, bed, feel, judged_of, roses, soak

CLAY = bed(soil="clay")
FLOOD = soak(at(BEFORE, 19), 2000.0)


def test_a_sodden_cell_is_held_back() -> None:
    one = judged(FLOOD, of_bed=CLAY, plantings=(DUG,))
    assert (one.held, one.sodden_share > 0.5) == (True, True)
    assert (one.verdict, one.dose_kind, one.bed_state, one.ball_state) == (
        "held_back",
        None,
        "sodden",
        "sodden",
    )


@pytest.mark.parametrize(
    ("felt", "held"),
    [
        (feel(at(DAY, 6), bed="wet"), True),
        (feel(at(DAY, 6), bed="sour"), True),
        (feel(at(BEFORE, 9), bed="sour"), True),
        (feel(at(BEFORE - timedelta(days=1), 9), bed="sour"), False),
        (feel(at(DAY, 6), bed="moist"), False),
    ],
    ids=["wet", "sour", "yesterday", "two days ago", "moist"],
)
def test_a_bed_felt_wet_in_the_last_two_days_holds_back(felt: AnyEntry, held: bool) -> None:
    one = judged(felt)
    assert one.soil.p50 > 0.4
    assert one.due
    assert (one.held, one.verdict) == (held, "held_back" if held else "soak")


@pytest.mark.parametrize(
    ("ball", "kind"), [(None, "re_wet"), ("dry", "re_wet"), ("moist", None), ("wet", None)]
)
def test_a_ball_that_a_finger_found_moist_is_not_rewetted(ball: Any, kind: str | None) -> None:
    """The ball is reckoned dry in a bed felt wet: without a finger in the ball the reckoning's word holds."""
    one = judged(feel(at(DAY, 6), ball=ball, bed="wet"))
    assert (one.verdict == "soak", one.dose_kind) == (False, kind)


def test_a_ball_that_was_rewetted_since_it_was_felt_is_not_rewetted_again() -> None:
    """Felt dry in a bed felt wet, and four pours given an hour later: not again next morning."""
    flood = soak(at(BEFORE - timedelta(days=1), 19), 2000.0)
    felt = feel(at(BEFORE, 6), ball="dry", bed="sour")
    given = soak(at(BEFORE, 7), 60.0, kind="re_wet")
    assert judged(flood, felt, of_bed=CLAY, plantings=(DUG,)).dose_kind == "re_wet"
    after = judged(flood, felt, given, of_bed=CLAY, plantings=(DUG,))
    assert (after.held, after.dose_kind) == (True, None)


def test_soil_and_ball_felt_wet_are_held_back_where_the_sums_want_water() -> None:
    """As moist in the ball is; not wanted again before tomorrow."""
    for ball in ("moist", "wet"):
        one = judged(feel(at(DAY, 6), ball=ball, bed="wet"))
        assert (one.held, one.verdict) == (True, "held_back")
    assert one.prospect.wanted_on is None or one.prospect.wanted_on > DAY


def test_what_a_ball_was_yesterday_does_not_keep_a_dry_one_from_being_rewetted() -> None:
    one = judged(feel(at(BEFORE, 6), ball="moist", bed="wet"))
    assert one.ball_state == "parched"
    assert (one.verdict, one.dose_kind) == ("held_back", "re_wet")


def test_felt_wet_holds_back_nothing_that_is_reckoned_below_its_threshold() -> None:
    dry = judged(
        feel(at(PLANTED + timedelta(days=30), 6), bed="wet"), day=PLANTED + timedelta(days=30)
    )
    assert dry.bed_margin < 0
    assert (dry.held, dry.verdict) == (False, "soak")


def test_a_dry_ball_in_a_held_bed_is_rewetted_by_reckoning_or_by_finger() -> None:
    by_reckoning = judged(feel(at(DAY, 6), bed="wet"))
    by_finger = judged(
        FLOOD, feel(at(DAY, 6), ball="dry", bed="sour"), of_bed=CLAY, plantings=(DUG,)
    )
    for one in (by_reckoning, by_finger):
        assert (one.verdict, one.dose_kind) == ("held_back", "re_wet")


def test_a_held_planting_does_not_hold_back_its_neighbours() -> None:
    """A finger finds the bed wet for both; only the one that stands above its threshold is held."""
    asters = roses(name="asters", origin="dug", bed_felt="dust", count=3)
    found = morning(feel(at(DAY, 6), bed="wet"), plantings=(roses(), asters))
    held, free = judged_of(found), judged_of(found, "bed/asters")
    assert (held.held, held.verdict) == (True, "held_back")
    assert (free.held, free.verdict) == (False, "soak")


def test_what_is_held_is_not_taken_along() -> None:
    """The bed felt wet holds the dug roses, wanted soon; the thirsty ones in ground below its threshold are soaked."""
    thirsty = roses(
        name="thirsty", origin="dug", bed_felt="dust", canopy_start_m2=0.4, ball_felt="dust"
    )
    day = PLANTED + timedelta(days=6)
    found = morning(feel(at(day, 6), bed="wet"), plantings=(thirsty, DUG), day=day)
    called, held = judged_of(found, "bed/thirsty"), judged_of(found)
    assert (called.verdict, held.held, held.while_there, held.verdict) == (
        "soak",
        True,
        False,
        "leave",
    )
