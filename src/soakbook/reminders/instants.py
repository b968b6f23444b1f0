"""The moments at which reminders fall due, and how long each may wait: from wall times to UTC.

Each kind wanted is due once on every local day, at its hour; the week's on Sundays only, no word twice. Nothing here
knows whether there is anything to say: that is `deciding`'s. Nothing reads a clock.
"""

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.records import Garden
from soakbook.garden.reminding import ReminderKind
from soakbook.reminders.kinds import USUAL, Limit, Setting, hours_of
from soakbook.reminders.wall_times import in_calendar, moment_of

LONGEST_BACK = timedelta(days=31)
"""Nothing that fell due longer ago is decided any more: far longer than any reminder lasts."""

_DAY = timedelta(days=1)
_ORDER: dict[ReminderKind, int] = {kind: place for place, kind in enumerate(USUAL)}


class Instant(NamedTuple):
    """One moment at which one kind of reminder is to be decided."""

    kind: ReminderKind
    step: int
    """0; of a kind with steps 1 for its second."""
    for_day: date
    """The garden's day that it is of."""
    at: datetime
    """In UTC. Where the clock leaps over midnight it may be the first moment of the next day."""


def due_instants(
    settings: Iterable[Setting], garden: Garden, since: datetime, now: datetime
) -> tuple[Instant, ...]:
    """Every moment after `since`, up to and with `now`, at which a kind of reminder is due.

    Two spans that meet give what the whole gives: an instant depends on its day alone, never on the span. Each day
    that a garden's zone has gives one instant a kind and step, also where the hour is missing or doubled on it.

    Parameters
    ----------
    settings : iterable of Setting
        Of the kinds; those that are not wanted give none.
    garden : Garden
        For its zone.
    since, now : datetime
        Zone-aware. `looked_from` says how far back is worth asking.

    Returns
    -------
    tuple of Instant
        In the order of time; at the same moment the earlier day first, then in the order of `USUAL`, then by step.
    """
    zone = ZoneInfo(garden.timezone)
    after, until = since.astimezone(UTC), now.astimezone(UTC)
    looks = _looks(settings)
    found: list[Instant] = []
    # A later day never begins earlier, and what is due on a day falls between its beginning and the next one's.
    day = after.astimezone(zone).date()
    while moment_of(day, time(0), zone) <= until:
        of_day = [
            Instant(look.kind, look.step, day, at)
            for look in looks
            if look.weekday in (None, day.weekday())
            and after < (at := moment_of(day, look.hour, zone)) <= until
        ]
        if of_day and in_calendar(day, zone):
            found += sorted(of_day, key=_moment)
        day += _DAY
    return tuple(found)


def looked_from(since: datetime, now: datetime) -> datetime:
    """After which moment instants are looked at, in UTC: `since`, or `LONGEST_BACK` before now where that is later.

    If it is later than `since`, what fell due between the two is not decided, and whoever asks says so.
    """
    return max(since.astimezone(UTC), now.astimezone(UTC) - LONGEST_BACK)


def due_at(at: datetime, setting: Setting, zone: ZoneInfo) -> datetime:
    """From when on it may be sent, in UTC: `at`, or the end of the quiet hours that it falls into.

    Quiet hours go from the moment of one wall time to that of the other, so that a night from 22:00 to 07:00 is nine
    hours long, eight or ten. With an end that is doubled they are over at its first showing; with one that the clock
    leaps over, at the leap.
    """
    free = at.astimezone(UTC)
    while (end := _quiet_until(free, setting, zone)) is not None:
        free = end
    return free


def late_from(instant: Instant, garden: Garden) -> datetime:
    """From when on a reminder of that instant says that it is late, in UTC.

    Waiting for the end of quiet hours can make it late; being set to an unusual hour does not.
    """
    limit = USUAL[instant.kind].late
    least = instant.at + timedelta(hours=limit.least_hours)
    return _limit_at(limit, instant, instant.for_day, garden, least)


def not_after(
    instant: Instant, setting: Setting, garden: Garden, told_day: date | None = None
) -> datetime:
    """From when on a reminder of that instant is too old to be sent, in UTC.

    Parameters
    ----------
    instant : Instant
        When it was due.
    setting : Setting
        Of its kind: for the quiet hours.
    garden : Garden
        For its zone and round hour.
    told_day : date, optional
        The day that the reminder tells of, such as that on which a rule begins.
    """
    limit = USUAL[instant.kind].too_old
    day = told_day if limit.of_told_day and told_day is not None else instant.for_day
    due = due_at(instant.at, setting, ZoneInfo(garden.timezone))
    return _limit_at(limit, instant, day, garden, due + timedelta(hours=limit.least_hours))


class _Look(NamedTuple):
    """A wall time at which something is due each day, or on one weekday."""

    kind: ReminderKind
    step: int
    hour: time
    weekday: int | None


def _looks(settings: Iterable[Setting]) -> list[_Look]:
    wanted = sorted((one for one in settings if one.wanted), key=lambda one: _ORDER[one.kind])
    return [
        _Look(setting.kind, step, hour, USUAL[setting.kind].weekday)
        for setting in wanted
        for step, hour in enumerate(hours_of(setting))
    ]


def _moment(instant: Instant) -> datetime:
    return instant.at


def _quiet_until(at: datetime, setting: Setting, zone: ZoneInfo) -> datetime | None:
    """When the quiet hours end in which a moment lies; None where it lies in none."""
    first, last = setting.quiet_from, setting.quiet_until
    if first == last:
        return None
    over_midnight = _DAY if first > last else timedelta(0)
    here = at.astimezone(zone).date()
    # yesterday's reach over midnight; tomorrow's have begun where a clock put back shows today's date once more
    for day in (here - _DAY, here, here + _DAY):
        end = moment_of(day + over_midnight, last, zone)
        if moment_of(day, first, zone) <= at < end:
            return end
    return None


def _limit_at(
    limit: Limit, instant: Instant, day: date, garden: Garden, least: datetime
) -> datetime:
    zone = ZoneInfo(garden.timezone)
    if limit.hour is not None:
        return max(moment_of(day + limit.days * _DAY, limit.hour, zone), least)
    day = instant.for_day
    while (round_at := moment_of(day, garden.round_hour, zone)) <= instant.at:
        day += _DAY
    return round_at
