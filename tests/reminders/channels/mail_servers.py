"""Mail servers on this machine: real ones, which say what a test wants, and sockets that speak as none should."""

import socket
import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any, NamedTuple, cast

import trustme
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import AuthResult, Envelope

from soakbook.reminders.ways import MailServer, Security
from tests.reminders.secrets import PASSWORD, USER

if TYPE_CHECKING:
    import asyncio

SENDER = "soakbook@garden.example"
HOST = "127.0.0.1"


class Certified(NamedTuple):
    """A certificate for this machine, and the file of who signed it."""

    context: ssl.SSLContext
    ca_file: str


def certified(folder: str, *names: str) -> Certified:
    """A new authority in a folder, and a server's certificate by it: for this machine, or for other names."""
    authority = trustme.CA()
    path = f"{folder}/home.pem"
    authority.cert_pem.write_to_path(path)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    authority.issue_cert(*(names or (HOST, "localhost"))).configure_cert(context)
    return Certified(context, path)


class Office:
    """What a server does with mail: takes it, unless it has been told what to say to a step."""

    def __init__(self, **says: str) -> None:
        self.says = says
        self.taken: list[Envelope] = []
        self.calls_itself = ""

    async def handle_HELO(self, _s: Any, session: Any, _e: Any, name: str) -> str:  # noqa: N802
        session.host_name = self.calls_itself = name
        return self.says.get("hello", "250 mail.test")

    async def handle_EHLO(  # noqa: N802
        self, _s: Any, session: Any, _e: Any, name: str, answers: list[str]
    ) -> list[str]:
        session.host_name = self.calls_itself = name
        return [self.says["hello"]] if "hello" in self.says else answers

    async def handle_MAIL(self, _s: Any, _c: Any, envelope: Envelope, who: str, _o: Any) -> str:  # noqa: N802
        envelope.mail_from = who
        return self.says.get("sender", "250 OK")

    async def handle_RCPT(self, _s: Any, _c: Any, envelope: Envelope, who: str, _o: Any) -> str:  # noqa: N802
        envelope.rcpt_tos.append(who)
        return self.says.get("recipient", "250 OK")

    async def handle_DATA(self, _s: Any, _c: Any, envelope: Envelope) -> str:  # noqa: N802
        if "message" not in self.says:
            self.taken.append(envelope)
        return self.says.get("message", "250 OK queued as 4711")

    def let_in(self, _s: Any, _c: Any, _e: Any, mechanism: str, login: Any) -> AuthResult:
        if "login" in self.says:
            return AuthResult(success=False, handled=False, message=self.says["login"])
        right = login.login == USER.encode() and login.password == PASSWORD.encode()
        return AuthResult(success=right, handled=right)


class _Running(Controller):
    """A controller at whatever port is free."""

    def _trigger_server(self) -> None:
        self.port = cast("asyncio.Server", self.server).sockets[0].getsockname()[1]
        super()._trigger_server()  # type: ignore[no-untyped-call]


@contextmanager
def running(office: Office, security: Security, of: Certified | None, **more: Any) -> Iterator[int]:
    """Port of a real server, for a while."""
    context = of.context if of else None
    running = _Running(
        office,
        hostname=HOST,
        port=0,
        authenticator=office.let_in,
        ssl_context=context if security == "tls" else None,
        tls_context=context if security == "starttls" else None,
        auth_require_tls=security == "starttls",
        **more,
    )
    running.start()
    try:
        yield running.port
    finally:
        running.stop()


def reached_at(
    port: int, security: Security = "none", ca_file: str = "", *, login: bool = False
) -> MailServer:
    """What soakbook knows of a server on this machine."""
    user, password = (USER, PASSWORD) if login else ("", "")
    return MailServer(HOST, port, security, SENDER, user, password, ca_file)


@contextmanager
def speaking(speech: Callable[[socket.socket], None]) -> Iterator[int]:
    """Port at which one who calls is spoken to so; a line is cut when the speech or the test ends."""
    with socket.create_server((HOST, 0)) as door:
        lines: list[socket.socket] = []

        def answer() -> None:
            with suppress(OSError):
                line, _ = door.accept()
                lines.append(line)
                with line:
                    speech(line)

        thread = threading.Thread(target=answer, daemon=True)
        thread.start()
        try:
            yield door.getsockname()[1]
        finally:
            for one in (door, *lines):
                with suppress(OSError):
                    one.shutdown(socket.SHUT_RDWR)
            thread.join(timeout=2)
            assert not thread.is_alive()


def listen(line: socket.socket) -> None:
    """Hear without a word, for as long as the other side keeps the line."""
    while line.recv(4096):
        pass


def up_to_the_letter(line: socket.socket) -> None:
    """Speak as a mail server until the whole letter is there, and say nothing to it."""
    line.sendall(b"220 mail.test\r\n")
    heard = b""
    while b"\r\n.\r\n" not in heard:
        piece = line.recv(4096)
        if not piece:
            return
        heard += piece
        if piece.startswith(b"DATA"):
            line.sendall(b"354 go on\r\n")
        elif b"DATA" not in heard:
            line.sendall(b"250 OK\r\n")
