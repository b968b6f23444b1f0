"""A good promise of rain puts off a soak: once, where nothing is parched, nor felt dry, nor held back."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.promises import Made
from soakbook.garden.records import Person, Planting
from soakbook.reckoning.advice.judging import Judged, judge
from soakbook.reckoning.advice.report import Verdict
from soakbook.reckoning.advice.rounds import Morning, morning_on, round_of
from soakbook.reckoning.simulation.run import run
from tests.reckoning.advice.handmade import call, dosed, judged
from tests.reckoning.forecasts import SERVICE, foretold, in_members, issued, promising, wet_in
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    call_of,
    feel,
    judged_of,
    left,
    mulch,
    pages,
    rain,
    roses,
    season,
    soak,
    weather,
)

FIRST = PLANTED + timedelta(days=8)
"""The morning on which DUG is first due on 2 mm a day; it can wait on this and the two that follow."""

BEFORE, SECOND, THIRD = (FIRST + timedelta(days=n) for n in (-1, 1, 2))
DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
MEMBERS = 41


def dry_days(**rain_on: Any) -> Any:
    return weather(PLANTED - timedelta(days=5), 60, et0_mm=2.0, rain=rain_on.get("rain"))


def morning(
    day: date = FIRST,
    *entries: AnyEntry,
    fall_mm: float = 15.0,
    tenths: int = 10,
    plantings: Sequence[Planting] = (DUG,),
    **fields: Any,
) -> Morning:
    """A morning with rain in some of ten futures of its own forecast, before the evening."""
    given: dict[str, Any] = {
        "forecasts": (promising(day, {day: fall_mm}, tenths=tenths),),
        "days": dry_days(),
    }
    return morning_on(pages(plantings, entries, **given | fields), day, MEMBERS)


def found(day: date = FIRST, *entries: AnyEntry, **fields: Any) -> Judged:
    return judged_of(morning(day, *entries, **fields))


def verdict(day: date = FIRST, *entries: AnyEntry, **fields: Any) -> Verdict:
    return found(day, *entries, **fields).verdict


def test_a_good_promise_puts_off_what_is_due_for_the_first_time() -> None:
    dry, wet = found(forecasts=()), found()
    assert (dry.verdict, dry.due, dry.prospect.can_wait) == ("soak", True, True)
    assert (wet.verdict, wet.due, wet.dose_kind) == ("rain", False, None)
    assert wet.prospect.share_due == dry.prospect.share_due
    assert wet.prospect.wanted_on == SECOND


def test_what_is_not_due_is_left_and_not_for_the_rain() -> None:
    assert (verdict(BEFORE), verdict(BEFORE, forecasts=())) == ("leave", "leave")


@pytest.mark.parametrize("day", [SECOND, THIRD])
def test_what_was_due_already_is_not_put_off_again(day: date) -> None:
    """Whether anything was promised then or not: what was due is what counts, not what was said."""
    one = found(day)
    assert (one.verdict, one.prospect.can_wait) == ("soak", True)


@pytest.mark.parametrize(
    ("entry", "expected"),
    [
        (soak(at(SECOND, 8), 1.0), "rain"),
        (soak(at(SECOND, 20), 1.0), "rain"),
        (soak(SECOND, 1.0, planting_uid="bed/roses"), "rain"),
        (soak(at(SECOND, 8), 1.0, planting_uid="bed/others"), "soak"),
        (soak(at(SECOND, 8), 1.0, "far"), "soak"),
        (soak(at(FIRST, 8), 1.0), "soak"),
        (left(at(SECOND, 8)), "soak"),
        (feel(at(SECOND, 8), bed="moist"), "soak"),
    ],
    ids=["soaked", "evening", "named", "another", "another bed", "before", "left", "felt"],
)
def test_after_a_soak_it_is_the_first_time_again(entry: AnyEntry, expected: Verdict) -> None:
    """A litre for ten plants does not slake; due on FIRST and SECOND, asked on THIRD."""
    others = roses(name="others", count=1, origin="bare", plant_class="whip", ball_volume_l=0.0,
                   ball_diameter_m=0.0)  # fmt: skip
    assert verdict(THIRD, entry, plantings=(DUG, others, roses("far"))) == expected


@pytest.mark.parametrize(("fell_mm", "expected"), [(4.9, "soak"), (5.2, "rain")])
def test_after_five_millimetres_into_the_soil_it_is_the_first_time_again(
    fell_mm: float, expected: Verdict
) -> None:
    one = found(THIRD, days=dry_days(rain={SECOND: fell_mm}))
    assert (one.verdict, one.prospect.share_due > 0.35) == (expected, True)


def test_rain_that_the_wall_kept_off_does_not_count() -> None:
    """6 mm at the gauge, 2.7 at the wall's foot, where nothing is due once more."""
    wet = dry_days(rain={SECOND: 6.0})
    wall = {"beds": [bed(rain_share=0.45)], "fall_mm": 40.0}
    assert verdict(THIRD, days=wet, **wall) == "soak"
    assert verdict(FIRST, days=dry_days(), **wall) == "rain"


