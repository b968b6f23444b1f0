"""The hours in which it rained, as a service told them: the shape of a reading's or a day's rain, never its amount."""

from bisect import bisect_right
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
    """The wet hours of some days, in the order of time."""

    def __init__(self, shapes: Shapes, zone: tzinfo) -> None:
        self._by_day = {
            day: _wet(numbers, datetime.combine(day, time(0), zone).astimezone(UTC))
            for day, numbers in shapes.items()
        }
        self._all = sorted(one for hours in self._by_day.values() for one in hours)
        self._ends = [one.end for one in self._all]

    def of(self, day: date) -> Sequence[Wet]:
        """Those of a local day; none where it was dry or nobody knows."""
        return self._by_day.get(day, ())

    def share(self, begin: datetime, end: datetime, first: datetime, last: datetime) -> float:
        """How much of what fell from `first` to `last` fell from `begin` to `end`; by time where no hour tells."""
        whole = self._rain_mm(first, last)
        if whole == 0:
            return (end - begin) / (last - first)
        return self._rain_mm(begin, end) / whole

    def wet_h(self, begin: datetime, end: datetime) -> float:
        """Hours in which it rained at least a tenth of a millimetre."""
        return sum(part for one, part in self._within(begin, end) if one.rain_mm >= WET_FROM_MM)

    def _rain_mm(self, begin: datetime, end: datetime) -> float:
        return sum(one.rain_mm * part for one, part in self._within(begin, end))

    def _within(self, begin: datetime, end: datetime) -> list[tuple[Wet, float]]:
        """Hours that overlap a span, with the part of each that lies in it."""
        found = []
        for one in self._all[bisect_right(self._ends, begin) :]:
            if one.begin >= end:
                break
            found.append((one, (min(one.end, end) - max(one.begin, begin)) / HOUR))
        return found


def _wet(numbers: Sequence[float], midnight: datetime) -> list[Wet]:
    return [
        Wet(midnight + n * HOUR, midnight + (n + 1) * HOUR, rain_mm)
        for n, rain_mm in enumerate(numbers)
        if rain_mm >= LEAST_MM
    ]
