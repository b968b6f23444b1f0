"""Files that were cut short, had bytes flipped, or lie beside the log of another moment.

SQLite keeps no sums over its pages: a letter changed inside a text is a text still. Counted is how often damage is
said, how often the book reads as it was, how often it reads otherwise without a word, and how often a
program would have broken off.
"""

import os
import random
import shutil
import signal
from collections.abc import Callable
from functools import partial
from itertools import islice
from pathlib import Path
from typing import NamedTuple

from soakbook.errors import BookError
from soakbook.garden.pages import Pages
from soakbook.store.book import open_book
from soakbook.store.met import meet
from soakbook.store.pages import read_pages
from tests.store.fault_book import Tally, amounts, compared, enter, fresh, heard, started


class Spoilt(NamedTuple):
    """What came of reading a file that was spoilt so many times."""

    fault: str
    tries: int
    said: int
    as_it_was: int
    otherwise: int
    broken_off: int
    last_said: str = ""


def spoilt_files(made: Path, folder: Path, times: int, dice: random.Random) -> list[Spoilt]:
    """Cut a book short and flip its bytes: as a file that is new at its place, and as one that was met there."""
    book = fresh(made, folder / "whole.book")
    for amount in islice(amounts(), 40):
        enter(book, amount)
    size_b = book.stat().st_size
    known = _read(book)

    def cut(content: bytearray) -> None:
        del content[dice.randrange(size_b) :]

    def flip(content: bytearray) -> None:
        content[dice.randrange(len(content))] ^= dice.randrange(1, 256)

    def sweep(content: bytearray) -> None:
        at = dice.randrange(size_b // 4096) * 4096
        content[at : at + 4096] = bytes(4096)

    ways: dict[str, tuple[Callable[[bytearray], None], bool]] = {
        "cut short": (cut, False),
        "a byte flipped": (flip, False),
        "a byte flipped, book met before": (flip, True),
        "a page swept": (sweep, False),
        "a page swept, book met before": (sweep, True),
    }
    return [_spoilt(name, book, known, times, *way) for name, way in ways.items()]


def _spoilt(
    fault: str, book: Path, known: Pages, times: int, spoil: Callable[[bytearray], None], met: bool
) -> Spoilt:
    counts = {"said": 0, "as_it_was": 0, "otherwise": 0, "broken_off": 0}
    last = ""
    for number in range(times):
        there = book.with_name(f"spoilt {number}.book")
        content = bytearray(book.read_bytes())
        spoil(content)
        there.write_bytes(content)
        if met:
            meet(there, known.garden.uid)
        try:
            counts["as_it_was" if _read(there) == known else "otherwise"] += 1
        except BookError as error:
            counts["said"] += 1
            last = str(error).partition(".book ")[2]
        except Exception as error:
            counts["broken_off"] += 1
            last = repr(error)
        there.unlink()
    return Spoilt(fault, times, **counts, last_said=last)


def _read(path: Path) -> Pages:
    with open_book(path, read_only=True) as book:
        return read_pages(book)


def log_left_behind(made: Path, folder: Path) -> list[Tally]:
    """A program killed with all it wrote in the log: read where it lies, moved with its log, and under another's."""
    path = fresh(made, folder / "left.book")
    early = list(islice(amounts(), 3))
    for amount in early:
        enter(path, amount)
    old = fresh(path, folder / "old.book")
    told = heard(started(partial(_killed_with_a_log, path)), killed=True)
    confirmed = early + told
    log = path.with_name(f"{path.name}-wal")
    moved = fresh(path, folder / "moved.book")
    shutil.copy(log, moved.with_name(f"{moved.name}-wal"))
    shutil.copy(log, old.with_name(f"{old.name}-wal"))
    return [
        compared("a log left behind", path, confirmed),
        compared("book and log moved together", moved, confirmed),
        compared("an older copy under that log", old, early),
    ]


def _killed_with_a_log(path: Path, pipe: int) -> None:
    holding = open_book(path)  # keeps what is entered from being taken out of the log
    for amount in islice(amounts(), 3, 8):
        enter(path, amount)
        os.write(pipe, f"{amount}\n".encode())
    os.kill(os.getpid(), signal.SIGKILL)
    holding.close()
