"""One garden several times over, side by side in one season: as it is thought to be, and as some members have it.

What fingers have taught of soil and plants by a season's end may be believed from its start.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple

import numpy as np

from soakbook.garden.entries import AnyEntry, BedEntry
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting, Uid
from soakbook.reckoning.simulation.drawing import laid_out
from soakbook.reckoning.simulation.draws import DailyErrors, Floats, daily_errors
from soakbook.reckoning.simulation.parting import drawn_as
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import Season, season_of

AHEAD_DAYS = 62
"""So many days past its morning a season may be asked for: to the next visit, where nobody comes for two months."""


class Taught(NamedTuple):
    """Log multipliers as a season's feels have left them, by uid: each (name, member), names as in `beliefs`."""

    of_bed: Mapping[Uid, Floats]
    of_planting: Mapping[Uid, Floats]


class Gardens(NamedTuple):
    """A season with one garden in it several times over."""

    season: Season
    number_of: Mapping[Uid, int]
    """By bed uid which garden it is in; 0 is the garden as it is thought to be."""
    bed_uids: Mapping[Uid, tuple[Uid, ...]]
    """By bed uid of the book that of the bed in each garden, in their order."""


def taught_by(season: Season) -> Taught:
    """What the feels of a season have taught by its morning, of everybody that stood in it."""
    last = run(season, watch=lambda _: None)[-1].season  # one that watches keeps the dead
    beliefs = last.beliefs
    return Taught(
        {bed.uid: beliefs.of_bed[number] for number, bed in enumerate(last.beds)},
        {one.uid: beliefs.of_planting[row] for row, one in enumerate(last.plantings)},
    )


def gardens_of(
    pages: Pages,
    morning: date,
    members: int,
    drawn: int = 0,
    taught: Taught | None = None,
) -> Gardens | None:
    """A garden once as it is thought to be and `drawn` times as one of its members has it; None without a season.

    Nobody feels anything in any of them.

    Parameters
    ----------
    pages : Pages
        Cut to what may be known on the morning.
    morning : date
        The first day not yet run.
    members : int
        Length of each garden's ensemble [> drawn].
    drawn : int
        How many gardens are drawn.
    taught : Taught, optional
        What is believed of those it names, its first members taken [as many as `members`, or more]; of others what is
        drawn at the start.

    Notes
    -----
    In the k-th drawn garden the plain run has the log multipliers of member k, and all members are shifted by as much:
    it is as that member has it, and as doubtful as the first. Its weather is the first garden's.
    """
    whole = _several(pages, drawn)
    season = season_of(whole, morning, members, AHEAD_DAYS)
    if season is None:
        return None
    of_bed = {bed.uid: season.beliefs.of_bed[n] for n, bed in enumerate(season.beds)}
    of_planting = {one.uid: season.beliefs.of_planting[n] for n, one in enumerate(season.plantings)}
    if taught is not None:
        of_bed |= {uid: logs[:, :members] for uid, logs in taught.of_bed.items()}
        of_planting |= {uid: logs[:, :members] for uid, logs in taught.of_planting.items()}
    original = {_as(one.uid, n): (one.uid, n) for one in pages.beds for n in range(drawn + 1)}
    planted = {_as(one.uid, n): (one.uid, n) for one in pages.plantings for n in range(drawn + 1)}
    beliefs = season.beliefs._replace(
        of_bed=np.array([_shifted(of_bed, *original[bed.uid]) for bed in season.beds]),
        of_planting=np.array([_shifted(of_planting, *planted[p.uid]) for p in season.plantings]),
    )
    plot, fixed = laid_out(season.plain, beliefs, season.bed_index)
    season = season._replace(
        beliefs=beliefs,
        plot=plot,
        fixed=fixed,
        cuts={},
        errors=_errors_as_first(season, pages, original),
        touches={},
    )
    number_of = {uid: number for uid, (_, number) in original.items()}
    bed_uids = {
        bed.uid: tuple(_as(bed.uid, number) for number in range(drawn + 1)) for bed in pages.beds
    }
    return Gardens(season, number_of, bed_uids)


def _several(pages: Pages, drawn: int) -> Pages:
    """The pages with every bed, and all that is told of it, as often again as gardens are drawn."""
    numbers = range(drawn + 1)
    return pages._replace(
        beds=tuple(_bed_as(one, number) for number in numbers for one in pages.beds),
        plantings=tuple(_planting_as(one, number) for number in numbers for one in pages.plantings),
        entries=tuple(copy for entry in pages.entries for copy in _entries_as(entry, drawn)),
    )


def _as(uid: Uid, number: int) -> Uid:
    return f"{uid} as member {number} has it" if number else uid


def _known_as(uid: Uid | None, number: int) -> Uid | None:
    return None if uid is None else _as(uid, number)


def _bed_as(bed: Bed, number: int) -> Bed:
    return bed._replace(uid=_as(bed.uid, number), parted_from=_known_as(bed.parted_from, number))


def _planting_as(planting: Planting, number: int) -> Planting:
    return planting._replace(
        uid=_as(planting.uid, number),
        bed_uid=_as(planting.bed_uid, number),
        replaces=_known_as(planting.replaces, number),
        came_from=_known_as(planting.came_from, number),
    )


def _entries_as(entry: AnyEntry, drawn: int) -> Iterator[AnyEntry]:
    yield entry
    if isinstance(entry, BedEntry):
        for number in range(1, drawn + 1):
            named: dict[str, Any] = {"uid": _as(entry.uid, number)}
            named["bed_uid"] = _as(entry.bed_uid, number)
            named["planting_uid"] = _known_as(entry.planting_uid, number)
            yield replace(entry, **named)


def _shifted(logs: Mapping[Uid, Floats], uid: Uid, number: int) -> Floats:
    own = logs[uid]
    return own + (own[:, [number]] - own[:, [0]])


def _errors_as_first(
    season: Season, pages: Pages, original: Mapping[Uid, tuple[Uid, int]]
) -> DailyErrors:
    """The errors of the weather, those of every garden drawn as the first one's."""
    first_of = drawn_as(pages.beds)
    as_first = {uid: first_of.get(first, first) for uid, (first, _) in original.items()}
    begins: dict[Uid, date] = {}
    for row, start in enumerate(season.starts):
        uid = season.bed_of(row).uid
        begins[uid] = min(start, begins.get(uid, start))
    begins = {bed.uid: begins[bed.uid] for bed in season.beds}
    return daily_errors(begins, season.first, season.errors.days, season.members, as_first)
