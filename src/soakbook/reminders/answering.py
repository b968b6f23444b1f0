"""Answers to reminders: done, half, could not, left. Each is an entry like any other; after it there is silence."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple, Unpack

from soakbook.errors import InputError
from soakbook.garden.nearest import find, plain
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Uid
from soakbook.garden.reminding import Notice
from soakbook.quantities.dates import month_day, parse_moment
from soakbook.quantities.saying import names, quoted
from soakbook.reckoning.simulation.watering import local_day
from soakbook.reminders.asked import TO_BEDS
from soakbook.reminders.heard import Heard, heard_on
from soakbook.reminders.passing_on import passed_on
from soakbook.reminders.whose import name_of
from soakbook.services.desk import bed_of
from soakbook.services.entries import left, soak
from soakbook.services.mornings import round_report
from soakbook.services.pen import Pen, Written
from soakbook.services.told import Report
from soakbook.store.book import open_book
from soakbook.store.outbox import read_notices
from soakbook.store.pages import read_pages
from soakbook.store.texts import garden_zone

if TYPE_CHECKING:
    from soakbook.garden.entries import When

Answer = Literal["done", "half", "could-not", "left"]

GIVEN: dict[Answer, str] = {"done": "advised", "half": "half advised"}
REASONS: dict[Answer, str] = {"could-not": "could not", "left": "looked at, needs none"}


class _Asked(NamedTuple):
    """What is answered: the reminders of one day that gave somebody beds, and what was heard of these since."""

    what: Answer
    by: str | None
    pages: Pages
    now: datetime
    day: date
    notices: Sequence[Notice]
    heard: Heard


def answer(
    path: Path,
    what: Answer,
    beds: Sequence[str] = (),
    *,
    reason: str | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter what became of the beds of a day's reminders.

    Parameters
    ----------
    path : Path
        The book.
    what : str
        done: the round's dose was given; half: half of it; could-not: the next person is told; left: looked at, it
        needs none.
    beds : sequence of str
        As typed; none: all that `by` was told of that day and has not answered.
    reason : str, optional
        Why it was left, in the gardener's words.
    **written
        now, by; at: the day whose reminders are meant; sure.

    Returns
    -------
    list of dict
        One answer a bed.

    Raises
    ------
    InputError
        No bed is waiting, or it is not clear whose beds are meant; anything that cannot be entered.
    """
    if reason is not None and what != "left":
        raise InputError("reason", reason, "nothing: only a bed that was left has one")
    asked = _read(path, what, Pen(path, **written))
    named = _named(asked, beds)
    whom, meant = (None, named) if beds else _waiting(asked)
    written["by"] = asked.by
    if what in GIVEN:
        return _given(path, asked, meant, bool(beds), **written)
    if what == "could-not" and whom is not None:
        written["by"] = asked.by or name_of(whom, asked.pages) or None
    wanting = _wanting(path, asked) if what == "could-not" else set()
    told = left(path, [bed.key for bed in meant], reason or REASONS[what], **written)
    if what == "could-not":
        uids = {bed.uid for bed in meant}
        told[-1]["say"] += passed_on(
            path, asked.notices, uids, wanting, now=asked.now, day=asked.day
        )
    return told


def _read(path: Path, what: Answer, pen: Pen) -> _Asked:
    with open_book(path, read_only=True) as book:
        pages = read_pages(book)
        zone = garden_zone(pages.garden)
        now = pen.now.astimezone(zone)
        when: When = now if pen.at is None else parse_moment(pen.at, "at", now, day=None)
        day = local_day(when, zone)
        notices = [
            one
            for one in read_notices(book, since=day)
            if one.for_day == day and one.what in TO_BEDS and one.beds
        ]
    by = next((one.name for one in pages.people if plain(one.name) == plain(pen.by or "")), pen.by)
    return _Asked(what, by, pages, now, day, notices, heard_on(pages, day))


