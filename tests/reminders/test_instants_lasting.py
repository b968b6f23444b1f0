"""How long a reminder waits for the end of quiet hours, when it says that it is late, and when it is too old."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.records import Garden
from soakbook.garden.reminding import Reminder, ReminderKind
from soakbook.reminders.instants import Instant, due_at, late_from, not_after
from soakbook.reminders.kinds import USUAL, Setting, hours_of, settled
from soakbook.reminders.wall_times import moment_of
from tests.reminders.clock_walk import MINUTE, YEARS, walked

LONDON = "Europe/London"
TEN, SIX, SEVEN = time(22), time(6), time(7)


def garden_in(zone: str, round_hour: time = SEVEN) -> Garden:
    return Garden("g1", "The Corrody", 52.3, -0.4, 62, zone, round_hour=round_hour)


def quiet(first: time, last: time) -> Setting:
    return settled("round", Reminder("round", quiet_from=first, quiet_until=last), garden_in("UTC"))


def at_clock(text: str, zone: str = LONDON) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone))


@pytest.mark.parametrize(
    ("at", "first", "last", "free"),
    [
        ("2026-07-05T21:59:59", TEN, SIX, "2026-07-05T21:59:59"),
        ("2026-07-05T22:00", TEN, SIX, "2026-07-06T06:00"),
        ("2026-07-05T23:59", TEN, SIX, "2026-07-06T06:00"),
        ("2026-07-06T00:00", TEN, SIX, "2026-07-06T06:00"),
        ("2026-07-06T05:59:59", TEN, SIX, "2026-07-06T06:00"),
        ("2026-07-06T06:00", TEN, SIX, "2026-07-06T06:00"),
        ("2026-07-06T12:00", time(12), time(14), "2026-07-06T14:00"),
        ("2026-07-06T11:59", time(12), time(14), "2026-07-06T11:59"),
        ("2026-07-06T14:00", time(12), time(14), "2026-07-06T14:00"),
        ("2026-07-06T03:00", time(0), SEVEN, "2026-07-06T07:00"),
        ("2026-07-06T23:00", TEN, time(0), "2026-07-07T00:00"),
        ("2026-07-06T23:00", TEN, TEN, "2026-07-06T23:00"),
        ("2026-07-06T00:00", time(0), time(0), "2026-07-06T00:00"),
    ],
)
def test_what_falls_into_quiet_hours_waits(at: str, first: time, last: time, free: str) -> None:
    found = due_at(at_clock(at), quiet(first, last), ZoneInfo(LONDON))
    assert (found, found.tzinfo) == (at_clock(free).astimezone(UTC), UTC)


@pytest.mark.parametrize(
    ("evening", "hours"), [("2026-07-05", 9), ("2026-03-28", 8), ("2026-10-24", 10)]
)
def test_a_night_is_as_long_as_its_wall_times_make_it(evening: str, hours: int) -> None:
    at = at_clock(f"{evening}T22:00").astimezone(UTC)
    assert due_at(at, quiet(TEN, SEVEN), ZoneInfo(LONDON)) - at == timedelta(hours=hours)


@pytest.mark.parametrize(
    ("zone", "at", "first", "last", "free"),
    [
        # the end is missing: 01:00 -> 02:00 in London on 29 March, at 01:00 UTC
        (LONDON, "2026-03-29T00:30Z", TEN, time(1, 30), "2026-03-29T01:00Z"),
        # and doubled: 01:30 for the first time at 00:30 UTC; it is not quiet once more after that
        (LONDON, "2026-10-25T00:29Z", TEN, time(1, 30), "2026-10-25T00:30Z"),
        (LONDON, "2026-10-25T01:15Z", TEN, time(1, 30), "2026-10-25T01:15Z"),
        # they begin in an hour that is doubled: the first time, and go on through the second
        (LONDON, "2026-10-25T01:00Z", time(1, 30), SIX, "2026-10-25T06:00Z"),
        # all of them is missing
        (LONDON, "2026-03-29T01:00Z", time(1, 10), time(1, 50), "2026-03-29T01:00Z"),
        # they end in the missing hour and begin in it again
        (LONDON, "2026-03-29T00:30Z", time(1, 45), time(1, 15), "2026-03-30T00:15Z"),
        # midnight is missing: 00:00 -> 01:00 in Havana on 8 March, at 05:00 UTC
        ("America/Havana", "2026-03-08T04:30Z", TEN, time(0, 30), "2026-03-08T05:00Z"),
        # 00:01 -> 23:01 of the day before at St John's: 00:00 has been already
        ("America/St_Johns", "2010-11-07T03:00Z", time(0), SIX, "2010-11-07T09:30Z"),
        # the morning of a day that was leapt over is the night of the next: 31 December 06:00 in Samoa
        ("Pacific/Apia", "2011-12-30T09:00Z", TEN, SIX, "2011-12-30T16:00Z"),
    ],
)
def test_quiet_hours_over_a_change_of_the_clock(
    zone: str, at: str, first: time, last: time, free: str
) -> None:
    found = due_at(datetime.fromisoformat(at), quiet(first, last), ZoneInfo(zone))
    assert found == datetime.fromisoformat(free)


hours_drawn = st.times(max_value=time(23, 59)).map(lambda hour: time(hour.hour, hour.minute))


@given(st.sampled_from(YEARS), st.integers(0, 366 * 24 * 60), hours_drawn, hours_drawn)
def test_it_waits_as_somebody_does_who_watches_the_clock(
    zone_year: tuple[str, int], minute: int, first: time, last: time
) -> None:
    zone, setting = ZoneInfo(zone_year[0]), quiet(first, last)
    at = datetime(zone_year[1], 1, 1, tzinfo=UTC) + minute * MINUTE
    free = due_at(at, setting, zone)
    assert free == walked(*zone_year).free(at, first, last)
    assert due_at(free, setting, zone) == free


def lasting(
    kind: ReminderKind,
    day: str = "2026-07-05",
    *,
    said: Reminder | None = None,
    round_hour: time = SEVEN,
    step: int = 0,
    told_day: date | None = None,
) -> tuple[str, str, str]:
    """When it may be sent, is late and is too old, as London's clock shows it."""
    garden = garden_in(LONDON, round_hour)
    zone, setting = ZoneInfo(LONDON), settled(kind, said, garden)
    for_day = date.fromisoformat(day)
    at = moment_of(for_day, hours_of(setting)[step], zone)
    instant = Instant(kind, step, for_day, at)
    moments = (
        due_at(at, setting, zone),
        late_from(instant, garden),
        not_after(instant, setting, garden, told_day),
    )
    due, late, too_old = (f"{one.astimezone(zone):%d %H:%M}" for one in moments)
    return due, late, too_old


