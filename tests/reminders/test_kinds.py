"""What is usual of each kind, what a garden's own words make of it, and which hours are refused."""

from datetime import date, time, timedelta
from typing import get_args
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.garden.records import Garden
from soakbook.garden.reminding import Reminder, ReminderKind
from soakbook.reminders.kinds import (
    USUAL,
    Setting,
    check_hour,
    hours_of,
    lasting_words,
    settings_of,
    settled,
)

GARDEN = Garden("g1", "The Corrody", 52.3, -0.4, 62, "Europe/London", round_hour=time(6, 30))
NEW_YEAR = date(2026, 1, 1)


def test_every_kind_has_its_usual() -> None:
    assert set(USUAL) == set(get_args(ReminderKind))
    assert [kind for kind, usual in USUAL.items() if usual.kind != kind] == []
    assert len({usual.label for usual in USUAL.values()}) == len(USUAL)
    assert [usual for usual in USUAL.values() if not usual.explained.endswith(".")] == []


def test_what_takes_beds_from_the_round_is_decided_before_it() -> None:
    assert list(USUAL)[:3] == ["promise", "round", "feel"]


@pytest.mark.parametrize(
    ("kind", "hour", "whom"),
    [
        ("round", time(6, 30), "keeper"),
        ("promise", time(6, 30), "keeper"),
        ("feel", time(6, 30), "keeper"),
        ("heat", time(16), "head"),
        ("dry", time(17), "keeper"),
        ("rule", time(16), "all"),
        ("unheard", time(18), "next"),
        ("week", time(17), "head"),
    ],
)
def test_what_nobody_has_said_is_as_usual(kind: ReminderKind, hour: time, whom: str) -> None:
    usual = settled(kind, None, GARDEN)
    assert usual == Setting(kind, True, hour, whom, frozenset(), None, time(22), time(6))  # type: ignore[arg-type]
    assert settled(kind, Reminder(kind), GARDEN) == usual


def test_what_was_said_goes_before_the_usual() -> None:
    said = Reminder(
        "round",
        wanted=False,
        hour=time(0),
        whom="named",
        named=frozenset({"p1"}),
        channel="push",
        quiet_from=time(0),
        quiet_until=time(5),
    )
    assert settled("round", said, GARDEN) == Setting(
        "round", False, time(0), "named", frozenset({"p1"}), "push", time(0), time(5)
    )


def test_one_end_of_the_quiet_hours_leaves_the_other_as_usual() -> None:
    setting = settled("heat", Reminder("heat", quiet_from=time(20)), GARDEN)
    assert (setting.quiet_from, setting.quiet_until) == (time(20), time(6))


def test_people_count_only_where_named_people_are_meant() -> None:
    said = Reminder("week", whom="all", named=frozenset({"p1"}))
    assert settled("week", said, GARDEN).named == frozenset()


def test_a_garden_has_a_setting_of_each_kind_in_their_order() -> None:
    found = settings_of([Reminder("week", hour=time(9)), Reminder("dry", wanted=False)], GARDEN)
    assert [one.kind for one in found] == list(USUAL)
    assert [one.kind for one in found if not one.wanted] == ["dry"]
    assert next(one.hour for one in found if one.kind == "week") == time(9)


@pytest.mark.parametrize(
    ("hour", "steps"),
    [
        (time(18), (time(18), time(20))),
        (time(21, 59), (time(21, 59), time(23, 59))),
        (time(22), (time(22), time(23, 59))),
        (time(23, 59, 30), (time(23, 59, 30), time(23, 59, 30))),
    ],
)
def test_no_word_asks_twice_an_evening(hour: time, steps: tuple[time, ...]) -> None:
    assert hours_of(settled("unheard", Reminder("unheard", hour=hour), GARDEN)) == steps


def test_other_kinds_have_one_hour() -> None:
    assert {
        one.kind: hours_of(one) for one in settings_of([], GARDEN) if one.kind != "unheard"
    } == {one.kind: (one.hour,) for one in settings_of([], GARDEN) if one.kind != "unheard"}


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("round", "Late from 12:00, too old from 20:00."),
        ("promise", "Late from 12:00, too old from the end of its day."),
        ("heat", "Late from 20:00, too old from 12:00 the day after."),
        ("dry", "Late from the next round, too old from 17:00 two days after."),
        ("rule", "Late from the end of its day, too old from the end of the day it tells of."),
        ("unheard", "Late from 21:00, too old from the next round."),
        ("week", "Late from the end of its day, too old from 20:00 the day after."),
    ],
)
def test_how_long_a_reminder_lasts_is_said(kind: ReminderKind, words: str) -> None:
    assert lasting_words(kind) == words


