"""When each kind falls due: once on every day that there is, whatever the clock does, and however spans are cut."""

from collections import Counter
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.records import Garden
from soakbook.garden.reminding import Reminder, ReminderKind
from soakbook.reminders.instants import LONGEST_BACK, Instant, due_instants, looked_from
from soakbook.reminders.kinds import USUAL, Setting, hours_of, settings_of, settled
from tests.reminders.clock_walk import MINUTE, YEARS, walked

USUAL_HOURS: dict[ReminderKind, time] = {}
ODD_HOURS: dict[ReminderKind, time] = {
    "promise": time(0),
    "feel": time(0, 30),
    "round": time(1, 30),
    "heat": time(2, 15),
    "dry": time(1, 45),
    "rule": time(23, 30),
    "unheard": time(22, 30),
    "week": time(0, 15),
}
"""Hours that nobody can set by command: missing or doubled in one of the zones, or hard by midnight."""

MOST_OF_A_YEAR_MIN = 366 * 24 * 60


def garden_in(zone: str) -> Garden:
    return Garden("g1", "The Corrody", 52.3, -0.4, 62, zone)


def settings_with(hours: dict[ReminderKind, time], zone: str) -> tuple[Setting, ...]:
    said = [Reminder(kind, hour=hour) for kind, hour in hours.items()]
    return settings_of(said, garden_in(zone))


def due(
    zone: str, since: str, now: str, hours: dict[ReminderKind, time] = USUAL_HOURS
) -> list[tuple[str, int, str, str]]:
    """Instants as kind, step, day and wall time; the span is given in wall times."""
    clock = ZoneInfo(zone)
    first, last = (datetime.fromisoformat(one).replace(tzinfo=clock) for one in (since, now))
    found = due_instants(settings_with(hours, zone), garden_in(zone), first, last)
    return [
        (one.kind, one.step, str(one.for_day), f"{one.at.astimezone(clock):%d %H:%M}")
        for one in found
    ]


def test_an_ordinary_sunday() -> None:
    assert due("Europe/London", "2026-07-05T00:00", "2026-07-06T00:00") == [
        ("promise", 0, "2026-07-05", "05 07:00"),
        ("round", 0, "2026-07-05", "05 07:00"),
        ("feel", 0, "2026-07-05", "05 07:00"),
        ("heat", 0, "2026-07-05", "05 16:00"),
        ("rule", 0, "2026-07-05", "05 16:00"),
        ("dry", 0, "2026-07-05", "05 17:00"),
        ("week", 0, "2026-07-05", "05 17:00"),
        ("unheard", 0, "2026-07-05", "05 18:00"),
        ("unheard", 1, "2026-07-05", "05 20:00"),
    ]


def test_other_days_have_no_look_at_the_week() -> None:
    found = due("Europe/London", "2026-07-06T00:00", "2026-07-12T00:00")
    assert "week" not in {one[0] for one in found}
    assert len(found) == 6 * 8


def test_the_beginning_of_a_span_is_not_in_it_its_end_is() -> None:
    assert due("Europe/London", "2026-07-06T07:00", "2026-07-06T15:59:59") == []
    assert [one[0] for one in due("Europe/London", "2026-07-06T06:59:59", "2026-07-06T07:00")] == [
        "promise",
        "round",
        "feel",
    ]
    assert due("Europe/London", "2026-07-06T07:00", "2026-07-06T07:00") == []


def test_a_span_that_ends_before_it_begins_has_nothing() -> None:
    assert due("Europe/London", "2026-07-08T12:00", "2026-07-06T06:00") == []


def test_what_is_not_wanted_is_never_due() -> None:
    garden = garden_in("Europe/London")
    settings = [settled(kind, Reminder(kind, wanted=kind == "dry"), garden) for kind in USUAL]
    found = due_instants(
        settings, garden, datetime(2026, 7, 5, tzinfo=UTC), datetime(2026, 7, 6, tzinfo=UTC)
    )
    assert [one.kind for one in found] == ["dry"]


