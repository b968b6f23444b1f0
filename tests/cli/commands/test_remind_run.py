"""`remind run` as it runs on a small computer: real processes, a real mail server, the real clock."""

import os
import random
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from email import message_from_bytes
from pathlib import Path
from queue import SimpleQueue
from typing import Any

import pytest

from soakbook.cli.main import main
from soakbook.garden.reminding import Notice
from soakbook.reminders import errands, waking
from soakbook.reminders.addresses import keep_person, keep_server
from soakbook.services import books, people
from soakbook.store.book import open_book
from soakbook.store.outbox import CLAIM, add_notices, read_notices
from tests.reminders.channels.mail_servers import SENDER, Office, running

pytestmark = pytest.mark.skipif(os.name == "nt", reason="no program is told to end there")

ANN = "ann@example.org"
PATIENCE_S = 20
"""For what takes two seconds on a computer that has nothing else to do."""


class Post(Office):
    """A mail server of which one can wait for the next letter."""

    def __init__(self) -> None:
        super().__init__()
        self.letters: SimpleQueue[str] = SimpleQueue()

    async def handle_DATA(self, _s: Any, _c: Any, envelope: Any) -> str:  # noqa: N802
        letter = message_from_bytes(envelope.content)
        self.letters.put(letter["Message-ID"].strip("<>").partition("@")[0])
        return "250 OK"

    def next_letters(self, count: int) -> list[str]:
        """The identifiers of so many letters, waited for."""
        return [self.letters.get(timeout=PATIENCE_S) for _ in range(count)]

    def other_letters(self) -> list[str]:
        """The identifiers of those that have come besides."""
        return [self.letters.get() for _ in range(self.letters.qsize())]


