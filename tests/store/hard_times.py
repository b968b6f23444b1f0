"""Many who write at once, folders that may only be read, full disks, clocks set back."""

import contextlib
import io
import os
import random
import resource
import signal
from datetime import timedelta
from functools import partial
from itertools import islice
from pathlib import Path
from unittest.mock import patch

from soakbook.cli import options
from soakbook.cli.exits import MENDABLE, OURS
from soakbook.cli.main import main
from soakbook.errors import BookError
from soakbook.store.book import open_book
from tests.store.fault_book import (
    BED,
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
from tests.store.killing import brought_up, old_entries
from tests.store.old_books import OLD, old_book

NOBODY = 65_534
LAST = "77.7l"
EACH = 25
"""Soaks that each of several writers enters."""


def writing_at_once(made: Path, folder: Path, writers: int) -> Tally:
    """Several processes, each entering its soaks; who finds the book busy says so and tries again."""
    path = fresh(made, folder / f"{writers} writers.book")
    typed, fault = amounts(), f"{writers} processes writing at once"
    shares = [list(islice(typed, EACH)) for _ in range(writers)]
    told = [
        line
        for one in [started(partial(_all_in, path, share)) for share in shares]
        for line in heard(one)
    ]
    busy = told.count("busy")
    confirmed = [line for line in told if line != "busy"]
    return compared(fault, path, confirmed, f"busy {busy} times" if busy else "")


def _all_in(path: Path, amounts: list[str], pipe: int) -> None:
    for amount in amounts:
        _until_it_is_in(path, amount, pipe)


def _until_it_is_in(path: Path, amount: str, pipe: int) -> None:
    while True:
        try:
            enter(path, amount)
        except BookError as error:
            if "is busy" not in str(error):
                raise
            os.write(pipe, b"busy\n")
        else:
            os.write(pipe, f"{amount}\n".encode())
            return


def brought_up_at_once(folder: Path, times: int, openers: int) -> Tally:
    """Several processes that open an old book at the same moment: one brings it up, and all copies are of the old."""
    total = Tally(f"{openers} processes open an old book")
    for number in range(times):
        path = old_book(folder / f"at once {number}.book", OLD[number % len(OLD)])
        old, before = OLD[number % len(OLD)], old_entries(path)
        for one in [started(partial(_opened, path)) for _ in range(openers)]:
            heard(one)
        total = total.plus(brought_up(total.fault, path, before, old))
    return total


def _opened(path: Path, _: int) -> None:
    open_book(path).close()


def in_a_read_only_folder(made: Path, folder: Path) -> Tally:
    """Somebody who may read the book but write nothing there: refused, and what is in it stays."""
    there = folder / "read only"
    there.mkdir()
    path = fresh(made, there / "garden.book")
    confirmed = list(islice(amounts(), 3))
    for amount in confirmed:
        assert _typed(path, amount) == (0, "")  # and all that the command needs is there
    path.chmod(0o444)
    there.chmod(0o555)
    told = heard(started(partial(_as_nobody, path)))
    there.chmod(0o755)
    path.chmod(0o600)
    return with_refused("read-only folder", path, [*confirmed, *told])


def on_a_full_disk(made: Path, folder: Path, times: int, dice: random.Random) -> Tally:
    """A child process that may not make files larger: it enters until it is refused; then there is room again."""
    total = Tally("full disk (a limit on files)")
    for number in range(times):
        path = fresh(made, folder / f"full {number}.book")
        room_b = dice.randint(0, 40_000)
        typed = list(islice(amounts(), 400))
        told = heard(started(partial(_until_full, path, typed, path.stat().st_size + room_b)))
        here = with_refused(total.fault, path, told)
        goes_on = told[-1:] == [LAST] and here.refused
        total = total.plus(here._replace(broken=here.broken or int(not goes_on)))
    return total


def with_a_clock_set_back(made: Path, folder: Path, times: int) -> Tally:
    """Each soak is written with a clock that is further back; all are in the book, once."""
    path = fresh(made, folder / "clock.book")
    confirmed = []
    for number, amount in enumerate(islice(amounts(), times)):
        enter(path, amount, NOW - timedelta(hours=7 * number))
        confirmed.append(amount)
    return compared("clock set back", path, confirmed)._replace(tries=times)


def _as_nobody(path: Path, pipe: int) -> None:
    if os.geteuid() == 0:  # root may write everywhere
        os.setuid(NOBODY)
    _by_command(path, "9l", pipe)


def _until_full(path: Path, typed: list[str], most_b: int, pipe: int) -> None:
    """Enter until it is refused, then by the command, and once more where files may grow again."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most_b, most))
    for amount in typed:
        try:
            enter(path, amount)
        except BookError:
            _by_command(path, amount, pipe)
            break
        os.write(pipe, f"{amount}\n".encode())
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
    _by_command(path, LAST, pipe)


def _by_command(path: Path, amount: str, pipe: int) -> None:
    """Enter a soak by the command; told is the amount when it is in, else behind a mark the amount and what is said."""
    status, said = _typed(path, amount)
    in_words = (
        status == MENDABLE and said.startswith(f"soakbook: {path} ") and said.count("\n") == 1
    )
    told = amount if status == 0 else f"{'!' if in_words else '?'}{amount} {said.strip()}"
    os.write(pipe, f"{told}\n".encode())


def _typed(path: Path, amount: str) -> tuple[int, str]:
    """Exit status of the command, and what stands on standard error."""
    said = io.StringIO()
    with (
        patch.object(options, "now", lambda: NOW),
        contextlib.redirect_stdout(io.StringIO()),
        contextlib.redirect_stderr(said),
    ):
        try:
            status = main(["soak", BED, amount, "--by", "Ann", "--book", str(path)])
        except Exception as error:  # counted as nothing said
            return OURS, repr(error)
    return status, said.getvalue()


def with_refused(fault: str, path: Path, told: list[str]) -> Tally:
    """What the book holds beside what it confirmed, and what was said of that which it does not hold."""
    refused = [line for line in told if line.startswith("!")]
    silent = [line for line in told if line.startswith("?")]
    confirmed = [line for line in told if line not in (*refused, *silent)]
    here = compared(fault, path, confirmed, refused[0].partition(".book ")[2] if refused else "")
    there = entered(path) if not here.broken else {}
    in_all_the_same = [line for line in refused if line[1:].partition(" ")[0] in there]
    return here._replace(refused=len(refused), unsaid=len(silent) + len(in_all_the_same))
