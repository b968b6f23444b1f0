"""Whether a watering may be one that somebody else has entered already: two hands, one soak."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from soakbook.garden.entries import Soak, When
from soakbook.garden.records import Bed, Uid
from soakbook.quantities import saying
from soakbook.reckoning.simulation.touches import moment_of
from soakbook.services.desk import Desk
from soakbook.services.history import same_name
from soakbook.services.subjects import Subject, subject

WITHIN = timedelta(hours=3)
"""Of one morning. common practice, no source."""

WITHIN_FRACTION = 0.25
"""Two who say the same soak differ by no more: one counts cans, the other minutes. common practice, no source."""


class Twin(NamedTuple):
    """What another entered of a bed, that a new watering may be."""

    bed: Bed
    soaks: tuple[Soak, ...]

    @property
    def litres(self) -> float:
        """All of it."""
        return sum(one.litres for one in self.soaks)

    @property
    def say(self) -> str:
        """A sentence: `Tom entered 17 L at 07:40`."""
        first = self.soaks[0]
        at = first.happened_at
        when = f"at {at:%H:%M}" if isinstance(at, datetime) else "for that day"
        who = first.by or "Somebody"
        return f"{who} entered {saying.litres(self.litres)} {when}."


def twin_of(desk: Desk, about: Subject, soaks: Sequence[Soak]) -> Twin | None:
    """What another, or nobody by name, entered of the same ground at about that time and of about that amount.

    Parameters
    ----------
    desk : Desk
        Before the new watering is in the book.
    about : Subject
        What was watered.
    soaks : sequence of Soak
        The new watering of it, one entry or one a planting.
    """
    litres = sum(one.litres for one in soaks)
    whole = subject(desk, about.bed, None, soaks[0].happened_at)
    all_of_it = frozenset(one.uid for one, _ in whole.living)
    for group in _by_others(desk, about.bed, soaks[0].happened_at, soaks[0].by):
        twin = Twin(about.bed, group)
        about_as_much = abs(twin.litres - litres) <= WITHIN_FRACTION * max(twin.litres, litres)
        if about_as_much and _ground(group, all_of_it) == _ground(soaks, all_of_it):
            return twin
    return None


def may_have_twins(desk: Desk, beds: Sequence[Bed], when: When) -> bool:
    """Whether anything at all was entered by another of these beds at about that time: quick to tell."""
    return any(any(_by_others(desk, bed, when, desk.pen.by or None)) for bed in beds)


def _by_others(desk: Desk, bed: Bed, when: When, by: str | None) -> Iterator[tuple[Soak, ...]]:
    """What others entered of a bed at about a time, by sitting and the moment it was given."""
    # In UTC: two moments of one zone are held against each other by the clock on the wall.
    moment = moment_of(when, desk.pages).astimezone(UTC)
    groups: dict[tuple[datetime, When, str | None], list[Soak]] = {}
    for one in desk.pages.entries:
        if not isinstance(one, Soak) or one.bed_uid != bed.uid or same_name(one.by, by):
            continue
        if abs(moment_of(one.happened_at, desk.pages).astimezone(UTC) - moment) <= WITHIN:
            groups.setdefault((one.written_at, one.happened_at, one.by), []).append(one)
    yield from (tuple(group) for group in groups.values())


def _ground(soaks: Sequence[Soak], all_of_it: frozenset[Uid]) -> frozenset[Uid]:
    """The plantings that were watered; an advised dose for several leaves out those that wanted none."""
    named = frozenset(one.planting_uid for one in soaks if one.planting_uid is not None)
    return named if len(named) == len(soaks) == 1 else all_of_it
