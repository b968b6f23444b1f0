"""A webhook's end on this machine: a real server of HTTP that answers as a test wants and remembers what it got."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer


class Hook(ThreadingHTTPServer):
    """Answers every question with one status; or drips, or never answers, until it is closed."""

    daemon_threads = True

    def __init__(self, status: int | None, location: str = "", *, drips: bool = False) -> None:
        super().__init__(("127.0.0.1", 0), _Answering)
        self.status = status
        self.location = location
        self.drips = drips
        self.closing = threading.Event()
        self.got: list[tuple[str, str, bytes]] = []

    def address(self, path: str = "/") -> str:
        """As Apprise has it."""
        return f"json://127.0.0.1:{self.server_address[1]}{path}"


class _Answering(BaseHTTPRequestHandler):
    server: Hook

    def do_POST(self) -> None:
        hook = self.server
        body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        hook.got.append((self.command, self.path, body))
        if hook.status is None:
            hook.closing.wait()
            self.close_connection = True
            return
        self.send_response(hook.status)
        if hook.location:
            self.send_header("Location", hook.location)
        self.send_header("Content-Length", "1000" if hook.drips else "0")
        self.end_headers()
        try:
            while hook.drips and not hook.closing.wait(0.01):
                self.wfile.write(b".")
        except OSError:
            self.close_connection = True

    do_GET = do_POST  # noqa: N815

    def log_message(self, *said: object) -> None:
        """Nothing: what a hook hears is in `got`."""


@contextmanager
def open_hook(status: int | None, location: str = "", *, drips: bool = False) -> Iterator[Hook]:
    """A hook for a while."""
    hook = Hook(status, location, drips=drips)
    thread = threading.Thread(target=hook.serve_forever, args=(0.02,), daemon=True)
    thread.start()
    try:
        yield hook
    finally:
        hook.closing.set()
        hook.shutdown()
        hook.server_close()
        thread.join()
