"""The kinds of reminder: what is usual of each, what a garden has said of it, and which hours can be said.

When a kind is due on a day, late or too old, is worked out in `instants`; whether there is anything to say, and to
whom, in `deciding`. The hours and limits are common practice, no source: a round is for the morning, what must be
carried or filled is told the afternoon before, and nobody is woken.
"""

from collections.abc import Iterable
from datetime import date, time, timedelta
from types import MappingProxyType
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.errors import InputError
from soakbook.garden.records import Garden, Uid
from soakbook.garden.reminding import Channel, Reminder, ReminderKind, Whom
from soakbook.quantities.dates import long_day
from soakbook.reminders.wall_times import Shown, how_shown, in_calendar

EARLIEST_HOUR = time(4)
"""Nothing is sent at an hour before: nearly all clocks are put on and back between midnight and then."""
CHANGES_WITHIN_DAYS = 400
"""How far ahead changes of the clock are looked for: a year with both of them, and some weeks."""

SUNDAY = 6
MIDNIGHT = time(0)


class Limit(NamedTuple):
    """A wall time after a reminder's own: from then on it is late, or too old."""

    hour: time | None
    """None: the garden's next round hour, whatever else is said here."""
    days: int = 0
    """So many days after the day that the reminder is for."""
    least_hours: int = 0
    """At least so long after, for a garden whose hours are not the usual ones."""
    of_told_day: bool = False
    """Days are counted from the day that the reminder tells of, where there is one."""


class Usual(NamedTuple):
    """What is so of a kind of reminder as long as nobody says otherwise."""

    kind: ReminderKind
    label: str
    explained: str
    hour: time | None
    """None: the garden's round hour."""
    whom: Whom
    late: Limit
    """From when on it says that it is late; least hours are counted from its own hour."""
    too_old: Limit
    """From when on it lapses; least hours are counted from when it may first be sent."""
    weekday: int | None = None
    """Monday as 0; None: every day."""
    after_hours: tuple[int, ...] = (0,)
    """Its steps on a day: so many hours after its hour each."""
    quiet_from: time = time(22)
    quiet_until: time = time(6)


class Setting(NamedTuple):
    """How one kind of reminder is sent in a garden: what was said of it, and the usual for the rest."""

    kind: ReminderKind
    wanted: bool
    hour: time
    whom: Whom
    named: frozenset[Uid]
    """Uids of people, where `whom` is named; else empty."""
    channel: Channel | None
    """None: whichever the person has first."""
    quiet_from: time
    quiet_until: time
    """The same twice: nothing is quiet."""


_NOON = Limit(time(12), least_hours=3)
_END_OF_DAY = Limit(MIDNIGHT, days=1, least_hours=6)
_NEXT_ROUND = Limit(None)

USUAL = MappingProxyType(
    {
        usual.kind: usual
        for usual in (
            Usual(
                "promise",
                "rain that did not come",
                "Rain that a bed was left for has not fallen: the bed's soak after all.",
                hour=None,
                whom="keeper",
                late=_NOON,
                too_old=_END_OF_DAY,
            ),
            Usual(
                "round",
                "the morning's round",
                "What is to be done this morning, bed by bed. Nothing to do: no reminder.",
                hour=None,
                whom="keeper",
                late=_NOON,
                too_old=Limit(time(20), least_hours=6),
            ),
            Usual(
                "feel",
                "go and feel",
                "A bed has been reckoned for too many days without a finger in it.",
                hour=None,
                whom="keeper",
                late=_NOON,
                too_old=_END_OF_DAY,
            ),
            Usual(
                "heat",
                "heat to come",
                "On the eve of a spell of heat: what to soak before it, and how to keep well in it.",
                hour=time(16),
                whom="head",
                late=Limit(time(20), least_hours=3),  # "this evening" is over
                too_old=Limit(time(12), days=1, least_hours=6),
            ),
            Usual(
                "dry",
                "a dry spell",
                "No useful rain for ten days while roots are still in the ball; again every ten days.",
                hour=time(17),
                whom="keeper",
                late=_NEXT_ROUND,
                too_old=Limit(time(17), days=2, least_hours=6),
            ),
            Usual(
                "rule",
                "rules on watering",
                "A restriction begins or ends; its text as it was typed.",
                hour=time(16),
                whom="all",
                late=_END_OF_DAY,
                too_old=_END_OF_DAY._replace(of_told_day=True),
            ),
            Usual(
                "unheard",
                "no word",
                "Beds of the day's round that nobody has said anything of; once more two hours later.",
                hour=time(18),
                whom="next",
                late=Limit(time(21), least_hours=2),
                too_old=_NEXT_ROUND,
                after_hours=(0, 2),
            ),
            Usual(
                "week",
                "the week",
                "Sunday's look at the week to come.",
                hour=time(17),
                whom="head",
                late=Limit(MIDNIGHT, days=1, least_hours=6),
                too_old=Limit(time(20), days=1, least_hours=6),
                weekday=SUNDAY,
            ),
        )
    }
)
"""In the order in which kinds of the same moment are decided: a broken promise comes before the round, because it takes
its beds out of it, and a bed to feel after it."""