@pytest.fixture
def post() -> Iterator[Post]:
    """A mail server that takes all, for Ann, who has an address there."""
    post = Post()
    with running(post, "none", None) as port:
        keep_server(at=f"127.0.0.1:{port}", security="none", sender=SENDER)
        keep_person("Ann", mail=ANN)
        yield post


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A garden with Ann in it."""
    path, now = tmp_path / "abbey.book", datetime.now(UTC)
    books.new(
        path, now=now, name="The Abbey", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone="Europe/London",
    )  # fmt: skip
    people.person(path, "Ann", now=now)
    return path


def put_due(path: Path, count: int) -> set[str]:
    """Put so many reminders for Ann into the outbox that are due now; their identifiers."""
    now = datetime.now(UTC)
    uids = {f"{n:032x}" for n in range(count)}
    with open_book(path) as book, book.writing():
        (ann,) = book.connection.execute("SELECT uid FROM person").fetchone()
        add_notices(
            book,
            (
                Notice(
                    uid=uid, what="rule", whom=ann, about=uid, for_day=now.date(), zone="UTC",
                    title=f"Abbey: hoses barred ({uid[-3:]})", body="Your text.", beds=(),
                    due_at=now, late_from=now + timedelta(days=1),
                    not_after=now + timedelta(days=2), state="due", settled_at=None,
                )
                for uid in sorted(uids)
            ),
        )  # fmt: skip
        book.connection.execute(  # at any hour at which this test is run
            "INSERT INTO reminder (uid, wanted, quiet_from, quiet_until) VALUES ('rule', 1, '00:00', '00:00')"
        )
    return uids


@contextmanager
def running_on(path: Path) -> Iterator["subprocess.Popen[str]"]:
    """`remind run` on a book, while the block lasts at the longest."""
    words = [sys.executable, "-m", "soakbook", "remind", "run", "--offline", "--book", str(path)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as one:
        try:
            yield one
        finally:
            one.kill()


def ended(process: "subprocess.Popen[str]", by: signal.Signals) -> tuple[int, str, str]:
    """Status, output and error output of a process that was told to end."""
    process.send_signal(by)
    out, err = process.communicate(timeout=PATIENCE_S)
    return process.returncode, out, err


def states(path: Path) -> dict[str, str]:
    """What became of each reminder."""
    with open_book(path, read_only=True) as book:
        return {one.uid: one.state for one in read_notices(book)}


def test_what_is_due_is_sent_at_the_start_and_it_ends_when_told(book: Path, post: Post) -> None:
    (uid,) = put_due(book, 1)
    with running_on(book) as process:
        assert process.stdout is not None
        assert process.stdout.readline().startswith("Awake for The Abbey; weather at minute ")
        assert post.next_letters(1) == [uid]
        assert process.stdout.readline() == "sent by mail: Abbey: hoses barred (000)\n"
        began = datetime.now(UTC)
        assert ended(process, signal.SIGTERM) == (0, "Stopped.\n", "")
    assert datetime.now(UTC) - began < timedelta(seconds=5)
    assert states(book) == {uid: "sent"}


def test_killed_while_it_sends_and_two_at_once_afterwards_lose_and_double_nothing(
    book: Path, post: Post
) -> None:
    """What it was sending when it was killed is claimed yet: it goes when the claim has run out."""
    uids = put_due(book, 20)
    with running_on(book) as process:
        came = post.next_letters(random.randint(1, 15))
        assert ended(process, signal.SIGKILL)[0] == -signal.SIGKILL
    marked = sum(state == "sent" for state in states(book).values())
    came += post.other_letters()
    assert len(came) - marked in (0, 1)  # of one the server's yes may not have been marked
    with running_on(book) as one, running_on(book) as other:
        for process in (one, other):
            assert process.stdout is not None
            assert process.stdout.readline().startswith("Awake ")
        came += post.next_letters(len(uids) - marked - 1)
        ends = [ended(one, signal.SIGTERM), ended(other, signal.SIGINT)]
    came += post.other_letters()
    for status, out, err in ends:
        *sent, last = out.splitlines()
        assert (status, err, last) == (0, "", "Stopped.")
        assert [line for line in sent if not line.startswith("sent by mail: ")] == []
    errands.send(book, lambda: datetime.now(UTC) + CLAIM)
    came += post.other_letters()
    assert set(came) == uids
    assert len(came) <= len(uids) + 1
    assert set(states(book).values()) == {"sent"}


def test_garbage_is_collected_in_it(book: Path) -> None:
    """What other commands leave off: it is looked at in a process of its own."""
    code = (
        "import gc, sys; from soakbook.reminders.waking import Waker\n"
        "Waker.start = lambda self: None\n"
        "Waker.wait = lambda self: print('collects:', gc.isenabled())\n"
        f"sys.argv[1:] = ['remind', 'run', '--book', {str(book)!r}]\n"
        "from soakbook.cli.start import run; run()"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[1:] == ["collects: True", "Stopped."]


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """What the waker is made of; it does nothing. Nor are this process's signals touched."""
    found: dict[str, Any] = {}

    class Still:
        garden_name, minute = "The Abbey", 7

        def __init__(self, path: Path, **more: Any) -> None:
            found.update(more, path=path)

        def start(self) -> None:
            found["started"] = True

        def wait(self) -> None:
            assert found["started"]

    monkeypatch.setattr(waking, "Waker", Still)
    monkeypatch.setattr("signal.signal", lambda *_: None)
    return found


def test_the_waker_is_made_of_what_was_typed(
    made: dict[str, Any], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["--book", str(tmp_path / "a.book"), "--calendar", "~/a.ics"]
    assert main(["remind", "run", *words]) == 0
    assert capsys.readouterr().out == "Awake for The Abbey; weather at minute 07.\nStopped.\n"
    assert (made["path"], made["calendar"]) == (tmp_path / "a.book", Path.home() / "a.ics")
    assert made["offline"] is True  # SOAKBOOK_OFFLINE is set in tests
    clock: Callable[[], datetime] = made["clock"]
    assert abs(datetime.now(UTC) - clock()) < timedelta(minutes=1)


def test_weather_is_asked_for_unless_it_is_said(
    made: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("SOAKBOOK_OFFLINE")
    assert main(["remind", "run", "--book", str(tmp_path / "a.book")]) == 0
    assert (made["offline"], made["calendar"]) == (False, None)


def test_without_a_book_it_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["remind", "run", "--book", str(tmp_path / "none.book")]) == 2
    said = capsys.readouterr()
    assert (said.out, "none.book" in said.err) == ("", True)