@pytest.mark.parametrize(
    ("kind", "step", "expected"),
    [
        ("round", 0, ("05 07:00", "05 12:00", "05 20:00")),
        ("promise", 0, ("05 07:00", "05 12:00", "06 00:00")),
        ("feel", 0, ("05 07:00", "05 12:00", "06 00:00")),
        ("heat", 0, ("05 16:00", "05 20:00", "06 12:00")),
        ("dry", 0, ("05 17:00", "06 07:00", "07 17:00")),
        ("rule", 0, ("05 16:00", "06 00:00", "06 00:00")),
        ("unheard", 0, ("05 18:00", "05 21:00", "06 07:00")),
        ("unheard", 1, ("05 20:00", "05 22:00", "06 07:00")),
        ("week", 0, ("05 17:00", "06 00:00", "06 20:00")),
    ],
)
def test_as_usual(kind: ReminderKind, step: int, expected: tuple[str, str, str]) -> None:
    assert lasting(kind, step=step) == expected


def test_a_rule_is_worth_telling_until_its_day_is_over() -> None:
    assert lasting("rule", told_day=date(2026, 7, 8)) == ("05 16:00", "06 00:00", "09 00:00")


def test_a_rule_of_a_day_gone_by_still_has_some_hours() -> None:
    assert lasting("rule", told_day=date(2026, 7, 1))[2] == "05 22:00"


def test_the_day_told_of_counts_for_rules_alone() -> None:
    assert lasting("heat", told_day=date(2026, 7, 9)) == lasting("heat")


def test_the_eve_of_heat_told_in_the_night_waits_for_morning_and_is_late() -> None:
    late_evening = Reminder("heat", hour=time(22, 30))
    assert lasting("heat", said=late_evening) == ("06 06:00", "06 01:30", "06 12:00")


def test_an_evening_round_is_neither_late_nor_too_old_at_its_own_hour() -> None:
    assert lasting("round", round_hour=time(18)) == ("05 18:00", "05 21:00", "06 00:00")
    assert lasting("round", round_hour=time(23)) == ("06 06:00", "06 02:00", "06 12:00")


def test_no_word_is_too_old_when_the_next_round_is_out() -> None:
    """Also where that comes while it still waits for the end of quiet hours, or on the same evening."""
    waiting = Reminder("unheard", hour=time(22, 30), quiet_until=time(8))
    assert lasting("unheard", said=waiting) == ("06 08:00", "06 00:30", "06 07:00")
    assert lasting("unheard", round_hour=time(19))[2] == "05 19:00"
    assert lasting("unheard", step=1, round_hour=time(19))[2] == "06 19:00"
    assert lasting("unheard", round_hour=time(18))[2] == "06 18:00"


def test_limits_are_wall_times_over_a_change_of_the_clock() -> None:
    """London's goes back in the night to 25 October and on in that to 29 March."""
    assert lasting("dry", "2026-10-24") == ("24 17:00", "25 07:00", "26 17:00")
    assert lasting("heat", "2026-03-28") == ("28 16:00", "28 20:00", "29 12:00")


@given(
    st.sampled_from([kind for kind in USUAL if kind != "unheard"]),
    st.dates(date(2026, 1, 1), date(2026, 12, 31)),
    hours_drawn,
    hours_drawn,
    hours_drawn,
    hours_drawn,
)
def test_no_choice_of_hours_makes_a_reminder_too_old_before_it_may_be_sent(
    kind: ReminderKind, day: date, hour: time, first: time, last: time, round_hour: time
) -> None:
    garden, zone = garden_in(LONDON, round_hour), ZoneInfo(LONDON)
    said = Reminder(kind, hour=hour, quiet_from=first, quiet_until=last)
    setting = settled(kind, said, garden)
    instant = Instant(kind, 0, day, moment_of(day, hour, zone))
    due = due_at(instant.at, setting, zone)
    assert not_after(instant, setting, garden) - due >= timedelta(hours=6)
    assert late_from(instant, garden) > instant.at
