"""What if: a season reckoned again as it might have been, with its doubt, beside the season as it was.

Each way is reckoned twice. **As given**: every soak stays as it was entered, and the plants stand dry for more days or
fewer. **By the round**: nothing is given but what the round asks for, every morning in full. A published calendar is a
way of watering of its own: what it gives is given, and there is no round.

Nobody feels anything in any of them, the season as it was included, for a finger tells of the soil that is there. What
fingers have taught by the season's end, of soils and plants, is believed from its start in all of them alike. No
forecast is seen.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.account.by_calendar import watered_by
from soakbook.account.season import Span
from soakbook.account.ways import ByRound, Doubt, Given, Way
from soakbook.account.worlds import World, unfelt, worlds_of
from soakbook.errors import InputError
from soakbook.garden.entries import BedEntry, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Uid
from soakbook.reckoning.advice.calendars import PUBLISHED
from soakbook.reckoning.advice.dry_days import DryDays
from soakbook.reckoning.advice.following import (
    Followed,
    Seen,
    follow,
    left_to_the_round,
    seen_on_mornings,
)
from soakbook.reckoning.simulation.bands import middle_of, ranks
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.gardens import Gardens, Taught, gardens_of, taught_by
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import MEMBERS, Season, season_of
from soakbook.reckoning.simulation.watering import local_day

DRAWN = 8
"""Gardens in which the round is followed beside the one as it is thought to be."""

ROUND_MEMBERS = 40
"""Of each: with 60 the specimen's season has the same visits and within a hundredth the litres."""

NOTHING_TO_RECKON = "nothing stood in the beds, or the book has no weather to reckon with"


class Size(NamedTuple):
    """How much is drawn: all of it but in tests."""

    members: int = MEMBERS
    round_members: int = ROUND_MEMBERS
    drawn: int = DRAWN


WHOLE = Size()


def what_if(
    pages: Pages, span: Span, bed: str | None = None, size: Size = WHOLE
) -> tuple[Way, ...]:
    """Every way for the whole garden, and then for each bed; or for one bed alone.

    Parameters
    ----------
    pages : Pages
        The book as it is known on the morning after the span.
    span : Span
        The season, or what has gone by of it.
    bed : str, optional
        Key of a bed: only it is planted, mulched and watered otherwise, and all the hours there are, are for it.
    size : Size, optional

    Raises
    ------
    InputError
        No bed has that key.
    """
    known = known_on(pages, span.asked)._replace(forecasts=(), promises=())
    if bed is not None:
        known = _cut_to(known, bed)
    season = season_of(known, span.asked, size.members, ahead_days=1)
    worlds = worlds_of(unfelt(known), span.first, span.until)
    if season is None or not any(span.first <= one.day <= span.until for one in known.weather):
        return tuple(
            Way(one.key, one.words, bed or "", refused=NOTHING_TO_RECKON) for one in worlds
        )
    beds = [one for one in season.beds if bed in (None, one.key)]
    entered = {one.uid: one.bed_uid for one in pages.entries if isinstance(one, Soak)}
    asking = _Asking(span, size, season, taught_by(season), entered)
    tried = [asking.world(one) for one in worlds if one.refused is None]
    tried += asking.calendars(worlds[0].pages)
    by_key = {one.key: one for one in tried}
    parts: list[tuple[str, Sequence[Bed]]] = [("", beds), *((one.key, [one]) for one in beds)]
    refused = {one.key: one for one in worlds if one.refused is not None}
    order = [*(one.key for one in worlds), *(one.key for one in PUBLISHED)]
    return tuple(
        Way(key, refused[key].words, name, refused=refused[key].refused or "")
        if key in refused
        else by_key[key].way(tried[0], name, [one.uid for one in of])
        for name, of in (parts if bed is None else parts[1:])
        for key in order
    )


class _Tried(NamedTuple):
    """A way reckoned: its soaks and their dry days, and the round followed where it has one."""

    key: str
    words: str
    soaks: tuple[Soak, ...]
    zone: ZoneInfo
    dry: DryDays
    gardens: Gardens | None = None
    followed: Followed | None = None

    def way(self, as_it_was: "_Tried", bed: str, uids: Sequence[Uid]) -> Way:
        """The numbers of some beds, beside those of the season as it was."""
        litres, visits = self._watered(self.soaks, uids)
        days, were = self.dry.of_beds(uids), as_it_was.dry.of_beds(uids)
        given = Given(
            litres,
            visits,
            _of_members(days),
            _of_members(days - were),
        )
        by_round = None
        if self.followed is not None:
            now, then = self.by_garden(uids), as_it_was.by_garden(uids)
            changes = (a - b for a, b in zip(now, then, strict=True))
            by_round = ByRound(*(_of_gardens(one) for one in (*now, *changes)))
        return Way(self.key, self.words, bed, given, by_round)

    def by_garden(self, uids: Sequence[Uid]) -> tuple[Floats, Floats, Floats]:
        """Litres, visits and dry days of some beds, each (garden,)."""
        assert self.gardens is not None
        assert self.followed is not None
        found = self.followed
        gardens = list(zip(*(self.gardens.bed_uids[uid] for uid in uids), strict=True))
        watered = [self._watered(found.soaks, one) for one in gardens]
        dry_days = [float(middle_of(found.dry.of_beds(one))) for one in gardens]
        return (
            np.array([litres for litres, _ in watered]),
            np.array([visits for _, visits in watered], np.float64),
            np.array(dry_days),
        )

    def _watered(self, soaks: Sequence[Soak], uids: Sequence[Uid]) -> tuple[float, int]:
        """Litres, and beds watered, each once a day."""
        beds = frozenset(uids)
        mine = [one for one in soaks if one.bed_uid in beds]
        visits = {(one.bed_uid, local_day(one.happened_at, self.zone)) for one in mine}
        return math.fsum(one.litres for one in mine), len(visits)


