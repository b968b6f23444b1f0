"""The garden on a dawn long ago as plain arrays and words, and the season that goes on from it.

A dawn is kept before anybody has felt anything on it. It has what the steps before it left behind and nothing that
a season laid out anew has by itself: no parameters, for they follow from the beliefs, and no entries. When it holds
stands in `marks`; as which bytes it lies on a disk, in `kept_bytes`.
"""

from collections.abc import Iterator
from datetime import date
from functools import partial
from typing import NamedTuple, get_args

import numpy as np

from soakbook.garden.records import FeltClass, Uid
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING, Beliefs
from soakbook.reckoning.simulation.drawing import laid_out
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.gone import without
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.touches import Change, Squared, Store, Touch, stores_of

CLASSES: tuple[FeltClass, ...] = get_args(FeltClass)

SQUARED_NUMBERS = 7 + len(OF_BED) + len(OF_PLANTING)
"""What is kept of one feel of one store: its class by number, limit, sodden before and since, innovation, and its
change: wetness expected and now, and what was learned."""


class Kept(NamedTuple):
    """The garden on a dawn, rows in the season's order."""

    day: date
    mark: str
    members: int
    plantings: tuple[Uid, ...]
    """Those that take part in the step of the day."""
    beds: tuple[Uid, ...]
    """Those of these plantings, and of the others that were there before."""
    moved_on: tuple[date | None, ...]
    """By bed, the last evening that a feel squared up."""
    stores: Floats  # (field of Stores, planting, member)
    of_planting: Floats  # (planting, name of OF_PLANTING, member)
    of_bed: Floats  # (bed, name of OF_BED, member)
    et0_moved_then: Floats  # (bed, member)
    squared: Floats  # (feel of a store, SQUARED_NUMBERS), oldest first


def kept_of(dawn: Dawn, mark: str) -> Kept:
    """A dawn that nobody has felt yet, as it is kept."""
    season, beliefs, count = dawn.season, dawn.season.beliefs, dawn.size
    begun = {one.bed_uid for one in season.pages.plantings if one.here_from <= dawn.day}
    beds = [number for number, bed in enumerate(season.beds) if bed.uid in begun]
    return Kept(
        day=dawn.day,
        mark=mark,
        members=season.members,
        plantings=tuple(one.uid for one in season.plantings[:count]),
        beds=tuple(season.beds[number].uid for number in beds),
        moved_on=tuple(beliefs.moved_on[number] for number in beds),
        stores=np.array(dawn.stores),
        of_planting=beliefs.of_planting[:count],
        of_bed=beliefs.of_bed[beds],
        et0_moved_then=beliefs.et0_moved_then[beds],
        squared=np.array([_numbers(one) for one in dawn.squared]).reshape(-1, SQUARED_NUMBERS),
    )


def dawn_of(kept: Kept, season: Season, gone: frozenset[Uid]) -> Dawn | None:
    """The dawn of a season that has the mark of what was kept; None where they do not go together after all.

    Parameters
    ----------
    kept : Kept
    season : Season
        Laid out and not yet run.
    gone : frozenset of Uid
        Who has left before that day.
    """
    felt = tuple(_felt_before(season, kept.day))
    if len(felt) != len(kept.squared):
        return None
    numbers = zip(felt, kept.squared.tolist(), strict=True)
    squared = tuple(_squared(season, *one, told) for one, told in numbers)
    season, _ = without(season, gone)
    count = season.active(kept.day)
    beds = {bed.uid: number for number, bed in enumerate(season.beds)}
    if (
        kept.members != season.members
        or kept.plantings != tuple(one.uid for one in season.plantings[:count])
        or not set(kept.beds) <= set(beds)
    ):
        return None
    beliefs = _beliefs(kept, season, [beds[uid] for uid in kept.beds])
    plot, fixed = laid_out(season.plain, beliefs, season.bed_index)
    season = season._replace(beliefs=beliefs, plot=plot, fixed=fixed, cuts={})
    return Dawn(kept.day, season, Stores(*kept.stores), None, squared=squared)


def with_changes(dawn: Dawn) -> Dawn:
    """The dawn with what every feel has changed worked out: the arrays it was to be worked out of are let go."""
    return dawn._replace(squared=tuple(_worked_out(one) for one in dawn.squared))


def _beliefs(kept: Kept, season: Season, beds: list[int]) -> Beliefs:
    """What is believed on that dawn; of those to come what was drawn."""
    drawn = season.beliefs
    of_bed, of_planting = drawn.of_bed.copy(), drawn.of_planting.copy()
    et0_moved, moved_on = drawn.et0_moved_then.copy(), list(drawn.moved_on)
    of_planting[: len(kept.plantings)] = kept.of_planting
    for number, bed in enumerate(beds):
        of_bed[bed], et0_moved[bed] = kept.of_bed[number], kept.et0_moved_then[number]
        moved_on[bed] = kept.moved_on[number]
    return Beliefs(of_bed, of_planting, et0_moved, tuple(moved_on))


def _numbers(one: Squared) -> list[float]:
    change = one.change()
    learned = (change.learned[name] for name in (*OF_BED, *OF_PLANTING))
    before, since = one.sodden
    said = (CLASSES.index(one.felt), one.limit, before, since, one.innovation)
    return [*said, change.expected, change.now, *learned]


def _felt_before(season: Season, day: date) -> Iterator[tuple[date, Touch, Store]]:
    """Every store that was felt before a dawn, in the order in which they were squared up."""
    for dawn in sorted(one for one in season.touches if one < day):
        for touch in season.touches[dawn]:
            for store in stores_of(touch.feel):
                yield dawn, touch, store


def _squared(
    season: Season, dawn: date, touch: Touch, store: Store, numbers: list[float]
) -> Squared:
    """What a feel has changed: who felt what stands in the season, the numbers were kept."""
    number, limit, before, since, innovation, expected, now, *learned = numbers
    planting = season.plantings[touch.row]
    by_name = dict(zip((*OF_BED, *OF_PLANTING), learned, strict=True))
    return Squared(
        day=dawn,
        feel_uid=touch.feel.uid,
        bed_uid=planting.bed_uid,
        planting_uid=planting.uid,
        store=store,
        felt=CLASSES[int(number)],
        limit=limit,
        sodden=(bool(before), bool(since)),
        innovation=innovation,
        change=partial(Change, expected, now, by_name),
    )


def _worked_out(one: Squared) -> Squared:
    worked: partial[Change] = partial(Change, *one.change())
    return one._replace(change=worked)
