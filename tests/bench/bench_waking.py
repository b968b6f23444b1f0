"""The memory of `remind run` through a year: the real scheduler's jobs in its threads, by a clock that is put on.

`python -m tests.bench.bench_waking`; a number after it is how many months instead of twelve. Nobody sleeps: each hour
the clock leaps by an hour, and the four jobs do once what they would have done by small steps. The garden is that of
the services' tests, weather comes into it daily and somebody waters. Only the round and Sunday's look at the week are
wanted, so that a day is reckoned once, and it takes minutes and not hours. A season grows, and with it what reckoning
it takes: beside the size of the process stands that of a new one that looks at the same book for the first time.
"""

import gc
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from datetime import datetime, timedelta
from math import cos, pi
from pathlib import Path
from typing import Any
from unittest.mock import patch

from apscheduler.executors.pool import ThreadPoolExecutor

from soakbook.garden.reminding import Channel, ReminderKind
from soakbook.reminders import errands
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.waking import THREADS, Waker
from soakbook.services import entries
from soakbook.services.weather_files import import_file
from soakbook.store.book import open_book
from soakbook.store.outbox import Decided, put_decided
from tests.bench.bench_import import MB
from tests.reminders.garden_days import DAY, SET_UP, THURSDAY, forecast, on, said, team
from tests.reminders.turned_clock import Clock, turned, woken
from tests.services.conftest import make

NOT_WANTED: tuple[ReminderKind, ...] = ("promise", "feel", "heat", "dry", "rule", "unheard")
MONTHS = 12
MONTH_DAYS = 30
AN_HOUR = timedelta(hours=1)


class Settling(ThreadPoolExecutor):  # type: ignore[misc]
    """The scheduler's own threads, of which it can be heard when all have ended."""

    def __init__(self) -> None:
        super().__init__(THREADS)
        self.at_it, self.done = 0, threading.Condition()

    def submit_job(self, job: Any, run_times: Any) -> None:
        """As ever, and counted."""
        with self.done:
            self.at_it += 1
        super().submit_job(job, run_times)

    def _run_job_success(self, job_id: str, events: Any) -> None:
        super()._run_job_success(job_id, events)
        self._ended()

    def _run_job_error(self, job_id: str, exc: Any, traceback: Any = None) -> None:
        super()._run_job_error(job_id, exc, traceback)
        self._ended()

    def _ended(self) -> None:
        with self.done:
            self.at_it -= 1
            self.done.notify()

    def settle(self) -> None:
        """Return when nothing is at work."""
        with self.done:
            self.done.wait_for(lambda: self.at_it == 0)


def taken(_message: Message, *_: Any) -> tuple[Channel, Outcome]:
    """A channel that takes all."""
    return "mail", Outcome("sent", "250 OK")


def a_day(path: Path, n: int) -> None:
    """What comes into the book on a day: yesterday's weather, a forecast, every third day a soak."""
    day = THURSDAY + n * DAY
    summer = cos(2 * pi * (day - THURSDAY - 60 * DAY).days / 365)
    rain_mm, sun_h = (6.0, 0.5) if n % 9 == 5 else (0.0, 5.0 + 4.0 * summer)
    file = path.with_name("shed.csv")
    file.write_text(
        "date,tmin_c,tmax_c,rain_mm,sun_h,wind2_ms,rh_mean_pct\n"
        f"{day - DAY},{7 + 7 * summer:.1f},{14 + 9 * summer:.1f},{rain_mm},{sun_h:.1f},2.0,75",
        encoding="utf-8",
    )
    import_file(path, file, now=on(day, 5), columns=["wind=wind2_ms:m/s@2m"], name="the shed")
    forecast(path, on(day, 5, 30), days=8)
    if n % 3 == 1:
        entries.soak(path, ["chapel", "school"], "45l", now=on(day, 5, 45), by="Ann")


def look_once(path: Path, now: datetime) -> float:
    """What a process holds that looks at the book for the first time, a day after it was looked at last [MB]."""
    with open_book(path) as book:
        put_decided(book, Decided(now - DAY, now))
    waker = Waker(path, clock=Clock(now), say=lambda _: None, offline=True)
    waker.decide()
    return size_mb()


def fresh_mb(path: Path, now: datetime) -> float:
    """The same, of a process of its own and a copy of the book."""
    shutil.copy(path, copy := path.with_name("copy.book"))
    words = [sys.executable, "-m", "tests.bench.bench_waking", str(copy), now.isoformat()]
    return float(subprocess.run(words, check=True, capture_output=True, text=True).stdout)


def size_mb() -> float:
    """What this process holds in memory now [MB]; 0 where the system does not say."""
    try:
        pages = Path("/proc/self/statm").read_text(encoding="utf-8").split()[1]
    except OSError:
        return 0.0
    return int(pages) * os.sysconf("SC_PAGE_SIZE") / MB


def main() -> None:
    """Print the table."""
    if len(sys.argv) > 2:
        print(look_once(Path(sys.argv[1]), datetime.fromisoformat(sys.argv[2])))
        return
    months = int(sys.argv[1]) if len(sys.argv) > 1 else MONTHS
    gc.enable()
    began, lines = time.perf_counter(), 0

    def say(_sentence: str) -> None:
        nonlocal lines
        lines += 1

    clock = Clock(SET_UP)
    print(
        f"{'month':>5} {'looks':>6} {'lines':>6} {'objects':>9} {'threads':>8} {'MB':>7} {'new MB':>7} {'min':>5}"
    )
    with tempfile.TemporaryDirectory() as folder, patch.object(errands, "give", taken):
        path = Path(folder) / "abbey.book"
        make(path)
        team(path)
        for kind in NOT_WANTED:
            said(path, kind, wanted=False)
        waker, pool = Waker(path, clock=clock, say=say, offline=True), Settling()
        with turned(waker.scheduler, clock, pool):
            waker.start(paused=True)
            for n in range(1, months * MONTH_DAYS + 1):
                for _ in range(24):
                    woken(waker.scheduler)
                    pool.settle()
                    clock.now += AN_HOUR
                a_day(path, n)
                if n % MONTH_DAYS == 0:
                    gc.collect()
                    print(
                        f"{n // MONTH_DAYS:>5} {24 * n:>6} {lines:>6} {len(gc.get_objects()):>9}"
                        f" {threading.active_count():>8} {size_mb():>7.1f}"
                        f" {fresh_mb(path, clock.now):>7.1f}"
                        f" {(time.perf_counter() - began) / 60:>5.1f}",
                        flush=True,
                    )


if __name__ == "__main__":
    main()
