"""What is due: a pure function of what was known at each moment, the settings and the moment itself.

Each instant of the span is looked at in turn, with what was known then. A reminder has a name that the garden, its
kind, person, subject and day make; so whoever decides the same span again, or parts of it, comes to the same
reminders. One that is too old by its own rule is written as lapsed. What each kind gives is in `due_beds` and
`due_news`.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, datetime
from hashlib import blake2b
from zoneinfo import ZoneInfo

from soakbook.garden.pages import Pages
from soakbook.garden.records import Garden, Uid
from soakbook.garden.reminding import Notice, ReminderKind
from soakbook.reminders import due_beds, due_news
from soakbook.reminders.asked import TO_BEDS, Asked, Saying, SightAt
from soakbook.reminders.heard import heard_on
from soakbook.reminders.instants import Instant, due_at, late_from, not_after
from soakbook.reminders.kinds import Setting

TOLD_DAYS = 42
"""How far back it counts what was decided before: longer than a dry spell is silent."""

_SAYINGS: dict[ReminderKind, Callable[[Asked], Iterator[Saying]]] = {
    "promise": due_beds.promise,
    "round": due_beds.round_today,
    "feel": due_beds.feel,
    "heat": due_news.heat,
    "dry": due_news.dry,
    "rule": due_news.rule,
    "unheard": due_beds.unheard,
    "week": due_news.week,
}


def decide(
    instants: Iterable[Instant],
    settings: dict[ReminderKind, Setting],
    told: Sequence[Notice],
    sight_at: SightAt,
    now: datetime,
) -> tuple[Notice, ...]:
    """The reminders that fell due, oldest first: those too old by now as lapsed, others as due.

    Parameters
    ----------
    instants : iterable of Instant
        In the order of time, each after everything that was decided before.
    settings : dict
        Of each kind.
    told : sequence of Notice
        What was decided before, for the last `TOLD_DAYS` at least.
    sight_at : callable
        What was known at a moment.
    now : datetime
        Zone-aware.
    """
    found: list[Notice] = []
    for instant in instants:
        asked = Asked(instant, settings, sight_at(instant.at), sight_at, [*told, *found])
        known = {(one.what, one.whom, one.about, one.for_day) for one in asked.told}
        for saying in _SAYINGS[instant.kind](asked):
            notice = _notice(asked, saying, now)
            if (notice.what, notice.whom, notice.about, notice.for_day) not in known:
                found.append(notice)
    return tuple(found)


def answered(waiting: Iterable[Notice], pages: Pages) -> tuple[Notice, ...]:
    """Of the reminders that wait to be sent those whose beds have all been answered for since."""
    return tuple(
        notice
        for notice in waiting
        if notice.beds
        and notice.what in TO_BEDS
        and set(notice.beds) <= heard_on(pages, notice.for_day).answered
    )


def identifier(garden: Garden, saying: tuple[ReminderKind, Uid, str, date]) -> str:
    """The name of a reminder: the same in every copy of a book, 32 hexadecimal digits."""
    what, whom, about, for_day = saying
    words = "\n".join((garden.uid, what, whom, about, for_day.isoformat()))
    return blake2b(words.encode(), digest_size=16).hexdigest()


def _notice(asked: Asked, saying: Saying, now: datetime) -> Notice:
    instant, garden = asked.instant, asked.sight.pages.garden
    day = saying.for_day or instant.for_day
    too_old = not_after(instant, asked.setting, garden, saying.for_day)
    lapsed = now >= too_old
    return Notice(
        uid=identifier(garden, (instant.kind, saying.whom, saying.about, day)),
        what=instant.kind,
        whom=saying.whom,
        about=saying.about,
        for_day=day,
        zone=garden.timezone,
        title=saying.text.title,
        body=saying.text.body,
        beds=saying.beds,
        due_at=due_at(instant.at, asked.setting, ZoneInfo(garden.timezone)),
        late_from=late_from(instant, garden),
        not_after=too_old,
        state="lapsed" if lapsed else "due",
        settled_at=now if lapsed else None,
    )