def test_the_order_of_settings_changes_nothing() -> None:
    garden = garden_in("Europe/London")
    settings = settings_with({}, "Europe/London")
    span = datetime(2026, 7, 5, tzinfo=UTC), datetime(2026, 7, 6, tzinfo=UTC)
    assert due_instants(settings[::-1], garden, *span) == due_instants(settings, garden, *span)


def test_moments_are_in_utc_and_read_by_their_zone() -> None:
    """A span in the zone of the reader's clock: of two times in one zone Python would compare the faces only."""
    clock, garden = ZoneInfo("Europe/London"), garden_in("Europe/London")
    settings = settings_with(ODD_HOURS, "Europe/London")
    first = datetime(2026, 10, 25, 1, 45, tzinfo=clock)
    second = first.replace(fold=1)
    found = due_instants(settings, garden, first - MINUTE, second)
    assert [(one.kind, one.at, one.at.tzinfo) for one in found] == [
        ("dry", datetime(2026, 10, 25, 0, 45, tzinfo=UTC), UTC)
    ]
    assert due_instants(settings, garden, first, second) == ()


def test_where_the_clock_leaps_all_that_is_missing_is_due_at_the_leap() -> None:
    """London, 29 March 2026: 01:00 -> 02:00."""
    assert due("Europe/London", "2026-03-29T00:59", "2026-03-29T02:20", ODD_HOURS) == [
        ("round", 0, "2026-03-29", "29 02:00"),
        ("dry", 0, "2026-03-29", "29 02:00"),
        ("heat", 0, "2026-03-29", "29 02:15"),
    ]


def test_where_midnight_is_missing() -> None:
    """Havana, Sunday 8 March 2026: 00:00 -> 01:00."""
    assert due("America/Havana", "2026-03-07T23:58", "2026-03-08T01:10", ODD_HOURS) == [
        ("unheard", 1, "2026-03-07", "07 23:59"),
        ("promise", 0, "2026-03-08", "08 01:00"),
        ("feel", 0, "2026-03-08", "08 01:00"),
        ("week", 0, "2026-03-08", "08 01:00"),
    ]


def test_a_day_without_its_last_hour_is_told_before_the_next_begins() -> None:
    """Pyongyang, Friday 4 May 2018: 23:30 -> 00:00 of the 5th."""
    hours: dict[ReminderKind, time] = {"rule": time(23, 45), "promise": time(0)}
    assert due("Asia/Pyongyang", "2018-05-04T23:29", "2018-05-05T00:01", hours) == [
        ("rule", 0, "2018-05-04", "05 00:00"),
        ("promise", 0, "2018-05-05", "05 00:00"),
    ]


def test_a_day_begun_is_told_of_though_the_clock_goes_back_into_the_day_before() -> None:
    """St John's, Sunday 7 November 2010: 00:01 -> Saturday 23:01, at 02:31 UTC."""
    zone = "America/St_Johns"
    settings, garden = settings_with({"promise": time(0)}, zone), garden_in(zone)
    before, back = (datetime(2010, 11, 7, 2, minute, tzinfo=UTC) for minute in (29, 45))
    found = due_instants(settings, garden, before, back)
    assert [(one.kind, str(one.for_day), one.at.minute) for one in found] == [
        ("promise", "2010-11-07", 30)
    ]
    assert due_instants(settings, garden, back, back + timedelta(hours=1)) == ()


def test_a_day_that_the_calendar_leapt_over_has_none() -> None:
    found = due("Pacific/Apia", "2011-12-29T12:00", "2011-12-31T12:00", ODD_HOURS)
    assert Counter(one[2] for one in found) == {"2011-12-29": 3, "2011-12-31": 5}


@cache
def year_of(zone: str, year: int, odd: bool) -> tuple[Instant, ...]:
    """Every instant of a year as a watched clock has it: no hour is read backwards here."""
    walk = walked(zone, year)
    settings = settings_with(ODD_HOURS if odd else USUAL_HOURS, zone)
    found = [
        (walk.moment(day, hour), day, place, step, setting.kind)
        for day in walk.days
        if day.year == year
        for place, setting in enumerate(settings)
        for step, hour in enumerate(hours_of(setting))
        if setting.kind != "week" or f"{day:%a}" == "Sun"
    ]
    return tuple(Instant(kind, step, day, at) for at, day, _, step, kind in sorted(found))


