"""Programs killed while they take in a folder: into a book that is there, and into a new one.

An import is one transaction: the book is as it was before or as it is after one that nobody killed, row by row, and
once more it is whole. A new book is not there or whole; what lies hidden beside its place is taken for no book.
"""

import random
import sqlite3
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from functools import partial
from itertools import islice
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch

from soakbook.errors import BookError
from soakbook.garden.weather import WeatherValue
from soakbook.services import setup
from soakbook.services.checking import check_report
from soakbook.services.exporting import export
from soakbook.services.importing import bring_back
from soakbook.store import placing
from soakbook.store.book import open_book
from soakbook.store.earlier import earlier_copies
from soakbook.store.weather_rows import add_weather
from tests.properties.test_in_and_out import content
from tests.store.fault_book import (
    NOW,
    Tally,
    amounts,
    compared,
    enter,
    entered,
    fresh,
    heard,
    started,
)
from tests.store.killing import NAMING, Point, die, die_at, statements

SOAKS = 30
DAYS = 60
OWN = ("61.1l", "61.2l", "61.3l")
"""Soaks of the book that is there, which the folder does not know."""

Content = dict[str, Counter[tuple[object, ...]]]

BETWEEN = Point("", "before")
ENTRIES = Point("INSERT INTO entry", "amid")
BEFORE = Point("COMMIT", "before")
AFTER = Point("COMMIT", "after")
NOWHERE = Point("none is passed", "before")


class Place(NamedTuple):
    """Where an import is killed: at a point, passed so many times; or as the new book gets its name."""

    point: Point
    most: int = 1
    naming: Callable[[Path, Path], None] = NAMING


class Folder(NamedTuple):
    """What is brought in, and what a book holds before and after; of a new one there is no before."""

    path: Path
    there: Path | None
    before: Content | None
    whole: Content
    typed: tuple[str, ...]
    """All soaks that are in a whole one."""


def killed_in_import(made: Path, folder: Path, times: int, dice: random.Random) -> Iterator[Tally]:
    """Kill who brings a folder into a book, at each place so many times; then who begins a book of it."""
    exported = _exported(made, folder)
    into, anew = _into(made, exported, folder), _anew(exported, folder)
    most, most_anew = (
        _statements(one, folder / f"counted {place}.book") for place, one in enumerate((into, anew))
    )
    places = (
        ("in the middle of an import", into, Place(BETWEEN, most)),
        ("amid the entries of an import", into, Place(ENTRIES)),
        ("before an import's commit", into, Place(BEFORE)),
        ("after an import's commit", into, Place(AFTER)),
        ("in the middle of an import --new", anew, Place(BETWEEN, most_anew)),
        ("before the new book has its name", anew, Place(NOWHERE, naming=die)),
        ("as the new book has its name", anew, Place(NOWHERE, naming=_name_and_die)),
    )  # fmt: skip
    for number, (name, what, place) in enumerate(places):
        total, left = Tally(f"kill -9 {name}"), Counter[str]()
        for again in range(times):
            there = folder / f"import {number} {again}"
            there.mkdir()
            one = _killed(total.fault, what, place, there, dice)
            total, left = total.plus(one), left + Counter([one.said])
        yield total._replace(said=", ".join(f"{many} {said}" for said, many in left.items()))


def _killed(fault: str, what: Folder, place: Place, folder: Path, dice: random.Random) -> Tally:
    """One import killed, what it left, and the same once more."""
    path = folder / "garden.book"
    if what.there is not None:
        fresh(what.there, path)
    passed = dice.randint(1, place.most)
    work = partial(die_at, place.point, passed, partial(_bring, what, path, place.naming))
    heard(started(work), killed=True)
    own = OWN if what.there is not None else ()
    try:
        left, broken = _left(what, path)
        killed = compared(fault, path, own) if path.exists() else Tally(fault)
        bring_back(path, what.path, new=not path.exists())
        broken += content(path) != what.whole
        broken += not check_report(path, now=NOW)["sound"]
        added = bring_back(path, what.path)["changed"]["added"]
        broken += any(added.values()) or content(path) != what.whole
    except (BookError, sqlite3.Error) as error:
        return Tally(fault, 1, len(own), 0, 0, 1, str(error))
    whole = compared(fault, path, what.typed)
    return Tally(
        fault,
        1,
        len(own) + len(what.typed),
        killed.lost + whole.lost,
        killed.doubled + whole.doubled,
        int(bool(broken or killed.broken or whole.broken)),
        left,
    )


def _left(what: Folder, path: Path) -> tuple[str, int]:
    """What lies there after the kill, in words, and whether it is neither nothing nor the whole import."""
    beside = {one.name for one in path.parent.iterdir()} - {path.name, *_logs(path.name)}
    broken = sum(placing._LEFT.fullmatch(name) is None for name in beside)
    broken += len(earlier_copies(path))
    if path.exists():
        found = content(path)
        return (
            ("all in", broken)
            if found == what.whole
            else ("nothing in", broken + (found != what.before))
        )
    try:
        open_book(path)
    except BookError as error:
        broken += "there is no book" not in str(error)
    return "no book", broken + (what.there is not None)


def _logs(name: str) -> Iterator[str]:
    return (name + suffix for suffix in placing.BESIDE)


def _bring(what: Folder, path: Path, naming: Callable[[Path, Path], None], pipe: int) -> None:
    with patch.object(placing, "_put_in_place", naming):
        bring_back(path, what.path, new=what.there is None)


def _name_and_die(part: Path, path: Path) -> None:
    NAMING(part, path)
    die()


def _exported(made: Path, folder: Path) -> Path:
    """A folder of the garden's own, of a book that has soaks, a bed and weather which `made` has not."""
    path = fresh(made, folder / "elsewhere.book")
    for typed in _typed():
        enter(path, typed)
    setup.bed(path, "dole", now=NOW, name="Dole Bed", area="22m2", soil="clay")
    with open_book(path) as book:
        add_weather(book, _weather())
    export(path, folder / "exported")
    return folder / "exported"


def _typed() -> tuple[str, ...]:
    return tuple(islice(amounts(), SOAKS))


def _weather() -> Iterator[WeatherValue]:
    for number in range(DAYS):
        day = date(2031, 5, 14) - timedelta(days=number)
        for variable, value in (("rain_mm", 0.0), ("et0_mm", 3.0), ("tmax_c", 19.0 + number / 10)):
            yield WeatherValue(day, variable, value, "the shed", "measured", NOW)


def _into(made: Path, exported: Path, folder: Path) -> Folder:
    there = fresh(made, folder / "there.book")
    for typed in OWN:
        enter(there, typed)
    entered(there)  # all of it in the file, none in the log
    whole = fresh(there, folder / "whole.book")
    bring_back(whole, exported)
    return Folder(exported, there, content(there), content(whole), (*OWN, *_typed()))


def _anew(exported: Path, folder: Path) -> Folder:
    whole = folder / "whole anew.book"
    bring_back(whole, exported, new=True)
    return Folder(exported, None, None, content(whole), _typed())


def _statements(what: Folder, path: Path) -> int:
    if what.there is not None:
        fresh(what.there, path)
    return statements(partial(bring_back, path, what.path, new=what.there is None))
