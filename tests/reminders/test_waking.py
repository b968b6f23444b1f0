"""Four jobs that wake up and look: late, asleep, with clocks that jump; the scheduler is the real one."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from unittest.mock import patch

import pytest
from apscheduler.executors.base import BaseExecutor, run_job
from apscheduler.triggers.cron import CronTrigger

from soakbook.errors import BookError
from soakbook.reminders import errands
from soakbook.reminders.looking import Looked
from soakbook.reminders.waking import Onward, Waker, minute_of
from soakbook.store.book import open_book
from soakbook.store.weather_asked import Asked, add_asked
from tests.reminders.turned_clock import Clock, Woken, book_in, incidents, turned_on, waking, woken

SIX = datetime(2031, 5, 15, 5, 0, 1, tzinfo=UTC)
"""A second past six on a Thursday, on the garden's clock."""
HOUR = timedelta(hours=1)
HALF_MINUTE = timedelta(seconds=30)


@pytest.fixture
def new_book(tmp_path: Path) -> Path:
    return book_in(tmp_path)


@pytest.fixture
def clock() -> Clock:
    return Clock(SIX)


@pytest.fixture
def waker(new_book: Path, clock: Clock) -> Iterator[Woken]:
    with waking(new_book, clock) as found:
        yield found


def counted_on(waker: Woken, clock: Clock, until: datetime) -> list[int]:
    """How often each job woke in that time."""
    before = waker.counts()
    turned_on(waker.scheduler, clock, until)
    return [now - then for now, then in zip(waker.counts(), before, strict=True)]


def test_however_late_a_job_comes_it_is_done_once(waker: Woken) -> None:
    settings = {
        job.id: (job.misfire_grace_time, job.coalesce, job.max_instances)
        for job in waker.scheduler.get_jobs()
    }
    assert settings == dict.fromkeys(("fetch", "decide", "send", "tidy"), (None, True, 1))


def test_at_a_start_all_is_done_at_once_and_what_was_decided_is_sent(
    waker: Woken, clock: Clock
) -> None:
    assert woken(waker.scheduler) == timedelta(seconds=2)
    assert waker.counts() == [1, 1, 0, 1]
    clock.now += timedelta(seconds=2)
    woken(waker.scheduler)
    assert waker.counts() == [1, 1, 1, 1]


def test_each_five_minutes_are_decided_on_the_minute_and_sent_seconds_later(
    waker: Woken, clock: Clock
) -> None:
    turned_on(waker.scheduler, clock, SIX + HOUR + HALF_MINUTE)
    decided, sent = waker.woke["decide"][1:], waker.woke["send"][1:]
    assert decided == [SIX.replace(minute=5 * n, second=0) for n in range(1, 12)] + [
        SIX.replace(hour=6, second=0)
    ]
    assert {at + timedelta(seconds=5) for at in decided} <= set(sent)


def test_asleep_from_six_to_half_past_nine_each_is_done_once_and_then_as_ever(
    waker: Woken, clock: Clock
) -> None:
    """Fetching was due at seven, the others many times."""
    turned_on(waker.scheduler, clock, SIX + timedelta(minutes=3))
    before = waker.counts()
    clock.now = SIX + 3.5 * HOUR
    assert woken(waker.scheduler) <= HALF_MINUTE
    assert [now - then for now, then in zip(waker.counts(), before, strict=True)] == [1, 1, 1, 0]
    assert counted_on(waker, clock, clock.now + 3 * HOUR - HALF_MINUTE) == [1, 35, 359, 0]


def test_asleep_from_friday_to_monday_each_is_done_once(waker: Woken, clock: Clock) -> None:
    turned_on(waker.scheduler, clock, SIX + timedelta(days=1))
    before = waker.counts()
    clock.now += timedelta(days=3)
    woken(waker.scheduler)
    assert [now - then for now, then in zip(waker.counts(), before, strict=True)] == [1, 1, 1, 1]


def test_a_clock_that_leaps_by_sixty_years_is_not_counted_out(new_book: Path) -> None:
    """A computer without a clock of its own wakes up in 1970; there are 64 million half minutes between."""
    clock = Clock(datetime(1970, 1, 1, 0, 1, tzinfo=UTC))
    asked: list[datetime] = []
    ask = Onward.get_next_fire_time

    def counted(self: Onward, previous: datetime | None, now: datetime) -> datetime | None:
        asked.append(now)
        assert len(asked) < 100
        return ask(self, previous, now)

    with patch.object(Onward, "get_next_fire_time", counted), waking(new_book, clock) as waker:
        turned_on(waker.scheduler, clock, clock.now + timedelta(minutes=2))
        before = waker.counts()
        clock.now = SIX
        assert woken(waker.scheduler) <= HALF_MINUTE
        assert [b - a for a, b in zip(before, waker.counts(), strict=True)] == [1, 1, 1, 1]


