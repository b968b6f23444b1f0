"""A season of years run on from the newest kept dawn that still holds, and which dawns of it are kept.

Where none holds it is run from its beginning. Both give the same dawns, to the last bit. Where what is kept lies is
the business of a `Shelf`, which somebody else has.
"""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Protocol

from soakbook.garden.records import Uid
from soakbook.reckoning.simulation.gone import REMEMBERED_DAYS, gone_before, leaving
from soakbook.reckoning.simulation.kept import dawn_of, kept_of, with_changes
from soakbook.reckoning.simulation.kept_bytes import as_bytes, from_bytes
from soakbook.reckoning.simulation.marks import mark_of
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season

HALF_YEARS = 2


class Shelf(Protocol):
    """Where kept dawns lie, one for a day."""

    @property
    def code(self) -> str:
        """What tells the program's own code from another."""

    def days(self) -> tuple[date, ...]:
        """Of which days there are any, the newest first."""

    def load(self, day: date) -> bytes | None:
        """What was kept of a day."""

    def keep(self, found: Mapping[date, bytes], wanted: frozenset[date]) -> None:
        """Put these in; days that are not wanted may go."""


def run_on(season: Season, last: int, shelf: Shelf) -> tuple[Dawn, ...]:
    """The last dawns up to the season's morning, oldest first, as `run` gives them.

    Parameters
    ----------
    season : Season
        Laid out and not yet run.
    last : int
        How many dawns are returned [>= 1].
    shelf : Shelf
        Where kept dawns are looked for, and put.

    Raises
    ------
    LedgerError
        When a day's water does not add up to 1e-9 mm.
    """
    ends = season.morning - timedelta(days=max(last, REMEMBERED_DAYS))
    wanted = frozenset(days_to_keep(season.first, ends))
    if not wanted:
        return run(season, last)
    leaving_on = leaving(season, last)
    begun = next(_holding(season, leaving_on, shelf, ends), None)
    found: dict[date, bytes] = {}

    def pass_by(dawn: Dawn) -> Dawn:
        if dawn.day not in wanted or (begun is not None and dawn.day == begun.day):
            return dawn
        dawn = with_changes(dawn)
        mark = mark_of(season, dawn.day, leaving_on, shelf.code)
        found[dawn.day] = as_bytes(kept_of(dawn, mark))
        return dawn

    dawns = run(season, last, begun=begun, pass_by=pass_by)
    if found:
        shelf.keep(found, wanted)
    return dawns


def days_to_keep(first: date, ends: date) -> Iterator[date]:
    """The days that are kept of a season that began on `first`, nothing later than `ends`; the newest first.

    Notes
    -----
    The first of the last month, from which a morning has 31 to 61 days to run; and for an entry that comes late, or a
    successor of who died long ago, the two half-years' beginnings before it.
    """
    newest = ends.replace(day=1)
    halves = [date(newest.year - back, month, 1) for back in range(3) for month in (7, 1)]
    earlier = [one for one in halves if one < newest][:HALF_YEARS]
    yield from (one for one in (newest, *earlier) if one > first)


def _holding(
    season: Season, leaving_on: Mapping[date, frozenset[Uid]], shelf: Shelf, ends: date
) -> Iterator[Dawn]:
    """The kept dawns that hold, the newest first."""
    for day in shelf.days():
        content = shelf.load(day) if season.first < day <= ends else None
        kept = None if content is None else from_bytes(content)
        if kept is None or kept.day != day:
            continue
        if kept.mark == mark_of(season, day, leaving_on, shelf.code):
            dawn = dawn_of(kept, season, gone_before(season, leaving_on, day))
            if dawn is not None:
                yield dawn