def test_rain_since_it_was_due_is_not_laid_to_its_charge() -> None:
    """It was due on FIRST by what was known then; that 3 mm fell that day changes nothing of it."""
    one = found(SECOND, days=dry_days(rain={FIRST: 3.0}))
    assert one.prospect.can_wait
    assert (one.prospect.share_due > 0.35, one.verdict) == (True, "soak")


def test_it_is_not_forgotten_that_it_was_due_before_a_shower() -> None:
    """Due on FIRST, by 3.5 mm that day not on SECOND, and due again on THIRD: it has had its one wait."""
    showered = dry_days(rain={FIRST: 3.5})
    assert verdict(SECOND, days=showered) == "leave"
    one = found(THIRD, days=showered)
    assert (one.prospect.can_wait, one.verdict) == (True, "soak")


def test_rain_that_the_mulch_kept_does_not_count() -> None:
    """5.5 mm on chip that was laid dry: less than five go into the soil."""
    wet = dry_days(rain={SECOND: 5.5})
    one = found(THIRD, mulch(at(SECOND, 5), 5.0), days=wet)
    assert one.prospect.can_wait
    assert (one.prospect.share_due > 0.35, one.verdict) == (True, "soak")


def test_what_was_planted_since_was_not_due_before() -> None:
    """Dug ones due since yesterday; beside them pots planted yesterday, first due today."""
    new = roses(name="new", planted_on=FIRST, canopy_start_m2=0.2)
    of = morning(SECOND, plantings=(DUG, new))
    assert judged_of(of).verdict == "soak"
    young = judged_of(of, "bed/new")
    assert young.prospect.share_due > 0.35
    assert young.verdict == "rain"


def test_what_cannot_wait_is_not_put_off() -> None:
    """Below half its threshold by the evening: no promise is good enough, though 60 mm would slake it."""
    day = PLANTED + timedelta(days=2)
    a_little = soak(at(day - timedelta(days=1), 8), 0.1)
    thirsty = roses(canopy_start_m2=0.2)
    one = found(day, a_little, plantings=(thirsty,), fall_mm=60.0)
    assert (one.prospect.can_wait, one.verdict) == (False, "soak")
    hardier = found(day, a_little, plantings=(roses(canopy_start_m2=0.15),), fall_mm=60.0)
    assert (hardier.prospect.can_wait, hardier.verdict) == (True, "rain")


@pytest.mark.parametrize("felt", ["dry", "dust"])
def test_what_was_felt_dry_is_not_put_off(felt: Any) -> None:
    one = found(FIRST, feel(at(FIRST, 6), ball=felt))
    assert (one.verdict, one.due) == ("soak", True)
    assert one.prospect.wanted_on == FIRST


@pytest.mark.parametrize(
    ("tenths", "expected"), [(10, "rain"), (7, "rain"), (6, "soak"), (3, "soak"), (1, "soak")]
)
def test_a_doubtful_promise_puts_nothing_off(tenths: int, expected: Verdict) -> None:
    assert verdict(tenths=tenths) == expected


