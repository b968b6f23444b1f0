"""Reminders in the book: how each kind is sent, and the outbox's own record.

When each kind is due, and what it says, is in `soakbook.reminders`.
"""

from datetime import date, datetime, time
from typing import Annotated, Literal, NamedTuple

from soakbook.garden.bounds import NotEmpty
from soakbook.garden.records import Uid

ReminderKind = Literal["round", "dry", "heat", "promise", "rule", "unheard", "feel", "week"]
"""The morning round; a dry spell; heat to come; rain that did not come; a rule that begins or ends; no word in the
evening; go and feel; Sunday's look at the week."""

Whom = Literal["keeper", "next", "head", "all", "named"]
"""Whose it is: the bed's keeper, or whoever comes that day; the next who comes; the head; everybody; those named."""

Channel = Literal["mail", "push"]

NoticeState = Literal["due", "sent", "lapsed", "withdrawn", "given_up"]
"""Waiting to be sent; sent; too late by its own rule; answered, or its kind switched off, before it was sent; refused
for good."""


class Reminder(NamedTuple):
    """How one kind of reminder is sent in a garden; what nobody has said is as usual (`reminders.kinds`)."""

    uid: ReminderKind
    """The kind: a garden has one of each."""
    wanted: bool = True
    hour: time | None = None
    whom: Whom | None = None
    named: frozenset[Uid] = frozenset()
    """Uids of people, where `whom` is named."""
    channel: Channel | None = None
    """None: whichever the person has first."""
    quiet_from: time | None = None
    quiet_until: time | None = None
    """Wall times between which nothing is sent; the same twice: none."""


class Notice(NamedTuple):
    """One reminder in the outbox: for whom, about what, for which of the garden's days, and what became of it."""

    uid: Annotated[str, NotEmpty()]
    """Reckoned from garden, kind, person, subject and day: the same in every copy of the book."""
    what: ReminderKind
    whom: Uid
    """Uid of a person; empty where nobody is entered."""
    about: str
    """What tells it from others of the kind on that day: a step, a rule, a spell; mostly empty."""
    for_day: date
    zone: str
    title: str
    body: str
    beds: tuple[Uid, ...]
    """Beds that it tells this person to go to."""
    due_at: datetime
    late_from: datetime
    """From then on it says that it is late."""
    not_after: datetime
    """Too old from then on."""
    state: NoticeState = "due"
    channel: Channel | None = None
    tries: int = 0
    answer: str = ""
    settled_at: datetime | None = None
    """When it was sent, lapsed or was withdrawn."""
