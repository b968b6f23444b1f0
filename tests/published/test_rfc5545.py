"""What soakbook writes into a calendar against the examples of RFC 5545 (2009), with its verified errata."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from soakbook.reminders.channels.calendar import calendar_text
from soakbook.reminders.channels.calendar_keeping import CalendarEvent, published
from soakbook.reminders.channels.calendar_zone import observances
from tests.reminders.channels.calendars import GARDEN, LONDON, at, days

NEW_YORK = ZoneInfo("America/New_York")


def written(event: CalendarEvent) -> list[str]:
    rows = published({}, [event], GARDEN, at(5, 30))
    return calendar_text(rows, "The Corrody", LONDON).split("\r\n")


def test_new_york_in_1998_and_1999() -> None:
    """Section 4, first example: DTSTART:19981025T020000, TZOFFSETFROM:-0400, TZOFFSETTO:-0500, TZNAME:EST, and
    DTSTART:19990404T020000, -0500, -0400, EDT. Erratum 3740 only adds that they begin after the example's event.
    """
    four, five = timedelta(hours=-4), timedelta(hours=-5)
    told = [
        (f"{one.onset:%Y%m%dT%H%M%S}", one.offset_from, one.offset_to, one.name, one.daylight)
        for one in observances(NEW_YORK, date(1998, 7, 1), date(1999, 7, 1))[1:]
    ]
    assert told == [
        ("19981025T020000", four, five, "EST", False),
        ("19990404T020000", five, four, "EDT", True),
    ]


def test_text_of_several_lines() -> None:
    r"""Section 3.3.11, example: written as `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`."""
    typed = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    lines = "\r\n".join(written(days("a", 16)._replace(body=typed))).replace("\r\n ", "")
    assert r"DESCRIPTION:Project XYZ Final Review\nConference Room - 3B\nCome Prepared." in lines


def test_an_event_of_whole_days_ends_on_the_day_after() -> None:
    """Section 3.6.1, the example that lasts from 28 June to 8 July 2007 inclusive: DTEND is 20070709."""
    text = written(CalendarEvent("a", "t", "", date(2007, 6, 28), date(2007, 7, 8)))
    assert not any(line.startswith("DTEND") for line in text), "over: not told of as news"
    rows = published(
        {}, [CalendarEvent("a", "t", "", date(2007, 6, 28), date(2007, 7, 8))], GARDEN,
        at(5, day=date(2007, 6, 20)),
    )  # fmt: skip
    lines = calendar_text(rows, "The Corrody", LONDON).split("\r\n")
    assert "DTSTART;VALUE=DATE:20070628" in lines
    assert "DTEND;VALUE=DATE:20070709" in lines
