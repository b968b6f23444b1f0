"""Whether a watering is ten times what its ground usually gets: most likely 200 for 20, a slip of the keyboard.

Told plant by plant, so that neither deaths nor plantings soaked one by one make it unfair. A soak is held against the
soaks before it, in litres a plant of each planting. A water-in, a re-wet or a rescue may well be many times a helped
pot's half litre: it may also be what ball and bowl could want, and none of the three makes a habit. What nobody can
have given is refused before, in `soak_bounds`.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from typing import NamedTuple

from soakbook.garden.entries import ADVISED_SHARES, Loss, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting, Uid
from soakbook.quantities import saying
from soakbook.reckoning.simulation.touches import moment_of
from soakbook.reckoning.simulation.watering import living_count, local_day, soak_shares
from soakbook.services.entry_words import place_of
from soakbook.services.soak_bounds import could_want_l
from soakbook.store.texts import garden_zone

TIMES = 10
"""So many times the usual is doubtful. common practice, no source; the specimen's season goes up to 6."""

A_HABIT = 3
"""So many soaks tell what is usual. common practice, no source."""

LOOKED_BACK = 40
"""So many soaks of a bed count: what was given to a pot in its first weeks is not usual in its third year."""

MEANT = "meant so: "
"""How the note begins that is written where it was asked about."""

NEARLY = 1 - 1e-9
"""Shares of ten times add up to it but for the last digit."""


class FarMore(NamedTuple):
    """A watering, and what would have been usual."""

    place: str
    litres: float
    usual_l: float
    by_habit: bool
    """Whether soaks tell what is usual, of one planting at least; else the plants do."""

    @property
    def times(self) -> float:
        """The one over the other."""
        return self.litres / self.usual_l

    @property
    def say(self) -> str:
        """`2,000 L is 12 times what is usual there, about 160 L`."""
        usual = "is usual there" if self.by_habit else "the plants there could want"
        times = f"{int(self.times / NEARLY):,} times"
        return f"{saying.litres(self.litres)} is {times} what {usual}, about {saying.litres(self.usual_l)}"


class Habits:
    """What each planting had at each soak of its bed, on these pages."""

    def __init__(self, pages: Pages) -> None:
        self._pages, self._zone = pages, garden_zone(pages.garden)
        self._losses = [one for one in pages.entries if isinstance(one, Loss)]
        self._beds: dict[Uid, list[Soak]] = {}
        self._shares: dict[Uid, list[tuple[Planting, float]]] = {}

    def far_more(self, soak: Soak) -> FarMore | None:
        """What would have been usual in place of a watering that is ten times as much; else None.

        Parameters
        ----------
        soak : Soak
            In the book or about to be. The round's own dose is never doubted.
        """
        shares = [] if soak.typed in ADVISED_SHARES else self._shares_of(soak)
        if not shares:
            return None
        doses: defaultdict[Uid, list[float]] = defaultdict(list)
        for one in self._near(soak):
            for planting, each_l in self._shares_of(one):
                doses[planting.uid].append(each_l)
        day = local_day(soak.happened_at, self._zone)
        usual_l, by_habit = 0.0, False
        for planting, _ in shares:
            each_l, told = _usual_l(planting, soak, doses[planting.uid])
            usual_l += each_l * living_count(planting, self._losses, day, self._zone)
            by_habit = by_habit or told
        if soak.litres < TIMES * usual_l * NEARLY:
            return None
        return FarMore(place_of(soak, self._pages), soak.litres, usual_l, by_habit)

    def doubtful(self, soak: Soak) -> FarMore | None:
        """The same, but of one with a note: that one was asked about, or looked at since."""
        return None if soak.note else self.far_more(soak)

    def _near(self, soak: Soak) -> Sequence[Soak]:
        """The soaks of its bed before it; where they are too few to tell anything, those after it too."""
        of_bed = self._of_bed(soak.bed_uid)
        place = bisect_right(of_bed, self._moment(soak), key=self._moment)
        before = _others(of_bed[max(0, place - LOOKED_BACK - 1) : place], soak)[-LOOKED_BACK:]
        return before if len(before) >= A_HABIT else _others(of_bed, soak)[:LOOKED_BACK]

    def _of_bed(self, uid: Uid) -> list[Soak]:
        """The plain soaks of a bed as they happened."""
        if uid not in self._beds:
            soaks = (one for one in self._pages.entries if isinstance(one, Soak))
            self._beds[uid] = [one for one in soaks if one.bed_uid == uid and one.kind == "soak"]
        return self._beds[uid]

    def _shares_of(self, soak: Soak) -> list[tuple[Planting, float]]:
        if soak.uid not in self._shares:
            self._shares[soak.uid] = soak_shares(soak, self._pages, self._losses, self._zone)
        return self._shares[soak.uid]

    def _moment(self, soak: Soak) -> datetime:
        return moment_of(soak.happened_at, self._pages).astimezone(UTC)  # as soaks are in order


def as_meant(soak: Soak, far: FarMore) -> Soak:
    """A watering that was asked about and is meant: a note says so, and it is not doubted again."""
    return replace(soak, note=soak.note or f"{MEANT}{far.say}")


def unmeant(soak: Soak) -> Soak:
    """The same without that note: of another amount it says nothing."""
    return replace(soak, note=None) if (soak.note or "").startswith(MEANT) else soak


def doubted(far: FarMore, handle: str) -> str:
    """That it is in the book all the same, and how it is put right."""
    return (
        f"Doubtful: {far.say}. It is entered as given. If it is a slip:\n"
        f"  soakbook book amend {handle} AMOUNT\n  soakbook book undo {handle}"
    )


def as_doubtful(far: FarMore) -> dict[str, float | bool]:
    """The same for machines."""
    return {"usual_litres": far.usual_l, "times": far.times, "by_habit": far.by_habit}


def _others(soaks: Iterable[Soak], soak: Soak) -> list[Soak]:
    return [one for one in soaks if one.uid != soak.uid]


def _usual_l(planting: Planting, soak: Soak, doses: Sequence[float]) -> tuple[float, bool]:
    """What one plant usually has at a time, or could want [L]; and whether its soaks tell that."""
    wanted_l = planting.usual_dose_l or could_want_l(planting)
    if soak.kind != "soak":
        wanted_l = max(wanted_l, could_want_l(planting))
    if len(doses) < A_HABIT:
        return wanted_l, False
    middle_l = sorted(doses)[len(doses) // 2]
    by_habit = soak.kind == "soak" or middle_l >= wanted_l
    return (middle_l, True) if by_habit else (wanted_l, False)
