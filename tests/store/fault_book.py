"""The book that faults are tried on, entering soaks in it, and looking whether any is lost or there twice."""

import os
import shutil
import sqlite3
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import NamedTuple

from soakbook.errors import BookError
from soakbook.services import books, setup
from soakbook.services.soaking import soak
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages

NOW = datetime(2031, 5, 15, 5, 30, tzinfo=UTC)
BED = "chapel"


class Tally(NamedTuple):
    """What came of a fault, tried so many times."""

    fault: str
    tries: int = 0
    confirmed: int = 0
    lost: int = 0
    doubled: int = 0
    broken: int = 0
    said: str = ""
    refused: int = 0
    """Not saved, and said so in words before the program ended."""
    unsaid: int = 0
    """Not saved, and not said, or said of what is in the book all the same."""

    def plus(self, other: "Tally") -> "Tally":
        """Both together; what was said last stands."""
        return Tally(
            self.fault,
            self.tries + other.tries,
            self.confirmed + other.confirmed,
            self.lost + other.lost,
            self.doubled + other.doubled,
            self.broken + other.broken,
            other.said or self.said,
            self.refused + other.refused,
            self.unsaid + other.unsaid,
        )


def begun(path: Path) -> Path:
    """The book of a garden with one bed of perennials."""
    now = NOW - timedelta(days=60)
    books.new(
        path, now=now, name="The Abbey", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone="Europe/London",
    )  # fmt: skip
    setup.bed(path, BED, now=now, name="Chapel Wall", area="18m2", soil="loam")
    setup.plant(path, BED, "perennial", "30", now=now, pot="2l", on="20mar2030")
    return path


def amounts() -> Iterator[str]:
    """Litres as typed, each another: by these a soak is known again."""
    return (f"{5 + number / 10_000:.4f}l" for number in count())


def enter(path: Path, typed: str, now: datetime = NOW) -> None:
    """Enter a soak as the command does; it returns when the book has it."""
    soak(path, [BED], typed, now=now, by="Ann")


def entered(path: Path) -> Counter[str]:
    """The soaks in a book by their amounts as typed, how often each; BookError when it is not sound."""
    with open_book(path) as book:
        found = book.connection.execute("PRAGMA integrity_check").fetchall()
        found += book.connection.execute("PRAGMA foreign_key_check").fetchall()
        if found != [("ok",)]:
            raise BookError(f"{path}: {found}")
        return Counter(getattr(entry, "typed", "") for entry in read_pages(book).entries)


def compared(fault: str, path: Path, confirmed: Iterable[str], said: str = "") -> Tally:
    """What a book holds beside what was confirmed: every one once; what was not confirmed may be there once."""
    told = list(confirmed)
    try:
        there = entered(path)
    except (BookError, sqlite3.Error, ValueError) as error:
        return Tally(fault, 1, len(told), len(told), 0, 1, str(error))
    lost = sum(1 for typed in told if not there[typed])
    doubled = sum(1 for times in there.values() if times > 1)
    return Tally(fault, 1, len(told), lost, doubled, 0, said)


def fresh(made: Path, path: Path) -> Path:
    """A copy of the book that was begun, its owner's."""
    shutil.copyfile(made, path)
    path.chmod(0o600)
    return path


class Child(NamedTuple):
    """A second process, and where it is heard."""

    pid: int
    pipe: int


def started(work: Callable[[int], None]) -> Child:
    """Begin a piece of work in a second process, which ends with it; the work is given where it writes."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid:
        os.close(writing)
        return Child(pid, reading)
    try:
        os.close(reading)
        work(writing)
    except BaseException:
        traceback.print_exc()
        os._exit(1)
    os._exit(0)


def heard(child: Child, *, killed: bool = False) -> list[str]:
    """All lines of a child process, which is to come to a good end or to be killed; a line broken off was not said."""
    said = b""
    while part := os.read(child.pipe, 65_536):
        said += part
    os.close(child.pipe)
    _, status = os.waitpid(child.pid, 0)
    if os.WIFSIGNALED(status) != killed or (not killed and status):
        raise RuntimeError(f"the child process ended otherwise than it should: {status}")
    return said.decode().split("\n")[:-1]
