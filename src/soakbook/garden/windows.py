"""Windows of gauge readings in UTC: which reading owns which time.

A reading is an amount for the time since the gauge was last emptied; where two windows overlap, the one written
later owns the overlap.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden.entries import Rain
from soakbook.garden.hours import HOUR, Hours


class Span(NamedTuple):
    """Time in UTC that one reading owns, and the rain it has for it."""

    reading: int
    begin: datetime
    end: datetime
    rain_mm: float


def owned(
    readings: tuple[Rain, ...], zone: tzinfo, round_hour: time, hours: Hours
) -> Iterator[Span]:
    """Spans with their owner, in the order of time: one for each stretch between two boundaries."""
    windows = [_window(reading, zone, round_hour) for reading in readings]
    starts = sorted((begin, number) for number, (begin, _) in enumerate(windows))
    boundaries = sorted({moment for window in windows for moment in window})
    standing: list[int] = []
    for begin, end in pairwise(boundaries):
        standing = [number for number in standing if windows[number][1] > begin]
        while starts and starts[0][0] <= begin:
            standing.append(starts.pop(0)[1])
        if standing:
            owner = max(
                standing, key=lambda number: (readings[number].written_at, readings[number].uid)
            )
            share = hours.share(begin, end, *windows[owner])
            yield Span(owner, begin, end, readings[owner].rain_mm * share)


def unowned_hours(
    readings: tuple[Rain, ...], day: date, zone: tzinfo, round_hour: time
) -> tuple[float, ...]:
    """Which part of each hour of a local day no reading owns, from midnight on; 23 to 25 of them [0-1]."""
    begins, ends = (local_moment(one, time(0), zone) for one in (day, day + timedelta(days=1)))
    hours = [begins + n * HOUR for n in range(round((ends - begins) / HOUR))]
    near = tuple(
        one
        for one in readings
        if in_utc(one.began_at) < ends and reading_end(one, zone, round_hour) > begins
    )
    spans = list(owned(near, zone, round_hour, Hours({}, zone)))
    return tuple(
        1
        - sum(
            max(timedelta(0), min(one.end, at + HOUR) - max(one.begin, at)) / HOUR for one in spans
        )
        for at in hours
    )


def _window(reading: Rain, zone: tzinfo, round_hour: time) -> tuple[datetime, datetime]:
    begin, end = in_utc(reading.began_at), reading_end(reading, zone, round_hour)
    if begin >= end:
        raise InputError(
            "rain from",
            reading.began_at.isoformat(),
            f"a moment before the reading at {end.astimezone(zone)}",
        )
    return begin, end


def reading_end(reading: Rain, zone: tzinfo, round_hour: time) -> datetime:
    """When a reading was taken; one without a time at the round hour."""
    happened = reading.happened_at
    if isinstance(happened, datetime):
        return in_utc(happened)
    return local_moment(happened, round_hour, zone)


def local_moment(day: date, at: time, zone: tzinfo) -> datetime:
    """A wall-clock time of a day, in UTC."""
    return in_utc(datetime.combine(day, at, zone))


def in_utc(moment: datetime) -> datetime:
    """The same moment in UTC."""
    return moment.astimezone(UTC)
