"""A real server on this machine that answers as it is told to, well or badly.

`Reply` says what one path answers; `Server` keeps what it was asked. HTTP/1.1 with connections kept alive, as the
services have it; with `secure` it speaks TLS by the certificate beside this file, which is worth nothing elsewhere.
"""

import json
import socket
import ssl
import struct
import threading
from collections.abc import Mapping, Sequence
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from types import TracebackType
from typing import Any, Literal, NamedTuple, Self, cast
from urllib.parse import parse_qsl, urlsplit

CERTIFICATE = Path(__file__).with_name("localhost.pem")
PIECE = 1 << 16

Fault = Literal["", "hang", "drip", "drip headers", "cut off", "reset", "broken chunk"]


class Reply(NamedTuple):
    """One answer: its status, headers and body, and what goes wrong on the line while it is given."""

    status: int = 200
    body: bytes = b""
    kind: str = "application/json"
    headers: Mapping[str, str] = {}
    fault: Fault = ""
    after_s: float = 0.0
    """How long the service thinks about it."""


def reply_json(body: Any, status: int = 200, **headers: str) -> Reply:
    """An answer in JSON; `last_modified` stands for Last-Modified, and so on."""
    return Reply(status, json.dumps(body).encode(), headers=_spelled(headers))


def refused_address() -> str:
    """An address on this machine at which nobody listens."""
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return f"http://127.0.0.1:{door.getsockname()[1]}/weather"


class Seen(NamedTuple):
    """What the server was asked."""

    path: str
    params: list[tuple[str, str]]
    headers: dict[str, str]  # names in small letters


class Server:
    """Answers on 127.0.0.1 until it is left. `script[path]` is one reply, or several in turn, the last for ever."""

    def __init__(self, *, secure: bool = False) -> None:
        self.script: dict[str, Reply | Sequence[Reply]] = {}
        self.seen: list[Seen] = []
        self.most_at_once = 0
        self.stopping = threading.Event()
        self._at_once = 0
        self._lock = threading.Lock()
        self._http = _Http(("127.0.0.1", 0), _Handler)
        self._http.scene = self
        self._scheme = "https" if secure else "http"
        if secure:
            context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
            context.load_cert_chain(CERTIFICATE)
            self._http.socket = context.wrap_socket(self._http.socket, server_side=True)
        self._thread = threading.Thread(target=self._http.serve_forever, args=(0.02,), daemon=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        self.stopping.set()
        self._http.shutdown()
        self._http.server_close()
        self._thread.join()

    def url(self, path: str = "/weather") -> str:
        """Address of a path."""
        return f"{self._scheme}://127.0.0.1:{self._http.server_address[1]}{path}"

    def told(self, seen: Seen) -> Reply:
        """What to answer now, the question noted."""
        with self._lock:
            self.seen.append(seen)
            script = self.script.get(seen.path, Reply(404, b"{}"))
            if isinstance(script, Reply):
                return script
            turn = sum(one.path == seen.path for one in self.seen) - 1
            return script[min(turn, len(script) - 1)]

    def counted(self, change: int) -> None:
        """Count those who are answered at the same time."""
        with self._lock:
            self._at_once += change
            self.most_at_once = max(self.most_at_once, self._at_once)


class _Http(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False
    scene: Server

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Nothing: that the other side has had enough is what the faults are for."""


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True

    def do_GET(self) -> None:
        scene = cast("_Http", self.server).scene
        asked = urlsplit(self.path)
        headers = {name.lower(): value for name, value in self.headers.items()}
        reply = scene.told(Seen(asked.path, parse_qsl(asked.query), headers))
        scene.counted(1)
        try:
            scene.stopping.wait(reply.after_s)
            self._answer(reply, scene.stopping)
        finally:
            scene.counted(-1)

    def _answer(self, reply: Reply, stopping: threading.Event) -> None:
        if reply.fault == "hang":
            stopping.wait(20)
            self.close_connection = True
            return
        if reply.fault == "reset":
            self.connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            self.connection.close()
            self.close_connection = True
            return
        if reply.fault == "drip headers":
            self._drip(b"HTTP/1.1 200 OK\r\nX-Long: " + b"x" * 1000, stopping)
            return
        self.send_response(reply.status)
        for name, value in reply.headers.items():
            self.send_header(name, value)
        bodiless = reply.status in (204, 304)  # a body would be taken for the next answer
        if reply.kind and not bodiless:
            self.send_header("Content-Type", reply.kind)
        if reply.fault == "broken chunk":
            self.send_header("Transfer-Encoding", "chunked")
            self.end_headers()
            self.wfile.write(b"%x\r\n" % len(reply.body) + reply.body[: len(reply.body) // 2])
            self._hang_up()
            return
        if not bodiless:
            self.send_header("Content-Length", str(len(reply.body)))
        self.end_headers()
        if reply.fault == "drip":
            self._drip(reply.body, stopping)
        elif reply.fault == "cut off":
            self.wfile.write(reply.body[: len(reply.body) // 2])
            self._hang_up()
        elif not bodiless:
            for start in range(0, len(reply.body), PIECE):
                self.wfile.write(reply.body[start : start + PIECE])

    def _drip(self, content: bytes, stopping: threading.Event) -> None:
        for place in range(len(content)):
            self.wfile.write(content[place : place + 1])
            if stopping.wait(0.05):
                break
        self.close_connection = True

    def _hang_up(self) -> None:
        self.wfile.flush()
        self.connection.shutdown(socket.SHUT_RDWR)
        self.close_connection = True

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002  # the name it has there
        """Nothing on the screen."""


def _spelled(headers: Mapping[str, str]) -> dict[str, str]:
    return {name.replace("_", "-").title(): value for name, value in headers.items()}
