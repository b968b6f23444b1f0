"""The clocks of a calendar against those of zoneinfo: every quarter of an hour of a year, in odd zones."""

from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import vobject

from soakbook.reminders.channels.calendar import calendar_text
from soakbook.reminders.channels.calendar_keeping import published
from soakbook.reminders.channels.calendar_zone import observances
from tests.reminders.channels import rfc5545
from tests.reminders.channels.calendars import GARDEN, HAVANA, LONDON, LORD_HOWE, ZONES, at, days

YEAR = 2031
QUARTERS = [
    datetime(YEAR, 1, 1, tzinfo=UTC) + timedelta(minutes=15 * number) for number in range(365 * 96)
]
ODD = tuple(map(ZoneInfo, ("Africa/Casablanca", "Asia/Kathmandu", "Pacific/Chatham", "UTC")))
"""Two changes round Ramadan; 5:45 ahead and no change; 12:45 ahead and changes; none at all."""


def text_in(zone: ZoneInfo) -> str:
    rows = published({}, [days("bed a", 18)], GARDEN, at(5, zone=zone))
    return calendar_text(rows, "The Corrody", zone)


def offset_of(written: str) -> timedelta:
    ahead = timedelta(hours=int(written[1:3]), minutes=int(written[3:5]))
    return ahead if written[0] == "+" else -ahead


def by_the_letter(text: str) -> list[tuple[datetime, timedelta]]:
    """Since when which offset is kept, in UTC (RFC 5545, 3.6.5: DTSTART is local, by TZOFFSETFROM)."""
    (zone,) = rfc5545.read(text).all("VTIMEZONE")
    return sorted(
        (
            datetime.strptime(one.said("DTSTART").value, "%Y%m%dT%H%M%S").replace(tzinfo=UTC)
            - offset_of(one.said("TZOFFSETFROM").value),
            offset_of(one.said("TZOFFSETTO").value),
        )
        for one in zone.inside
    )


@pytest.mark.parametrize("zone", [*ZONES, *ODD], ids=str)
def test_every_quarter_of_an_hour_has_the_zones_offset(zone: ZoneInfo) -> None:
    kept = by_the_letter(text_in(zone))
    assert kept[0][0] < QUARTERS[0]
    wrong = []
    for moment in QUARTERS:
        _, offset = max(since for since in kept if since[0] <= moment)
        if offset != moment.astimezone(zone).utcoffset():
            wrong.append(moment)
    assert wrong == []


@pytest.mark.parametrize("zone", ZONES, ids=str)
def test_another_reader_takes_wall_times_for_the_same_moments(zone: ZoneInfo) -> None:
    """vobject's zone is made of the written component alone; of an hour that comes twice it may take either."""
    read: Any = vobject.readOne(text_in(zone)).vtimezone.gettzinfo()
    wrong = []
    for moment in QUARTERS:
        wall = moment.astimezone(zone).replace(tzinfo=None)
        twice = (
            wall.replace(tzinfo=zone, fold=1).utcoffset() != wall.replace(tzinfo=zone).utcoffset()
        )
        if (
            not twice
            and wall.replace(tzinfo=read).utcoffset() != moment.astimezone(zone).utcoffset()
        ):
            wrong.append(wall)
    assert wrong == []


@pytest.mark.parametrize(
    ("zone", "changes"),
    [
        (LONDON, ["2031-03-30 01:00 +0:00:00 to 1:00:00", "2031-10-26 02:00 +1:00:00 to 0:00:00"]),
        (LORD_HOWE, ["2031-04-06 02:00 +11:00:00 to 10:30:00", "2031-10-05 02:00 +10:30:00 to 11:00:00"]),
        (HAVANA, ["2031-03-09 00:00 -5:00:00 to -4:00:00", "2031-11-02 01:00 -4:00:00 to -5:00:00"]),
    ],
    ids=str,
)  # fmt: skip
def test_a_change_is_told_by_the_clock_before_it(zone: ZoneInfo, changes: list[str]) -> None:
    """When those clocks change: common knowledge of each place, for half an hour and at midnight, too."""

    def hours(offset: timedelta) -> str:
        return f"-{-offset}" if offset < timedelta() else f"{offset}"

    found = [
        f"{one.onset:%Y-%m-%d %H:%M} {'+' if one.offset_from >= timedelta() else ''}"
        f"{hours(one.offset_from)} to {hours(one.offset_to)}"
        for one in observances(zone, date(YEAR, 1, 1), date(YEAR, 12, 31))[1:]
    ]
    assert found == changes


def test_summer_time_is_called_so() -> None:
    told = [
        (one.name, one.daylight)
        for one in observances(LONDON, date(2031, 1, 1), date(2031, 12, 31))
    ]
    assert told == [("GMT", False), ("BST", True), ("GMT", False)]


def test_years_of_events_are_all_there_and_no_more() -> None:
    told = observances(LONDON, date(2031, 1, 1), date(2033, 12, 31))
    assert [one.onset.year for one in told] == [2030, 2031, 2031, 2032, 2032, 2033, 2033]
