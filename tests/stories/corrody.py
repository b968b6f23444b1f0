"""The specimen garden for stories: its book as it ships, and parts of it with other entries.

`mornings` walks its season with the entries that ship and keeps what each round called for.
"""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from functools import cache
from typing import NamedTuple

from soakbook.garden.entries import AnyEntry, MulchLaid, Rain
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting
from soakbook.reckoning.advice.calling import BedCall, bed_calls
from soakbook.reckoning.advice.judging import judge
from soakbook.reckoning.advice.visits import hours_on
from soakbook.reckoning.advice.walk import fitted
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import felt, next_dawn, run
from soakbook.reckoning.simulation.season import season_at, season_of
from tests.properties.followed import specimen

FIRST, LAST = date(2031, 2, 13), date(2031, 11, 1)
DAYS_LOOKED_AHEAD = 3
MEMBERS = 40


class Morning(NamedTuple):
    """One morning's calls, fitted to the hours there are."""

    day: date
    calls: tuple[BedCall, ...]

    def call(self, key: str) -> BedCall | None:
        """A bed's call, where it has living plants."""
        return next((one for one in self.calls if one.bed.key == key), None)


@cache
def mornings() -> tuple[Morning, ...]:
    """Every morning of the season, as the book that ships knew it."""
    return tuple(_walked(specimen()))


def _walked(book: Pages) -> Iterator[Morning]:
    whole = season_of(known_on(book, LAST), LAST, MEMBERS)
    assert whole is not None
    known = known_on(book, FIRST)
    season = season_at(whole, known, FIRST)
    dawn = run(season)[-1]
    while dawn.day < LAST:
        calls = bed_calls(judge(dawn, DAYS_LOOKED_AHEAD))
        yield Morning(dawn.day, fitted(calls, hours_on(known, dawn.day)))
        following = dawn.day + timedelta(days=1)
        known = known_on(book, following)
        dawn = dawn._replace(season=season_at(dawn.season, known, following))
        dawn = felt(next_dawn(dawn))


def soaked(key: str) -> list[Morning]:
    """Mornings on which a bed was to be watered."""
    return [one for one in mornings() if (call := one.call(key)) and call.going]


def only(
    *keys: str, plantings: Sequence[Planting] | None = None, entries: Sequence[AnyEntry] = ()
) -> Pages:
    """Some beds of the garden with its rain and dressings and no other entries but these; somebody every day."""
    book = specimen()
    beds = tuple(one for one in book.beds if one.key in keys)
    kept = [one for one in book.entries if isinstance(one, Rain | MulchLaid)]
    uids = {one.uid for one in beds}
    chosen = book.plantings if plantings is None else plantings
    return book._replace(
        beds=beds,
        plantings=tuple(one for one in chosen if one.bed_uid in uids),
        entries=tuple(sorted([*kept, *entries], key=_when)),
        people=(),
        restrictions=(),
    )


def uid_of(key: str) -> str:
    """The uid of a bed."""
    return next(one.uid for one in specimen().beds if one.key == key)


def planting(name: str) -> Planting:
    """A planting by its name."""
    return next(one for one in specimen().plantings if one.name == name)


def _when(entry: AnyEntry) -> str:
    return entry.happened_at.isoformat()
