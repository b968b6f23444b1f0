"""What an entry is about: a bed or one planting of it, and what of it stood on the day."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from soakbook.errors import InputError
from soakbook.garden import nearest
from soakbook.garden.entries import Loss, When
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting, Uid
from soakbook.garden.tables.causes import ELSEWHERE, PARTED
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import date_of, plural, quoted
from soakbook.reckoning.simulation.watering import living_count, local_day
from soakbook.services.desk import Desk


@dataclass(frozen=True, slots=True)
class Subject:
    """A bed, the planting that was named if one was, and the plants of either on a day with their counts."""

    bed: Bed
    planting: Planting | None
    living: tuple[tuple[Planting, int], ...]

    @property
    def planting_uid(self) -> Uid | None:
        """Of the planting that was named."""
        return None if self.planting is None else self.planting.uid

    @property
    def meant(self) -> Planting | None:
        """The planting a finger or an eye speaks of: the named one, else the one with most plants."""
        if self.planting is not None or not self.living:
            return self.planting
        return max(self.living, key=lambda pair: pair[1])[0]

    def must_live(self) -> None:
        """Refuse what can only be said of living plants."""
        if not self.living:
            what = (
                f"the {plural(self.planting.name)} of {self.bed.name}"
                if self.planting
                else self.bed.name
            )
            raise InputError(
                "bed", self.bed.key, f"a bed with living plants: nothing stands in {what}"
            )


def subject(desk: Desk, bed: Bed, word: str | None, when: When) -> Subject:
    """What an entry of that moment is about.

    Parameters
    ----------
    desk : Desk
    bed : Bed
    word : str or None
        The planting as typed; None for the whole bed.
    when : datetime or date
        When it happened.

    Raises
    ------
    InputError
        No such planting; a day before the planting, or before all those of the bed.
    """
    day = local_day(when, desk.zone)
    check_open(desk, bed, day)
    planted = desk.pages.plantings_of(bed)
    if word is not None:
        planted = (planting_of(desk, bed, word),)
    if planted and day < min(one.here_from for one in planted):
        first = min(planted, key=lambda one: one.here_from)
        right = (
            f"a day from {month_day(first.here_from)} {first.here_from.year}, when "
            f"the {plural(first.name)} came into {bed.name}"
        )
        raise InputError("at", desk.pen.at or day.isoformat(), right)
    return Subject(bed, planted[0] if word is not None else None, living_of(desk, planted, day))


def living_of(
    desk: Desk, planted: Iterable[Planting], day: date
) -> tuple[tuple[Planting, int], ...]:
    """Those of some plantings that lived on a day, with their counts."""
    losses = [one for one in desk.pages.entries if isinstance(one, Loss)]
    counts = ((one, living_count(one, losses, day, desk.zone)) for one in planted)
    return tuple((one, count) for one, count in counts if count > 0)


def check_open(desk: Desk, bed: Bed, day: date, field: str = "at") -> None:
    """Refuse what is said of a bed on a day when it rests, or was a part of another.

    Raises
    ------
    InputError
        It was; the field is what said the day.
    """
    if bed.rests_from is not None and bed.rests_on(day):
        right = (
            f"a bed that is not at rest: {bed.name} is since {date_of(bed.rests_from, desk.today)}; "
            f"soakbook bed {quoted(bed.key)} --rest no ends it"
        )
        raise InputError("bed", bed.key, right)
    if bed.parted_on is not None and day < bed.parted_on:
        whole = desk.pages.bed_by_uid()[bed.parted_from or ""]
        right = (
            f"a day from {date_of(bed.parted_on, desk.today)}: before it {bed.name} was a part of {whole.name}, so "
            "say it of that"
        )
        raise InputError(field, desk.pen.at or day.isoformat(), right)


def planting_of(desk: Desk, bed: Bed, word: str) -> Planting:
    """The planting of a bed that a word means."""
    planted = desk.pages.plantings_of(bed)
    name = nearest.find(word, [one.name for one in planted], f"planting of {bed.name}")
    return next(one for one in planted if one.name == name)


def standing(pages: Pages, planting: Planting) -> int:
    """Plants of a planting that are not entered as lost, on whatever day."""
    lost = sum(
        one.count
        for one in pages.entries
        if isinstance(one, Loss) and one.planting_uid == planting.uid
    )
    return planting.count - lost


def parted_off(pages: Pages, planting: Planting) -> int:
    """How many of a planting stand where they stood and belong to another bed: their ground is not free."""
    return _lost_by(pages, planting, (PARTED,))


def free_places(pages: Pages, planting: Planting) -> int:
    """How many of a planting are gone, dead or moved, with nobody planted in their ground since."""
    gone = planting.count - standing(pages, planting) - parted_off(pages, planting)
    stood_in = sum(one.count for one in pages.plantings if one.replaces == planting.uid)
    return max(0, gone - stood_in)


def elsewhere(pages: Pages, planting: Planting) -> int:
    """How many of a planting live in another bed."""
    return _lost_by(pages, planting, ELSEWHERE)


def _lost_by(pages: Pages, planting: Planting, causes: Collection[str]) -> int:
    return sum(
        one.count
        for one in pages.entries
        if isinstance(one, Loss) and one.planting_uid == planting.uid and one.cause in causes
    )


def of_bed(bed: Bed, planting: Planting | None) -> str:
    """How an answer begins: the bed, and the planting where one was named."""
    return f"{bed.name}, {planting.name}" if planting else bed.name
