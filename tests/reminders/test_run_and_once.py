"""The same two weeks by a clock that wakes, by cron, and with a day asleep: what is in the outbox is the same.

This is the test of the design: nothing that decides lies in the clock. The weeks have a dry spell and its end, heat, a
rule that begins and ends, Sundays, beds answered for and beds not; all of it stands in the book with the moment at
which it was written.
"""

import shutil
from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from soakbook.garden.reminding import Channel
from soakbook.reminders import errands, looking
from soakbook.reminders.addresses import keep_person
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.once import once
from soakbook.reminders.sight import Sight
from soakbook.reminders.sights import sight_of
from soakbook.reminders.waking import Waker
from soakbook.services import entries, setup
from soakbook.store.book import open_book
from soakbook.store.outbox import read_notices
from tests.reminders.garden_days import (
    DAY,
    SET_UP,
    THURSDAY,
    forecast,
    on,
    said,
    weathered,
)
from tests.reminders.turned_clock import Clock, incidents
from tests.services.looking import ZONE

DAYS = [THURSDAY + n * DAY for n in range(14)]
MINUTES_5 = timedelta(minutes=5)
RAIN_MM = {DAYS[6]: 9.0, DAYS[11]: 14.0}
HOT_C = dict.fromkeys(DAYS[8:11], 34.0)
ASLEEP = (on(DAYS[4], 16, 30), on(DAYS[5], 20, 10))
"""A day over which a round comes too late, and other things are late but not too late."""


def write_two_weeks(path: Path) -> None:
    """Everything that comes into the book in these weeks."""
    for n, day in enumerate(DAYS):
        yesterday = day - DAY
        if n:
            weathered(path, yesterday, yesterday, on(day, 5), RAIN_MM)
        forecast(path, on(day, 5, 30), rain_mm=RAIN_MM, tmax_c=HOT_C)
        if n % 3 == 1:
            entries.soak(path, ["chapel"], "45l", now=on(day, 9), by="Ann")
            entries.left(path, ["dole"], "wet enough", now=on(day, 19), by="Tom")
        if n % 4 == 2:
            entries.soak(path, ["school"], "60l", now=on(day, 6, 20), by="Zoe")
            entries.left(path, ["ride"], "could not", now=on(day, 8), by="Ann")
    setup.restriction(
        path, str(DAYS[3]), str(DAYS[9]), now=on(DAYS[1], 12), tool="hose", source="mains",
        text="No hoses.",
    )  # fmt: skip
    said(path, "unheard", hour=time(20, 30))  # its second step falls into the quiet hours


def every(step: timedelta, begin: datetime, end: datetime) -> Iterator[datetime]:
    """Moments from the first full one on."""
    at = begin + (-(begin - datetime.min.replace(tzinfo=begin.tzinfo))) % step
    while at <= end:
        yield at
        at += step


SELDOM = (6, 7, 12, 16, 17, 19, 21, 23)
OFTEN = (6, 7, 16, 17, 18, 20, 21, 22)


def moments(often: Sequence[date]) -> list[datetime]:
    """Some hours of the two weeks' days, and every five minutes of others of some days, as cron has them."""
    local = ((at, at.astimezone(ZONE)) for at in every(MINUTES_5, SET_UP, on(DAYS[-1], 23, 30)))
    return [
        at
        for at, here in local
        if (here.minute == 0 and here.hour in SELDOM)
        or (here.date() in often and here.hour in OFTEN)
    ]


class Row(NamedTuple):
    """What is the same however it was looked at."""

    what: str
    whom: str
    about: str
    for_day: date
    title: str
    body: str
    due_at: datetime
    late_from: datetime
    not_after: datetime


def rows(path: Path) -> dict[Row, str]:
    """The outbox: each reminder, and what became of it."""
    with open_book(path, read_only=True) as book:
        return {
            Row(*(getattr(one, field) for field in Row._fields)): one.state
            for one in read_notices(book)
        }


class Post:
    """A channel that takes all."""

    def __init__(self) -> None:
        self.taken: list[str] = []

    def give(self, message: Message, *_: Any) -> tuple[Channel, Outcome]:
        self.taken.append(message.identifier)
        return "mail", Outcome("sent", "250 OK")


@pytest.fixture
def two_weeks(garden: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], tuple[Path, Post]]:
    """A copy of the weeks' book, and who takes its letters."""
    write_two_weeks(garden)
    for name in ("Ann", "Tom", "Zoe"):
        keep_person(name, mail=f"{name.lower()}@example.org")

    def copy(name: str) -> tuple[Path, Post]:
        shutil.copy(garden, path := garden.with_name(f"{name}.book"))
        post = Post()
        monkeypatch.setattr(errands, "give", post.give)
        return path, post

    return copy


@pytest.fixture
def known_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is known in a book at a moment is reckoned once for all its copies."""
    seen = dict[datetime, Sight]()

    def sights_of(path: Path, now: datetime) -> Callable[[datetime], Sight]:
        def sight_at(at: datetime) -> Sight:
            if at not in seen:
                seen[at] = sight_of(path, at)
            return seen[at]

        return sight_at

    monkeypatch.setattr(looking, "sights_of", sights_of)


def run_through(path: Path, when: Sequence[datetime]) -> None:
    """As the clock does: decide, and send some seconds after, and tidy in the early morning."""
    clock = Clock(SET_UP)
    waker = Waker(path, clock=clock, say=lambda _: None, offline=True)
    for at in when:
        clock.now = at
        (waker.fetch if at.minute == 20 else waker.decide)()
        clock.now += timedelta(seconds=5)
        waker.send()
        if at.astimezone(ZONE).time() == time(6):
            waker.tidy()


def cron_through(path: Path, when: Sequence[datetime]) -> None:
    """As cron does."""
    clock = Clock(SET_UP)
    for at in when:
        clock.now = at + timedelta(seconds=1)
        once(path, clock, offline=True)


@pytest.mark.usefixtures("known_once")
def test_run_and_once_and_a_day_asleep_come_to_the_same(
    two_weeks: Callable[[str], tuple[Path, Post]],
) -> None:
    when = moments(DAYS[5:6])
    before = [at for at in when if at <= ASLEEP[0]]
    after = [at for at in when if at >= ASLEEP[1]]
    found: dict[str, dict[Row, str]] = {}
    for name, through, awake in (
        ("run", run_through, when),
        ("once", cron_through, when),
        ("run, a day asleep", run_through, [*before, *after]),
        ("run, and once after a day asleep", cron_through, after),
    ):
        path, post = two_weeks(name)
        if awake is after:
            run_through(path, before)
        through(path, awake)
        found[name] = rows(path)
        assert len(set(post.taken)) == len(post.taken), name
        assert len(post.taken) == list(found[name].values()).count("sent"), name
        assert incidents(path) == [], name
    run = found["run"]
    assert {row.what for row in run} >= {"round", "heat", "rule", "unheard", "week", "dry"}
    assert len(run) > 40
    assert set(run.values()) <= {"sent", "withdrawn", "due"}
    assert found["once"] == run
    slept = found["run, a day asleep"]
    assert found["run, and once after a day asleep"] == slept
    assert slept.keys() == run.keys()
    lapsed = {row for row, state in slept.items() if state == "lapsed"}
    missed = {row for row in run if ASLEEP[0] < row.due_at and row.not_after <= ASLEEP[1]}
    assert lapsed == missed != set()
    apart = {row for row, state in slept.items() if state != run[row]} - lapsed
    assert all(ASLEEP[0] <= row.due_at <= ASLEEP[1] for row in apart)
