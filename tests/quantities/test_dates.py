"""Days and moments as gardeners write them, with today passed in."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.quantities.dates import (
    MONTHS,
    WEEKDAYS,
    long_day,
    month_day,
    parse_day,
    parse_moment,
    short_day,
    weekday_date,
)

Refusal = Callable[[Callable[[], object]], InputError | None]

THURSDAY = date(2031, 5, 15)
LONDON = ZoneInfo("Europe/London")
NOW = datetime(2031, 5, 15, 7, 30, tzinfo=LONDON)
FIRST = datetime(1970, 1, 1)  # noqa: DTZ001 hypothesis wants its ends without a zone
LAST = datetime(2037, 12, 31)  # noqa: DTZ001
DAYS = st.dates(date(1910, 1, 1), date(2190, 12, 31))


@pytest.mark.parametrize(
    "text",
    [
        "1apr",
        "1 apr",
        "01 Apr",
        "1april",
        "1st April",
        "1apr2031",
        "1 April 2031",
        "apr 1",
        "April 1, 2031",
        "2031-04-01",
    ],
)
def test_one_day_in_many_spellings(text: str) -> None:
    assert parse_day(text, "day", THURSDAY) == date(2031, 4, 1)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("today", 15),
        ("Yesterday", 14),
        ("tomorrow", 16),
        ("thu", 15),
        ("Thursday", 15),
        ("wed", 14),
        ("tues", 13),
        ("fri", 9),
    ],
)
def test_near_days_and_the_last_weekday(text: str, day: int) -> None:
    """Told on Thursday 15 May 2031; a weekday is the last one, today included."""
    assert parse_day(text, "day", THURSDAY) == date(2031, 5, day)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("14jul", date(2031, 7, 14)),
        ("15jul", date(2030, 7, 15)),
        ("31dec", date(2030, 12, 31)),
        ("1jan", date(2031, 1, 1)),
    ],
)
def test_without_a_year_it_is_at_most_sixty_days_ahead(text: str, day: date) -> None:
    """Sixty days from 15 May 2031 is 14 July."""
    assert date(2031, 7, 14) == THURSDAY + timedelta(days=60)
    assert parse_day(text, "day", THURSDAY) == day


@pytest.mark.parametrize(
    "text",
    [
        "1/4",
        "1.4.",
        "1-4-2031",
        "04-01",
        "7",
        "1apr31",
        "20310401",
        "2031-4-1",
        "2031-W14-2",
        "may",
        "apr 2031",
        "1 foo",
        "1 ap",
        "",
        "31apr",
        "29feb",
        "2031-02-29",
        "0may",
        "1apr0031",
        "2500-01-01",
        "١apr",
    ],
)
def test_what_is_ambiguous_or_no_day_is_refused(text: str) -> None:
    with pytest.raises(InputError) as told:
        parse_day(text, "on", THURSDAY)
    assert told.value.field == "on"
    assert told.value.value == text


def test_a_leap_day_is_taken_in_a_leap_year() -> None:
    assert parse_day("29feb", "day", date(2032, 3, 1)) == date(2032, 2, 29)
    assert parse_day("29feb2028", "day", THURSDAY) == date(2028, 2, 29)


@given(DAYS, DAYS)
def test_every_day_written_with_its_year_is_read(day: date, today: date) -> None:
    month = MONTHS[day.month - 1]
    for text in (
        day.isoformat(),
        f"{day.day}{month[:3].lower()}{day.year:04}",
        f"{day.day} {month} {day.year:04}",
        f"{month} {day.day}, {day.year:04}",
    ):
        assert parse_day(text, "day", today) == day


@given(DAYS, st.integers(-300, 60))
def test_a_near_day_needs_no_year(today: date, ahead: int) -> None:
    day = today + timedelta(days=ahead)
    assert parse_day(f"{day.day}{MONTHS[day.month - 1]}", "day", today) == day


@given(DAYS, st.integers(0, 6))
def test_a_weekday_is_within_the_last_seven_days(today: date, weekday: int) -> None:
    day = parse_day(WEEKDAYS[weekday], "day", today)
    assert day.weekday() == weekday
    assert 0 <= (today - day).days <= 6


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("07:10", "2031-05-15 07:10:00"),
        ("7:10", "2031-05-15 07:10:00"),
        ("yesterday 19:30", "2031-05-14 19:30:00"),
        ("tue 7:30", "2031-05-13 07:30:00"),
        ("1apr 07:10", "2031-04-01 07:10:00"),
        ("2031-04-01T07:10", "2031-04-01 07:10:00"),
        ("2031-04-01 07:10:30", "2031-04-01 07:10:30"),
        ("2031-04-01T07:10Z", "2031-04-01 08:10:00"),
        ("2031-01-10T07:10+05:30", "2031-01-10 01:40:00"),
        ("2031-01-10T07:10-0230", "2031-01-10 09:40:00"),
        ("now", "2031-05-15 07:30:00"),
    ],
)
def test_moments_are_in_the_gardens_zone(text: str, moment: str) -> None:
    """Told at 07:30 British Summer Time on 15 May 2031."""
    read = parse_moment(text, "at", NOW)
    assert isinstance(read, datetime)
    assert read.strftime("%Y-%m-%d %H:%M:%S") == moment
    assert read.tzinfo is LONDON


@pytest.mark.parametrize(("text", "day"), [("1apr", date(2031, 4, 1)), ("today", THURSDAY)])
def test_a_day_without_an_hour_stays_a_day(text: str, day: date) -> None:
    assert type(parse_moment(text, "at", NOW)) is date
    assert parse_moment(text, "at", NOW) == day


def test_an_hour_to_come_asks_for_its_day_only_where_none_was_said() -> None:
    with pytest.raises(InputError, match=r"has not come yet; with its day: yesterday 19:30$"):
        parse_moment("15:00", "at", NOW)
    for text in ("tomorrow 06:00", "1jun2031 07:00"):
        with pytest.raises(InputError, match=r"that hour has not come yet$"):
            parse_moment(text, "at", NOW)


def test_the_future_is_the_callers_to_allow() -> None:
    for text in ("15:00", "07:31", "tomorrow", "tomorrow 06:00", "1jun"):
        with pytest.raises(InputError, match="has not come yet"):
            parse_moment(text, "at", NOW)
    later = parse_moment("15:00", "at", NOW, future=True)
    assert later == datetime(2031, 5, 15, 15, tzinfo=LONDON)
    assert parse_moment("tomorrow", "at", NOW, future=True) == date(2031, 5, 16)
    assert parse_moment("07:30", "at", NOW) == NOW


@pytest.mark.parametrize(
    "text", ["25:00", "7:60", "07:10:61", "1:5", "x 07:10", "1/4 07:10", "07:10 yesterday", "7pm"]
)
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        parse_moment(text, "at", NOW)


def test_an_hour_that_the_clocks_leave_out_is_refused() -> None:
    """In 2031 British clocks go forward on Sunday 30 March at 01:00 and back on 26 October."""
    with pytest.raises(InputError, match="clocks went forward"):
        parse_moment("30mar 01:30", "at", NOW)
    assert parse_moment("30mar 02:00", "at", NOW) == datetime(2031, 3, 30, 1, tzinfo=UTC)


def test_of_an_hour_that_comes_twice_the_first_is_taken() -> None:
    after = datetime(2031, 10, 27, 9, tzinfo=LONDON)
    first = parse_moment("yesterday 01:30", "at", after)
    assert isinstance(first, datetime)
    assert first.astimezone(UTC) == datetime(2031, 10, 26, 0, 30, tzinfo=UTC)


def test_in_the_second_of_two_hours_the_first_has_been() -> None:
    """At 01:10 by the clock for the second time, 01:30 was forty minutes ago."""
    second = datetime(2031, 10, 26, 1, 10, tzinfo=UTC).astimezone(LONDON)
    assert second.fold == 1
    read = parse_moment("01:30", "at", second)
    assert isinstance(read, datetime)
    assert read.astimezone(UTC) == datetime(2031, 10, 26, 0, 30, tzinfo=UTC)


@given(
    st.datetimes(FIRST, LAST, timezones=st.just(UTC)),
    st.sampled_from(["Europe/London", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata"]),
)
def test_every_moment_that_was_is_read_back(moment: datetime, zone: str) -> None:
    local = moment.replace(second=0, microsecond=0).astimezone(ZoneInfo(zone))
    now = datetime(2038, 1, 1, tzinfo=ZoneInfo(zone))
    read = parse_moment(local.strftime("%Y-%m-%d %H:%M"), "at", now)
    assert isinstance(read, datetime)
    assert read.replace(tzinfo=None) == local.replace(tzinfo=None)
    assert read.fold == 0
    with_zone = parse_moment(local.isoformat(timespec="minutes"), "at", now)
    assert isinstance(with_zone, datetime)
    offset = local.utcoffset()
    assert offset is not None
    if offset.total_seconds() % 60 == 0:
        assert with_zone.astimezone(UTC) == local.astimezone(UTC)


@given(st.text() | st.from_regex(r"[0-9]{0,4}[-/. ]?[a-z]{0,9} ?[0-9]{0,4}[-: t]?[0-9:z+-]{0,9}"))
def test_garbage_is_read_or_refused(refusal: Refusal, text: str) -> None:
    now = datetime(2031, 5, 15, 7, 30, tzinfo=timezone(timedelta(hours=1)))
    told = [
        refusal(lambda: parse_day(text, "day", THURSDAY)),
        refusal(lambda: parse_moment(text, "at", now)),
        refusal(lambda: parse_moment(text, "at", now, future=True)),
    ]
    assert all(one is None or one.right for one in told)
    no_hour = ":" not in text and "now" not in text.casefold()
    assert not (no_hour and told[0] and not told[1]), "what is no day is no moment"


def test_day_words() -> None:
    assert short_day(date(2031, 5, 16)) == "Fri 16"
    assert weekday_date(date(2031, 5, 16)) == "Fri 16 May"
    assert long_day(THURSDAY) == "Thursday 15 May 2031"
    assert month_day(date(2031, 5, 6)) == "6 May"


@given(DAYS)
def test_a_long_day_without_its_weekday_is_read_back(day: date) -> None:
    weekday, rest = long_day(day).split(" ", 1)
    assert WEEKDAYS[day.weekday()] == weekday
    assert parse_day(rest, "day", THURSDAY) == day
    assert short_day(day) == f"{weekday[:3]} {day.day}"


@pytest.mark.parametrize("text", ["7", "7.30", "730", "half past seven"])
def test_an_hour_that_cannot_be_read_is_answered_with_one_that_can(text: str) -> None:
    with pytest.raises(InputError, match=r"write 07:30, "):
        parse_moment(text, "at", datetime(2031, 5, 15, 9, tzinfo=UTC))