@pytest.mark.parametrize(
    ("zone", "today", "hour", "right"),
    [
        (
            "Europe/London", NEW_YEAR, time(1, 30),
            "an hour from 04:00 to 23:59: 01:30 is missing on Sunday 29 March 2026 "
            "and doubled on Sunday 25 October 2026",
        ),
        (
            "Europe/London", NEW_YEAR, time(3, 59),
            "an hour from 04:00 to 23:59: clocks are put on and back in the hours before",
        ),
        (
            "Asia/Kolkata", NEW_YEAR, time(0),
            "an hour from 04:00 to 23:59: clocks are put on and back in the hours before",
        ),
        (
            "America/Havana", date(2026, 4, 1), time(0, 30),
            "an hour from 04:00 to 23:59: 00:30 is doubled on Sunday 1 November 2026 "
            "and missing on Sunday 14 March 2027",
        ),
        (
            "Australia/Lord_Howe", NEW_YEAR, time(1, 45),
            "an hour from 04:00 to 23:59: 01:45 is doubled on Sunday 5 April 2026",
        ),
        (
            "Australia/Lord_Howe", NEW_YEAR, time(2, 15),
            "an hour from 04:00 to 23:59: 02:15 is missing on Sunday 4 October 2026",
        ),
        # 00:01 -> 23:01 of the day before, from spring to autumn 2010
        (
            "America/St_Johns", date(2010, 1, 1), time(23, 30),
            "an hour that is on the clock once a day: 23:30 is doubled on Saturday 6 November 2010",
        ),
    ],
)  # fmt: skip
def test_an_hour_that_a_day_may_lack_or_have_twice_is_refused(
    zone: str, today: date, hour: time, right: str
) -> None:
    with pytest.raises(InputError) as caught:
        check_hour(hour, ZoneInfo(zone), today)
    assert (caught.value.field, caught.value.value) == ("hour", f"{hour:%H:%M}")
    assert caught.value.right == right


@pytest.mark.parametrize(
    ("zone", "today"),
    [
        ("Europe/London", NEW_YEAR),
        ("Australia/Lord_Howe", NEW_YEAR),
        ("America/Havana", NEW_YEAR),
        ("Asia/Kolkata", NEW_YEAR),
        # of the day that Samoa leapt over every hour is missing
        ("Pacific/Apia", date(2011, 6, 1)),
        # after the last change of the clock just before midnight
        ("America/St_Johns", date(2011, 11, 7)),
    ],
)
@pytest.mark.parametrize("hour", [time(4), time(6, 30), time(23, 30), time(23, 59)])
def test_an_hour_of_every_day_may_be_said(zone: str, today: date, hour: time) -> None:
    check_hour(hour, ZoneInfo(zone), today)


def test_changes_are_looked_for_for_400_days() -> None:
    """Pyongyang's only change for years: 23:30 -> 00:00 on Friday 4 May 2018."""
    zone, hour, leap = ZoneInfo("Asia/Pyongyang"), time(23, 45), date(2018, 5, 4)
    for today in (leap - timedelta(days=400), leap):
        with pytest.raises(InputError, match=r"23:45 is missing on Friday 4 May 2018$"):
            check_hour(hour, zone, today)
    for today in (leap - timedelta(days=401), leap + timedelta(days=1)):
        check_hour(hour, zone, today)


def test_what_is_told_with_the_round_goes_with_its_hour() -> None:
    garden = GARDEN._replace(round_hour=time(7))
    said = [Reminder("round", hour=time(6, 30)), Reminder("feel", hour=time(8))]
    hours = {one.kind: one.hour for one in settings_of(said, garden)}
    assert (hours["round"], hours["promise"], hours["feel"]) == (time(6, 30), time(6, 30), time(8))
    assert hours["heat"] == time(16)
