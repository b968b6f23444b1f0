"""Days as the clock on the wall has them: which hours of UTC lie in which, and whether all do.

A day is 23, 24 or 25 hours where the clock changes by an hour; an hour belongs to the day that
holds its middle. What happens in the hours is in `hours`.
"""

from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

HOUR_S = 3600


class WallDay(NamedTuple):
    """One local day with its place among the hours, and whether they reach over all of it."""

    day: date
    hours: slice
    whole: bool
    from_hour: int = 0
    """Hours of it before the first of them, where they reach on to its end without a hole."""


def wall_days(begins_s: Floats, zone: tzinfo) -> tuple[WallDay, ...]:
    """Every local day from that of the first hour to that of the last.

    A day that the calendar leapt over, as Samoa did 30 December 2011, is not there.

    Parameters
    ----------
    begins_s
        When each hour begins, rising, one at least [seconds of UTC since 1970].
    zone
        The garden's.
    """
    middles_s = begins_s + HOUR_S / 2
    first, last = (
        datetime.fromtimestamp(float(middle), UTC).astimezone(zone).date()
        for middle in middles_s[[0, -1]]
    )
    count = (last - first).days + 1
    midnights_s = _midnights(first, count, zone)
    cut = np.searchsorted(middles_s, midnights_s)
    found = []
    for n in range(count):
        if midnights_s[n] < midnights_s[n + 1]:
            place = slice(int(cut[n]), int(cut[n + 1]))
            late_s = _late_s(begins_s[place], midnights_s[n], midnights_s[n + 1])
            whole = late_s is not None and abs(late_s) <= HOUR_S / 2
            from_hour = 0 if whole or late_s is None else round(late_s / HOUR_S)
            found.append(WallDay(first + timedelta(days=n), place, whole, from_hour))
    return tuple(found)


def _midnights(first: date, count: int, zone: tzinfo) -> Floats:
    """Seconds at which each of so many days begins, and at which the last of them ends.

    A midnight that the clock leaps over is the moment of its leap, one that it shows twice the
    first (PEP 495, fold 0).
    """
    days = [first + timedelta(days=n) for n in range(count + 1)]
    return np.array([datetime.combine(day, time(), zone).timestamp() for day in days])


def _late_s(begins_s: Floats, midnight_s: float, next_midnight_s: float) -> float | None:
    """How long after midnight hours begin that reach to the next, to half an hour, without a hole; None for others."""
    if not len(begins_s):
        return None
    ends_s = begins_s[-1] + HOUR_S
    if abs(ends_s - next_midnight_s) > HOUR_S / 2 or ends_s - begins_s[0] != len(begins_s) * HOUR_S:
        return None
    return float(begins_s[0] - midnight_s)