def test_rain_too_small_to_slake_puts_nothing_off() -> None:
    """Useful and sure, and more members than the risk would still be due with it."""
    small, day = roses(canopy_start_m2=0.17), PLANTED + timedelta(days=2)
    less, more = (found(day, plantings=(small,), fall_mm=mm) for mm in (6.0, 12.0))
    assert less.prospect.can_wait
    assert less.prospect.share_due == more.prospect.share_due > 0.35
    assert (less.verdict, more.verdict) == ("soak", "rain")


def test_rain_on_the_day_of_the_visit_is_too_late() -> None:
    assert verdict(forecasts=(promising(FIRST, {SECOND: 30.0}),)) == "soak"


def test_where_somebody_comes_in_two_days_the_rain_of_both_counts() -> None:
    """Nobody on FIRST: the evening before, what FIRST would ask for is due, and FIRST's rain puts it off."""
    ann = Person("ann", "Ann", frozenset(range(7)) - {FIRST.weekday()})
    told = (promising(BEFORE, {FIRST: 30.0}),)
    assert verdict(BEFORE, forecasts=(), people=(ann,)) == "soak"
    assert verdict(BEFORE, forecasts=told, people=(ann,)) == "rain"
    assert verdict(BEFORE, forecasts=told) == "leave"


def test_a_service_that_broke_its_promises_is_not_waited_for() -> None:
    """Good by 0.73 of the members, until the last three were broken: then it must be nine tenths sure."""
    made = tuple(Made(SERVICE, FIRST - timedelta(days=n), 1, 0.9, 8.0) for n in (3, 4, 5))
    assert verdict(tenths=7) == "rain"
    assert verdict(tenths=7, promises=made) == "soak"
    assert verdict(tenths=10, promises=made) == "rain"
    fell = dict.fromkeys((FIRST - timedelta(days=n) for n in (2, 3, 4, 5)), 5.0)
    assert found(tenths=7, promises=made, days=dry_days(rain=fell)).verdict != "soak"


def test_what_is_left_today_or_felt_wet_is_not_called_rain() -> None:
    assert verdict(FIRST, left(at(FIRST, 6))) == "leave"
    assert verdict(FIRST, feel(at(FIRST, 6), ball="wet")) == "leave"


def test_what_is_too_wet_for_water_is_held_back_and_not_left_for_rain() -> None:
    """The bed felt wet yesterday, its plants due by the reckoning: too wet, whatever is forecast."""
    day = PLANTED + timedelta(days=3)
    felt = feel(at(day, 6), bed="wet")
    dry = morning(day, felt, plantings=(roses(),), forecasts=())
    wet = morning(day, felt, plantings=(roses(),))
    for one in (dry, wet):
        of = judged_of(one)
        assert (of.held, of.due, of.verdict) == (True, True, "held_back")
        assert one.calls[0].verdict == "held_back"
        assert call_of(round_of(one)).reason.startswith("Too wet")
    assert verdict(day, plantings=(roses(),)) == "rain"


def test_on_the_planting_day_water_in_though_rain_is_likely() -> None:
    one = found(PLANTED, plantings=(roses(),), fall_mm=30.0)
    assert (one.verdict, one.dose_kind) == ("soak", "water_in")


def test_the_first_morning_of_all_has_no_earlier_ones() -> None:
    """Planted into dust today and watered in already: due again before tomorrow, and rain is likely."""
    thirsty = roses(ball_felt="dry", canopy_start_m2=0.2)
    of = pages((thirsty,), days=dry_days(), forecasts=(promising(PLANTED, {PLANTED: 60.0}),))
    dawn = run(season(of, PLANTED, MEMBERS))[-1]
    assert judge(dawn).judged[0].prospect.share_due > 0.35
    assert morning_on(of, PLANTED, MEMBERS).calls[0].verdict == "soak"


def test_a_silent_bed_may_have_a_promise() -> None:
    """Due yesterday and nothing heard; both readings are made, today's forecast and all."""
    thirsty = roses(canopy_start_m2=0.2)
    days = [PLANTED + timedelta(days=n) for n in range(2, 7)]
    for day in days:
        found = round_of(morning(day, plantings=(thirsty,)))
        assert call_of(found).verdict in ("soak", "rain")
    assert any(one.kind == "no_word" for one in found.findings)


