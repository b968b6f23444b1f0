"""When the clocks of a zone change, as a calendar has to be told it.

Every change is written out, for the years that the calendar speaks of, and no rule is guessed from it: so it is right
for a zone that changes by half an hour, at midnight, or by decree. Nothing here writes a file.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import NamedTuple

ONE_DAY = timedelta(days=1)
ONE_SECOND = timedelta(seconds=1)


class Observance(NamedTuple):
    """A time that a zone's clocks keep, and since when."""

    onset: datetime
    """The moment of the change by the clock as it went before: naive, as RFC 5545 wants it."""
    offset_from: timedelta
    offset_to: timedelta
    """Ahead of UTC before and after; the same twice for the first, which was there already."""
    name: str
    daylight: bool


def observances(zone: tzinfo, first: date, last: date) -> tuple[Observance, ...]:
    """The time that is kept on the first day, and every change from then to the last.

    Parameters
    ----------
    zone
        Of the garden.
    first, last
        Both included, and a day on each side for whoever reads them in another zone.

    References
    ----------
    RFC 5545, 3.6.5: an observance begins at DTSTART, a local time that TZOFFSETFROM takes to UTC.
    """
    begin = datetime.combine(first, time(), UTC) - 2 * ONE_DAY
    end = datetime.combine(last, time(), UTC) + 3 * ONE_DAY
    there = _offset(zone, begin)
    return (_observance(zone, begin, there), *_changes(zone, begin, end))


def _changes(zone: tzinfo, begin: datetime, end: datetime) -> Iterator[Observance]:
    """Found by looking once a day: no zone has ever changed there and back in less."""
    before = begin
    while before < end:
        after = before + ONE_DAY
        offset = _offset(zone, before)
        if _offset(zone, after) != offset:
            yield _observance(zone, _moment_of_change(zone, before, after), offset)
        before = after


def _moment_of_change(zone: tzinfo, before: datetime, after: datetime) -> datetime:
    """The first second with the offset of `after`, by halving."""
    offset = _offset(zone, after)
    while after - before > ONE_SECOND:
        middle = before + (after - before) // 2
        middle = middle.replace(microsecond=0)
        if _offset(zone, middle) == offset:
            after = middle
        else:
            before = middle
    return after


def _observance(zone: tzinfo, moment: datetime, offset_from: timedelta) -> Observance:
    local = moment.astimezone(zone)
    return Observance(
        onset=moment.replace(tzinfo=None) + offset_from,
        offset_from=offset_from,
        offset_to=_offset(zone, moment),
        name=local.tzname() or "",
        daylight=bool(local.dst()),
    )


def _offset(zone: tzinfo, moment: datetime) -> timedelta:
    return moment.astimezone(zone).utcoffset() or timedelta()
