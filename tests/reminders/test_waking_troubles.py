"""What goes wrong while the reminders' clock wakes and looks: told and written down once, and again when it is back."""

import sqlite3
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

import pytest

from soakbook.errors import BookError, InputError, LedgerError
from soakbook.garden.reminding import Notice
from soakbook.reminders import errands
from soakbook.reminders import waking as waking_module
from soakbook.reminders.looking import look
from soakbook.reminders.waking import TO_BE_NOTED, Waker, sent_words
from soakbook.store.book import open_book
from soakbook.store.outbox import Decided, put_decided
from tests.reminders.turned_clock import Clock, Woken, book_in, incidents, turned_on, waking, woken

SIX = datetime(2031, 5, 15, 5, 0, 1, tzinfo=UTC)
HALF_MINUTE = timedelta(seconds=30)


@pytest.fixture
def new_book(tmp_path: Path) -> Path:
    return book_in(tmp_path)


@pytest.fixture
def clock() -> Clock:
    return Clock(SIX)


ERRORS: list[tuple[Exception, str]] = [
    (BookError("garden.book is busy"), "send: garden.book is busy"),
    (
        InputError("channels.toml", "9", "a table"),
        "send: channels.toml: '9' cannot be right; a table",
    ),
    (KeyError("hollyhock"), "send broke, KeyError at turned_clock.py:"),
    (
        LedgerError("roses", 3, "2031-05-14", {"soak_l": 2.0}),
        "send broke, LedgerError at turned_clock.py:",
    ),
]


@pytest.mark.parametrize(("error", "words"), ERRORS, ids=lambda one: type(one).__name__)
def test_trouble_is_told_once_while_it_lasts_and_again_when_it_is_back(
    new_book: Path, clock: Clock, error: Exception, words: str
) -> None:
    with waking(new_book, clock) as waker:
        for _ in range(2):
            waker.breaks["send"] = error
            turned_on(waker.scheduler, clock, clock.now + 10 * HALF_MINUTE)
            del waker.breaks["send"]
            turned_on(waker.scheduler, clock, clock.now + 10 * HALF_MINUTE)
        assert len(waker.woke["send"]) > 35  # it is tried all the same
    first, again = waker.said
    assert first == again == incidents(new_book)[0] == incidents(new_book)[1]
    assert len(incidents(new_book)) == 2
    assert first.startswith(words)
    assert ("this is a fault of soakbook's" in first) == (" broke, " in words)
    assert "hollyhock" not in first


def test_another_trouble_is_told_though_the_first_lasts(new_book: Path, clock: Clock) -> None:
    with waking(new_book, clock) as waker:
        for error in (BookError("is busy"), BookError("is away"), BookError("is away")):
            waker.breaks["send"] = error
            turned_on(waker.scheduler, clock, clock.now + 4 * HALF_MINUTE)
    assert waker.said == ["send: is busy", "send: is away"]


def test_jobs_in_trouble_keep_no_other_from_its_work(new_book: Path, clock: Clock) -> None:
    with waking(new_book, clock) as waker:
        waker.breaks = {name: BookError(f"no {name}") for name in ("fetch", "decide", "tidy")}
        turned_on(waker.scheduler, clock, SIX + 21 * HALF_MINUTE)
    assert sorted(waker.said) == ["decide: no decide", "fetch: no fetch", "tidy: no tidy"]
    assert len(waker.woke["send"]) == 22


