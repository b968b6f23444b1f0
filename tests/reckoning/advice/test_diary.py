"""What was lately entered about a bed."""

from datetime import timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.reckoning.advice.diary import Diary, diary_of
from tests.reckoning.gardens import PLANTED, at, bed, feel, left, loss, pages, roses, soak, wilt

DAY = PLANTED + timedelta(days=20)
ROSES = (roses(),)
BEFORE = DAY - timedelta(days=1)


def diary(*entries: AnyEntry, plantings: Any = ROSES) -> Diary:
    return diary_of(pages(plantings, entries, beds=[bed()]), bed(), DAY)


def test_only_the_beds_own_entries() -> None:
    assert diary(soak(BEFORE, 5.0, "other"), feel(BEFORE, "other", ball="dry")).entries == ()


def test_the_living_are_counted_after_every_loss_the_morning_knows() -> None:
    """Of those found dead this morning too: nobody waters them."""
    asters = roses(name="asters", count=4)
    found = diary(loss(BEFORE, 3), loss(at(DAY, 6, 30), 2), plantings=(roses(), asters))
    assert [(one.name, count) for one, count in found.living] == [("roses", 5), ("asters", 4)]
    assert diary(loss(BEFORE, 10)).living == ()


def test_what_is_planted_tomorrow_does_not_live_today() -> None:
    assert diary(plantings=(roses(planted_on=DAY + timedelta(days=1)),)).living == ()
    assert len(diary(plantings=(roses(planted_on=DAY),)).living) == 1


@pytest.mark.parametrize(
    ("entry", "hours"),
    [
        (soak(at(BEFORE, 7), 5.0), 24.0),
        (soak(at(BEFORE, 19), 5.0), 12.0),
        (soak(BEFORE, 5.0), 24.0),
    ],
)
def test_hours_since_the_last_soak_are_counted_to_the_round(entry: AnyEntry, hours: float) -> None:
    assert diary(soak(at(PLANTED, 8), 9.0), entry).hours_since_soak(roses()) == hours


def test_a_soak_of_another_planting_is_not_this_ones() -> None:
    other = soak(at(BEFORE, 8), 5.0, planting_uid="bed/asters")
    assert diary(other).hours_since_soak(roses()) is None
    assert len(diary(other).soaks()) == 1
    assert diary(other).soaks(roses()) == ()


def test_of_a_feel_and_a_soak_dated_the_same_day_the_soak_came_after() -> None:
    """Without a time an entry counts at the round hour, a soak after it: the dry ball has been seen to."""
    felt = feel(BEFORE, ball="dry")
    assert diary(felt).felt_since_soak(roses(), True) == "dry"
    assert diary(felt, soak(BEFORE, 5.0)).felt_since_soak(roses(), True) is None
    assert (
        diary(soak(at(BEFORE, 8), 5.0), feel(at(BEFORE, 18), ball="dry")).felt_dry_mid(
            roses(), True
        )
        == 0.35
    )


def test_a_day_of_soaks_counts_once_in_the_week() -> None:
    entries = [
        soak(at(DAY - timedelta(days=7), 8), 5.0),
        soak(at(DAY - timedelta(days=6), 8), 5.0),
        soak(at(BEFORE, 8), 5.0),
        soak(at(BEFORE, 9), 5.0, planting_uid="bed/roses"),
    ]
    assert diary(*entries).soaks_in_week() == 2


@pytest.mark.parametrize(("days", "felt"), [(6, True), (7, False)])
def test_a_feel_counts_for_a_week(days: int, felt: bool) -> None:
    assert diary(feel(at(DAY - timedelta(days=days), 9), ball="moist")).felt_in_week() is felt


@pytest.mark.parametrize(
    ("entry", "heard"),
    [
        (soak(at(BEFORE, 0, 5), 5.0), True),
        (left(at(BEFORE, 9)), True),
        (wilt(at(BEFORE, 15)), True),
        (soak(at(DAY, 6), 5.0), True),
        (feel(at(BEFORE, 9), ball="dry"), False),
        (soak(at(BEFORE - timedelta(days=1), 23), 5.0), False),
    ],
    ids=["soak", "left", "wilt", "today", "feel", "the day before"],
)
def test_heard_of_by_a_soak_a_visit_or_a_wilt(entry: AnyEntry, heard: bool) -> None:
    """A bed with no soak, left or wilt since is one that nothing was heard of; a feel does not settle it."""
    assert diary(entry).heard_of_since(BEFORE) is heard


def test_the_usual_dose_was_last_given_when_a_plant_had_it() -> None:
    usual = roses(usual_dose_l=5.0)
    days = [DAY - timedelta(days=n) for n in (9, 6, 3)]
    entries = [
        soak(at(day, 8), litres) for day, litres in zip(days, (50.0, 48.0, 30.0), strict=True)
    ]
    assert diary(*entries, plantings=(usual,)).usual_last_given(usual) == days[1]
    assert diary(*entries).usual_last_given(roses()) is None
    assert diary(entries[2], plantings=(usual,)).usual_last_given(usual) is None
