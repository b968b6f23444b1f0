"""One thing that `book check` found, and how an entry is called in it."""

from collections import defaultdict
from datetime import date, timedelta
from typing import Literal, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import ENTRY_TYPES, AnyEntry, BedEntry, Loss
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting, Uid
from soakbook.quantities.saying import date_of, plural
from soakbook.reckoning.simulation.watering import local_day

Weight = Literal["damaged", "ours", "wrong", "look"]
WEIGHTS: tuple[Weight, ...] = ("damaged", "ours", "wrong", "look")
"""Worst first: the file itself; the reckoning; what cannot be as it stands; what may be right."""

AMEND = "Correct the entry with soakbook book amend, or take it back with soakbook book undo."

WORDS = {"mulch": "dressing", "left": "left", "catch": "jar", "ruler": "ruler"}
"""What an entry is called where its kind is no word for it."""

KIND_OF = {record: kind for kind, record in ENTRY_TYPES.items()}


class Finding(NamedTuple):
    """What was found: in which bed, of which day, what it is, what to do, and about which entries."""

    kind: str
    weight: Weight
    say: str
    do: str = ""
    bed: str | None = None
    day: date | None = None
    entries: tuple[Uid, ...] = ()


class Looked:
    """The pages that are looked at, and from which day and by which clock it is said."""

    def __init__(self, pages: Pages, zone: ZoneInfo, today: date) -> None:
        self.pages, self.zone, self.today = pages, zone, today
        self._beds = pages.bed_by_uid()
        self._plantings = {one.uid: one for one in pages.plantings}
        losses: defaultdict[Uid, list[Loss]] = defaultdict(list)
        for entry in pages.entries:
            if isinstance(entry, Loss):
                losses[entry.planting_uid].append(entry)
        self.losses = losses
        """What was lost, by planting."""

    def on(self, day: date) -> str:
        """`on 14 May`, with its year where it is not this one."""
        return f"on {date_of(day, self.today)}"

    def day_of(self, entry: AnyEntry) -> date:
        """The garden's day of an entry."""
        return local_day(entry.happened_at, self.zone)

    def bed_name(self, uid: Uid) -> str:
        """What a bed is called."""
        return self._beds[uid].name if uid in self._beds else uid

    def bed_key(self, uid: Uid) -> str | None:
        """By what a bed is named in a command."""
        return self._beds[uid].key if uid in self._beds else None

    def planting(self, uid: Uid | None) -> Planting | None:
        """The planting of that uid."""
        return None if uid is None else self._plantings.get(uid)

    def called(self, entry: AnyEntry) -> str:
        """`The soak of Chapel Wall, climbing roses, on 14 May (5cans, by Ann)`."""
        kind = KIND_OF[type(entry)]
        said = [getattr(entry, "typed", None), f"by {entry.by}" if entry.by else None]
        more = ", ".join(word for word in said if word)
        of = ""
        if isinstance(entry, BedEntry):
            planting = self.planting(entry.planting_uid)
            of = f" of {self.bed_name(entry.bed_uid)}" + (
                f", {plural(planting.name)}," if planting else ""
            )
        return f"The {WORDS.get(kind, kind)}{of} {self.on(self.day_of(entry))}" + (
            f" ({more})" if more else ""
        )

    def about(
        self, kind: str, weight: Weight, entry: AnyEntry, say: str, do: str = AMEND
    ) -> Finding:
        """A finding about one entry: what is said follows its name."""
        bed = self.bed_key(entry.bed_uid) if isinstance(entry, BedEntry) else None
        text = f"{self.called(entry)} {say}"
        return Finding(kind, weight, text, do, bed, self.day_of(entry), (entry.uid,))


def spans(days: list[date]) -> list[tuple[date, date]]:
    """Days in order, as runs without a gap."""
    found: list[tuple[date, date]] = []
    for day in days:
        if found and day - found[-1][1] == timedelta(days=1):
            found[-1] = (found[-1][0], day)
        else:
            found.append((day, day))
    return found
