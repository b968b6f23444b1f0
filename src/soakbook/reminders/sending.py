"""Sending what is due: claimed, given to a channel, marked with what the channel answered.

A program that is killed between a channel's yes and the mark leaves a claim that runs out; then it is sent again, with
the same identifier. Whatever else happens, each is sent once, lapses, is withdrawn or given up, and which is written.
"""

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.pages import Pages
from soakbook.garden.records import Garden, Person
from soakbook.garden.reminding import Channel, Notice, NoticeState, Reminder
from soakbook.reminders.deciding import answered
from soakbook.reminders.instants import due_at
from soakbook.reminders.kinds import Setting, settled
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.texts.fitting import late_words
from soakbook.reminders.whose import GARDENER, head_of, name_of
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.garden_rows import read_garden, read_records
from soakbook.store.outbox import claim, lapse_old, put_off, settle
from soakbook.store.pages import read_pages

BACK_OFF = (
    timedelta(minutes=1),
    timedelta(minutes=5),
    timedelta(minutes=30),
    timedelta(hours=2),
)
"""How long it waits after the first failure, the second, and so on; then always as long as after the last."""

REFUSALS = len(BACK_OFF)
"""A channel that says no for good is asked again so often all the same: servers are set up wrongly for an hour, too."""

UNREACHED = timedelta(minutes=5)
"""How long it waits for whoever has no address yet, or for a server that takes our mail."""

SWITCHED_OFF = "reminders of its kind were switched off before it went"
ANSWERED = "something was said of its beds before it went"

NOBODY = "nobody is entered who could be told: soakbook person Ann --mail ann@example.org"

Give = Callable[[Message, Channel | None], tuple[Channel | None, Outcome]]
"""Gives a message to a channel: which one tried it, None where there is none yet, and what came of it."""


def send_due(
    path: Path,
    clock: Callable[[], datetime],
    give: Give,
    who: str,
    go_on: Callable[[], bool] = lambda: True,
) -> tuple[Notice, ...]:
    """Send everything whose hour has come; what became of each.

    Parameters
    ----------
    path : Path
        The book.
    clock : callable
        The present moment, zone-aware: it goes on while a slow server answers.
    give : callable
        The channels.
    who : str
        A name that no other sender bears.
    go_on : callable
        Asked before each: whether it is to be sent now. What is left is nobody's.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    """
    done: list[Notice] = []
    with open_book(path) as book:
        sender = _Sender(book, who, clock, give)
        lapse_old(book, clock())
        while go_on() and (notice := claim(book, who, clock())) is not None:
            done.append(sender.send(notice))
    return tuple(done)


def worded(notice: Notice, name: str, now: datetime) -> Message:
    """A reminder as it is sent at a moment: late is said, and of which day its words are."""
    due_on = notice.due_at.astimezone(ZoneInfo(notice.zone)).date()
    # the day that it is for may be one to come, and quiet hours may have put it off until the next
    late = late_words(min(due_on, notice.for_day)) if now >= notice.late_from else ""
    return Message(notice.uid, name, notice.title, late + notice.body, now)


class _Sender(NamedTuple):
    """Whoever sends: in which book, under which name, by which clock and channels."""

    book: BookFile
    who: str
    clock: Callable[[], datetime]
    give: Give

    def send(self, notice: Notice) -> Notice:
        """One claimed reminder sent, or not any more, or not yet; its mark is written."""
        now = self.clock()
        garden, setting = _setting(self.book, notice)
        if now >= notice.not_after:  # while a slow server was waited for
            return self.settled(notice, "lapsed")
        if not setting.wanted:
            return self.settled(notice._replace(answer=SWITCHED_OFF), "withdrawn")
        if notice.beds and answered([notice], read_pages(self.book, known_at=now)):
            return self.settled(notice._replace(answer=ANSWERED), "withdrawn")
        loud = due_at(now, setting, ZoneInfo(garden.timezone))
        if loud > now:
            return self.put_off(notice, loud)
        return self.given(notice, setting.channel, now)

    def given(self, notice: Notice, wanted: Channel | None, now: datetime) -> Notice:
        """What came of giving it to a channel; where nobody can be reached it waits, and counts as no try."""
        name = _name(self.book, notice)
        if name is None:
            return self.put_off(notice._replace(answer=NOBODY), now + UNREACHED)
        channel, outcome = self.give(worded(notice, name, now), wanted)
        if channel is None:
            return self.put_off(notice._replace(answer=outcome.answer), now + UNREACHED)
        return self.marked(
            notice._replace(channel=channel, tries=notice.tries + 1, answer=outcome.answer), outcome
        )

    def marked(self, tried: Notice, outcome: Outcome) -> Notice:
        """What a channel answered, written."""
        if outcome.came == "sent":
            return self.settled(tried, "sent")
        if outcome.came == "refused" and tried.tries > REFUSALS:
            return self.settled(tried, "given_up")
        wait = BACK_OFF[min(tried.tries, len(BACK_OFF)) - 1]
        return self.put_off(tried, self.clock() + wait)

    def settled(self, notice: Notice, state: NoticeState) -> Notice:
        """The end of a reminder, written."""
        done = notice._replace(state=state, settled_at=self.clock())
        settle(self.book, done)
        return done

    def put_off(self, notice: Notice, until: datetime) -> Notice:
        """A reminder left for later."""
        put_off(self.book, notice, self.who, until)
        return notice


def _name(book: BookFile, notice: Notice) -> str | None:
    """Whom it is for: where nobody had been entered yet the head since; None where nobody is there to be told."""
    pages = Pages(read_garden(book), people=read_records(book, Person))
    whom = head_of(pages) if notice.whom == GARDENER else notice.whom
    return name_of(whom, pages) or None


def _setting(book: BookFile, notice: Notice) -> tuple[Garden, Setting]:
    """How its kind is sent as things stand now: what waited may have come into the quiet hours since."""
    said = {one.uid: one for one in read_records(book, Reminder)}
    garden = read_garden(book)
    return garden, settled(notice.what, said.get(notice.what), garden)
