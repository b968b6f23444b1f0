"""The season run day by day: every lane one planting in one member, plantings in whole blocks."""

from collections import deque
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from typing import Any, NamedTuple, TypeVar

import numpy as np

from soakbook.errors import LedgerError
from soakbook.garden.records import Uid
from soakbook.reckoning.physics.ledger import held_l, imbalance_mm
from soakbook.reckoning.physics.records import Flows, Stores
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.physics.step import next_day
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.fingers import felt_at
from soakbook.reckoning.simulation.gone import leaving, without
from soakbook.reckoning.simulation.lanes import full, grid, rows_of, taken
from soakbook.reckoning.simulation.parting import come_from, taken_over
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.start import replacing_stores, starting_stores
from soakbook.reckoning.simulation.touches import Squared

BLOCK_LANES = 6000
LEDGER_TOLERANCE_MM = 1e-9

Joined = TypeVar("Joined", Stores, Flows)


class Dawn(NamedTuple):
    """The garden before the step of `day`: what is believed, the stores overnight, what moved in the step before.

    `stores` has shape (planting, member) over the plantings that take part in the step of `day`, the first rows
    of the season; `flows` over those of the day before, None before the first step. Where somebody felt the soil,
    `season` and `stores` are squared up already.
    """

    day: date
    season: Season
    stores: Stores
    flows: Flows | None
    unfelt: "Dawn | None" = None
    """This dawn before its feels; None when there were none."""
    squared: tuple[Squared, ...] = ()
    """What every feel so far has changed, oldest first."""

    @property
    def size(self) -> int:
        """How many plantings take part."""
        return int(np.shape(self.stores.ball_store_l)[0])

    def row_before(self, row: int) -> int | None:
        """Where the plants of a row stood on the dawn before: a parted bed's in another row; None: not there yet."""
        there = 0 if self.flows is None else int(np.shape(self.flows.asked_l)[0])
        return row if row < there else come_from(self.season.plantings, row, there)

    @property
    def corrected_l(self) -> Floats:
        """Litres a plant that this dawn's feels moved into (above 0) or out of its stores, (planting, member)."""
        if self.unfelt is None:
            return np.zeros_like(self.stores.ball_store_l)
        plot, _ = self.season.parameters(slice(0, self.size))
        before, after = (held_l(plot.cell_m2, one) for one in (self.unfelt.stores, self.stores))
        return np.asarray(after - before)


Watcher = Callable[[Dawn], None]


def run(
    season: Season,
    last: int = 1,
    watch: Watcher | None = None,
    begun: Dawn | None = None,
    pass_by: Callable[[Dawn], Dawn] = lambda dawn: dawn,
) -> tuple[Dawn, ...]:
    """The last dawns up to the season's morning, oldest first.

    Parameters
    ----------
    season : Season
    last : int
        How many dawns are returned [>= 1]; fewer when the season is younger.
    watch : callable, optional
        Told every dawn, for those who keep a season's course; then the dead stay in it, else they are
        left out once nothing asks after them.
    begun : Dawn, optional
        Where to go on from, nobody having felt anything yet: one of the same season that was kept; else its first.
    pass_by : callable, optional
        Given every dawn before anybody has felt anything, and gives it back.

    Raises
    ------
    LedgerError
        When a day's water does not add up to 1e-9 mm.
    """
    kept: deque[Dawn] = deque(maxlen=last)
    gone = {} if watch else leaving(season, last)
    dawn = begun or Dawn(season.first, *_joined(season, None, season.first), None)
    while True:
        dawn = felt(pass_by(dawn))
        if dawn.day in gone:
            dawn = _left_by(dawn, gone[dawn.day])
        kept.append(dawn)
        if watch:
            watch(dawn)
        if dawn.day >= season.morning:
            return tuple(kept)
        dawn = next_dawn(dawn)


def felt(dawn: Dawn) -> Dawn:
    """The dawn squared up by the feels that speak of it; the same one when there are none."""
    season, stores, squared = felt_at(dawn.season, dawn.stores, dawn.day)
    if not squared:
        return dawn
    return dawn._replace(
        season=season, stores=stores, unfelt=dawn, squared=(*dawn.squared, *squared)
    )


