"""A calendar read by the letter of RFC 5545, by nobody's library: what must be there, how often, and in what form.

Only what soakbook writes is known here; anything else is a fault.
"""

import re
from collections import Counter
from typing import NamedTuple

LINE = re.compile(r'([A-Z-]+)((?:;[A-Z-]+=[^;:",]+)*):(.*)', re.DOTALL)
TEXT = re.compile(r"(?:[^\x00-\x08\x0a-\x1f\x7f\\;,]|\\[\\;,nN])*")
UTC_MOMENT = re.compile(r"\d{8}T\d{6}Z")
LOCAL_MOMENT = re.compile(r"\d{8}T\d{6}")
DAY = re.compile(r"\d{8}")
DURATION = re.compile(r"-?P(?:\d+D)?(?:T(?:\d+H)?(?:\d+M)?(?:\d+S)?)?")
OFFSET = re.compile(r"[+-]\d{4}")
TEXTS = {"SUMMARY", "DESCRIPTION", "NAME", "X-WR-CALNAME", "PRODID", "TZNAME", "UID"}

ONCE = {
    "VCALENDAR": {
        "PRODID", "VERSION", "CALSCALE", "METHOD", "NAME", "X-WR-CALNAME", "REFRESH-INTERVAL",
    },
    "VEVENT": {
        "UID", "DTSTAMP", "DTSTART", "SEQUENCE", "SUMMARY", "DESCRIPTION", "LAST-MODIFIED", "STATUS", "TRANSP",
    },
    "VALARM": {"ACTION", "TRIGGER", "DESCRIPTION"},
    "VTIMEZONE": {"TZID"},
    "STANDARD": {"DTSTART", "TZOFFSETFROM", "TZOFFSETTO", "TZNAME"},
    "DAYLIGHT": {"DTSTART", "TZOFFSETFROM", "TZOFFSETTO", "TZNAME"},
}  # fmt: skip
"""All that must be there, and at most once (3.4, 3.6, 3.6.1, 3.6.5, 3.6.6), and what soakbook always says besides."""

INSIDE = {
    "VCALENDAR": {"VTIMEZONE", "VEVENT"},
    "VEVENT": {"VALARM"},
    "VTIMEZONE": {"STANDARD", "DAYLIGHT"},
    "VALARM": set(),
    "STANDARD": set(),
    "DAYLIGHT": set(),
}


class Property(NamedTuple):
    """One line: `DTSTART;VALUE=DATE:20310516`."""

    name: str
    parameters: dict[str, str]
    value: str


class Component(NamedTuple):
    """What stands between a BEGIN and its END."""

    name: str
    properties: list[Property]
    inside: list["Component"]

    def said(self, name: str) -> Property:
        """The one property of that name."""
        (found,) = [one for one in self.properties if one.name == name]
        return found

    def all(self, name: str) -> list["Component"]:
        """The components of that name right inside."""
        return [one for one in self.inside if one.name == name]


def read(text: str) -> Component:
    """The calendar; whatever breaks a rule fails where it stands."""
    assert text.endswith("\r\n")
    lines = text.removesuffix("\r\n").split("\r\n")
    assert not any(mark in line for line in lines for mark in "\r\n"), "a line's end is CRLF"
    assert max(len(line.encode()) for line in lines) <= 75, "3.1: 75 octets"
    unfolded = re.sub(r"\r\n[ \t]", "", text).removesuffix("\r\n").split("\r\n")
    properties = [_property(line) for line in unfolded]
    assert properties[0] == Property("BEGIN", {}, "VCALENDAR")
    calendar, rest = _component(properties)
    assert not rest, "one calendar, and nothing behind it"
    _check(calendar)
    zones = {zone.said("TZID").value for zone in calendar.all("VTIMEZONE")}
    named = {
        one.said("DTSTART").parameters["TZID"]
        for one in calendar.all("VEVENT")
        if "TZID" in one.said("DTSTART").parameters
    }
    assert named <= zones, "3.2.19: a zone that is named is there"
    uids = Counter(one.said("UID").value for one in calendar.all("VEVENT"))
    assert not uids or max(uids.values()) == 1
    return calendar


def unescaped(value: str) -> str:
    """Text as it was before it was written (3.3.11)."""
    return re.sub(
        r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value, flags=re.DOTALL
    )


