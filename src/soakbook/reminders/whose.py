"""Whose a bed is on a day, and who comes after them. A bed is one person's at a time, never two people's.

The bed's keeper, if they come that day; else the first of those who come, as they were entered; where nobody comes,
the keeper all the same, or the head. Where nobody is entered there is one gardener, whose uid is empty.
"""

from collections.abc import Collection, Iterable, Sequence
from datetime import date

from soakbook.garden.nearest import plain
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Person, Uid
from soakbook.reckoning.advice.visits import comes_on
from soakbook.reminders.kinds import Setting

GARDENER: Uid = ""
"""Whoever keeps a book in which nobody is entered."""


def dealt(
    beds: Iterable[Bed], setting: Setting, pages: Pages, day: date
) -> dict[Uid, tuple[Bed, ...]]:
    """Each bed given to one person: uid -> their beds, in the order in which they came."""
    pool = _pool(setting, pages)
    found: dict[Uid, list[Bed]] = {}
    for bed in beds:
        found.setdefault(_owner(bed, pool, pages, day), []).append(bed)
    return {uid: tuple(theirs) for uid, theirs in found.items()}


def everyone(setting: Setting, beds: Iterable[Bed], pages: Pages, day: date) -> tuple[Uid, ...]:
    """Who is told what gives nobody a bed: the keepers of these beds, the head, all, or those named."""
    if setting.whom in ("keeper", "next"):
        return tuple(dealt(beds, setting, pages, day))
    here = [one for one in _pool(setting, pages) if one.last is None or day <= one.last]
    return tuple(one.uid for one in here) or (head_of(pages),)


def next_to(told: Collection[Uid], setting: Setting, pages: Pages, day: date) -> Uid | None:
    """Who is told after these: the next who comes that day, else the head; None where both know already."""
    after = [one.uid for one in _pool(setting, pages) if comes_on(one, day)]
    return next((uid for uid in (*after, head_of(pages)) if uid not in told), None)


def head_of(pages: Pages) -> Uid:
    """The head's uid: whoever is said to be, else the first person entered."""
    said = plain(pages.garden.head or "")
    named = [one.uid for one in pages.people if said and plain(one.name) == said]
    return next(iter([*named, *(one.uid for one in pages.people)]), GARDENER)


def name_of(uid: Uid, pages: Pages) -> str:
    """What somebody is called; empty for the gardener of a book in which nobody is entered."""
    return next((one.name for one in pages.people if one.uid == uid), "")


def uids_of(names: Iterable[str], pages: Pages) -> set[Uid]:
    """The uids of people, as they are called in entries."""
    called = {plain(name) for name in names}
    return {one.uid for one in pages.people if plain(one.name) in called}


def _pool(setting: Setting, pages: Pages) -> Sequence[Person]:
    """Among whom a kind's reminders are dealt; of those named only who is still there, the head where nobody is."""
    if setting.whom not in ("head", "named"):
        return pages.people
    named = [one for one in pages.people if one.uid in setting.named and setting.whom == "named"]
    return named or [one for one in pages.people if one.uid == head_of(pages)]


def _owner(bed: Bed, pool: Sequence[Person], pages: Pages, day: date) -> Uid:
    kept_by = plain(bed.keeper or "")
    keeper = [one for one in pool if kept_by and plain(one.name) == kept_by]
    coming = [one for one in (*keeper, *pool) if comes_on(one, day)]
    head = [one for one in pool if one.uid == head_of(pages)]
    return next((one.uid for one in (*coming, *keeper, *head, *pool)), GARDENER)