def test_onward_is_the_librarys_own_time_as_long_as_nothing_is_missed() -> None:
    zone = "Europe/London"
    ours, theirs = (
        kind(hour="0-4", minute="*/20", timezone=zone) for kind in (Onward, CronTrigger)
    )
    at = datetime(2026, 10, 24, 20, tzinfo=UTC)
    for _ in range(40):
        found = ours.get_next_fire_time(at, at)
        assert found == theirs.get_next_fire_time(at, at)
        assert found is not None
        at = found


def test_with_a_clock_put_back_nothing_sleeps_until_it_has_caught_up(
    waker: Woken, clock: Clock
) -> None:
    turned_on(waker.scheduler, clock, SIX + HOUR)
    waker.watch()
    clock.now -= 2 * HOUR
    assert woken(waker.scheduler) > 1.9 * HOUR
    waker.watch()
    assert woken(waker.scheduler) <= HALF_MINUTE
    assert counted_on(waker, clock, clock.now + 12 * HOUR) == [4, 144, 1441, 0]


def test_a_clock_that_goes_on_leaves_the_jobs_alone(waker: Woken, clock: Clock) -> None:
    turned_on(waker.scheduler, clock, SIX + timedelta(minutes=1))
    for _ in range(100):
        waker.watch()
        assert counted_on(waker, clock, clock.now) in ([0, 0, 1, 0], [0, 1, 0, 0])


class InHand(BaseExecutor):  # type: ignore[misc]
    """Jobs that go on until they are told to end."""

    def __init__(self) -> None:
        super().__init__()
        self.at_it: dict[str, Any] = {}

    def _do_submit_job(self, job: Any, run_times: list[datetime]) -> None:
        self.at_it[job.id] = (job, run_times)

    def end(self, name: str) -> None:
        """It has ended now."""
        job, run_times = self.at_it.pop(name)
        self._run_job_success(name, run_job(job, "default", run_times, "apscheduler"))


SLOW = "send was due again before it had ended"


def test_a_job_longer_than_its_interval_is_said_once_as_long_as_it_is(
    new_book: Path, clock: Clock
) -> None:
    hands = InHand()
    with waking(new_book, clock, hands) as waker:
        turned_on(waker.scheduler, clock, SIX + 10 * HALF_MINUTE)
        assert waker.said == [SLOW, "decide was due again before it had ended"]
        waker.said.clear()
        for _ in range(3):  # ended with an error each time, and overtaken before
            waker.breaks["send"] = BookError("the book is busy")
            hands.end("send")
            turned_on(waker.scheduler, clock, clock.now + 4 * HALF_MINUTE)
        assert waker.said == ["send: the book is busy"]
        del waker.breaks["send"]
        hands.end("send")
        woken(waker.scheduler)
        for _ in range(4):  # in time again
            clock.now += HALF_MINUTE
            woken(waker.scheduler)
            hands.end("send")
        assert waker.said == ["send: the book is busy"]
        turned_on(waker.scheduler, clock, clock.now + 4 * HALF_MINUTE)
        assert waker.said == ["send: the book is busy", SLOW]
    assert incidents(new_book).count(SLOW) == 2


def test_weather_is_asked_for_at_each_hour_however_exact_the_last_asking_was(
    new_book: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three hours less a moment after the last asking it is time again; at the next start within the hour it is not."""
    asked: list[datetime] = []

    def ask(path: Path, *, now: datetime) -> Any:
        asked.append(now)
        with open_book(path) as book:
            add_asked(book, Asked("made", "forecast", now, "new"))
        return SimpleNamespace(say=["It is dry."])

    monkeypatch.setattr(errands, "ask", ask)
    monkeypatch.setattr(errands, "decide", lambda *_: Looked(()))
    said: list[str] = []
    waker = Waker(new_book, clock=clock, say=said.append)
    for later in (timedelta(0), timedelta(hours=3, microseconds=-1), timedelta(minutes=59)):
        clock.now += later
        waker.fetch()
    assert asked == [SIX, SIX + timedelta(hours=3, microseconds=-1)]
    assert said == ["It is dry."] * 2
    waker = Waker(new_book, clock=clock, say=said.append, offline=True)
    clock.now += 5 * HOUR
    waker.fetch()
    assert len(asked) == 2


def test_gardens_ask_at_minutes_of_their_own() -> None:
    minutes = {minute_of(f"garden-{n}") for n in range(500)}
    assert minutes == set(range(60))
    assert minute_of("garden-1") == minute_of("garden-1")


def test_a_book_that_is_none_is_refused_at_the_start(tmp_path: Path, clock: Clock) -> None:
    path = tmp_path / "no.book"
    path.write_text("no book")
    with pytest.raises(BookError, match="is not a book of soakbook"):
        Waker(path, clock=clock, say=print)


def test_the_name_and_zone_are_the_gardens(tmp_path: Path, clock: Clock) -> None:
    waker = Waker(book_in(tmp_path, "Australia/Lord_Howe"), clock=clock, say=print)
    assert (waker.garden_name, str(waker.zone)) == ("The Abbey", "Australia/Lord_Howe")
