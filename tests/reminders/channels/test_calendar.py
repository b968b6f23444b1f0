"""The calendar as other programs read it: vobject, icalendar, and RFC 5545 by the letter."""

import re
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
import vobject
from hypothesis import example, given
from hypothesis import strategies as st

from soakbook.reminders.channels.calendar import calendar_text
from soakbook.reminders.channels.calendar_keeping import CalendarEvent, published
from tests.reminders.channels import rfc5545
from tests.reminders.channels.calendars import (
    GARDEN,
    HAVANA,
    LONDON,
    LORD_HOWE,
    ZONES,
    at,
    by_uid,
    days,
    hour,
)

NOW = at(5, 30)
PIECES = (
    "BEGIN:VEVENT", "END:VCALENDAR", "\r\n", "\n", "\r", "\u2028", "\x85", "\x0b", "\x1c", "\x00", "\x7f", "\ud800",
    ",", ";", ":", '"', "\\", "\\n", "\\N", "C:\\New", " ", "\t", "🌹", "é", "Warden's", "x" * 80, "🌹" * 30, "^n",
)  # fmt: skip
nasty = st.lists(st.sampled_from(PIECES) | st.text(max_size=4), max_size=8).map("".join)


def text_of(
    *events: CalendarEvent,
    zone: ZoneInfo = LONDON,
    name: str = "The Corrody",
    now: datetime = NOW,
) -> str:
    return calendar_text(published({}, events, GARDEN, now), name, zone)


def by_vobject(text: str) -> Any:
    return vobject.readOne(text)


def by_icalendar(text: str) -> Sequence[icalendar.Event]:
    return icalendar.Calendar.from_ical(text).events


def test_a_call_reads_the_same_by_three_readers() -> None:
    text = text_of(hour("bed a", 15))
    (event,) = rfc5545.read(text).all("VEVENT")
    assert event.said("DTSTART") == ("DTSTART", {"TZID": "Europe/London"}, "20310515T070000")
    assert event.said("DURATION").value == "PT10M"
    assert event.said("SEQUENCE").value == "0"
    assert event.said("DTSTAMP").value == event.said("LAST-MODIFIED").value == "20310515T043000Z"
    (alarm,) = event.all("VALARM")
    assert alarm.said("DESCRIPTION").value == "Soak Bank: 20 L"
    other = by_vobject(text).vevent
    assert other.summary.value == "Soak Bank: 20 L"
    assert other.dtstart.value.astimezone(UTC) == datetime(2031, 5, 15, 6, tzinfo=UTC)
    assert other.valarm.trigger.value == timedelta()
    (third,) = by_icalendar(text)
    assert third.start == at(7)
    assert third.end == at(7, 10)


def test_days_end_on_the_first_day_they_are_not_on_and_wake_at_a_wall_time() -> None:
    """RFC 5545, 3.6.1: DTEND is exclusive. In UTC the alarm is the garden's hour whatever the reader's zone."""
    text = text_of(days("rule a", 18, 20)._replace(alarm=at(7, day=date(2031, 5, 18))))
    (event,) = rfc5545.read(text).all("VEVENT")
    assert event.said("DTSTART").value == "20310518"
    assert event.said("DTEND").value == "20310521"
    assert event.all("VALARM")[0].said("TRIGGER").value == "20310518T060000Z"
    other = by_vobject(text).vevent
    assert (other.dtstart.value, other.dtend.value) == (date(2031, 5, 18), date(2031, 5, 21))
    assert other.valarm.trigger.value == datetime(2031, 5, 18, 6, tzinfo=UTC)


def test_what_is_off_says_so_and_wakes_nobody() -> None:
    before = published({}, [hour("bed a", 16)], GARDEN, NOW)
    text = calendar_text(published(by_uid(before), [], GARDEN, at(6)), "The Corrody", LONDON)
    (event,) = rfc5545.read(text).all("VEVENT")
    assert event.said("STATUS").value == "CANCELLED"
    assert event.said("SEQUENCE").value == "1"
    assert by_vobject(text).vevent.status.value == "CANCELLED"


def test_a_calendar_without_events_is_one() -> None:
    """RFC 5545, 3.4: at least one component; it is the zone."""
    text = text_of()
    assert rfc5545.read(text).all("VEVENT") == []
    assert by_vobject(text).vtimezone.tzid.value == "Europe/London"


def test_it_names_the_garden_and_nobody_else() -> None:
    calendar = rfc5545.read(text_of(hour("bed a", 15), name="The Corrody, Marl Hatherby"))
    for name in ("NAME", "X-WR-CALNAME"):
        assert rfc5545.unescaped(calendar.said(name).value) == "The Corrody, Marl Hatherby"
    names = {one.name for part in calendar.inside for one in part.properties}
    assert not names & {"ORGANIZER", "ATTENDEE", "CATEGORIES", "URL", "GEO", "LOCATION"}
    assert GARDEN not in text_of(hour("bed a", 15))


