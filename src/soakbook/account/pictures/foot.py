"""Days along a line and the months at its foot: where they stand, and their drawing."""

from datetime import date, timedelta
from typing import NamedTuple

from soakbook.account.pictures.ink import FINE_PT, INK, SMALL_PT, room_pt
from soakbook.account.pictures.shapes import line
from soakbook.account.pictures.sheet import Sheet

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Along(NamedTuple):
    """A line of days: the first lies from `left_pt`, the last ends at `right_pt`."""

    first: date
    last: date
    left_pt: float
    right_pt: float

    @property
    def days(self) -> int:
        """How many days lie along it, both ends counted."""
        return (self.last - self.first).days + 1

    @property
    def day_pt(self) -> float:
        """Width of a day [pt]."""
        return (self.right_pt - self.left_pt) / self.days

    def x(self, day: date) -> float:
        """Where a day begins [pt]."""
        return self.left_pt + (day - self.first).days * self.day_pt


class Month(NamedTuple):
    """A month or a piece of one along the line: from, to [pt], and what is written under it, if there is room."""

    begins_pt: float
    ends_pt: float
    says: str
    begins_year: bool
    year: int


def months_along(along: Along) -> list[Month]:
    """The months, each by the longest of its names that it has room for: Mar, M or none."""
    found = []
    begin = along.first
    while begin <= along.last:
        after = (begin.replace(day=1) + timedelta(days=31)).replace(day=1)
        end = min(after, along.last + timedelta(days=1))
        from_pt, to_pt = along.x(begin), along.x(end)
        name = MONTHS[begin.month - 1]
        fitting = [said for said in (name, name[0]) if room_pt(said, SMALL_PT) <= to_pt - from_pt]
        says = fitting[0] if fitting else ""
        begins_year = begin == along.first or begin.month == 1
        found.append(Month(from_pt, to_pt, says, begins_year, begin.year))
        begin = end
    return found


FOOT_PT = 30.0
"""Height that months take, the years below them. [pt]"""


def draw_foot(sheet: Sheet, along: Along, top_pt: float) -> None:
    """Write months and years under a line of days."""
    marks = [line((along.left_pt, top_pt), (along.right_pt, top_pt))]
    free_from = along.left_pt
    for month in months_along(along):
        long = 14.0 if month.begins_year else 4.0
        marks.append(line((month.begins_pt, top_pt), (month.begins_pt, top_pt + long)))
        middle = (month.begins_pt + month.ends_pt) / 2
        if month.says:
            sheet.words((middle, top_pt + 12), month.says, SMALL_PT, align="middle")
        year = str(month.year)
        if month.begins_year and month.begins_pt >= free_from:
            begins = min(month.begins_pt, along.right_pt - room_pt(year, SMALL_PT))
            sheet.words((begins, top_pt + 25), year, SMALL_PT, face="slanted")
            free_from = begins + room_pt(f"{year} ", SMALL_PT)
    sheet.stroke(marks, INK, FINE_PT)
