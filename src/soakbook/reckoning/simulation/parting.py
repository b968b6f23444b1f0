"""A bed parted in two: what the new bed takes over from the old one on the morning on which they part.

The plants stand where they stood, so nothing happens to them: the rows of the season that begin that morning
have the water and the beliefs of the rows they come from, and the bed its dressings, jars and diary.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.entries import AnyEntry, BedEntry, Feel, Look, Loss, OfBed, Rain, Soak, Wilt
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting, Uid
from soakbook.reckoning.physics.records import Number, Stores
from soakbook.reckoning.physics.roots import Geometry
from soakbook.reckoning.simulation.beliefs import Beliefs
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.touches import spoken_of
from soakbook.reckoning.simulation.watering import local_day, soak_shares


def with_past(pages: Pages) -> Pages:
    """The pages with what was entered of a bed before another was parted from it told of both.

    What was given is not doubled by that: of a soak the copy has the litres that its own plants had, and of a planting
    parted in two each half is reckoned from the morning on which they parted.
    """
    parted = [bed for bed in pages.beds if bed.parted_from is not None]
    if not parted:
        return pages
    for bed in sorted(
        parted, key=_parted_on
    ):  # a part of a part takes over what that one took over
        pages = pages._replace(entries=tuple(_with_copies(pages, bed)))
    return pages


def drawn_as(beds: Iterable[Bed]) -> Mapping[Uid, Uid]:
    """Beds that were parts of others, and whose numbers are drawn for each: the sky over them is one."""
    by_uid = {bed.uid: bed for bed in beds}
    found: dict[Uid, Uid] = {}
    for bed in by_uid.values():
        first = bed
        for _ in by_uid:  # no further: in a damaged book they may lead in a circle
            first = by_uid.get(first.parted_from or "", first)
        if first is not bed:
            found[bed.uid] = first.uid
    return found


def come_from(plantings: Sequence[Planting], row: int, running: int) -> int | None:
    """The row of the planting where the plants of a row stood until this morning; None where they were planted."""
    one = plantings[row]
    if one.parted_on is None:
        return None
    rows = (n for n, other in enumerate(plantings[:running]) if other.uid == one.came_from)
    return next(rows, None)


def believed_on(
    beliefs: Beliefs,
    beds: Sequence[Bed],
    bed_index: NDArray[np.intp],
    taken: Mapping[int, int],
) -> Beliefs:
    """What is believed of the rows that begin this morning, each of which takes over from another.

    Parameters
    ----------
    beliefs : Beliefs
        Before.
    beds : sequence of Bed
        The season's.
    bed_index : ndarray of int, shape (planting,)
        Bed of each row.
    taken : mapping of int to int
        New row -> the row that it comes from.
    """
    of_bed, of_planting = beliefs.of_bed.copy(), beliefs.of_planting.copy()
    et0_moved, moved_on = beliefs.et0_moved_then.copy(), list(beliefs.moved_on)
    for new, old in taken.items():
        of_planting[new] = beliefs.of_planting[old]
        here, there = int(bed_index[new]), int(bed_index[old])
        if beds[here].parted_from == beds[there].uid:
            of_bed[here], et0_moved[here] = beliefs.of_bed[there], beliefs.et0_moved_then[there]
            moved_on[here] = beliefs.moved_on[there]
    return Beliefs(of_bed, of_planting, et0_moved, tuple(moved_on))


def taken_over(held: Stores, old: Geometry, new: Geometry) -> Stores:
    """The water of a row that begins this morning: as wet as in the row it comes from.

    Parameters
    ----------
    held : Stores
        Of the old row, overnight.
    old, new : Geometry
        Of both rows at the old one's warm days: alike unless something else has been said of the new bed's soil.
    """
    ball = _as_full(held.ball_store_l, old.ball_capacity_l, new.ball_capacity_l)
    reach = _as_full(held.reach_store_l, old.reach_capacity_l, new.reach_capacity_l)
    beyond = _as_full(held.beyond_store_l, old.beyond_capacity_l, new.beyond_capacity_l)
    return held._replace(
        ball_store_l=ball,
        reach_store_l=np.minimum(reach, new.reach_saturation_l),
        beyond_store_l=np.minimum(beyond, new.beyond_saturation_l),
    )


def _as_full(held_l: Number, old_l: Number, new_l: Number) -> Floats:
    """What a store of another capacity holds when it is as full; the same to the last bit where both are alike."""
    old = np.asarray(old_l)
    times = np.divide(new_l, old, out=np.ones_like(old), where=old > 0)
    return np.asarray(held_l * times)


def _parted_on(bed: Bed) -> date:
    return bed.parted_on or date.min


def _with_copies(pages: Pages, bed: Bed) -> Iterator[AnyEntry]:
    """All entries, and behind each that was of the whole bed the part's own."""
    zone = ZoneInfo(pages.garden.timezone)
    own = {one.uid for one in pages.entries if isinstance(one, BedEntry) and one.bed_uid == bed.uid}
    heirs = {one.came_from: one for one in pages.plantings_of(bed) if one.parted_on}
    losses = tuple(one for one in pages.entries if isinstance(one, Loss))
    for entry in pages.entries:
        yield entry
        if isinstance(entry, Rain) or entry.bed_uid != bed.parted_from or entry.uid in own:
            continue
        if local_day(entry.happened_at, zone) < _parted_on(bed):
            copy = (
                _share(entry, soak_shares(entry, pages, losses, zone), heirs)
                if isinstance(entry, Soak)
                else _copy(entry, pages, heirs)
            )
            if copy is not None:
                yield replace(copy, bed_uid=bed.uid)


def _share(
    soak: Soak, shares: Iterable[tuple[Planting, float]], heirs: Mapping[Uid | None, Planting]
) -> Soak | None:
    """What of a soak the plants had that went over."""
    litres = sum(heirs[one.uid].count * each for one, each in shares if one.uid in heirs)
    if not litres:
        return None
    named = heirs[soak.planting_uid].uid if soak.planting_uid in heirs else None
    return replace(soak, litres=litres, planting_uid=named)


def _copy(entry: OfBed, pages: Pages, heirs: Mapping[Uid | None, Planting]) -> OfBed | None:
    """What was found or done, told of the part; None where it was of plants that stayed, or lost."""
    found = isinstance(entry, Feel | Look | Wilt)
    about = spoken_of(entry, pages) if found else entry.planting_uid
    if about in heirs and not isinstance(entry, Loss):
        return replace(entry, planting_uid=heirs[about].uid)
    if isinstance(entry, Feel) and entry.bed is not None:  # the same soil, though another's ball
        return replace(entry, planting_uid=None, ball=None)
    return entry if about is None and not found else None
