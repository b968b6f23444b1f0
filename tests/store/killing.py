"""Programs killed while they write in the book: at named points, at random, and while a book is brought up to date.

A point is a statement and whether it was carried out: the child process takes a connection that kills it there.
Imports have a file of their own, `killing_imports`.
"""

import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager
from functools import partial
from pathlib import Path
from typing import Any, Literal, NamedTuple, NoReturn
from unittest.mock import patch

from soakbook.errors import BookError
from soakbook.store import placing
from soakbook.store.book import open_book
from soakbook.store.earlier import earlier_copies
from soakbook.store.migrations import NEWEST, version
from tests.store.fault_book import Tally, amounts, compared, enter, fresh, heard, started
from tests.store.old_books import OLD, old_book

LONGEST_LIFE_S = 0.12
NAMING = placing._put_in_place
A_BATCH = 50
"""So many kills one book outlives before a new one is begun."""


class Point(NamedTuple):
    """A statement inside a transaction that writes, and where at it the program is killed."""

    begins: str  # with what the statement begins; empty: any
    side: Literal["before", "amid", "after"]  # amid: where it writes many rows, after half of them


POINTS = {
    "before the entry is written": Point('INSERT INTO "entry"', "before"),
    "after the entry, before commit": Point("COMMIT", "before"),
    "after commit": Point("COMMIT", "after"),
}


