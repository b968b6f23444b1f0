"""Jobs run in threads of the scheduler's, each opens the book for itself: how they end, and none hinders another."""

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Barrier, Event, Thread, current_thread
from typing import Any

import pytest

from soakbook.garden.reminding import Channel, Notice
from soakbook.reminders import errands, waking
from soakbook.reminders.addresses import keep_person
from soakbook.reminders.looking import Looked, look
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.waking import Waker
from soakbook.services import people
from soakbook.store.book import open_book
from soakbook.store.outbox import Decided, add_notices, read_decided, read_notices
from tests.reminders.garden_days import SET_UP
from tests.reminders.turned_clock import Clock, book_in, incidents

PATIENCE_S = 20


def outbox(path: Path) -> list[Notice]:
    """All of it."""
    with open_book(path, read_only=True) as book:
        return list(read_notices(book))


def in_a_crowd(work: Callable[[int], Any], heads: int) -> list[Any]:
    """What so many threads come to that begin at one moment."""
    begin = Barrier(heads)

    def at_once(n: int) -> Any:
        begin.wait(PATIENCE_S)
        return work(n)

    with ThreadPoolExecutor(heads) as pool:
        return list(pool.map(at_once, range(heads)))


def test_who_looks_in_four_threads_at_once_decides_everything_once(garden: Path) -> None:
    alone = garden.with_name("alone.book")
    alone.write_bytes(garden.read_bytes())
    evening = SET_UP + timedelta(hours=14)
    expected = look(alone, now=evening).decided
    assert len(expected) >= 3
    found = in_a_crowd(lambda _: look(garden, now=evening).decided, 4)
    assert sorted(one for notices in found for one in notices) == sorted(expected)
    assert outbox(garden) == outbox(alone)
    with open_book(garden, read_only=True) as book:
        assert read_decided(book) == Decided(evening, evening)


def test_fetch_decide_and_send_at_once_all_day_double_nothing_and_tell_of_no_trouble(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each hour all four jobs begin at one moment; the same day looked at in one thread is what it is held against."""
    alone = garden.with_name("alone.book")
    alone.write_bytes(garden.read_bytes())
    letters: list[str] = []

    def give(message: Message, *_: Any) -> tuple[Channel, Outcome]:
        letters.append(message.identifier)
        return "mail", Outcome("sent", "250 OK")

    monkeypatch.setattr(errands, "give", give)
    monkeypatch.setattr(errands, "fetch", lambda *_: ())
    for name in ("Ann", "Tom", "Zoe"):
        keep_person(name, mail="ann@example.org")
    clock, said, broke = Clock(SET_UP), list[str](), list[BaseException]()
    waker = Waker(garden, clock=clock, say=said.append)

    def woken(n: int) -> None:
        try:
            (waker.fetch, waker.decide, waker.send, waker.tidy)[n]()
        except BaseException as error:
            broke.append(error)

    for _ in range(16):
        clock.now += timedelta(hours=1)
        in_a_crowd(woken, 4)
        look(alone, now=clock.now)
    waker.send()
    assert broke == []
    assert {(one.uid, one.title, one.due_at) for one in outbox(garden)} == {
        (one.uid, one.title, one.due_at) for one in outbox(alone)
    }
    sent = [one.uid for one in outbox(garden) if one.state == "sent"]
    assert len(sent) >= 3
    assert sorted(letters) == sorted(sent)
    assert [line for line in said if not line.startswith("sent by mail")] == []
    assert incidents(garden) == []


def test_who_finds_another_at_it_keeps_no_thread_waiting(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    began, may_end, looks = Event(), Event(), list[str]()

    def slow(*_: Any) -> Looked:
        looks.append(current_thread().name)
        began.set()
        assert may_end.wait(PATIENCE_S)
        return Looked(())

    monkeypatch.setattr(errands, "decide", slow)
    waker = Waker(garden, clock=Clock(SET_UP), say=print)
    first = Thread(target=waker.decide, name="first")
    first.start()
    assert began.wait(PATIENCE_S)
    waker.decide()
    may_end.set()
    first.join()
    waker.decide()
    assert looks == ["first", current_thread().name]


class Doorway:
    """A channel that takes a letter and says nothing until it is let."""

    def __init__(self) -> None:
        self.taken: list[str] = []
        self.has_one, self.may_go = Event(), Event()

    def give(self, message: Message, *_: Any) -> tuple[Channel, Outcome]:
        self.taken.append(message.title)
        self.has_one.set()
        assert self.may_go.wait(PATIENCE_S)
        return "mail", Outcome("sent", "250 OK")


@pytest.fixture
def doorway(monkeypatch: pytest.MonkeyPatch) -> Iterator[Doorway]:
    found = Doorway()
    monkeypatch.setattr(errands, "give", found.give)
    yield found
    found.may_go.set()


@pytest.fixture
def with_three(tmp_path: Path) -> Path:
    """A book with three reminders that are due now."""
    path, now = book_in(tmp_path), datetime.now(UTC)
    people.person(path, "Ann", now=now)
    keep_person("Ann", mail="ann@example.org")
    with open_book(path) as book:
        (ann,) = book.connection.execute("SELECT uid FROM person").fetchone()
        book.connection.execute(
            "INSERT INTO reminder (uid, wanted, quiet_from, quiet_until) VALUES ('rule', 1, '00:00', '00:00')"
        )
        add_notices(
            book,
            [
                Notice(
                    uid=str(n), what="rule", whom=ann, about=str(n), for_day=now.date(), zone="UTC",
                    title=f"Abbey {n}", body="Your text.", beds=(), due_at=now,
                    late_from=now + timedelta(days=1), not_after=now + timedelta(days=1),
                    state="due", settled_at=None,
                )
                for n in range(3)
            ],
        )  # fmt: skip
    return path


def test_whoever_is_told_to_end_waits_for_the_letter_in_hand_and_sends_no_other(
    with_three: Path, doorway: Doorway, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The real scheduler by the real clock; what is fetched for hours is not waited for."""
    fetched = Event()
    monkeypatch.setattr(errands, "fetch", lambda *_: (fetched.wait(PATIENCE_S), ())[1])
    monkeypatch.setattr(waking, "SEND_FIRST_AFTER", timedelta(0))
    waker = Waker(with_three, clock=lambda: datetime.now(UTC), say=lambda _: None)
    waker.start()
    waiting = Thread(target=waker.wait)
    waiting.start()
    try:
        assert doorway.has_one.wait(PATIENCE_S)
        waker.stop()
        waiting.join(0.1)
        assert waiting.is_alive()
        doorway.may_go.set()
        waiting.join(PATIENCE_S)
        assert not waiting.is_alive()
    finally:
        waker.stop()
        fetched.set()
    assert doorway.taken == ["Abbey 0"]
    assert [one.state for one in outbox(with_three)] == ["sent", "due", "due"]