class _Asking:
    """What all ways of one season share."""

    def __init__(
        self, span: Span, size: Size, season: Season, taught: Taught, entered: Mapping[Uid, Uid]
    ) -> None:
        self._span, self._size, self._season, self._taught = span, size, season, taught
        self._entered = entered
        self._seen: dict[date, Seen] = {}

    def world(self, world: World) -> _Tried:
        """A world as given and by the round."""
        span, size = self._span, self._size
        alone = left_to_the_round(world.pages, span.first, world.since)
        gardens = gardens_of(alone, span.asked, size.round_members, size.drawn, self._taught)
        assert (
            gardens is not None
        )  # the season as it was has one, and no world takes its weather away
        first = min([span.first, *world.since.values()])
        seen = self._seen_from(world.pages, first)
        followed = follow(gardens, span.first, world.since, seen, world.habit)
        given = self._given(world.key, world.words, world.pages, world.since)
        return given._replace(gardens=gardens, followed=followed)

    def calendars(self, pages: Pages) -> Iterator[_Tried]:
        """The season watered by each published calendar."""
        first, until = self._span.first, self._span.until
        for one in PUBLISHED:
            watered = watered_by(one, pages, first, until, self._season.skies)
            yield self._given(one.key, one.words, watered, {})

    def _given(self, key: str, words: str, pages: Pages, since: Mapping[Uid, date]) -> _Tried:
        """A season run on the soaks of its pages."""
        first, asked, members = self._span.first, self._span.asked, self._size.members
        gardens = gardens_of(pages, asked, members, taught=self._taught)
        assert gardens is not None
        dry = DryDays(pages, first, members, since)
        run(gardens.season, watch=dry.told)
        zone = ZoneInfo(pages.garden.timezone)
        soaks = tuple(
            one
            for one in pages.entries
            if isinstance(one, Soak)
            and self._is_of_its_bed(one)
            and local_day(one.happened_at, zone) >= since.get(one.bed_uid, first)
        )
        return _Tried(key, words, soaks, zone, dry)

    def _is_of_its_bed(self, soak: Soak) -> bool:
        """Whether it is of the bed it was entered for: of one parted since, pages cut to a morning tell it of both."""
        return self._entered.get(soak.uid, soak.bed_uid) == soak.bed_uid

    def _seen_from(self, pages: Pages, first: date) -> Mapping[date, Seen]:
        """What mornings know of the weather: alike in every world."""
        known_from = min(self._seen, default=self._span.asked)
        if first < known_from:
            self._seen |= seen_on_mornings(pages, first, known_from)
        return self._seen


def _cut_to(pages: Pages, key: str) -> Pages:
    """The pages of one bed, and of those that its plants came from."""
    wanted = {one.uid for one in pages.beds if one.key == key}
    if not wanted:
        keys = ", ".join(one.key for one in pages.beds) or "there is no bed yet"
        raise InputError("bed", key, f"one of the garden's beds: {keys}")
    bed_of = {one.uid: one.bed_uid for one in pages.plantings}
    for _ in pages.beds:  # no further: in a damaged book they may lead in a circle
        came = {one.parted_from for one in pages.beds if one.uid in wanted}
        came |= {
            bed_of.get(one.came_from or "") for one in pages.plantings if one.bed_uid in wanted
        }
        wanted |= {uid for uid in came if uid is not None}
    return pages._replace(
        beds=tuple(one for one in pages.beds if one.uid in wanted),
        plantings=tuple(one for one in pages.plantings if one.bed_uid in wanted),
        entries=tuple(
            one for one in pages.entries if not isinstance(one, BedEntry) or one.bed_uid in wanted
        ),
    )


def _of_members(values: Floats) -> Doubt:
    low, middle, high = (float(one) for one in ranks(values, (0.1, 0.5, 0.9)))
    return Doubt(middle, low, high)


def _of_gardens(values: Floats) -> Doubt:
    return Doubt(float(values[0]), float(values.min()), float(values.max()))
