"""Plantings of a long season that are over: the dead, once nothing that is still to come asks after them.

A bed keeps what their feels have taught of its soil, and their successors the water of their cells: both are theirs
by then. Stepping on with them would cost as much as with the living, and change nothing.
"""

from collections.abc import Mapping
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.garden.entries import Loss
from soakbook.garden.records import Planting, Uid
from soakbook.reckoning.simulation.beliefs import plain_rows
from soakbook.reckoning.simulation.lanes import taken
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.watering import local_day

A_DAY = timedelta(days=1)

REMEMBERED_DAYS = 30
"""So long before the morning nobody is left out: its round may speak of who died lately."""


def leaving(season: Season, last: int) -> Mapping[date, frozenset[Uid]]:
    """Who need not be stepped on with, by the dawn from which on.

    Parameters
    ----------
    season : Season
    last : int
        How many dawns up to the morning are asked for: in them, and in the month before it, nobody leaves.
    """
    zone = ZoneInfo(season.pages.garden.timezone)
    lost: dict[Uid, list[tuple[date, int]]] = {}
    for one in season.pages.entries:
        if isinstance(one, Loss):
            day = local_day(one.happened_at, zone)
            lost.setdefault(one.planting_uid, []).append((day, one.count))
    if not lost:
        return {}
    asked_until = _last_asked(season)
    ends = season.morning - max(last, REMEMBERED_DAYS) * A_DAY
    found: dict[date, set[Uid]] = {}
    for planting in season.plantings:
        dead_on = _dead_on(planting, lost.get(planting.uid, []))
        if dead_on is not None:
            dawn = max(dead_on, asked_until[planting.uid]) + A_DAY
            if dawn <= ends:
                found.setdefault(dawn, set()).add(planting.uid)
    return {dawn: frozenset(uids) for dawn, uids in found.items()}


def gone_before(
    season: Season, leaving_on: Mapping[date, frozenset[Uid]], day: date
) -> frozenset[Uid]:
    """Who has left by the dawns before a day; nobody does while none would be standing."""
    gone: frozenset[Uid] = frozenset()
    for dawn in sorted(one for one in leaving_on if one < day):
        with_these = gone | leaving_on[dawn]
        there = season.plantings[: season.active(dawn)]
        if any(one.uid not in with_these for one in there):
            gone = with_these
    return gone


def without(season: Season, gone: frozenset[Uid]) -> tuple[Season, list[int]]:
    """The season from a dawn on without some plantings, and the rows that were kept."""
    kept = [row for row, one in enumerate(season.plantings) if one.uid not in gone]
    rows = np.array(kept, np.intp)
    number_of = {row: number for number, row in enumerate(kept)}
    touches = {
        dawn: tuple(one._replace(row=number_of[one.row]) for one in felt if one.row in number_of)
        for dawn, felt in season.touches.items()
    }
    return (
        season._replace(
            plantings=tuple(season.plantings[row] for row in kept),
            starts=tuple(season.starts[row] for row in kept),
            bed_index=season.bed_index[rows],
            plain=plain_rows(season.plain, rows),
            beliefs=season.beliefs._replace(of_planting=season.beliefs.of_planting[rows]),
            plot=taken(season.plot, rows),
            fixed=taken(season.fixed, rows),
            cuts={},
            bed_cuts={},
            grounds={},
            touches=touches,
        ),
        kept,
    )


def _dead_on(planting: Planting, lost: list[tuple[date, int]]) -> date | None:
    """The day on which the last plant of a planting was lost."""
    left = planting.count
    for day, count in sorted(lost):
        left -= count
        if left <= 0:
            return day
    return None


def _last_asked(season: Season) -> dict[Uid, date]:
    """Until which dawn somebody asks after each planting: a feel of it, or who takes over its cell or its plants."""
    started = list(zip(season.plantings, season.starts, strict=True))
    until = {planting.uid: start for planting, start in started}
    for dawn, felt in season.touches.items():
        for one in felt:
            uid = season.plantings[one.row].uid
            until[uid] = max(until[uid], dawn)
    for planting, start in started:
        for before in (planting.replaces, planting.came_from):
            if before in until:
                until[before] = max(until[before], start)
    return until