def next_dawn(dawn: Dawn) -> Dawn:
    """The dawn after this one, before anybody has felt anything."""
    season = dawn.season
    parts = [_step(season, dawn, rows) for rows in blocks_of(dawn.size, season.members)]
    stores = _stack([after for after, _ in parts])
    flows = _stack([moved for _, moved in parts])
    tomorrow = dawn.day + timedelta(days=1)
    season, stores = _joined(season, stores, tomorrow)
    return Dawn(tomorrow, season, stores, flows, squared=dawn.squared)


def blocks_of(count: int, members: int) -> Iterator[slice]:
    """Rows of whole plantings, as many as the processor's cache takes at once."""
    size = max(1, BLOCK_LANES // members)
    for first in range(0, count, size):
        yield slice(first, min(first + size, count))


def _left_by(dawn: Dawn, gone: frozenset[Uid]) -> Dawn:
    """The dawn without some plantings that are over; how it came about is not kept."""
    season, rows = without(dawn.season, gone)
    standing = np.array([row for row in rows if row < dawn.size], np.intp)
    if not standing.size:
        return dawn  # a garden of the dead alone: without rows there is no step
    stores = taken(dawn.stores, standing)
    return Dawn(dawn.day, season, stores, None, squared=dawn.squared)


def _step(season: Season, dawn: Dawn, rows: slice) -> tuple[Stores, Flows]:
    """One step over some rows, its ledger closed."""
    plot, fixed = season.parameters(rows)
    before = rows_of(dawn.stores, rows)
    sky, hand = season.sky(dawn.day, rows), season.hand(dawn.day, rows)
    after, flows = next_day(sky, hand, season.ground(dawn.day, rows), plot, fixed, before)
    shape = (rows.stop - rows.start, season.members)
    gap = grid(imbalance_mm(plot.cell_m2, before, after, flows), shape)
    if not max(gap.max(), -gap.min()) <= LEDGER_TOLERANCE_MM:
        raise _ledger_error(season, dawn, rows, gap, flows)
    return full(after, shape), full(flows, shape)


def _ledger_error(
    season: Season, dawn: Dawn, rows: slice, gap: Floats, flows: Flows
) -> LedgerError:
    off = np.where(np.isnan(gap), np.inf, np.abs(gap))
    row, member = np.unravel_index(int(off.argmax()), gap.shape)
    terms = {"imbalance_mm": float(gap[row, member])}
    for name, value in flows._asdict().items():
        terms[name] = float(grid(value, (len(gap), gap.shape[1]))[row, member])
    planting = season.plantings[rows.start + int(row)]
    return LedgerError(planting.name, int(member), dawn.day.isoformat(), terms)


def _joined(season: Season, stores: Stores | None, day: date) -> tuple[Season, Stores]:
    """Stores with those of the plantings that start on `day` beneath, and what is believed of those."""
    running = [] if stores is None else [stores]
    had = 0 if stores is None else np.shape(stores.ball_store_l)[0]
    new = range(had, season.active(day))
    from_row = {row: come_from(season.plantings, row, had) for row in new}
    taken = {row: old for row, old in from_row.items() if old is not None}
    if taken:
        season = season.parted(taken)
    first = [_first_stores(season, row, stores, taken.get(row)) for row in new]
    return season, _stack([*running, *first])


def _first_stores(
    season: Season, row: int, running: Stores | None, came_from: int | None
) -> Stores:
    one = slice(row, row + 1)
    planting = season.plantings[row]
    plot, fixed = season.parameters(one)
    if came_from is not None and running is not None:
        old = slice(came_from, came_from + 1)
        held = rows_of(running, old)
        there = geometry(*season.parameters(old), held.warm_days)
        return full(
            taken_over(held, there, geometry(plot, fixed, held.warm_days)), (1, season.members)
        )
    roots = geometry(plot, fixed, 0.0)
    own = starting_stores(planting, roots)
    dead = next(
        (n for n, other in enumerate(season.plantings) if other.uid == planting.replaces), None
    )
    if dead is not None and running is not None and dead < np.shape(running.ball_store_l)[0]:
        old = slice(dead, dead + 1)
        left = rows_of(running, old)
        grown = geometry(*season.parameters(old), left.warm_days)
        own = replacing_stores(planting, own, left, grown, roots)
    return full(own, (1, season.members))


def _stack(parts: list[Joined]) -> Joined:
    """Records one beneath the other."""
    if len(parts) == 1:
        return parts[0]
    fields: Any = (np.concatenate(field) for field in zip(*parts, strict=True))
    return type(parts[0])(*fields)
