"""A real mail server in a process of its own: it writes down what it took, and refuses when it is told to."""

import asyncio
import mmap
import os
import signal
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from aiosmtpd.smtp import SMTP, Envelope

from soakbook.reminders.ways import Addresses, MailServer, Reached
from tests.reminders.year.garden import NAMES
from tests.reminders.year.troubles import OFFICE_KINDS, Kind

HOST = "127.0.0.1"
HANGS_S = 0.05
"""So long it keeps silent before it cuts the line."""
JUDGES_S = 0.01
"""Between what it writes down and its yes: time enough to be killed in, or for another program to come."""


class Office:
    """The server, while its `with` block lasts; how it is minded is set from outside."""

    def __init__(self, taken: Path) -> None:
        self._taken = taken
        self._mind = mmap.mmap(-1, 1)
        self._pid, self._master = 0, os.getpid()
        self.port = 0

    def __enter__(self) -> Self:
        reading, writing = os.pipe()
        self._pid = os.fork()
        if not self._pid:
            try:
                os.close(reading)
                asyncio.run(self._serve(writing))
            finally:
                os._exit(1)
        os.close(writing)
        self.port = int(os.read(reading, 16))
        os.close(reading)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        os.kill(self._pid, signal.SIGKILL)
        os.waitpid(self._pid, 0)

    def mind(self, kind: Kind | None) -> None:
        """From now on it takes mail, or does not in one of three ways."""
        self._mind[0] = 1 + OFFICE_KINDS.index(kind) if kind else 0

    def addresses(self) -> Addresses:
        """What soakbook is told of it, and of the people."""
        server = MailServer(HOST, self.port, "none", "soakbook@garden.example")
        return Addresses(
            server, {name: Reached(f"{uid}@people.example") for uid, name in NAMES.items()}
        )

    async def _serve(self, writing: int) -> None:
        sheet = os.open(self._taken, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
        clerk = _Clerk(self._mind, sheet)
        server = await asyncio.get_running_loop().create_server(
            lambda: SMTP(clerk, hostname="mail.example"), HOST, 0
        )
        os.write(writing, str(server.sockets[0].getsockname()[1]).encode())
        os.close(writing)
        while os.getppid() == self._master:  # it does not outlive who began it
            await asyncio.sleep(1)


class _Clerk:
    """What it says to each step. A message is written down before it is said to be taken."""

    def __init__(self, mind: mmap.mmap, sheet: int) -> None:
        self._mind = mind
        self._sheet = sheet

    async def handle_RCPT(  # noqa: N802
        self, server: Any, _session: Any, envelope: Envelope, address: str, _options: Any
    ) -> str:
        mind = self._mind[0]
        if mind and OFFICE_KINDS[mind - 1] == "hanging":
            await asyncio.sleep(HANGS_S)
            server.transport.abort()
        elif mind:
            refusing = OFFICE_KINDS[mind - 1] == "refusing"
            return "550 no such person here" if refusing else "451 come again later"
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, _server: Any, _session: Any, envelope: Envelope) -> str:  # noqa: N802
        letter = envelope.content or b""
        text = letter if isinstance(letter, bytes) else letter.encode()
        (named,) = [line for line in text.splitlines() if line.lower().startswith(b"message-id:")]
        identifier = named.partition(b"<")[2].partition(b"@")[0]
        os.write(self._sheet, identifier + b"\n")
        await asyncio.sleep(JUDGES_S)
        return "250 OK queued"
