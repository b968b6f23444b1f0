"""What a finger found overrules what is reckoned: due or not, and how much."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.reckoning.simulation.lanes import plain
from tests.reckoning.advice.judged import BEFORE, DAY, DUG, WET, judged, morning
from tests.reckoning.gardens import (
    PLANTED,
    at,
    feel,
    judged_of,
    roses,
    soak,
    weather,
)

WHIPS = roses(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0)


@pytest.mark.parametrize(
    ("felt", "due"),
    [
        (feel(at(DAY, 6, 30), ball="dry"), True),
        (feel(at(DAY, 6, 30), ball="dust"), True),
        (feel(DAY, ball="dry"), True),
        (feel(at(BEFORE, 18), ball="dry"), True),
        (feel(at(BEFORE, 7), ball="dry"), False),
        (feel(at(DAY, 6, 30), ball="moist"), False),
        (feel(at(DAY, 6, 30), bed="dry"), False),
        (feel(at(DAY, 7, 30), ball="dry"), False),
    ],
    ids=[
        "dry",
        "dust",
        "undated",
        "yesterday",
        "before the soak",
        "moist",
        "bed",
        "after the round",
    ],
)
def test_a_leading_ball_felt_dry_since_the_soak_is_due_whatever_is_reckoned(
    felt: AnyEntry, due: bool
) -> None:
    one = judged(WET, felt)
    assert one.ball_leads
    assert (one.due, one.verdict) == (due, "soak" if due else "leave")


def test_a_feel_of_the_day_before_yesterday_overrules_nothing() -> None:
    two_days = DAY - timedelta(days=2)
    soaked = soak(at(two_days - timedelta(days=1), 8), 300.0)
    old, fresh = feel(at(two_days, 18), ball="dry"), feel(at(BEFORE, 18), ball="dry")
    assert not judged(soaked, old, plantings=(DUG,)).due
    assert judged(soaked, fresh, plantings=(DUG,)).due


def test_a_later_feel_takes_back_an_earlier_one() -> None:
    dry, moist = feel(at(BEFORE, 18), ball="dry"), feel(at(DAY, 6, 30), ball="moist")
    assert judged(WET, dry, plantings=(DUG,)).due
    assert not judged(WET, dry, moist, plantings=(DUG,)).due


def test_where_the_bed_leads_a_dry_bed_overrules_and_a_dry_ball_does_not() -> None:
    one = judged(WET, feel(at(DAY, 6), bed="dry"), plantings=(WHIPS,))
    assert (one.ball_leads, one.due, one.ball) == (False, True, None)
    rooted = roses(planted_on=PLANTED - timedelta(days=150))
    known = weather(PLANTED - timedelta(days=200), 260)
    assert not judged_of(morning(WET, plantings=(rooted,), days=known)).ball_leads
    assert not judged(WET, feel(at(DAY, 6), ball="dry"), plantings=(rooted,), days=known).due


def test_an_unnamed_feel_is_of_the_planting_with_most_plants() -> None:
    few = roses(name="few", count=3)
    felt = feel(at(DAY, 6), ball="dry")
    both = morning(WET, felt, plantings=(roses(), few))
    assert [judged_of(both, f"bed/{name}").due for name in ("roses", "few")] == [True, False]
    named = morning(WET, replace(felt, planting_uid="bed/few"), plantings=(roses(), few))
    assert [judged_of(named, f"bed/{name}").due for name in ("roses", "few")] == [False, True]


@pytest.mark.parametrize(("felt", "share"), [("dry", 0.65), ("dust", 0.90)])
def test_a_dry_feel_sets_the_least_of_the_dose(felt: Any, share: float) -> None:
    """At least 1 - the class mid of the ball's capacity, over aim and efficiency."""
    one = morning(WET, feel(at(DAY, 6), ball=felt))
    assert one.judgement is not None
    capacity = plain(one.judgement.season.fixed.ball_capacity_l, 0)
    assert one.judgement.need.ball_l[0, 0] == pytest.approx(share * capacity)


def test_a_leading_ball_felt_wet_this_morning_is_not_due() -> None:
    """The finger knows better than the sums; what it found yesterday says nothing of today."""
    assert (judged().ball_leads, judged().due) == (True, True)
    assert not judged(feel(at(DAY, 6), ball="wet")).due
    assert judged(feel(at(BEFORE, 9), ball="wet")).due
    assert judged(feel(at(DAY, 6), ball="moist")).due


def test_only_the_leading_store_has_its_dose_raised_by_a_finger() -> None:
    """The bed felt dry while the ball leads squares the bed up, and no more: its lack is what is reckoned."""
    felt = morning(WET, feel(at(DAY, 6), bed="dry")).judgement
    assert felt is not None
    lack = felt.morning.roots.reach_capacity_l - felt.morning.stores.reach_store_l
    assert plain(felt.need.reach_l, 0) == pytest.approx(max(0.0, plain(lack, 0)))
    assert plain(felt.need.reach_l, 0) < 0.65 * plain(felt.morning.roots.reach_capacity_l, 0)
