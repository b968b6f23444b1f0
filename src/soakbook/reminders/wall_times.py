"""The moment at which a clock on the wall shows an hour, also on days on which it is put on or back.

Wall time is read in one way here. An hour that is missing, because the clock leaps over it, is the moment of the leap;
one that is doubled is its first showing (PEP 495: fold 0). So every hour of every day has one moment, and a later hour
never an earlier one. What is due at such an hour is in `instants`.
"""

from bisect import bisect_left
from datetime import UTC, date, datetime, time, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

Shown = Literal["once", "missing", "doubled"]


def moment_of(day: date, hour: time, zone: ZoneInfo) -> datetime:
    """When the clock shows an hour of a day, in UTC: the leap for a missing hour, the first of a doubled one."""
    first, second = _readings(day, hour, zone)
    return first if first <= second else _leap(second, first, datetime.combine(day, hour), zone)


def how_shown(day: date, hour: time, zone: ZoneInfo) -> Shown:
    """How often the clock shows an hour of a day."""
    first, second = _readings(day, hour, zone)
    if first == second:
        return "once"
    return "doubled" if first < second else "missing"


def in_calendar(day: date, zone: ZoneInfo) -> bool:
    """Whether a zone has had that day: Samoa leapt over 30 December 2011."""
    return moment_of(day, time(0), zone) < moment_of(day + timedelta(days=1), time(0), zone)


def _readings(day: date, hour: time, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """An hour read with fold 0 and with fold 1, in UTC.

    The two differ about a change of the clock only. Of a doubled hour they are its two showings. A missing hour is
    read by the offset from before the leap and by that from after it, so that the second lies before the leap, the
    first at it or after.
    """
    first, second = (
        datetime.combine(day, hour.replace(fold=n), zone).astimezone(UTC) for n in (0, 1)
    )
    return first, second


def _leap(before: datetime, after: datetime, missing: datetime, zone: ZoneInfo) -> datetime:
    """The second at which the clock leaps over a missing wall time, later than `before`, at the latest `after`."""
    begin = before.replace(microsecond=0)

    def has_leapt(seconds: int) -> bool:
        here = (begin + timedelta(seconds=seconds)).astimezone(zone)
        return here.replace(tzinfo=None) > missing

    span = range(int((after - begin).total_seconds()) + 1)
    return begin + timedelta(seconds=bisect_left(span, True, key=has_leapt))