def _named(asked: _Asked, words: Sequence[str]) -> list[Bed]:
    try:
        return [bed_of(asked.pages, word) for word in words]
    except InputError as fault:
        if asked.what != "left" or len(words) < 2:
            raise
        right = f'{fault.right}; a reason goes with --reason: --reason "moist to the knuckle"'
        raise InputError(fault.field, fault.value, right) from fault


def _waiting(asked: _Asked) -> tuple[str, list[Bed]]:
    """Whose beds are meant where none are named, and which of them have not been answered for."""
    if asked.by is not None and asked.pages.people:
        asked = asked._replace(by=find(asked.by, [one.name for one in asked.pages.people], "by"))
    wanted = None if asked.by is None else plain(asked.by or "")
    groups: dict[str, list[Uid]] = {}
    for notice in asked.notices:
        if wanted is None or plain(name_of(notice.whom, asked.pages)) == wanted:
            theirs = groups.setdefault(notice.whom, [])
            theirs += [uid for uid in notice.beds if _waits(asked, notice.whom, uid)]
    groups = {whom: uids for whom, uids in groups.items() if uids}
    if not groups:
        whose = f" of {asked.by}'s" if asked.by else ""
        today = asked.day == asked.now.date()
        of_day = "today" if today else month_day(asked.day)
        right = f"name one; no reminder{whose} of {of_day} waits for an answer"
        raise InputError("bed", None, right)
    sets = {frozenset(uids) for uids in groups.values()}
    if len(sets) > 1 or (len(groups) > 1 and asked.what == "could-not"):
        told = [f"--by {quoted(name)}" for uid in groups if (name := name_of(uid, asked.pages))]
        raise InputError("by", None, f"say who it was, {' or '.join(told)}, or name the beds")
    whom, uids = list(groups.items())[-1]
    return whom, [bed for bed in asked.pages.beds if bed.uid in uids]


def _waits(asked: _Asked, whom: Uid, bed: Uid) -> bool:
    """Whether somebody has yet to say something of a bed; that they cannot is said once."""
    if bed in asked.heard.answered:
        return False
    who = {plain(name) for name in asked.heard.could_not.get(bed, ())}
    return asked.what != "could-not" or plain(name_of(whom, asked.pages) or "somebody") not in who


def _given(
    path: Path, asked: _Asked, beds: Sequence[Bed], by_name: bool, **written: Unpack[Written]
) -> list[Report]:
    """Beds as watered; those of a reminder that were only to be felt are said, and left as they are."""
    wanting = _wanting(path, asked)
    dry = [bed for bed in beds if bed.uid not in wanting]
    named = names(list(dict.fromkeys(bed.name for bed in dry)))
    if dry and (by_name or len(dry) == len(beds)):
        raise InputError(
            "amount", None, f"the round has no water for {named} now: {_else(asked, dry)}"
        )
    told = soak(path, [bed.key for bed in beds if bed not in dry], GIVEN[asked.what], **written)
    if dry:
        told[-1]["say"].append(f"The round has no water for {named} now: nothing is entered there.")
    return told


def _wanting(path: Path, asked: _Asked) -> set[Uid]:
    """Beds that the round of the day has water for, and those passed on: it has none for them until tomorrow."""
    today = asked.day == asked.now.date()
    report = round_report(path, now=asked.now, on=None if today else asked.day.isoformat())
    wet = {call["bed"] for call in report["calls"] if call["litres"] > 0}
    passed_on = asked.heard.could_not.keys() - asked.heard.answered
    return {bed.uid for bed in asked.pages.beds if bed.key in wet} | passed_on


def _else(asked: _Asked, dry: Sequence[Bed]) -> str:
    """What can be typed of beds without water in the round: for whom it is answered, nothing need be."""
    key = quoted(dry[0].key)
    given = f"soakbook soak {key} 8l"
    if all(bed.uid in asked.heard.answered for bed in dry):
        them = "they have" if len(dry) > 1 else "it has"
        return f"{them} been answered for, see soakbook book log {key}; given once more: {given}"
    if any(bed.uid in one.beds for bed in dry for one in asked.notices):
        return f"{given}; if it was only looked at, soakbook remind left {key}"
    return given
