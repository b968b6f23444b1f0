"""One instant looked at, and what is to be said to somebody: what the rules of each kind see and give.

Whose a bed is is `whose`'s, what was heard of it `heard`'s.
"""

from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple

from soakbook.garden.records import Uid
from soakbook.garden.reminding import Notice, ReminderKind
from soakbook.reckoning.advice.report import Call
from soakbook.reckoning.advice.visits import people_on
from soakbook.reminders.heard import heard_on
from soakbook.reminders.instants import Instant
from soakbook.reminders.kinds import Setting
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.fitting import Text
from soakbook.reminders.whose import dealt, everyone, name_of

TO_BEDS: frozenset[ReminderKind] = frozenset({"round", "promise", "unheard", "feel"})
"""Kinds that give somebody beds; they are withdrawn when all of these are answered for."""

SightAt = Callable[[datetime], Sight]


class Saying(NamedTuple):
    """One reminder, before it is known when it may be sent."""

    whom: Uid
    text: Text
    about: str = ""
    beds: tuple[Uid, ...] = ()
    for_day: date | None = None
    """The day it is about, where that is another than the one on which it is due."""


class Asked(NamedTuple):
    """One instant looked at."""

    instant: Instant
    settings: dict[ReminderKind, Setting]
    sight: Sight
    sight_at: SightAt
    told: Sequence[Notice]
    """What was decided before, for this day and the weeks before it."""

    @property
    def setting(self) -> Setting:
        """How its kind is sent."""
        return self.settings[self.instant.kind]

    @property
    def day(self) -> date:
        """The garden's day that it is of."""
        return self.instant.for_day

    def told_of(self, kind: ReminderKind, days: int) -> Iterator[Notice]:
        """What was decided of a kind for the last so many days, this one among them; no later one, by a wrong clock."""
        since = self.day - timedelta(days=days - 1)
        return (one for one in self.told if one.what == kind and since <= one.for_day <= self.day)

    def given_today(self) -> Iterator[Notice]:
        """Today's reminders that give somebody beds."""
        return (one for kind in TO_BEDS for one in self.told_of(kind, 1))

    def name(self, whom: Uid) -> str:
        """What somebody is called; empty where nobody is entered."""
        return name_of(whom, self.sight.pages)

    def uids(self, calls: Sequence[Call]) -> tuple[Uid, ...]:
        """The uids of calls' beds."""
        return tuple(self.sight.uid(call) for call in calls)

    def dealt(self, calls: Sequence[Call]) -> Iterator[tuple[Uid, list[Call]]]:
        """Each call given to the one person whose bed it is today."""
        beds = [self.sight.bed(call.bed) for call in calls]
        for whom, theirs in dealt(beds, self.setting, self.sight.pages, self.day).items():
            keys = {bed.key for bed in theirs}
            yield whom, [call for call in calls if call.bed in keys]

    def everyone(self) -> tuple[Uid, ...]:
        """Who is told what gives nobody a bed."""
        beds = [self.sight.bed(call.bed) for call in self.sight.round.calls]
        return everyone(self.setting, beds, self.sight.pages, self.day)

    def not_given(self) -> list[Call]:
        """Open calls that no message of today has given to somebody."""
        given = {uid for one in self.given_today() for uid in one.beds}
        return [call for call in self.open_calls() if self.sight.uid(call) not in given]

    def open_calls(self) -> list[Call]:
        """Calls on which somebody is to go and that nobody has answered for today, in walk order.

        On a day on which nobody comes only those that cannot wait.
        """
        pages, heard = self.sight.pages, heard_on(self.sight.pages, self.day)
        calls = [
            call
            for call in self.sight.round.calls
            if call.order is not None and self.sight.uid(call) not in heard.answered
        ]
        if not pages.people or people_on(pages, self.day):
            return calls
        return [
            call
            for call in calls
            if call.litres > 0 and (call.last_safe is None or call.last_safe <= self.day)
        ]