def settled(kind: ReminderKind, said: Reminder | None, garden: Garden) -> Setting:
    """How a kind is sent in a garden: what was said of it, and the usual for what was not."""
    usual = USUAL[kind]
    if said is None:
        said = Reminder(kind)
    whom = said.whom or usual.whom
    return Setting(
        kind=kind,
        wanted=said.wanted,
        hour=_first(said.hour, usual.hour, garden.round_hour),
        whom=whom,
        named=said.named if whom == "named" else frozenset(),
        channel=said.channel,
        quiet_from=_first(said.quiet_from, usual.quiet_from),
        quiet_until=_first(said.quiet_until, usual.quiet_until),
    )


def settings_of(reminders: Iterable[Reminder], garden: Garden) -> tuple[Setting, ...]:
    """How every kind is sent in a garden, in the order of `USUAL`; what is told with the round goes with its hour."""
    said = {one.uid: one for one in reminders}
    garden = garden._replace(round_hour=settled("round", said.get("round"), garden).hour)
    return tuple(settled(kind, said.get(kind), garden) for kind in USUAL)


def hours_of(setting: Setting) -> tuple[time, ...]:
    """The wall times of a kind's steps on a day, none later than the day's last minute."""
    return tuple(_later(setting.hour, hours) for hours in USUAL[setting.kind].after_hours)


def lasting_words(kind: ReminderKind) -> str:
    """How long a reminder of the kind lasts: `Late from 12:00, too old from 20:00.`."""
    usual = USUAL[kind]
    return f"Late from {_limit_words(usual.late)}, too old from {_limit_words(usual.too_old)}."


def check_hour(hour: time, zone: ZoneInfo, today: date) -> None:
    """Nothing, for an hour that the clock shows once on every day to come.

    Hours between which it is quiet may be any.

    Parameters
    ----------
    hour : time
        The wall time at which a kind of reminder is to be sent.
    zone : ZoneInfo
        The garden's.
    today : date
        The garden's day: changes of the clock are looked for from it on.

    Raises
    ------
    InputError
        It lies before 04:00, or is missing or doubled on a day of the next 400.
    """
    odd = _odd_days(hour, zone, today)
    right = f"an hour from {EARLIEST_HOUR:%H:%M} to 23:59"
    if odd:
        often = " and ".join(f"{how} on {long_day(day)}" for how, day in odd.items())
        once = "an hour that is on the clock once a day"
        right = f"{right if hour < EARLIEST_HOUR else once}: {hour:%H:%M} is {often}"
    elif hour < EARLIEST_HOUR:
        right += ": clocks are put on and back in the hours before"
    else:
        return
    raise InputError("hour", f"{hour:%H:%M}", right)


def _odd_days(hour: time, zone: ZoneInfo, today: date) -> dict[Shown, date]:
    """The first day to come on which the hour is missing, and the first on which it is doubled, the earlier first."""
    found: dict[Shown, date] = {}
    for n in range(CHANGES_WITHIN_DAYS + 1):
        day = today + timedelta(days=n)
        shown = how_shown(day, hour, zone)
        # of a day that the calendar leaps over no hour is missing
        if shown != "once" and shown not in found and in_calendar(day, zone):
            found[shown] = day
    return found


def _later(hour: time, hours: int) -> time:
    if hour.hour + hours < 24:
        return hour.replace(hour=hour.hour + hours)
    return max(hour, time(23, 59))


def _limit_words(limit: Limit) -> str:
    if limit.hour is None:
        return "the next round"
    if limit.hour == MIDNIGHT:
        return f"the end of {'the day it tells of' if limit.of_told_day else 'its day'}"
    return f"{limit.hour:%H:%M}{('', ' the day after', ' two days after')[limit.days]}"


def _first(*hours: time | None) -> time:
    """The first that was said: midnight, too, is an hour."""
    return next(hour for hour in hours if hour is not None)