class Killing(sqlite3.Connection):
    """A connection that kills its program when a point has been passed so many times."""

    point = Point("", "before")
    left = 1
    inside = False

    def execute(self, sql: str, *more: Any) -> sqlite3.Cursor:
        """As a connection does, but for the last time."""
        kind = type(self)
        if sql == "BEGIN IMMEDIATE":
            kind.inside = True
            super().execute("PRAGMA cache_size = 5")  # the log on disk soon has some of it
        last = self._is_last(sql)
        if last and kind.point.side != "after":
            die()
        done = super().execute(sql, *more)
        if last:
            die()
        kind.inside = kind.inside and sql not in ("COMMIT", "ROLLBACK")
        return done

    def executemany(self, sql: str, rows: Iterable[Any], /) -> sqlite3.Cursor:
        """The same of many rows at once."""
        if not self._is_last(sql):
            return super().executemany(sql, rows)
        listed = list(rows)
        done = {"before": 0, "amid": len(listed) // 2, "after": len(listed)}
        super().executemany(sql, listed[: done[type(self).point.side]])
        return die()

    def _is_last(self, sql: str) -> bool:
        kind = type(self)
        hit = kind.inside and sql.startswith(kind.point.begins)
        kind.left -= hit
        return hit and not kind.left


def killed_at_points(made: Path, folder: Path, times: int, dice: random.Random) -> Iterator[Tally]:
    """Kill who enters soaks, at each point so many times, in the first, second or third soak."""
    for name, point in POINTS.items():
        total, typed = Tally(f"kill -9 {name}"), amounts()
        path = fresh(made, folder / f"point {point.side} {len(name)}.book")
        confirmed: list[str] = []
        for _ in range(times):
            work = partial(die_at, point, dice.randint(1, 3), partial(_enter_on, path, typed))
            told = heard(started(work), killed=True)
            typed = _past(typed, len(told) + 1)
            confirmed += told
            total = total.plus(compared(total.fault, path, told))
        total = total.plus(compared(total.fault, path, confirmed)._replace(tries=0, confirmed=0))
        yield total


def killed_at_random(made: Path, folder: Path, times: int, dice: random.Random) -> Tally:
    """Kill who enters soaks one after another, at any moment."""
    total = Tally("kill -9 at random, entering soaks")
    typed, confirmed, path = amounts(), list[str](), folder / "random.book"
    for number in range(times):
        if number % A_BATCH == 0:
            path = fresh(made, folder / f"random {number}.book")
            confirmed = []
        child = started(partial(_enter_on, path, typed))
        time.sleep(dice.uniform(0, LONGEST_LIFE_S))
        os.kill(child.pid, signal.SIGKILL)
        told = heard(child, killed=True)
        typed = _past(typed, len(told) + 1)
        confirmed += told
        here = compared(total.fault, path, confirmed)
        total = total.plus(here._replace(confirmed=len(told)))
    return total


def killed_in_migration(folder: Path, times: int, dice: random.Random) -> Iterator[Tally]:
    """Kill who brings an old book up to date: in the middle, before and after the end, and while the copy is made."""
    points: dict[str, tuple[Point, Callable[..., None]]] = {
        "in the middle of a migration": (Point("", "before"), NAMING),
        "before a migration's commit": (Point("COMMIT", "before"), NAMING),
        "after a migration's commit": (Point("COMMIT", "after"), NAMING),
        "before the copy has its name": (Point("none is passed", "before"), die),
    }
    most = {
        old: statements(partial(open_book, old_book(folder / f"all steps {old}.book", old)))
        for old in OLD
    }
    for place, (name, (point, naming)) in enumerate(points.items()):
        total = Tally(f"kill -9 {name}")
        for number in range(times):
            path = folder / f"old {place} {number}.book"
            old = dice.choice(OLD)
            before = old_entries(old_book(path, old))
            passed = 1 if point.begins else dice.randint(1, most[old])
            opening = partial(_open_while_naming, path, naming)
            heard(started(partial(die_at, point, passed, opening)), killed=True)
            total = total.plus(brought_up(total.fault, path, before, old))
        yield total


def _open_while_naming(path: Path, naming: Callable[..., None], _: int) -> None:
    with patch.object(placing, "_put_in_place", naming):
        open_book(path)


def brought_up(fault: str, path: Path, before: list[str], old: int) -> Tally:
    """What is found when the book is opened again: every entry, in the newest version, and whole copies of the old."""
    broken, said = 0, ""
    try:
        with open_book(path) as book:
            broken = int(version(book.connection) != NEWEST)
        after, copies = old_entries(path), earlier_copies(path)
        broken += any(old_entries(copy) != before for copy in copies) or not copies
        broken += any(_version_of(copy) != old for copy in copies)
    except (BookError, sqlite3.Error) as error:
        return Tally(fault, 1, len(before), len(before), 0, 1, str(error))
    lost, doubled = len(set(before) - set(after)), len(after) - len(set(after))
    return Tally(
        fault, 1, len(before), lost, doubled, int(bool(broken)), said or f"from version {old}"
    )


def old_entries(path: Path) -> list[str]:
    """The uids of all entries in a book of any version."""
    connection = sqlite3.connect(path)
    found = [uid for (uid,) in connection.execute("SELECT uid FROM entry ORDER BY id")]
    connection.close()
    return found


def _version_of(path: Path) -> int:
    connection = sqlite3.connect(path)
    found = version(connection)
    connection.close()
    return found


def _enter_on(path: Path, typed: Iterator[str], pipe: int) -> None:
    """Enter soak after soak, saying each when the book has it."""
    for amount in typed:
        enter(path, amount)
        os.write(pipe, f"{amount}\n".encode())


def die_at(point: Point, times: int, work: Callable[[int], None], pipe: int) -> None:
    """Do a piece of work, killed when a point has been passed so many times."""
    Killing.point, Killing.left, Killing.inside = point, times, False
    with killing():
        work(pipe)


def statements(work: Callable[[], object]) -> int:
    """How many statements of a piece of work are inside its transactions."""
    never = 10**9
    Killing.point, Killing.left, Killing.inside = Point("", "before"), never, False
    with killing():
        work()
    return never - Killing.left


def killing() -> AbstractContextManager[object]:
    """All connections made meanwhile are such as kill."""
    return patch.object(sqlite3, "connect", partial(sqlite3.connect, factory=Killing))


def die(*_: object) -> NoReturn:
    """Kill this program, as nothing can keep it from."""
    os.kill(os.getpid(), signal.SIGKILL)
    raise RuntimeError("a killed program goes on")


def _past(typed: Iterator[str], number: int) -> Iterator[str]:
    """The amounts that the child process has not taken."""
    for _ in range(number):
        next(typed)
    return typed
