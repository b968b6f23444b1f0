"""A correction as it lies on the desk: the entry that is corrected, and what is said of it now."""

from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from soakbook.garden.entries import When
from soakbook.garden.records import Bed
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.desk import Desk
from soakbook.services.subjects import Subject, subject

Said = Mapping[str, Any]
"""What is said otherwise, by the option's name, as typed."""

WHOLE_BED = "all"
NOTHING = "none"


class Case(NamedTuple):
    """The desk as if the old entry had not been written, the old entry, and what is said of it now."""

    desk: Desk
    old: Any
    said: Said

    @property
    def when(self) -> When:
        """When it happened, by what is said now."""
        when: When = self.desk.when(self.day) if self.desk.pen.at else self.old.happened_at
        return when

    @property
    def day(self) -> date:
        """The day on which it happened, as it was written: where only an hour is said now, it stays."""
        return local_day(self.old.happened_at, self.desk.zone)

    @property
    def bed(self) -> Bed:
        """The bed that it is about, by what is said now."""
        if "in_bed" in self.said:
            return self.desk.bed(self.said["in_bed"])
        return self.desk.bed_with(self.old.bed_uid)

    @property
    def about(self) -> Subject:
        """The same, or the planting of it."""
        word, bed = self.said.get("planting"), self.bed
        kept = next(
            (one for one in self.desk.pages.plantings if one.uid == self.old.planting_uid), None
        )
        if word is not None:
            whole = word.strip().casefold() == WHOLE_BED
            return subject(self.desk, bed, None if whole else word, self.when)
        if kept is None or kept.bed_uid != bed.uid:
            return subject(self.desk, bed, None if kept is None else kept.name, self.when)
        found = subject(self.desk, bed, None, self.when)
        living = tuple(pair for pair in found.living if pair[0].uid == kept.uid)
        return Subject(bed, kept, living)  # by its uid: two may be called alike

    @property
    def moved(self) -> bool:
        """Whether it is about other ground now."""
        return "in_bed" in self.said or "planting" in self.said

    def fields(self) -> dict[str, object]:
        """What every entry begins with."""
        return self.desk.fields(self.when)

    def place(self) -> dict[str, object]:
        """What every entry about a bed or a planting has."""
        about = self.about
        return {"bed_uid": about.bed.uid, "planting_uid": about.planting_uid}
