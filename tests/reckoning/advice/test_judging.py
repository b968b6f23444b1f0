"""Every planting judged: due before the next visit, watered in, left, taken along."""

from datetime import date, timedelta

import pytest

from soakbook.garden.records import Absence, Garden, Person
from soakbook.reckoning.advice.due import RISK
from soakbook.reckoning.advice.rounds import morning_now
from tests.reckoning.advice.judged import BEFORE, DAY, DUG, WET, judged, morning
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    garden,
    judged_of,
    left,
    pages,
    roses,
    soak,
    weather,
)

A_DAY = timedelta(days=1)


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


def test_what_was_left_today_is_off_the_round_until_tomorrow() -> None:
    one = judged(left(at(DAY, 6, 30)))
    assert (one.left, one.due, one.verdict) == (True, False, "leave")
    assert one.prospect.wanted_on == DAY + timedelta(days=1)
    assert judged(left(at(BEFORE, 9))).due


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


@pytest.mark.parametrize(("litres", "filled"), [(60.0, True), (1.0, False)])
def test_what_was_filled_today_is_not_called_again_though_nobody_comes(
    litres: float, filled: bool
) -> None:
    """Nobody for twelve days: it will not last, and more today would go past all the same."""
    gone = Person("ann", "Ann", absences=(Absence(DAY + A_DAY, DAY + timedelta(days=12)),))
    book = pages(
        (roses(),),
        (soak(at(DAY, 7), litres),),
        beds=(bed(),),
        days=weather(PLANTED - timedelta(days=5), 90, et0_mm=2.0),
        people=(gone,),
    )
    one = judged_of(morning_now(book, at(DAY, 8), 20))
    assert one.prospect.share_due > RISK
    assert (one.filled, one.due) == (filled, not filled)
    assert one.prospect.wanted_on == (DAY + A_DAY if filled else DAY)


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
