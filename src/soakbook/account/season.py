"""Which days a season's account covers, and how much of them has gone by.

A season is named by the year it begins in: 1 January to 31 December, south of the equator 1 July to 30 June.
"""

from datetime import date, timedelta
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden.records import Garden

A_DAY = timedelta(days=1)
FIRST_YEAR, LAST_YEAR = 1900, 2199

NORTH_BEGINS, SOUTH_BEGINS = (1, 1), (7, 1)
NORTH_CLOSES, SOUTH_CLOSES = (11, 1), (5, 1)
"""From this day on nothing is likely to want water by hand: the account is whole. common practice, no source."""


class Span(NamedTuple):
    """The days of a season that an account is drawn up for: from `first` to `until`, both included."""

    year: int
    first: date
    until: date
    closed: bool
    """Whether the growing season is over; before that an account is "so far" and suggests nothing."""

    @property
    def asked(self) -> date:
        """The morning after the last day."""
        return self.until + A_DAY

    @property
    def days(self) -> int:
        """How many."""
        return (self.until - self.first).days + 1

    @property
    def name(self) -> str:
        """`2031`, and `2031/32` of a season over the new year."""
        if (self.first.month, self.first.day) == NORTH_BEGINS:
            return str(self.year)
        return f"{self.year}/{(self.year + 1) % 100:02}"


def bounds_of(garden: Garden, year: int) -> tuple[date, date]:
    """First and last day of a whole season.

    Raises
    ------
    InputError
        A year that no garden is kept in.
    """
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise InputError("year", year, f"a year from {FIRST_YEAR} to {LAST_YEAR}, as 2031")
    begins = SOUTH_BEGINS if garden.latitude_deg < 0 else NORTH_BEGINS
    return date(year, *begins), date(year + 1, *begins) - A_DAY


def season_year(garden: Garden, day: date) -> int:
    """The year by which the season of a day is named."""
    begins = SOUTH_BEGINS if garden.latitude_deg < 0 else NORTH_BEGINS
    return day.year if (day.month, day.day) >= begins else day.year - 1


def span_of(garden: Garden, year: int, asked: date) -> Span:
    """The days of a season up to the day before the one asked on.

    Parameters
    ----------
    garden : Garden
    year : int
        By which the season is named: the one it begins in.
    asked : date
        The morning on which it is asked; it is not in it.

    Raises
    ------
    InputError
        The season has not begun on that morning, or the year is none.
    """
    first, last = bounds_of(garden, year)
    if asked <= first:
        right = f"a season that has begun by {asked.isoformat()}: that of {year} begins on {first}"
        raise InputError("year", year, right)
    southern = garden.latitude_deg < 0
    closes = date(year + 1, *SOUTH_CLOSES) if southern else date(year, *NORTH_CLOSES)
    return Span(year, first, min(last, asked - A_DAY), asked >= closes)
