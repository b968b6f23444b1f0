"""What is sent, and what became of it: all that a channel and the outbox know of each other."""

from datetime import datetime
from typing import Literal, NamedTuple

Came = Literal["sent", "refused", "later"]
"""sent: the other side said yes; refused: it said no, and will again; later: it may yet say yes."""


class Message(NamedTuple):
    """One reminder as a channel gets it."""

    identifier: str
    """The same whenever this reminder is sent, from whichever copy of the book: 32 hexadecimal digits."""
    name: str
    """Who is told."""
    title: str
    body: str
    sent_at: datetime
    """Zone-aware."""


class Outcome(NamedTuple):
    """What became of one sending; `answer` is the other side's, in a line without secrets."""

    came: Came
    answer: str
