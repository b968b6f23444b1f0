"""The scheduler with its clock replaced by one that is turned by hand, and jobs done in the calling thread.

Nobody sleeps: the clock is put on by exactly so much as the scheduler's own loop would have slept.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path
from typing import Any, Self
from unittest.mock import patch

from apscheduler.executors import base as executors
from apscheduler.executors.debug import DebugExecutor
from apscheduler.schedulers import base as schedulers

from soakbook.reminders.waking import Waker
from soakbook.services import books
from soakbook.store.book import open_book
from soakbook.store.outbox import read_incidents


def book_in(folder: Path, zone: str = "Europe/London") -> Path:
    """A book of a garden in a zone, with nothing in it."""
    path = folder / "garden.book"
    now = datetime(2026, 1, 1, 12, tzinfo=UTC)
    books.new(
        path, now=now, name="The Abbey", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone=zone,
    )  # fmt: skip
    return path


def incidents(path: Path) -> list[str]:
    """What a book says that the clock has met with, oldest first."""
    with open_book(path, read_only=True) as book:
        return [one.say for one in read_incidents(book, 1000)]


class Clock:
    """Shows what it was turned to."""

    def __init__(self, now: datetime) -> None:
        self.now = now.astimezone(UTC)

    def __call__(self) -> datetime:
        return self.now

    def shown_to(self, module: Any) -> Any:
        """A patch of a module's `datetime`: it reads this clock."""
        clock = self

        class Shown(datetime):
            @classmethod
            def now(cls, tz: tzinfo | None = None) -> Self:
                return clock.now.astimezone(tz)  # type: ignore[return-value]

        return patch.object(module, "datetime", Shown)


@contextmanager
def turned(scheduler: Any, clock: Clock, executor: Any = None) -> Iterator[None]:
    """The scheduler goes by this clock; it has been started when the block begins its work with `woken`."""
    with clock.shown_to(schedulers), clock.shown_to(executors):
        with suppress(KeyError):  # a scheduler of the test's own has none yet
            scheduler.remove_executor("default")
        scheduler.add_executor(executor or DebugExecutor(), "default")
        scheduler.wakeup = lambda: None  # its own thread sleeps on
        try:
            yield
        finally:
            scheduler.shutdown(wait=False)


def woken(scheduler: Any) -> timedelta:
    """Do what is due; how long the scheduler would sleep then."""
    scheduler.state = schedulers.STATE_RUNNING
    return timedelta(seconds=scheduler._process_jobs())


def turned_on(scheduler: Any, clock: Clock, until: datetime) -> None:
    """Let time pass as it does while the scheduler sleeps and wakes."""
    while clock.now <= until:
        clock.now += woken(scheduler)


class Woken(Waker):
    """Writes down when each of its jobs woke, and does nothing else but break where it is told to."""

    def __init__(self, path: Path, clock: Clock) -> None:
        self.said: list[str] = []
        super().__init__(path, clock=clock, say=self.said.append)
        self.woke: dict[str, list[datetime]] = {
            name: [] for name in ("fetch", "decide", "send", "tidy")
        }
        self.breaks: dict[str, Exception] = {}

    def fetch(self) -> None:
        """Woken."""
        self._woken("fetch")

    def decide(self) -> None:
        """Woken."""
        self._woken("decide")

    def send(self) -> None:
        """Woken."""
        self._woken("send")

    def tidy(self) -> None:
        """Woken."""
        self._woken("tidy")

    def _woken(self, name: str) -> None:
        self.woke[name].append(self.clock())
        if name in self.breaks:
            raise self.breaks[name]

    def counts(self) -> Sequence[int]:
        """How often fetch, decide, send and tidy have woken."""
        return [len(times) for times in self.woke.values()]


@contextmanager
def waking(path: Path, clock: Clock, executor: Any = None) -> Iterator[Woken]:
    """A waker that was started, on a turned clock."""
    waker = Woken(path, clock)
    with turned(waker.scheduler, clock, executor):
        waker.start(paused=True)
        yield waker