def _property(line: str) -> Property:
    found = LINE.fullmatch(line)
    assert found, f"no content line: {line!r}"
    parameters = dict(part.split("=", 1) for part in found[2].split(";")[1:])
    return Property(found[1], parameters, found[3])


def _component(properties: list[Property]) -> tuple[Component, list[Property]]:
    begin, *rest = properties
    component = Component(begin.value, [], [])
    while rest[0].name != "END":
        if rest[0].name == "BEGIN":
            inner, rest = _component(rest)
            component.inside.append(inner)
        else:
            component.properties.append(rest[0])
            rest = rest[1:]
    assert rest[0].value == component.name
    return component, rest[1:]


def _check(component: Component) -> None:
    counts = Counter(one.name for one in component.properties)
    wanted = ONCE[component.name]
    extra = set(counts) - wanted
    assert all(counts[name] == 1 for name in wanted), (component.name, counts)
    assert extra <= ({"DTEND", "DURATION"} if component.name == "VEVENT" else set()), extra
    for one in component.properties:
        if one.name in TEXTS:
            assert TEXT.fullmatch(one.value), one
    for inner in component.inside:
        assert inner.name in INSIDE[component.name]
        _check(inner)
    CHECKS[component.name](component)


def _check_calendar(calendar: Component) -> None:
    assert calendar.inside, "3.4: at least one component"
    assert calendar.said("VERSION").value == "2.0"
    assert calendar.said("CALSCALE").value == "GREGORIAN"
    assert calendar.said("METHOD").value == "PUBLISH"
    interval = calendar.said("REFRESH-INTERVAL")
    assert interval.parameters == {"VALUE": "DURATION"}, "RFC 7986, 5.7"
    assert DURATION.fullmatch(interval.value)


def _check_event(event: Component) -> None:
    for name in ("DTSTAMP", "LAST-MODIFIED"):
        assert UTC_MOMENT.fullmatch(event.said(name).value)
    assert re.fullmatch(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", event.said("UID").value)
    assert event.said("SEQUENCE").value.isdecimal()
    assert event.said("STATUS").value in {"CONFIRMED", "CANCELLED"}
    start = event.said("DTSTART")
    ends = [one for one in event.properties if one.name in {"DTEND", "DURATION"}]
    assert len(ends) == 1, "3.6.1: DTEND or DURATION, never both"
    if start.parameters == {"VALUE": "DATE"}:
        assert DAY.fullmatch(start.value)
        assert (ends[0].name, ends[0].parameters) == ("DTEND", {"VALUE": "DATE"})
        assert DAY.fullmatch(ends[0].value)
        assert ends[0].value > start.value
        assert event.said("TRANSP").value == "TRANSPARENT"
    else:
        form = LOCAL_MOMENT if set(start.parameters) == {"TZID"} else UTC_MOMENT
        assert set(start.parameters) <= {"TZID"}
        assert form.fullmatch(start.value), start
        assert ends[0].name == "DURATION"
        assert DURATION.fullmatch(ends[0].value)
        assert not ends[0].value.startswith("-")
        assert event.said("TRANSP").value == "OPAQUE"
    if event.said("STATUS").value == "CANCELLED":
        assert not event.inside, "what is off wakes nobody"


def _check_alarm(alarm: Component) -> None:
    assert alarm.said("ACTION").value == "DISPLAY"
    when = alarm.said("TRIGGER")
    if when.parameters:
        assert when.parameters == {"VALUE": "DATE-TIME"}, "3.8.6.3"
        assert UTC_MOMENT.fullmatch(when.value)
    else:
        assert DURATION.fullmatch(when.value)


def _check_observance(observance: Component) -> None:
    onset = observance.said("DTSTART")
    assert not onset.parameters
    assert LOCAL_MOMENT.fullmatch(onset.value), "3.6.5: a local time"
    for name in ("TZOFFSETFROM", "TZOFFSETTO"):
        assert OFFSET.fullmatch(observance.said(name).value)


def _check_zone(zone: Component) -> None:
    assert zone.inside, "3.6.5: a time that is kept"


CHECKS = {
    "VCALENDAR": _check_calendar,
    "VEVENT": _check_event,
    "VALARM": _check_alarm,
    "VTIMEZONE": _check_zone,
    "STANDARD": _check_observance,
    "DAYLIGHT": _check_observance,
}
