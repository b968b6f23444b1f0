"""Moments of a file by the clock that was said: standard time, the hour that is left out, the one that comes twice."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.weather.column_map import Clock, DateOrder
from soakbook.weather.moments import has_hours, read_moments, standard_offset
from soakbook.weather.table import Row

LONDON = ZoneInfo("Europe/London")


def rows(*texts: str) -> list[Row]:
    return [Row(line, (text,)) for line, text in enumerate(texts, start=2)]


def moments(
    *texts: str,
    clock: Clock | None = "utc",
    order: DateOrder | None = None,
    zone: ZoneInfo = LONDON,
) -> list[str]:
    """Moments as 04-01 13:05, in UTC."""
    found, _ = read_moments(rows(*texts), 0, order, clock, zone)
    assert {moment.tzinfo for moment in found} == {UTC}
    return [f"{moment:%m-%d %H:%M}" for moment in found]


@pytest.mark.parametrize(
    ("zone", "hours"),
    [
        ("Europe/London", 0.0),
        ("Europe/Dublin", 0.0),
        ("Europe/Berlin", 1.0),
        ("America/Toronto", -5.0),
        ("Australia/Sydney", 10.0),
        ("Asia/Kolkata", 5.5),
    ],
)
def test_standard_time_is_winter_time(zone: str, hours: float) -> None:
    assert standard_offset(2031, ZoneInfo(zone)) == timedelta(hours=hours)


def test_utc_is_its_own_standard() -> None:
    assert standard_offset(2031, UTC) == timedelta(0)


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        (("2031-04-01 00:00", "2031-04-01 01:00"), True),
        (("2031-04-01", "2031-04-01T00:10"), True),
        (("2031-04-01 00:00", "2031-04-02 00:00"), False),
        (("2031-04-01", "2031-04-02"), False),
        (("2031-04-01", "2031-04-01"), False),  # a day twice, which is another fault
        (("2031-04-01 09:00", "2031-04-02 09:00"), False),  # one reading a day
    ],
)
def test_what_a_file_of_hours_is(texts: tuple[str, ...], expected: bool) -> None:
    assert has_hours(rows(*texts), 0) is expected


@pytest.mark.parametrize(
    "text",
    [
        "2031-04-01 13:05",
        "2031-04-01T13:05:00",
        "2031-04-01 13:05:00.000",
        "20310401 13:05",
        "13/4/2031 13:05",
        "2031/4/1 1:05 PM",
        "2031-04-01, 1:05pm",
        "2031-04-01T13:05Z",
        "2031-04-01 15:05+02:00",
        "2031-04-01T09:05:00-0400",
    ],
)
def test_ways_to_write_a_moment(text: str) -> None:
    day = "13" if text.startswith("13") else "01"
    assert moments(text) == [f"04-{day} 13:05"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2031-04-01 24:00", "04-02 00:00"),
        ("2031-04-01", "04-01 00:00"),
        ("2031-04-01 12:30 AM", "04-01 00:30"),
        ("2031-04-01 12:30 PM", "04-01 12:30"),
    ],
)
def test_midnight_and_noon(text: str, expected: str) -> None:
    assert moments(text) == [expected]


@pytest.mark.parametrize(
    ("clock", "expected"),
    [("utc", "07-01 12:00"), ("standard", "07-01 12:00"), ("local", "07-01 11:00")],
)
def test_a_summer_noon_by_each_clock(clock: Clock, expected: str) -> None:
    assert moments("2031-07-01 12:00", clock=clock) == [expected]


def test_standard_time_of_another_zone() -> None:
    toronto = ZoneInfo("America/Toronto")
    assert moments("2031-07-01 12:00", clock="standard", zone=toronto) == ["07-01 17:00"]
    assert moments("2031-07-01 12:00", clock="local", zone=toronto) == ["07-01 16:00"]


def test_a_clock_is_asked_for_never_guessed() -> None:
    with pytest.raises(InputError) as fault:
        moments("2031-07-01 12:00", clock=None)
    assert str(fault.value) == (
        "clock of the file is missing: say --clock local if it keeps the garden's time, summer time too; "
        "--clock standard if it stays in winter time all year; --clock utc"
    )


def test_a_text_that_states_its_offset_needs_no_clock() -> None:
    texts = ("2031-07-01T12:00Z", "2031-07-01T14:00+01:00")
    assert moments(*texts, clock=None) == ["07-01 12:00", "07-01 13:00"]
    assert moments(*texts, clock="local") == ["07-01 12:00", "07-01 13:00"]


def test_the_hour_that_comes_twice_in_autumn_is_told_by_its_order() -> None:
    """London, 26 October 2031: 02:00 summer time becomes 01:00."""
    night = ["2031-10-26 00:30", "2031-10-26 01:00", "2031-10-26 01:30"]
    night += ["2031-10-26 01:00", "2031-10-26 01:30", "2031-10-26 02:00"]
    told = [
        "10-25 23:30",
        "10-26 00:00",
        "10-26 00:30",
        "10-26 01:00",
        "10-26 01:30",
        "10-26 02:00",
    ]
    assert moments(*night, clock="local") == told
    assert moments(*reversed(night), clock="local") == told[::-1]


def test_the_hour_left_out_in_spring_is_no_time_of_a_local_clock() -> None:
    """London, 30 March 2031: 01:00 becomes 02:00."""
    assert moments("2031-03-30 00:30", "2031-03-30 02:00", clock="local") == [
        "03-30 00:30",
        "03-30 01:00",
    ]
    with pytest.raises(InputError) as fault:
        moments("2031-03-30 00:30", "2031-03-30 01:30", clock="local")
    assert str(fault.value) == (
        "time on line 3: '2031-03-30 01:30' cannot be right; an hour that the garden's clock has, which was "
        "put forward that night; say --clock standard if the file's stays in winter time"
    )


def test_a_moment_twice_is_refused_with_both_lines() -> None:
    texts = ("2031-10-26 01:00", "2031-10-26 01:30", "2031-10-26 01:00")
    with pytest.raises(InputError) as fault:
        moments(*texts, clock="standard")
    assert str(fault.value) == (
        "time on line 4: '2031-10-26 01:00' cannot be right; a moment once; it is on line 2 too; "
        "if its clock was put back then, say --clock local"
    )
    with pytest.raises(InputError, match=r"a moment once; it is on line 2 too$"):
        moments("2031-07-01 01:00", "2031-07-01 01:00", clock="local")


def test_the_order_of_dates_is_as_in_a_file_of_days() -> None:
    assert moments("31/3/2031 23:00", "1/4/2031 0:00") == ["03-31 23:00", "04-01 00:00"]
    assert moments("1/4/2031 1:00", order="mdy") == ["01-04 01:00"]
    with pytest.raises(InputError, match="dmy if it is 2031-04-01, mdy if it is 2031-01-04"):
        moments("1/4/2031 1:00")


@pytest.mark.parametrize(
    "text",
    [
        "2031-04-01 25:00",
        "2031-04-01 24:01",
        "2031-04-01 12:60",
        "2031-04-01 13:00 PM",
        "2031-04-01 0:10 AM",
        "2031-04-01 10:00+19:00",
        "2031-04-31 10:00",
        "2031-04-01 9h",
        "",
    ],
)
def test_what_is_no_moment_is_named_with_its_line(text: str) -> None:
    with pytest.raises(InputError) as fault:
        moments("2031-04-01 09:00", text)
    assert fault.value.field.endswith(" on line 3")
    assert fault.value.right.startswith("a moment like 2031-04-01 09:30")


def test_moments_are_whole_datetimes() -> None:
    found, order = read_moments(rows("2031-07-01 12:00:30"), 0, None, "utc", LONDON)
    assert found == [datetime(2031, 7, 1, 12, 0, 30, tzinfo=UTC)]
    assert order == "ymd"