def test_yesterdays_round_may_have_seen_further_than_todays_forecast() -> None:
    """Somebody every ninth day or so; yesterday's service told of twenty days, today's of three."""
    ann = Person("ann", "Ann", first=FIRST, last=FIRST)
    tom = Person("tom", "Tom", first=FIRST + timedelta(days=9))
    wet = {FIRST + timedelta(days=n): 8.0 for n in range(20)}
    told = (
        promising(SECOND, wet, days=3, source="another"),
        promising(FIRST, wet, days=20),
    )
    hardy = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=60.0, ball_diameter_m=0.6)
    one = morning(SECOND, forecasts=told, people=(ann, tom), plantings=(hardy,))
    yesterday = morning(FIRST, forecasts=told[1:], people=(ann, tom), plantings=(hardy,))
    assert judged_of(yesterday).verdict == "rain"
    assert one.judgement is not None


def test_what_the_gauge_had_this_morning_was_not_known_to_an_earlier_one() -> None:
    """Somebody every second day: what was due then, before last night's rain, has been waited for."""
    weekdays = frozenset(range(7)) - {SECOND.weekday()}
    ann = Person("ann", "Ann", weekdays)
    night = rain(at(SECOND, 6), 3.0, at(FIRST, 18))
    one = found(SECOND, night, people=(ann,))
    assert (one.prospect.share_due > 0.35, one.verdict) == (True, "soak")


def test_each_planting_of_a_bed_is_put_off_or_not_by_itself() -> None:
    """The large balls are due for the first time; the small ones were, and are soaked."""
    small = roses(name="small")
    of = morning(FIRST, plantings=(DUG, small))
    assert judged_of(of).verdict == "rain"
    assert judged_of(of, "bed/small").verdict == "soak"
    assert of.calls[0].verdict == "soak"
    assert [one.judged.planting.name for one in of.calls[0].going] == ["small"]


def test_under_mulch_it_is_the_rain_at_the_bed_that_is_promised() -> None:
    """6 mm come to the bed: useful by the share, though chip keeps some of it from the soil."""
    of = morning(FIRST, mulch(PLANTED, 5.0), fall_mm=6.0)
    assert of.judgement is not None
    assert of.judgement.promise is not None
    assert of.judgement.promise.share[0] > 0.7
    assert of.judgement.promise.counted_mm[0] < 5.0


WHOLE = {"soak": judged(), "held": judged(held=True, verdict="held_back", dose_kind=None)}
RAIN = judged(due=False, verdict="rain", dose_kind=None)
LEFT = judged(due=False, verdict="leave", dose_kind=None)
LAID_BY = judged(due=False, verdict="laid_by", dose_kind=None)


@pytest.mark.parametrize(
    ("plantings", "expected"),
    [
        ((LAID_BY, LEFT, RAIN, WHOLE["held"], WHOLE["soak"]), "soak"),
        ((LAID_BY, LEFT, RAIN, WHOLE["held"]), "held_back"),
        ((LAID_BY, LEFT, RAIN), "rain"),
        ((LAID_BY, LEFT), "leave"),
        ((LAID_BY,), "laid_by"),
    ],
)
def test_the_verdict_of_a_bed_is_the_first_that_holds(
    plantings: tuple[Judged, ...], expected: Verdict
) -> None:
    for order in (plantings, plantings[::-1]):
        assert call(*(dosed(one) for one in order)).verdict == expected


def test_the_plain_runs_rain_decides_nothing_by_itself() -> None:
    """The forecast's one value is wet, its members are not, and the other way round."""
    dry = in_members(FIRST, wet_in(1, 15.0))
    wet = in_members(FIRST, wet_in(10, 15.0), rain_mm=0.0)
    assert verdict(forecasts=(issued(FIRST, dry),)) == "soak"
    assert verdict(forecasts=(issued(FIRST, wet),)) == "rain"
    assert verdict(forecasts=(issued(FIRST, foretold(FIRST, 15.0)),)) == "soak"
