"""Days that follow one another. What a day must be to count is said by who asks: `spells`, `heat`."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

ONE_DAY = timedelta(days=1)


class Run(NamedTuple):
    """Days without a gap, both ends included."""

    first: date
    last: date

    @property
    def days(self) -> int:
        """How many."""
        return (self.last - self.first).days + 1


def runs(days: Iterable[date]) -> tuple[Run, ...]:
    """The days, in any order, as runs from the oldest to the newest."""
    found: list[Run] = []
    for day in sorted(days):
        if found and day - found[-1].last <= ONE_DAY:
            found[-1] = found[-1]._replace(last=day)
        else:
            found.append(Run(day, day))
    return tuple(found)
