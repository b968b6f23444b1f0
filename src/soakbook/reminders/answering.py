"""Answers to reminders: done, half, could not, left. Each is an entry like any other; after it there is silence."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Literal, NamedTuple, Unpack

from soakbook.errors import InputError
from soakbook.garden.nearest import plain
from soakbook.garden.pages import Pages
from soakbook.garden.reminding import Notice
from soakbook.quantities.saying import names, quoted
from soakbook.reckoning.advice.rounds import round_of
from soakbook.reminders.asked import TO_BEDS
from soakbook.reminders.heard import heard_on
from soakbook.services.desk import bed_of
from soakbook.services.entries import left, soak
from soakbook.services.mornings import morning_of
from soakbook.services.pen import Pen, Written
from soakbook.services.told import Report
from soakbook.store.book import open_book
from soakbook.store.outbox import read_notices
from soakbook.store.pages import read_pages
from soakbook.store.texts import garden_zone

Answer = Literal["done", "half", "could-not", "left"]

REASONS: dict[Answer, str] = {"could-not": "could not", "left": "looked at, needs none"}


class _Asked(NamedTuple):
    pages: Pages
    today: date
    notices: Sequence[Notice]
    """Today's that gave somebody beds."""


def answer(
    path: Path,
    what: Answer,
    beds: Sequence[str] = (),
    *,
    reason: str | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter what became of the beds of today's reminders.

    Parameters
    ----------
    path : Path
        The book.
    what : str
        done: the round's dose was given; half: half of it; could-not: the next person is told; left: looked at, it
        needs none.
    beds : sequence of str
        As typed; none: all that `by` was told of today and has not answered.
    reason : str, optional
        Why it was left, in the gardener's words.
    **written
        now, by, at; sure.

    Returns
    -------
    list of dict
        One answer a bed.

    Raises
    ------
    InputError
        No bed is waiting, or it is not clear whose beds are meant; anything that cannot be entered.
    """
    pen = Pen(path, **written)
    asked = _read(path, pen.now)
    keys = [bed_of(asked.pages, bed).key for bed in beds] or _told(asked, pen.by)
    if what in ("could-not", "left"):
        return left(path, keys, reason or REASONS[what], **written)
    if reason is not None:
        raise InputError("reason", reason, "nothing, where water was given")
    if what == "done":
        return soak(path, keys, "advised", **written)
    halves = {key: _half(path, pen.now, key) for key in keys}
    return [one for key, amount in halves.items() for one in soak(path, [key], amount, **written)]


def _read(path: Path, now: datetime) -> _Asked:
    with open_book(path, read_only=True) as book:
        pages = read_pages(book)
        today = now.astimezone(garden_zone(pages.garden)).date()
        notices = [one for one in read_notices(book, since=today) if one.what in TO_BEDS]
    return _Asked(pages, today, [one for one in notices if one.for_day == today])


def _told(asked: _Asked, by: str | None) -> list[str]:
    """Keys of the beds that somebody was told of today and of which nothing has been heard."""
    people = {one.uid: one.name for one in asked.pages.people}
    wanted = {uid for uid, name in people.items() if by and plain(name) == plain(by)}
    told = [one for one in asked.notices if one.beds and (not by or one.whom in wanted)]
    whom = {one.whom for one in told}
    if not by and len(whom) > 1:
        who = names([people.get(uid, "somebody") for uid in sorted(whom, key=list(people).index)])
        right = f"whose beds: --by {quoted(people[next(iter(people))])}, or the beds by name ({who} were told)"
        raise InputError("by", None, right)
    heard = heard_on(asked.pages, asked.today)
    uids = dict.fromkeys(uid for one in told for uid in one.beds if uid not in heard.answered)
    keys = [bed.key for bed in asked.pages.beds if bed.uid in uids]
    if not keys:
        whose = f"of {by}'s " if by else ""
        raise InputError(
            "bed", None, f"a bed by name: no reminder {whose}of today waits for an answer"
        )
    return keys


def _half(path: Path, now: datetime, key: str) -> str:
    """Half of what the round has for a bed, as an amount."""
    calls = round_of(morning_of(path, now=now)).calls
    call = next((one for one in calls if one.bed == key), None)
    if call is None or call.litres <= 0:
        right = f"an amount: the round asks for none now, so say soakbook soak {quoted(key)} 8l"
        raise InputError("half", key, right)
    return f"{call.litres / 2:g}l"
