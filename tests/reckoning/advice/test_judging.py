"""Every planting judged: due, overruled by a finger, held back, taken along, laid by."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Absence, Bed, Garden, Person, Planting
from soakbook.reckoning.advice.judging import Judged
from soakbook.reckoning.advice.rounds import Morning, morning_on
from soakbook.reckoning.simulation.lanes import plain
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    feel,
    garden,
    judged_of,
    left,
    pages,
    roses,
    soak,
    weather,
)

DAY = PLANTED + timedelta(days=10)
BEFORE = DAY - timedelta(days=1)
WET = soak(at(BEFORE, 8), 300.0)
"""Thirty litres a rose the day before: nothing is due."""

DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
WHIPS = roses(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0)


def morning(
    *entries: AnyEntry, plantings: tuple[Planting, ...] = (roses(),), **more: Any
) -> Morning:
    given: dict[str, Any] = {
        "beds": (more.pop("of_bed", bed()),),
        "days": more.pop("days", weather(PLANTED - timedelta(days=5), 90, et0_mm=2.0)),
    }
    day = more.pop("day", DAY)
    members = more.pop("members", 20)
    return morning_on(pages(plantings, entries, **given | more), day, members)


def judged(*entries: AnyEntry, uid: str = "bed/roses", **more: Any) -> Judged:
    return judged_of(morning(*entries, **more), uid)


def test_a_dry_ball_is_due_and_a_soaked_one_is_not() -> None:
    assert judged().due
    rested = judged(WET)
    assert (rested.due, rested.verdict, rested.dose_kind) == (False, "leave", None)


def test_parched_is_called_a_rescue() -> None:
    assert judged().dose_kind == "rescue"
    near = next(
        one for days in range(1, 10) if (one := judged(day=PLANTED + timedelta(days=days))).due
    )
    assert (near.verdict, near.dose_kind) == ("soak", "soak")


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


def test_a_leading_ball_felt_wet_this_morning_is_not_due() -> None:
    """The finger knows better than the sums; what it found yesterday says nothing of today."""
    assert (judged().ball_leads, judged().due) == (True, True)
    assert not judged(feel(at(DAY, 6), ball="wet")).due
    assert judged(feel(at(BEFORE, 9), ball="wet")).due
    assert judged(feel(at(DAY, 6), ball="moist")).due


def test_what_was_left_today_is_off_the_round_until_tomorrow() -> None:
    one = judged(left(at(DAY, 6, 30)))
    assert (one.left, one.due, one.verdict) == (True, False, "leave")
    assert one.prospect.wanted_on == DAY + timedelta(days=1)
    assert judged(left(at(BEFORE, 9))).due


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


def test_on_the_planting_day_water_in_until_it_is_entered() -> None:
    new = roses(planted_on=DAY)
    before, after = (
        morning(plantings=(new,)),
        morning(plantings=(new,), day=DAY + timedelta(days=1)),
    )
    assert (judged_of(before).verdict, judged_of(before).dose_kind) == ("soak", "water_in")
    assert judged_of(after).dose_kind != "water_in"


def test_taken_along_within_two_days_where_the_bed_is_called_anyhow() -> None:
    """Dug roses wanted on the ninth day, beside thirsty ones called every day; not in another bed."""
    thirsty = roses(name="thirsty", canopy_start_m2=0.4)
    day = PLANTED + timedelta(days=6)
    beside = judged_of(morning(plantings=(thirsty, DUG), day=day))
    alone = judged_of(morning(plantings=(DUG,), day=day))
    assert day < (alone.prospect.wanted_on or date.max) <= day + timedelta(days=2)
    assert (alone.verdict, alone.while_there) == ("leave", False)
    assert (beside.verdict, beside.dose_kind, beside.while_there, beside.due) == (
        "soak",
        "soak",
        True,
        False,
    )


def test_not_taken_along_when_wanted_later() -> None:
    thirsty = roses(name="thirsty", canopy_start_m2=0.4)
    day = PLANTED + timedelta(days=5)
    one = judged_of(morning(plantings=(thirsty, DUG), day=day))
    assert one.prospect.wanted_on == day + timedelta(days=3)
    assert (one.verdict, one.while_there) == ("leave", False)


def test_readiness_is_the_gardens_patience() -> None:
    """The leaner the garden, the later the first call."""

    def first_call(of: Garden) -> int:
        days = range(1, 20)
        due = (
            n
            for n in days
            if judged(plantings=(DUG,), garden=of, day=PLANTED + timedelta(days=n)).due
        )
        return next(due)

    keen, fair, lean = (first_call(garden(readiness=word)) for word in ("keen", "fair", "lean"))
    assert keen <= fair <= lean
    assert keen < lean


def test_the_next_visit_is_the_next_day_somebody_comes() -> None:
    """Away for four days from tomorrow: what would be wanted within them is due today."""
    ann = Person("ann", "Ann")
    away = ann._replace(
        absences=(Absence(PLANTED + timedelta(days=6), PLANTED + timedelta(days=9)),)
    )
    day = PLANTED + timedelta(days=5)
    staying, leaving = (judged(plantings=(DUG,), day=day, people=(one,)) for one in (ann, away))
    assert (staying.due, leaving.due) == (False, True)
    assert leaving.prospect.share_due > staying.prospect.share_due


AUTUMN = PLANTED.replace(month=11, day=20)


@pytest.mark.parametrize(
    ("planting", "of_bed", "verdict"),
    [
        (roses(), bed(), "laid_by"),
        (roses(plant_class="perennial", leaf="dies_down"), bed(), "laid_by"),
        (roses(leaf="evergreen"), bed(), "leave"),
        (roses(), bed(place="south wall foot"), "leave"),
    ],
    ids=["deciduous", "dies down", "evergreen", "wall foot"],
)
def test_laid_by_after_leaf_fall_in_soil_that_is_moist(
    planting: Planting, of_bed: Bed, verdict: str
) -> None:
    """At the latest on 15 November; evergreens and wall feet stay on."""
    rained = {AUTUMN - timedelta(days=n): 20.0 for n in range(1, 40)}
    days = weather(PLANTED - timedelta(days=5), 210, rain=rained, et0_mm=0.5, tmean_c=9.0)
    one = judged(plantings=(planting,), of_bed=of_bed, days=days, day=AUTUMN)
    assert one.lead.p50 > 0.8
    assert one.verdict == verdict


def test_not_laid_by_in_dry_soil_nor_in_leaf_nor_before_leaf_out() -> None:
    shower = {AUTUMN - timedelta(days=20): 60.0}
    dry = weather(PLANTED - timedelta(days=5), 210, rain=shower, et0_mm=0.5, tmean_c=9.0)
    wet = weather(
        PLANTED - timedelta(days=5), 210, rain={AUTUMN - timedelta(days=40): 90.0}, et0_mm=0.5
    )
    half_dry = judged(days=dry, day=AUTUMN)
    assert 0.3 < half_dry.lead.p50 < 0.8
    assert half_dry.verdict == "leave"
    assert judged(days=wet, day=AUTUMN - timedelta(days=38)).verdict == "leave"
    winter = date(2031, 2, 20)
    planted = roses(planted_on=date(2031, 2, 3))
    cold = weather(
        date(2031, 1, 20), 60, rain={winter - timedelta(days=1): 30.0}, et0_mm=0.3, tmean_c=4.0
    )
    new = judged(plantings=(planted,), days=cold, day=winter)
    assert (new.lead.p50 > 0.8, new.verdict) == (True, "leave")


def test_what_was_laid_by_stays_so_through_the_winter() -> None:
    """Planted the spring before, bare since November, in soil that is moist: January does not wake it."""
    january = date(2032, 1, 20)
    rained = {january - timedelta(days=n): 8.0 for n in range(1, 60, 3)}
    days = weather(PLANTED - timedelta(days=5), 280, rain=rained, et0_mm=0.4, tmean_c=5.0)
    old = judged(days=days, day=january)
    assert (old.lead.p50 > 0.8, old.verdict) == (True, "laid_by")
    new = judged(days=days, day=january, plantings=(roses(planted_on=january - timedelta(days=9)),))
    assert new.verdict == "leave"


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


def test_only_the_leading_store_has_its_dose_raised_by_a_finger() -> None:
    """The bed felt dry while the ball leads squares the bed up, and no more: its lack is what is reckoned."""
    felt = morning(WET, feel(at(DAY, 6), bed="dry")).judgement
    assert felt is not None
    lack = felt.morning.roots.reach_capacity_l - felt.morning.stores.reach_store_l
    assert plain(felt.need.reach_l, 0) == pytest.approx(max(0.0, plain(lack, 0)))
    assert plain(felt.need.reach_l, 0) < 0.65 * plain(felt.morning.roots.reach_capacity_l, 0)


def test_looking_far_past_a_long_absence_is_no_fault() -> None:
    """Nobody for seven weeks: the reckoning looks as far, and tomorrow's list as well."""
    until = DAY + timedelta(days=1)
    gone = Person("ann", "Ann", last=until)
    back = Person("tom", "Tom", first=until + timedelta(days=49))
    found = morning(WET, people=(gone, back))
    assert found.judgement is not None
    assert judged_of(found).prospect.wanted_on is not None
    last = morning(WET, people=(gone, back), day=until)
    assert last.judgement is not None
    assert len(last.judgement.ahead) == 49
    assert judged_of(last).due
