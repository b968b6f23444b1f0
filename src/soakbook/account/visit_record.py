"""Every visit to a bed, from the entries of a book: watered, left with a reason, or only looked at.

The entries do not say from which tap water came: it is taken to be the one by which the round would have had the bed
watered that day. Nothing here is reckoned of soil or plants, and a soak counts once, whatever became of its bed.
Tables of visits are made in `visits`.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import Literal, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Feel, Left, Look, Soak, Wilt
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, HandMethod, Planting, Source, Uid
from soakbook.garden.tables.work import MINUTES_A_BED
from soakbook.reckoning.advice.supply import Supply, supply_of, with_cans, work_of
from soakbook.reckoning.simulation.watering import living_count, local_day, losses_by_bed

What = Literal["watered", "left", "looked"]
MAINS: Source = "mains"

AtABed = Soak | Left | Feel | Wilt | Look
Found = Feel | Wilt | Look


class Given(NamedTuple):
    """The water of one visit, and what it took."""

    litres: float
    plants: int
    source: Source
    source_guessed: bool
    tap: str | None
    minutes: float | None
    """Tap open; None where no hose test is known. [min]"""
    minutes_on_foot: float


class Visit(NamedTuple):
    """One visit to one bed by one person on one day."""

    day: date
    bed: Bed
    by: str | None
    what: What
    entries: tuple[AtABed, ...]
    """The soaks or the left entry first, then what the same person found there that day."""
    given: Given | None = None
    """None where nothing was."""

    @property
    def at(self) -> datetime | None:
        """The first moment that was said: of the water if there was any, or of leaving it, else of looking."""
        done = [one for one in self.entries if isinstance(one, Soak | Left)] or self.entries
        moments = [one.happened_at for one in done if isinstance(one.happened_at, datetime)]
        return min(moments, default=None)

    @property
    def soaks(self) -> tuple[Soak, ...]:
        """The waterings."""
        return tuple(one for one in self.entries if isinstance(one, Soak))

    @property
    def found(self) -> tuple[Found, ...]:
        """What was felt or seen."""
        return tuple(one for one in self.entries if isinstance(one, Found))


def visits_of(pages: Pages, first: date, last: date) -> tuple[Visit, ...]:
    """The visits of a span of days, by day, then time, then as the beds stand in the book; timeless ones first.

    Parameters
    ----------
    pages : Pages
        A whole book as it is read, not as cut for a morning: there a soak of a bed that was parted stands twice.
    first, last : date
        Both included, on the garden's calendar.
    """
    zone = ZoneInfo(pages.garden.timezone)
    beds = {bed.uid: (place, bed) for place, bed in enumerate(pages.beds)}
    sorted_out: dict[tuple[date, Uid, str | None], list[AtABed]] = defaultdict(list)
    for entry in pages.entries:
        if isinstance(entry, AtABed) and entry.bed_uid in beds:
            day = local_day(entry.happened_at, zone)
            if first <= day <= last:
                sorted_out[day, entry.bed_uid, entry.by].append(entry)
    work = _Work(pages, zone)
    found = [
        visit
        for (day, uid, by), entries in sorted_out.items()
        for visit in _visits(Visit(day, beds[uid][1], by, "looked", tuple(entries)), work)
    ]
    return tuple(sorted(found, key=lambda one: _order(one, beds[one.bed.uid][0])))


def methods_of(visit: Visit) -> tuple[HandMethod, ...]:
    """The ways in which water was given, each once."""
    return tuple(dict.fromkeys(one.method for one in visit.soaks))


def named_in(pages: Pages, visit: Visit) -> tuple[str, ...]:
    """Names of the plantings that a visit was to; empty where it was to the whole bed.

    Parameters
    ----------
    pages : Pages
        The book.
    visit : Visit
        One of it. Of a watering the soaks count, else the first entry.
    """
    about = [one.planting_uid for one in visit.soaks or visit.entries[:1]]
    if None in about:
        return ()
    return tuple(one.name for one in pages.plantings if one.uid in about)


class _Work:
    """What the water of a visit took, with what of a book is looked up again and again."""

    def __init__(self, pages: Pages, zone: ZoneInfo) -> None:
        self.pages = pages
        self.zone = zone
        self.losses = losses_by_bed(pages)
        self.plantings: dict[Uid, list[Planting]] = defaultdict(list)
        for planting in pages.plantings:
            self.plantings[planting.bed_uid].append(planting)
        self.source_of = {tap.key: tap.source for tap in pages.taps}

    def given(self, visit: Visit, soaks: Sequence[Soak]) -> Given:
        """Litres, minutes and where the water came from."""
        supply = supply_of(self.pages, visit.bed, visit.day)
        key = supply.tap or visit.bed.tap
        source = self.source_of.get(key or "")
        plants = self._plants(visit, soaks)
        minutes, on_foot = _minutes(supply, soaks, plants)
        return Given(
            litres=math.fsum(one.litres for one in soaks),
            plants=plants,
            source=source or MAINS,
            source_guessed=source is None or len({*self.source_of.values()}) > 1,
            tap=key if source else None,
            minutes=minutes,
            minutes_on_foot=on_foot,
        )

    def _plants(self, visit: Visit, soaks: Iterable[Soak]) -> int:
        """Living plants that had of it: of the whole bed, or of the plantings that were named."""
        named = {one.planting_uid for one in soaks}
        losses = self.losses.get(visit.bed.uid, ())
        return sum(
            living_count(planting, losses, visit.day, self.zone)
            for planting in self.plantings[visit.bed.uid]
            if (None in named or planting.uid in named) and planting.here_from <= visit.day
        )


def _visits(visit: Visit, work: _Work) -> Iterator[Visit]:
    """What all the entries of one bed, day and person come to; what was found goes with the first of them."""
    soaks = tuple(one for one in visit.entries if isinstance(one, Soak))
    found: tuple[AtABed, ...] = visit.found
    if soaks:
        given = work.given(visit, soaks)
        yield visit._replace(what="watered", entries=soaks + found, given=given)
        found = ()
    for left in visit.entries:
        if isinstance(left, Left):
            yield visit._replace(what="left", entries=(left, *found))
            found = ()
    if found:
        yield visit._replace(entries=found)


def _minutes(supply: Supply, soaks: Sequence[Soak], plants: int) -> tuple[float | None, float]:
    """Minutes of the tap and on foot; where some of it came by can and some by hose, the bed's own minutes once."""
    by_can = math.fsum(one.litres for one in soaks if one.method == "can")
    rest = math.fsum(one.litres for one in soaks if one.method != "can")
    works = [
        work_of(way, litres, plants)
        for way, litres in ((with_cans(supply), by_can), (supply, rest))
        if litres > 0
    ]
    tap = [one.minutes for one in works if one.minutes is not None]
    on_foot = sum(one.minutes_on_foot for one in works) - MINUTES_A_BED * (len(works) - 1)
    return (sum(tap) if len(tap) == len(works) else None), on_foot


def _order(visit: Visit, place: int) -> tuple[date, float, int, str]:
    at = visit.at
    return visit.day, at.timestamp() if at is not None else -math.inf, place, visit.by or ""
