"""Weekdays on which somebody comes, and spans of days: `mon-sat`, `every day`, `9jul..17jul`."""

import re
from datetime import date

from soakbook.errors import InputError
from soakbook.quantities.dates import (
    MONTHS,
    WEEKDAYS,
    calendar_day,
    named,
    parse_day,
    written_day,
)
from soakbook.quantities.written import as_typed

SPAN_EXAMPLES = "9jul..17jul or 2031-07-09..2031-07-17"
SPAN_AHEAD_DAYS = 300
"""An absence or a rule mostly lies ahead: its first day may be farther off than a day's 60."""
LONGEST_SPAN_DAYS = 300
"""Without years: days written the wrong way round would otherwise come to most of a year."""

_ALL = frozenset(range(7))
_GROUPS = {
    "every day": _ALL,
    "everyday": _ALL,
    "daily": _ALL,
    "weekdays": frozenset(range(5)),
    "weekends": frozenset((5, 6)),
    "weekend": frozenset((5, 6)),
}
_FROM_TO = re.compile(r"(?P<first>.+?)\s*(?:\.\.+|…|–|\bto\b)\s*(?P<last>.+)")
_HYPHEN = re.compile(r"(?P<first>[^-]+)-(?P<last>[^-]+)")
_DAY_ALONE = re.compile(r"[0-9]{1,2}(?:st|nd|rd|th)?")


def weekdays(text: str, field: str = "days") -> frozenset[int]:
    """Weekdays, Monday as 0, of `mon-sat`, `mon,wed,fri`, `wed fri`, `every day`, `weekends`.

    `sat-mon` goes round the end of the week.

    Raises
    ------
    InputError
        No weekday, or a word that is none.
    """
    days: set[int] = set()
    plain = re.sub(r"\s*(?:-|–|\bto\b)\s*", "-", " ".join(text.casefold().split()))
    for part in re.split(r"\s*(?:,|;|\band\b|&|\+)\s*", plain):
        for run in [part] if part in _GROUPS else part.split() or [""]:
            days |= _GROUPS.get(run) or _run_of_weekdays(run, field, text)
    return frozenset(days)


def parse_span(
    text: str, field: str, today: date, *, ahead_days: int = SPAN_AHEAD_DAYS
) -> tuple[date, date]:
    """First and last day, both included, of `9jul..17jul`, `9jul-17jul`, `9-17 jul` or one day.

    Parameters
    ----------
    text : str
        Two days of `parse_day`; between ISO days two dots, not a hyphen.
    field : str
        What the gardener calls it.
    today : date
        The garden's day.
    ahead_days : int
        Without a year the first day is the latest one at most so many days after today.

    Returns
    -------
    first, last : date
        A last day without a year is the next one after the first, within 300 days.

    Raises
    ------
    InputError
        Not two days, or the last before the first.
    """
    plain = " ".join(text.casefold().split())
    found = _FROM_TO.fullmatch(plain) or _HYPHEN.fullmatch(plain)
    if found is None:
        with as_typed(text, field, SPAN_EXAMPLES):
            day = parse_day(text, field, today, ahead_days=ahead_days)
        return day, day
    with as_typed(text, field, SPAN_EXAMPLES):
        first, last = _ends(found["first"], found["last"], field, today, ahead_days)
    if last < first:
        raise InputError(field, text, f"the first day before the last: {SPAN_EXAMPLES}")
    return first, last


def _ends(
    first_text: str, last_text: str, field: str, today: date, ahead_days: int
) -> tuple[date, date]:
    end = written_day(last_text)
    if end is not None and _DAY_ALONE.fullmatch(first_text):
        first_text = f"{first_text} {MONTHS[end.month - 1]} {end.year or ''}"
    if end is not None and end.year is not None:
        last = calendar_day(end, end.year, field, last_text)
        return parse_day(first_text, field, today, ahead_days=(last - today).days), last
    first = parse_day(first_text, field, today, ahead_days=ahead_days)
    # a calendar day is the next one from the first on; `tomorrow` and `fri` count from today
    start = first if end else today
    return first, parse_day(last_text, field, start, ahead_days=LONGEST_SPAN_DAYS)


def _run_of_weekdays(part: str, field: str, text: str) -> frozenset[int]:
    ends = [named(word, WEEKDAYS) for word in part.split("-")]
    if not 1 <= len(ends) <= 2 or None in ends:
        raise InputError(
            field, text, "weekdays such as mon-sat, mon,wed,fri, weekends or every day"
        )
    first, last = ends[0] or 0, ends[-1] or 0
    return frozenset((first + step) % 7 for step in range((last - first) % 7 + 1))
