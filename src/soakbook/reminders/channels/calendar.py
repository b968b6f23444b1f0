"""The calendar as text: what the book keeps of its events, as an iCalendar file that any calendar can subscribe to.

Text only: what goes in is in `calendar_events`, what of it is new or changed in `calendar_keeping`; the file is
`calendar_file`'s. The one home of icalendar, which folds and puts together. Zones and the marks before commas are ours:
in icalendar 7.3.2 summer time begins an hour late (`add_missing_timezones`), and a backslash that somebody typed before
an N becomes a new line.
"""

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from functools import cache
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from soakbook.reminders.channels.calendar_keeping import ONE_DAY, Kept
from soakbook.reminders.channels.calendar_zone import observances

if TYPE_CHECKING:
    from icalendar import Alarm, Event, Timezone, vText

PRODUCT = "-//soakbook//calendar//EN"
LOOK_AGAIN = timedelta(hours=1)
"""How often a calendar that subscribes is asked to look."""
NO_EVENTS_YEAR = 1970
"""For which year the clocks are written where there are no events."""


def calendar_text(kept: Iterable[Kept], garden_name: str, zone: ZoneInfo) -> str:
    """The whole file, lines ended as RFC 5545 wants them; the same to the byte while nothing has changed.

    Nobody is invited, so there is no organizer: RFC 5545, 3.8.4.3, forbids one here, though RFC 5546, 3.2.1, asks for
    one in all that is published. The zone is always there: a calendar must have a component, also in a winter without
    events.

    Parameters
    ----------
    kept
        What was published, in any order.
    garden_name
        What subscribers see the calendar called.
    zone
        The garden's.

    References
    ----------
    RFC 5545, 3.4 and 3.6 (what must be there), 3.1 (75 octets a line), 3.3.11 (marks in text); RFC 7986, 5.1 and 5.7
    (NAME, REFRESH-INTERVAL). DTSTAMP is when the event was last changed, not when the file was made.
    """
    from icalendar import Calendar

    rows = sorted(kept, key=lambda row: (row.said["first"], row.said["at"] or "", row.uid))
    calendar = Calendar()
    calendar.add("PRODID", PRODUCT)
    calendar.add("VERSION", "2.0")
    calendar.add("CALSCALE", "GREGORIAN")
    calendar.add("METHOD", "PUBLISH")
    calendar.add("NAME", _line(garden_name))
    calendar.add("X-WR-CALNAME", _line(garden_name))
    calendar.add("REFRESH-INTERVAL", LOOK_AGAIN, parameters={"VALUE": "DURATION"})
    calendar.add_component(_timezone(zone, rows))
    for row in rows:
        calendar.add_component(_event(row, zone))
    text: bytes = calendar.to_ical()
    return text.decode()


def _event(row: Kept, zone: ZoneInfo) -> "Event":
    from icalendar import Event

    said = row.said
    event = Event()
    event.add("UID", row.uid)
    event.add("DTSTAMP", row.changed_at.astimezone(UTC))
    event.add("LAST-MODIFIED", row.changed_at.astimezone(UTC))
    event.add("SEQUENCE", row.sequence)
    event.add("SUMMARY", _line(said["title"]))
    event.add("DESCRIPTION", _text(said["body"]))
    event.add("STATUS", "CANCELLED" if row.cancelled else "CONFIRMED")
    if said["at"] is None:
        event.add("DTSTART", date.fromisoformat(said["first"]))
        event.add("DTEND", row.last + ONE_DAY)  # the first day it is not on
        event.add("TRANSP", "TRANSPARENT")
    else:
        event.add("DTSTART", _local(said["at"], zone))
        event.add("DURATION", timedelta(minutes=said["minutes"]))
        event.add("TRANSP", "OPAQUE")
    if said["alarm"] is not None and not row.cancelled:
        event.add_component(_alarm(row))
    return event


def _alarm(row: Kept) -> "Alarm":
    """At a moment in UTC for whole days, which begin when their reader's clock says so; else so long from the hour."""
    from icalendar import Alarm

    moment = datetime.fromisoformat(row.said["alarm"])
    at = row.said["at"]
    alarm = Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("DESCRIPTION", _line(row.said["title"]))
    if at is None:
        alarm.add("TRIGGER", moment, parameters={"VALUE": "DATE-TIME"})
    else:
        alarm.add("TRIGGER", moment - datetime.fromisoformat(at))
    return alarm


def _local(moment: str, zone: ZoneInfo) -> datetime:
    """In the garden's zone; in UTC where the clocks show that hour twice and this is the second time.

    RFC 5545, 3.3.5: an hour that comes twice is the first of the two.
    """
    at = datetime.fromisoformat(moment)
    local = at.astimezone(zone)
    return at.astimezone(UTC) if local.fold else local


def _timezone(zone: ZoneInfo, rows: Iterable[Kept]) -> "Timezone":
    """The clocks of the years in which there are events."""
    from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

    years = [day.year for row in rows for day in (date.fromisoformat(row.said["first"]), row.last)]
    first, last = min(years, default=NO_EVENTS_YEAR), max(years, default=NO_EVENTS_YEAR)
    timezone = Timezone()
    timezone.add("TZID", zone.key)
    for one in observances(zone, date(first, 1, 1), date(last, 12, 31)):
        kept = TimezoneDaylight() if one.daylight else TimezoneStandard()
        kept.DTSTART = one.onset
        kept.TZOFFSETFROM = one.offset_from
        kept.TZOFFSETTO = one.offset_to
        kept.add("TZNAME", _line(one.name))
        timezone.add_component(kept)
    return timezone


def _line(words: str) -> "vText":
    """A title: one line, whatever was typed."""
    return _typed()(" ".join(_plain(words).split()))


def _text(words: str) -> "vText":
    return _typed()(_plain(words))


def _plain(words: str) -> str:
    """Text without what no calendar may hold (RFC 5545, 3.3.11): line ends of every kind are one, other controls go.

    A reader that takes another mark than CRLF for a line's end must not find a line of somebody's own making.
    """
    kept = (mark for mark in words if mark in _ENDS or (mark >= " " and mark != "\x7f"))
    return "\n".join("".join(kept).splitlines()).encode("utf-8", "replace").decode()


_ENDS = "\t\n\r\v\f\x1c\x1d\x1e"
"""Controls that stay, or are line ends to Python."""


@cache
def _typed() -> "type[vText]":
    """Text that is read as it was typed; icalendar takes a typed backslash before an N for a new line."""
    from icalendar import vText

    class Typed(vText):
        def to_ical(self) -> bytes:
            escaped = self.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
            return escaped.replace("\n", "\\n").encode()

    return Typed