@pytest.mark.parametrize("odd", [False, True])
@pytest.mark.parametrize(("zone", "year"), YEARS)
def test_in_a_year_each_kind_is_due_once_on_each_day(zone: str, year: int, odd: bool) -> None:
    expected = year_of(zone, year, odd)
    days = 364 if zone == "Pacific/Apia" else 365
    assert len(expected) == 8 * days + 52
    settings = settings_with(ODD_HOURS if odd else USUAL_HOURS, zone)
    begin, end = datetime(year - 1, 12, 30, tzinfo=UTC), datetime(year + 1, 1, 3, tzinfo=UTC)
    found = due_instants(settings, garden_in(zone), begin, end)
    assert tuple(one for one in found if one.for_day.year == year) == expected


@given(st.data(), st.sampled_from(YEARS), st.booleans())
def test_two_spans_that_meet_give_what_the_whole_gives(
    data: st.DataObject, zone_year: tuple[str, int], odd: bool
) -> None:
    """Ends are drawn from the whole year, or hit an instant on the microsecond, or beside it."""
    zone, year = zone_year
    begin = datetime(year, 1, 1, tzinfo=UTC)
    anywhere = st.integers(0, MOST_OF_A_YEAR_MIN).map(lambda n: begin + n * MINUTE)
    beside = st.builds(
        lambda one, n: one.at + timedelta(microseconds=n),
        st.sampled_from(year_of(zone, year, odd)),
        st.integers(-1, 1),
    )
    first, middle, last = sorted(data.draw(st.tuples(*[anywhere | beside] * 3)))
    settings, garden = settings_with(ODD_HOURS if odd else USUAL_HOURS, zone), garden_in(zone)
    whole = due_instants(settings, garden, first, last)
    assert whole == (
        due_instants(settings, garden, first, middle) + due_instants(settings, garden, middle, last)
    )
    assert [one for one in whole if one.for_day.year == year] == [
        one for one in year_of(zone, year, odd) if first < one.at <= last
    ]


@pytest.mark.parametrize(("zone", "year"), YEARS)
def test_a_wake_up_every_five_minutes_finds_what_one_look_finds(zone: str, year: int) -> None:
    """A week about every change of the clock, in the steps in which it is looked at."""
    settings, garden = settings_with(ODD_HOURS, zone), garden_in(zone)
    for change in changes_of(zone, year):
        ends = [change + timedelta(minutes=5 * n) for n in range(-3 * 288, 4 * 288 + 1)]
        found = [
            one
            for since, now in pairwise(ends)
            for one in due_instants(settings, garden, since, now)
        ]
        assert tuple(found) == due_instants(settings, garden, ends[0], ends[-1])
        assert max(Counter((one.kind, one.step, one.for_day) for one in found).values()) == 1


def changes_of(zone: str, year: int) -> list[datetime]:
    """The hours of UTC in which the clock is put on or back."""
    begin, clock = datetime(year, 1, 1, tzinfo=UTC), ZoneInfo(zone)
    hours = [begin + timedelta(hours=n) for n in range(365 * 24)]
    offsets = [hour.astimezone(clock).utcoffset() for hour in hours]
    return [hours[n] for n in range(1, len(hours)) if offsets[n] != offsets[n - 1]]


def test_no_more_than_a_month_is_looked_at() -> None:
    now = datetime(2026, 7, 5, 12, tzinfo=UTC)
    assert looked_from(now - timedelta(days=3), now) == now - timedelta(days=3)
    assert looked_from(now - LONGEST_BACK, now) == now - timedelta(days=31)
    assert looked_from(date_long_ago(), now) == datetime(2026, 6, 4, 12, tzinfo=UTC)


def test_a_month_back_is_told_by_utc() -> None:
    """Over a change of the clock 31 days are 31 times 24 hours."""
    clock = ZoneInfo("Europe/London")
    now = datetime(2026, 4, 10, 12, tzinfo=clock)
    assert looked_from(date_long_ago(), now) == datetime(2026, 3, 10, 11, tzinfo=UTC)


def date_long_ago() -> datetime:
    return datetime.combine(date(2020, 1, 1), time(0), UTC)