def test_what_the_book_could_not_be_told_is_written_when_it_can(
    new_book: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(waking_module, "open_book", partial(open_book, busy_s=0.01))
    other = sqlite3.connect(new_book, isolation_level=None)
    with waking(new_book, clock) as waker:
        other.execute("BEGIN IMMEDIATE")
        for n in range(TO_BE_NOTED + 5):
            waker.breaks["send"] = BookError(f"trouble {n}")
            clock.now += HALF_MINUTE
            woken(waker.scheduler)
        began = clock.now
        other.execute("ROLLBACK")
        other.close()
        del waker.breaks["send"]
        clock.now += HALF_MINUTE
        woken(waker.scheduler)
    assert len(waker.said) == TO_BE_NOTED + 5
    assert incidents(new_book) == [f"send: trouble {n}" for n in range(5, TO_BE_NOTED + 5)]
    with open_book(new_book) as book:
        (last,) = book.connection.execute("SELECT max(at) FROM incident").fetchone()
    assert datetime.fromisoformat(last) == began  # when it was, not when it was written


def test_that_nobody_reads_what_is_said_hinders_nothing(new_book: Path, clock: Clock) -> None:
    def gone(_: str) -> None:
        raise BrokenPipeError

    with waking(new_book, clock) as waker:
        waker._to_say = gone
        waker.breaks["decide"] = BookError("is busy")
        turned_on(waker.scheduler, clock, SIX + 3 * HALF_MINUTE)
    assert incidents(new_book) == ["decide: is busy"]
    assert len(waker.woke["send"]) == 4


def looking(path: Path, clock: Clock) -> tuple[Waker, list[str]]:
    """A waker whose jobs are its own."""
    said: list[str] = []
    return Waker(path, clock=clock, say=said.append), said


def test_a_clock_put_back_is_told_once_and_again_another_time(new_book: Path, clock: Clock) -> None:
    waker, said = looking(new_book, clock)
    for _ in range(2):
        waker.decide()
        clock.now -= timedelta(hours=2)
        for _ in range(3):
            waker.decide()
            clock.now += timedelta(minutes=5)
        clock.now += timedelta(hours=3)
    waker.decide()
    assert len(said) == 2
    assert said[0].startswith("The clock has been at 06:00 on Thursday 15 May 2031 before")
    assert incidents(new_book) == said


def test_a_sleep_too_long_is_among_the_incidents_once(new_book: Path, clock: Clock) -> None:
    with open_book(new_book) as book:
        put_decided(book, Decided(*[SIX - timedelta(days=60)] * 2))
    waker, said = looking(new_book, clock)
    waker.decide()
    waker.decide()
    (slept,) = said
    assert slept.startswith("Nobody looked from 05:00 on Sunday 16 March 2031 on")
    assert incidents(new_book) == said
    assert not look(new_book, now=SIX).is_noted


WAITS = Notice(
    uid="9" * 32, what="round", whom="ann", about="", for_day=SIX.date(), zone="Europe/London",
    title="Abbey, Thu 15 May: 3 beds by 10:00", body="Chapel Wall 17 L.", beds=(), due_at=SIX,
    late_from=SIX, not_after=SIX + timedelta(hours=3), state="due", settled_at=None,
    answer="Ann has no address",
)  # fmt: skip

Sends = Callable[..., None]


@pytest.fixture
def sends(monkeypatch: pytest.MonkeyPatch) -> Sends:
    """What the next sending comes to."""

    def come_to(*notices: Notice) -> None:
        monkeypatch.setattr(errands, "send", lambda *_: notices)

    return come_to


def test_that_a_reminder_waits_is_said_once_though_it_is_tried_again(
    new_book: Path, clock: Clock, sends: Sends
) -> None:
    waker, said = looking(new_book, clock)
    other = WAITS._replace(uid="8" * 32, title="Abbey: heat likely", answer="421 come again")
    for notices in ((WAITS,), (WAITS, other), (), (other,), (WAITS._replace(answer="421"),)):
        sends(*notices)
        waker.send()
    sends(WAITS._replace(state="sent", channel="mail", answer="250 OK"))
    waker.send()
    assert said == [
        "waits: Abbey, Thu 15 May: 3 beds by 10:00 (Ann has no address)",
        "waits: Abbey: heat likely (421 come again)",
        "waits: Abbey, Thu 15 May: 3 beds by 10:00 (421)",
        "sent by mail: Abbey, Thu 15 May: 3 beds by 10:00",
    ]


def test_what_has_waited_in_vain_is_forgotten(new_book: Path, clock: Clock, sends: Sends) -> None:
    waker, said = looking(new_book, clock)
    for n in range(20):
        sends(WAITS._replace(uid=f"{n:032}", not_after=clock.now + timedelta(hours=3)))
        waker.send()
        clock.now += timedelta(hours=1)
    assert len(said) == 20
    assert len(waker._waiting) == 3  # two to come, and one too old at the next look


@pytest.mark.parametrize(
    ("state", "channel", "words"),
    [
        ("sent", "push", "sent by push: Abbey, Thu 15 May: 3 beds by 10:00"),
        ("lapsed", None, "lapsed: Abbey, Thu 15 May: 3 beds by 10:00 (Ann has no address)"),
        ("given_up", "mail", "given up by mail: Abbey, Thu 15 May: 3 beds by 10:00 (Ann has no address)"),
    ],
)  # fmt: skip
def test_what_became_of_a_reminder(state: str, channel: str | None, words: str) -> None:
    assert sent_words(WAITS._replace(state=state, channel=channel)) == words  # type: ignore[arg-type]


def test_a_waker_that_is_paused_does_nothing(new_book: Path, clock: Clock) -> None:
    with waking(new_book, clock) as waker:
        assert isinstance(waker, Woken)
        assert waker.counts() == [0, 0, 0, 0]
