"""The program under trial: it wakes, looks, sends, as it is bidden by its parent; and dies where it is told to.

A wake-up is what `soakbook remind` does at one: `look`, then `send_due`, by real mail. The points of death are put in
from outside; the code under trial knows nothing of them.
"""

import gc
import json
import os
import signal
import traceback
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, Literal, NamedTuple, NoReturn
from unittest.mock import patch

from soakbook.garden.reminding import Channel, Notice
from soakbook.reminders import looking, sending
from soakbook.reminders.channels.giving import give
from soakbook.reminders.looking import look
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.sending import send_due
from soakbook.reminders.ways import Addresses
from tests.reminders.year.sights import Sights, as_it_was

Point = Literal[
    "before the outbox's commit",
    "after it, before sending",
    "after the claim",
    "after the server's yes, before the mark",
    "after the mark, before the next",
]
DECIDING: tuple[Point, ...] = ("before the outbox's commit", "after it, before sending")
SENDING: tuple[Point, ...] = (
    "after the claim",
    "after the server's yes, before the mark",
    "after the mark, before the next",
)


END = "end\n"
"""Bids it end: that a pipe is closed it would not see, for its fellow has a copy of it."""


class Bid(NamedTuple):
    """One wake-up: at which moment by the program's own clock, and where it is to die if it comes there."""

    moment: float  # seconds since 1970
    dies_at: tuple[Point, ...] = ()


class Report(NamedTuple):
    """What a program says while it works, in the order of doing."""

    did: Literal["gives", "marks", "dies", "woke"]
    of: str
    """gives, marks: which reminder; dies: at which point; woke: its size in memory [kB]."""


class Worker:
    """One forked program, and the pipes to it."""

    def __init__(self, path: Path, sights: Sights, addresses: Addresses) -> None:
        bids, reports = os.pipe(), os.pipe()
        self.pid = os.fork()
        if not self.pid:
            try:
                gc.freeze()  # what the parent knows is not looked through for garbage
                os.close(bids[1])
                os.close(reports[0])
                _Program(path, sights, addresses, reports[1]).run(bids[0])
            except BaseException:
                traceback.print_exc()
                os._exit(1)
            os._exit(0)
        os.close(bids[0])
        os.close(reports[1])
        self._bids, self.reports = bids[1], reports[0]
        self._said = b""
        self.unmarked = ""
        """The reminder that it is giving to the channel, until it is marked."""
        self.is_awake = False

    def bid(self, bid: Bid) -> None:
        """Let it wake up."""
        self.is_awake = True
        os.write(self._bids, json.dumps(bid).encode() + b"\n")

    def heard(self) -> list[Report] | None:
        """What it has said since; None once it is dead and all has been heard."""
        part = os.read(self.reports, 65_536)
        if not part:
            return None
        *lines, self._said = (self._said + part).split(b"\n")
        found = [Report(*json.loads(line)) for line in lines]
        for one in found:
            if one.did == "gives":
                self.unmarked = one.of
            if one.did == "marks":
                self.unmarked = ""
            if one.did == "woke":
                self.is_awake = False
        return found

    def kill(self) -> None:
        """End it as nothing can keep it from."""
        os.kill(self.pid, signal.SIGKILL)

    def end(self) -> None:
        """Let it end as it should."""
        os.write(self._bids, END.encode())

    def buried(self) -> bool:
        """Wait for its end; whether it was killed."""
        os.close(self._bids)
        os.close(self.reports)
        _, status = os.waitpid(self.pid, 0)
        if not os.WIFSIGNALED(status) and status:
            raise RuntimeError(f"a program ended otherwise than it should: {status}")
        return os.WIFSIGNALED(status)


class _Program:
    """The child's own side."""

    def __init__(self, path: Path, sights: Sights, addresses: Addresses, pipe: int) -> None:
        self._path = path
        self._sights = sights
        self._addresses = addresses
        self._pipe = pipe
        self._moment = datetime(1970, 1, 1, tzinfo=UTC)
        self._dies_at: tuple[Point, ...] = ()

    def run(self, bids: int) -> None:
        """Wake up at every bid until the end is bidden."""
        with self._trapped(), os.fdopen(bids) as lines:
            for line in lines:
                if line == END:
                    return
                moment, dies_at = json.loads(line)
                self._moment = datetime.fromtimestamp(moment, UTC)
                self._dies_at = tuple(dies_at)
                self._wake()

    def _wake(self) -> None:
        found = look(self._path, now=self._clock(), sight_at=self._sights)
        if found.decided:
            self._pass("after it, before sending")
        send_due(self._path, self._clock, self._give, f"program {os.getpid()}")
        self._say("woke", size_kb())

    def _clock(self) -> datetime:
        """It goes on a little at every look."""
        self._moment += timedelta(milliseconds=100)
        return self._moment

    def _give(self, message: Message, wanted: Channel | None) -> tuple[Channel | None, Outcome]:
        self._say("gives", message.identifier)
        channel, outcome = give(message, wanted, self._addresses)
        if outcome.came == "sent":
            self._pass("after the server's yes, before the mark")
        return channel, outcome

    @contextmanager
    def _trapped(self) -> Iterator[None]:
        """Every point of death is laid; the book is read as it was at the time."""

        def added(notices: tuple[Notice, ...]) -> None:
            if notices:
                self._pass("before the outbox's commit")

        def claimed(notice: Notice | None) -> None:
            if notice:
                self._pass("after the claim")

        def marked(uid: str) -> None:
            self._say("marks", uid)
            self._pass("after the mark, before the next")

        with ExitStack() as stack:
            for module, name, then in (
                (looking, "add_notices", lambda _, args: added(args[1])),
                (sending, "claim", lambda found, _: claimed(found)),
                (sending, "settle", lambda _, args: marked(args[1].uid)),
                (sending, "put_off", lambda _, args: self._say("marks", args[1].uid)),
            ):
                stack.enter_context(
                    patch.object(module, name, _followed(getattr(module, name), then))
                )
            stack.enter_context(patch.object(sending, "read_pages", as_it_was))
            yield

    def _pass(self, point: Point) -> None:
        if point in self._dies_at:
            self._say("dies", point)
            die()

    def _say(self, did: str, of: object) -> None:
        os.write(self._pipe, json.dumps((did, str(of))).encode() + b"\n")


def die() -> NoReturn:
    """Kill this program, as nothing can keep it from."""
    os.kill(os.getpid(), signal.SIGKILL)
    raise RuntimeError("a killed program goes on")


def _followed(
    work: Callable[..., Any], then: Callable[[Any, tuple[Any, ...]], None]
) -> Callable[..., Any]:
    """The same work, and something after it."""

    def both(*args: Any, **more: Any) -> Any:
        found = work(*args, **more)
        then(found, args)
        return found

    return both


def size_kb() -> int:
    """What this process holds in memory now; 0 where the system does not say."""
    try:
        pages = Path("/proc/self/statm").read_text().split()[1]
    except OSError:
        return 0
    return int(pages) * os.sysconf("SC_PAGE_SIZE") // 1024
