"""Reminders: a look at a book with a year of outbox, and the memory of one process that looks and sends for a year.

`python -m tests.bench.bench_reminders`. The garden is that of `tests.reminders.year`, three beds. The second table
takes minutes: every moment at which something may be due is reckoned anew, with all members. A number is how many days
of the year instead.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from shutil import copyfile

from soakbook.garden.reminding import Channel, Notice
from soakbook.reminders.looking import look
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.sending import send_due
from soakbook.reminders.sights import sight_of
from soakbook.store.book import open_book
from soakbook.store.outbox import Decided, add_notices, put_decided
from tests.bench.processes import IMPORT_PANDAS, Process, medians_s
from tests.reminders.year.garden import NAMES, PLACES, make
from tests.reminders.year.sights import span
from tests.reminders.year.sky import DAYS
from tests.reminders.year.worker import size_kb

RUNS = 7
MONTHS = 12
AN_HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)
LONDON = PLACES[0]
MORNING = 200
"""The day of the year whose round is looked at, in autumn: the season is long by then."""


def year_of_outbox(until: datetime) -> Iterator[Notice]:
    """A reminder for everybody every day, all sent."""
    for n in range(1, DAYS):
        at = until - timedelta(days=n)
        for uid, name in NAMES.items():
            yield Notice(
                uid=f"{uid}-{n}",
                what="round",
                whom=uid,
                about="",
                for_day=at.date(),
                zone=LONDON.zone,
                title=f"Corrody: {name}'s beds",
                body="Chapel 17 L, Dole 20 L, Bank 30 L: about 25 min.",
                beds=("chapel", "dole", "bank"),
                due_at=at,
                late_from=at + 5 * AN_HOUR,
                not_after=at + 13 * AN_HOUR,
                state="sent",
                channel="mail",
                tries=1,
                answer="250 OK",
                settled_at=at,
            )


def looks(folder: Path) -> dict[str, float]:
    """Median seconds of a look at the morning's hour: with nothing due since, and with what is due then."""
    made = folder / "garden.book"
    make(made, LONDON)
    at = span(LONDON, MORNING)[1] - 5 * AN_HOUR
    with open_book(made) as book:
        add_notices(book, year_of_outbox(at))
    sight = sight_of(made, at)
    before, after = at - MINUTE, at + MINUTE
    return {
        "look, nothing due": _median_s(made, after, lambda path: look(path, now=after + MINUTE)),
        "look, due, sight known": _median_s(
            made, before, lambda path: look(path, now=after, sight_at=lambda _: sight)
        ),
        "look, due, reckoned": _median_s(made, before, lambda path: look(path, now=after)),
    }


def _median_s(made: Path, decided: datetime, work: Callable[[Path], object]) -> float:
    """Each time of a book that has been decided so far; the first is not counted."""
    took = []
    for n in range(RUNS + 1):
        path = made.with_name(f"{n}.book")
        copyfile(made, path)
        with open_book(path) as book:
            put_decided(book, Decided(decided, decided))
        began = time.perf_counter()
        work(path)
        took.append(time.perf_counter() - began)
    return statistics.median(took[1:])


def sizes(folder: Path, days: int) -> Iterator[tuple[int, int, float]]:
    """Month, reminders so far and MB that this process holds, one process waking every hour of so many days."""
    path = folder / "garden.book"
    make(path, LONDON)
    since, until = span(LONDON, days)
    sent, month, now = 0, 1, since + MINUTE

    def taken(_message: Message, _wanted: Channel | None) -> tuple[Channel, Outcome]:
        return "mail", Outcome("sent", "250 OK")

    while now <= until:
        look(path, now=now)
        sent += len(
            send_due(path, partial(datetime.fromtimestamp, now.timestamp(), UTC), taken, "bench")
        )
        now += AN_HOUR
        if now >= since + month * (until - since) / MONTHS - AN_HOUR:
            yield month, sent, size_kb() / 1024
            month += 1


def main() -> None:
    """Print both tables."""
    days = int(sys.argv[1]) if len(sys.argv) > 1 else DAYS
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        pandas_s = medians_s({"pandas": Process(IMPORT_PANDAS, folder)}, RUNS)["pandas"]
        took = looks(folder)
    print(f"{DAYS * len(NAMES)} reminders in the outbox, in process")
    print(f"{'':<24} {'s':>7} {'x import pandas':>16}")
    for name, seconds in {**took, "import pandas": pandas_s}.items():
        print(f"{name:<24} {seconds:>7.3f} {seconds / pandas_s:>16.2f}")
    print(f"\n{'month':>5} {'handled':>8} {'process MB':>11}", flush=True)
    subprocess.run(
        [sys.executable, "-m", "tests.bench.bench_reminders", str(days), "sizes"], check=True
    )


def print_sizes(days: int) -> None:
    """The second table, of a process that has done nothing else."""
    with tempfile.TemporaryDirectory() as name:
        for month, sent, size_mb in sizes(Path(name), days):
            print(f"{month:>5} {sent:>8} {size_mb:>11.1f}", flush=True)


if __name__ == "__main__":
    if sys.argv[2:] == ["sizes"]:
        print_sizes(int(sys.argv[1]))
    else:
        main()
