"""Days and moments as gardeners write them: `1apr`, `tue`, `2031-04-01`, `yesterday 19:30`.

Today and now are passed in. A wrong day silently taken is a lost soak: what can be read two ways,
above all `1/4`, is refused. Weekdays of a person and spans of days are in `spans`.
"""

import re
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from typing import NamedTuple

from soakbook.errors import InputError

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

DAY_EXAMPLES = "1apr, 1apr2031, 2031-04-01, yesterday or tue"
MOMENT_EXAMPLES = "07:30, yesterday 19:30, 1apr, 1apr 07:10 or 2031-04-01T07:10"
AHEAD_DAYS = 60
"""How far ahead a day without a year may lie."""

_YEARS = range(1900, 2200)
_NEAR = {"today": 0, "yesterday": -1, "tomorrow": 1}

# Made into patterns where they are wanted: most mornings read no written day.
_ISO = r"([0-9]{4})-([0-9]{2})-([0-9]{2})"
_DAY_FIRST = r"([0-9]{1,2})(?:st|nd|rd|th)?\s*([a-z]{3,9})\.?\s*([0-9]{4})?"
_MONTH_FIRST = r"([a-z]{3,9})\.?\s*([0-9]{1,2})(?:st|nd|rd|th)?(?:,?\s+([0-9]{4}))?"
_CLOCK = (
    r"(?:(?P<day>.*\S)\s+)?(?P<hour>[0-9]{1,2}):(?P<minute>[0-9]{2})(?::(?P<second>[0-9]{2})(?:\.0+)?)?"
    r"\s*(?P<zone>z|[+-][0-9]{2}:?[0-9]{2})?"
)


class WrittenDay(NamedTuple):
    """A day of the calendar as written: the year may be left out."""

    day: int
    month: int
    year: int | None


def parse_day(
    text: str,
    field: str,
    today: date,
    *,
    ahead_days: int = AHEAD_DAYS,
    examples: str = DAY_EXAMPLES,
) -> date:
    """The day a gardener typed.

    Parameters
    ----------
    text : str
        ISO, day and month in words (`1apr`, `1 April 2031`, `Apr 1`), today, yesterday, tomorrow
        or a weekday.
    field : str
        What the gardener calls it.
    today : date
        The garden's day.
    ahead_days : int
        Without a year the day is the latest one at most so many days after today.
    examples : str
        What would be right.

    Returns
    -------
    date
        A weekday is the last one, today included.

    Raises
    ------
    InputError
        Read two ways, no such day, or a year outside 1900 to 2199.
    """
    plain = _plain(text)
    if plain in _NEAR:
        return today + timedelta(days=_NEAR[plain])
    weekday = named(plain, WEEKDAYS)
    if weekday is not None:
        return today - timedelta(days=(today.weekday() - weekday) % 7)
    written = written_day(plain)
    if written is None:
        raise InputError(field, text, f"write {examples}")
    year = written.year
    if year is None:
        year = latest_year(written, today + timedelta(days=ahead_days))
    return calendar_day(written, year, field, text)