def test_the_bytes_are_the_same_in_whatever_order_and_whenever_it_is_written() -> None:
    events = [hour("bed a", 15), days("bed b", 16), days("heat", 20, 23)]
    first = published({}, events, GARDEN, NOW)
    later = published(by_uid(first), events[::-1], GARDEN, NOW + timedelta(minutes=40))
    assert calendar_text(first[::-1], "x", LONDON) == calendar_text(later, "x", LONDON)


@pytest.mark.parametrize(
    ("zone", "missing", "said"),
    [
        (LONDON, datetime(2031, 3, 30, 1, 30, tzinfo=UTC), "20310330T023000"),
        (LORD_HOWE, datetime(2031, 10, 5, 2, 15, tzinfo=UTC), "20311005T024500"),
        (HAVANA, datetime(2031, 3, 9, 0, 30, tzinfo=UTC), "20310309T013000"),
    ],
    ids=str,
)
def test_an_hour_that_there_is_not_comes_after_the_gap(
    zone: ZoneInfo, missing: datetime, said: str
) -> None:
    moment = missing.replace(tzinfo=zone)  # a wall time
    event = CalendarEvent("a", "t", "", moment.date(), moment.date(), moment, 5, moment)
    calendar = rfc5545.read(text_of(event, zone=zone, now=datetime(2031, 1, 1, tzinfo=zone)))
    (read,) = calendar.all("VEVENT")
    assert read.said("DTSTART").value == said


@pytest.mark.parametrize("zone", ZONES, ids=str)
@given(minutes=st.integers(0, 366 * 24 * 4 - 1).map(lambda quarter: quarter * 15))
def test_every_quarter_of_an_hour_of_a_year_reads_back_as_that_moment(
    zone: ZoneInfo, minutes: int
) -> None:
    check_moment(zone, datetime(2031, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes))


@pytest.mark.parametrize(
    ("zone", "second"),
    [
        (LONDON, datetime(2031, 10, 26, 1, 30, tzinfo=UTC)),
        (LORD_HOWE, datetime(2031, 4, 5, 15, 15, tzinfo=UTC)),
        (HAVANA, datetime(2031, 11, 2, 5, 30, tzinfo=UTC)),
    ],
    ids=str,
)
def test_the_second_time_of_a_doubled_hour_is_told_in_utc(zone: ZoneInfo, second: datetime) -> None:
    """RFC 5545, 3.3.5: by a zone, an hour that comes twice is the first."""
    assert second.astimezone(zone).fold
    check_moment(zone, second)
    check_moment(zone, second - timedelta(hours=0.5 if zone is LORD_HOWE else 1))


def check_moment(zone: ZoneInfo, moment: datetime) -> None:
    """An event at that moment is by its zone where that can be said, and reads back as it."""
    local = moment.astimezone(zone)
    event = CalendarEvent("a", "t", "", local.date(), local.date(), local, 45, local)
    text = text_of(event, zone=zone, now=datetime(2030, 12, 1, tzinfo=zone))
    (read,) = rfc5545.read(text).all("VEVENT")
    assert read.said("DTSTART").parameters == ({} if local.fold else {"TZID": zone.key})
    (third,) = by_icalendar(text)
    start = third.start
    assert isinstance(start, datetime)
    assert start.astimezone(UTC) == moment


@given(title=nasty, body=nasty, name=nasty)
@example(title="", body="\r\n\x00", name="")
def test_whatever_was_typed_is_one_event_and_reads_back(title: str, body: str, name: str) -> None:
    text = text_of(days("a", 16, title=title)._replace(body=body, alarm=at(7)), name=name)
    calendar = rfc5545.read(text)
    (event,) = calendar.all("VEVENT")
    (alarm,) = event.all("VALARM")
    line, lines = " ".join(plain(title).split()), plain(body)
    assert rfc5545.unescaped(event.said("SUMMARY").value) == line
    assert rfc5545.unescaped(alarm.said("DESCRIPTION").value) == line
    assert rfc5545.unescaped(event.said("DESCRIPTION").value) == lines
    (third,) = by_icalendar(text)
    assert str(third["SUMMARY"]) == line
    assert str(third["DESCRIPTION"]) == lines
    other = by_vobject(text)
    assert len(other.vevent_list) == 1
    assert other.vevent.summary.value == line
    assert other.vevent.description.value == lines
    assert len([one for one in text.splitlines() if one == "BEGIN:VEVENT"]) == 1


def plain(typed: str) -> str:
    """What of a text may stand in a calendar: every line's end is one, no other controls, no half letters."""
    one_end = re.sub(r"\r\n|[\n\r\v\f\x1c-\x1e\x85\u2028\u2029]", "\n", typed)
    kept = re.sub(r"[\x00-\x08\x0e-\x1f\x7f]", "", one_end)
    return re.sub(r"[\ud800-\udfff]", "?", kept.removesuffix("\n"))
