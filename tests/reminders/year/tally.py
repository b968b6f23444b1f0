"""What is in an outbox after a year beside what must be, and beside what the mail server took."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import timedelta
from pathlib import Path
from typing import NamedTuple

from soakbook.garden.reminding import Notice
from soakbook.store.book import open_book
from soakbook.store.outbox import read_notices
from tests.reminders.year.calendar import COUNTED, Due
from tests.reminders.year.playing import Played
from tests.reminders.year.troubles import LONGEST_LEAP, Trouble

Key = tuple[str, str, str, str]
BEFORE_IT = timedelta(hours=3)
"""After a trouble a reminder may still wait for its next try."""


class Tally(NamedTuple):
    """One year, counted."""

    due: int
    once: int
    """Sent, and taken by the server once."""
    again: int
    """Marked as sent and taken more than once, each time but one from a program that was killed before its mark."""
    lapsed: int
    withdrawn: int
    given_up: int
    yet_taken: int
    """Of the three before: taken by the server from a program that was killed before its mark."""
    lost: tuple[str, ...]
    """Due and not in the outbox; marked as sent and never taken; waiting yet; lapsed though nothing was in the way."""
    doubled: tuple[str, ...]
    """Taken oftener than programs were killed over it; in the outbox and not due; taken and not in the outbox."""


def outbox(path: Path) -> tuple[Notice, ...]:
    """All that a book's outbox holds, from a book that is sound."""
    with open_book(path) as book:
        assert book.connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        return read_notices(book)


def tally(
    found: Sequence[Notice],
    must: Sequence[Notice],
    taken: Counter[str],
    played: Played,
    troubles: Sequence[Trouble],
) -> Tally:
    """A year's outbox held against an undisturbed one and the server's sheet.

    Parameters
    ----------
    found
        The outbox.
    must
        That of the year in which nothing befell.
    taken
        How often the server took each.
    played
        What was done to the programs.
    troubles
        What befell beside that.
    """
    states, keys = Counter(one.state for one in found), {_key(one) for one in found}
    lost = [f"not in the outbox: {_said(one)}" for one in must if _key(one) not in keys]
    doubled = [
        f"not due: {_said(one)}" for one in found if _key(one) not in {_key(one) for one in must}
    ]
    known = {one.uid for one in found}
    doubled += [f"taken, not in the outbox: {uid}" for uid in taken if uid not in known]
    again = yet_taken = 0
    for one in found:
        times = taken[one.uid]
        if one.state == "due":
            lost.append(f"waits yet: {_said(one)}")
        elif one.state == "sent" and not times:
            lost.append(f"marked as sent, never taken: {_said(one)}")
        elif one.state == "lapsed" and not times and not _hindered(one, troubles):
            lost.append(f"lapsed, nothing was in the way: {_said(one)}")
        may_be = played.interrupted[one.uid] + (one.state == "sent")
        if times > may_be:
            doubled.append(f"taken {times} times, {may_be} accounted for: {_said(one)}")
        again += times > 1 and one.state == "sent"
        yet_taken += times > 0 and one.state != "sent"
    once = sum(1 for one in found if one.state == "sent" and taken[one.uid] == 1)
    return Tally(
        len(must), once, again, states["lapsed"], states["withdrawn"], states["given_up"], yet_taken,
        tuple(lost), tuple(doubled),
    )  # fmt: skip


def against_calendar(must: Iterable[Notice], counted: Iterable[Due]) -> tuple[str, ...]:
    """Where an undisturbed outbox and a count off the calendar differ; none should."""
    there = Counter((one.what, one.whom, one.for_day) for one in must if one.what in COUNTED)
    found = []
    for due in counted:
        hits = [key for what in due.what if there[key := (what, due.whom, due.for_day)]]
        if not hits:
            found.append(f"missing: {' or '.join(sorted(due.what))} for {due.whom}, {due.for_day}")
        for key in hits:
            del there[key]
    return (*found, *(f"not in the calendar: {' '.join(map(str, key))}" for key in there))


def _hindered(one: Notice, troubles: Sequence[Trouble]) -> bool:
    """Whether something befell while it could have been sent; a leap of the clock lets lapse what is yet to come."""
    return any(
        trouble.touches(
            one.due_at - (LONGEST_LEAP if trouble.kind == "leapt" else BEFORE_IT), one.not_after
        )
        for trouble in troubles
        if trouble.kind != "two"
    )


def _key(one: Notice) -> Key:
    return one.what, one.whom, one.about, one.for_day.isoformat()


def _said(one: Notice) -> str:
    return f"{' '.join(filter(None, _key(one)))} ({one.state})"