def parse_moment(
    text: str, field: str, now: datetime, *, future: bool = False, day: date | None = None
) -> datetime | date:
    """The moment a gardener typed, in the zone of `now`; the bare day where no hour was said.

    Parameters
    ----------
    text : str
        `now`, `15:00`, a day of `parse_day` with or without an hour, ISO with or without
        a zone.
    field : str
        What the gardener calls it.
    now : datetime
        Zone-aware, in the garden's zone.
    future : bool
        Whether a moment after `now`, or a day after today, may be meant.
    day : date, optional
        The day that an hour alone is of; else today.

    Returns
    -------
    datetime or date
        Of an hour that the clocks' going back doubles, the first.

    Raises
    ------
    InputError
        Read two ways, not yet come, or an hour that the clocks' going forward leaves out.
    """
    plain = re.sub(r"(?<=[0-9])t(?=[0-9])", " ", _plain(text))
    if plain == "now":
        return now
    found = re.fullmatch(_CLOCK, plain)
    if found is None:
        if ":" in plain:
            raise InputError(field, text, f"write {MOMENT_EXAMPLES}")
        bare = parse_day(text, field, now.date(), examples=MOMENT_EXAMPLES)
        if bare > now.date() and not future:
            raise InputError(field, text, "that day has not come yet")
        return bare
    if found["day"] is not None:
        day = parse_day(found["day"], field, now.date())
    wall = datetime.combine(day or now.date(), _clock(found, field, text))
    moment = _in_zone(wall, found["zone"], now.tzinfo, field, text)
    # in UTC: of two moments in one zone only the clock faces are compared
    if moment.astimezone(UTC) > now.astimezone(UTC) and not future:
        dayless = "; with its day: yesterday 19:30" if found["day"] is None else ""
        raise InputError(field, text, f"that hour has not come yet{dayless}")
    return moment


def short_day(day: date) -> str:
    """`Fri 16`."""
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day}"


def weekday_date(day: date) -> str:
    """`Fri 16 May`."""
    return f"{short_day(day)} {MONTHS[day.month - 1]}"


def long_day(day: date) -> str:
    """`Thursday 15 May 2031`."""
    return f"{WEEKDAYS[day.weekday()]} {month_day(day)} {day.year}"


def month_day(day: date) -> str:
    """`6 May`."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def named(word: str, names: tuple[str, ...]) -> int | None:
    """Which of the names a word of three letters or more begins, from 0."""
    if len(word) < 3:
        return None
    return next((place for place, name in enumerate(names) if name.lower().startswith(word)), None)


def written_day(plain: str) -> WrittenDay | None:
    """Day, month and perhaps year of a text in small letters; None when it is no such day."""
    if iso := re.fullmatch(_ISO, plain):
        return WrittenDay(int(iso[3]), int(iso[2]), int(iso[1]))
    if day_first := re.fullmatch(_DAY_FIRST, plain):
        day, word, year = day_first.groups()
    elif month_first := re.fullmatch(_MONTH_FIRST, plain):
        word, day, year = month_first.groups()
    else:
        return None
    month = named(word, MONTHS)
    if month is None:
        return None
    return WrittenDay(int(day), month + 1, None if year is None else int(year))


def latest_year(written: WrittenDay, last: date) -> int:
    """The year that puts a day of the calendar latest, but not after `last`."""
    return last.year if (written.month, written.day) <= (last.month, last.day) else last.year - 1


def calendar_day(written: WrittenDay, year: int, field: str, text: str) -> date:
    """The day in that year, when there is one."""
    if year not in _YEARS:
        raise InputError(field, text, "a year from 1900 to 2199")
    try:
        return date(year, written.month, written.day)
    except ValueError as fault:
        right = f"{year} has no such day; write {DAY_EXAMPLES}"
        raise InputError(field, text, right) from fault


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _clock(found: re.Match[str], field: str, text: str) -> time:
    try:
        return time(int(found["hour"]), int(found["minute"]), int(found["second"] or 0))
    except ValueError as fault:
        raise InputError(field, text, "an hour from 00:00 to 23:59") from fault


def _in_zone(
    wall: datetime, written: str | None, zone: tzinfo | None, field: str, text: str
) -> datetime:
    if written is not None:
        return wall.replace(tzinfo=_offset(written, field, text)).astimezone(zone)
    moment = wall.replace(tzinfo=zone)
    if moment.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != wall:
        raise InputError(field, text, "the clocks went forward over that hour: there was none")
    return moment


def _offset(written: str, field: str, text: str) -> timezone:
    if written == "z":
        return UTC
    hours, minutes = int(written[1:3]), int(written[-2:])
    if hours > 14 or minutes > 59:
        raise InputError(field, text, "a zone such as Z or +01:00")
    ahead = timedelta(hours=hours, minutes=minutes)
    return timezone(ahead if written[0] == "+" else -ahead)
