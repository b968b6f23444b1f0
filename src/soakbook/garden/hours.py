"""The hours in which it rained, as a service told them: the shape of a reading's or a day's rain, never its amount."""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import NamedTuple

HOUR = timedelta(hours=1)
WET_FROM_MM = 0.1
"""Of an hour: engine's H counts those with at least so much."""

LEAST_MM = 0.001
"""Less than a thousandth in an hour shapes nothing."""

Shapes = Mapping[date, Sequence[float]]
"""Local day -> rain of each of its hours from midnight on [mm, >= 0]; days that nobody knows are left out."""


class Wet(NamedTuple):
    """One hour with rain, in UTC."""

    begin: datetime
    end: datetime
    rain_mm: float


class Hours:
    """The wet hours of some days, in the order of time, and from when to when they are known."""

    def __init__(self, shapes: Shapes, zone: tzinfo) -> None:
        midnights = {day: _midnight(day, zone) for day in sorted(shapes)}
        self._by_day = {day: _wet(shapes[day], midnight) for day, midnight in midnights.items()}
        self._all = sorted(one for hours in self._by_day.values() for one in hours)
        self._begins, self._ends = ([one[n] for one in self._all] for n in (0, 1))
        self._known = [
            (begin, min(begin + len(shapes[day]) * HOUR, _midnight(day + timedelta(days=1), zone)))
            for day, begin in midnights.items()
        ]
        self._known_begins, self._known_ends = ([one[n] for one in self._known] for n in (0, 1))

    def of(self, day: date) -> Sequence[Wet]:
        """Those of a local day; none where it was dry or nobody knows."""
        return self._by_day.get(day, ())

    def share(self, begin: datetime, end: datetime, first: datetime, last: datetime) -> float:
        """How much of what fell from `first` to `last` fell from `begin` to `end` [0-1].

        Hours that nobody knows have their share by time; the rest lies as the known hours have it. Where these are
        dry all of it fell in the others, and where there are none, by time.
        """
        if not self._known:
            return (end - begin) / (last - first)
        whole, lasting = self._rain_mm(first, last), last - first
        unknown = lasting - self._known_for(first, last)
        if whole == 0 and not unknown:
            return (end - begin) / lasting
        unknown_here = (end - begin) - self._known_for(begin, end)
        if whole == 0:
            return unknown_here / unknown
        known_share = 1 - unknown / lasting
        return unknown_here / lasting + known_share * self._rain_mm(begin, end) / whole

    def wet_h(self, begin: datetime, end: datetime) -> float:
        """Hours in which it rained at least a tenth of a millimetre."""
        return sum(part for one, part in self._within(begin, end) if one.rain_mm >= WET_FROM_MM)

    def _known_for(self, begin: datetime, end: datetime) -> timedelta:
        """How long of a span is known, dry or wet."""
        total = timedelta(0)
        after = bisect_right(self._known_ends, begin)
        for first, last in self._known[after : bisect_left(self._known_begins, end)]:
            total += min(last, end) - max(first, begin)
        return total

    def _rain_mm(self, begin: datetime, end: datetime) -> float:
        return sum(one.rain_mm * part for one, part in self._within(begin, end))

    def _within(self, begin: datetime, end: datetime) -> list[tuple[Wet, float]]:
        """Hours that overlap a span, with the part of each that lies in it."""
        after = bisect_right(self._ends, begin)
        return [
            (one, (min(one.end, end) - max(one.begin, begin)) / HOUR)
            for one in self._all[after : bisect_left(self._begins, end)]
        ]


def _midnight(day: date, zone: tzinfo) -> datetime:
    return datetime.combine(day, time(0), zone).astimezone(UTC)


def _wet(numbers: Sequence[float], midnight: datetime) -> list[Wet]:
    return [
        Wet(midnight + n * HOUR, midnight + (n + 1) * HOUR, rain_mm)
        for n, rain_mm in enumerate(numbers)
        if rain_mm >= LEAST_MM
    ]
