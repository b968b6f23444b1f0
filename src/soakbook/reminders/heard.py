"""What has been heard of a bed on a day: an answer ends its reminders, a could-not passes it on."""

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import BedEntry, Feel, Left, Look, Soak, Wilt
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.reckoning.simulation.watering import local_day

COULD_NOT = frozenset({"could not", "no time"})
"""Reasons of a bed left that leave it to the next person; others settle it."""


class Heard(NamedTuple):
    """Of one day: beds that were answered for, and who said of which that they could not."""

    answered: frozenset[Uid]
    could_not: dict[Uid, tuple[str, ...]]


def heard_on(pages: Pages, day: date) -> Heard:
    """What the book's entries say of a day."""
    answered: set[Uid] = set()
    could_not: dict[Uid, tuple[str, ...]] = {}
    for entry in _of_day(pages, day):
        if isinstance(entry, Left) and entry.reason.strip().casefold() in COULD_NOT:
            could_not[entry.bed_uid] = (*could_not.get(entry.bed_uid, ()), entry.by or "somebody")
        elif isinstance(entry, Soak | Feel | Wilt | Left | Look):
            answered.add(entry.bed_uid)
    return Heard(frozenset(answered), could_not)


def _of_day(pages: Pages, day: date) -> Iterator[BedEntry]:
    zone = ZoneInfo(pages.garden.timezone)
    return (
        entry
        for entry in pages.entries
        if isinstance(entry, BedEntry) and local_day(entry.happened_at, zone) == day
    )
