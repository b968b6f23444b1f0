"""What can be wrong with the file of kept answers; none of it may cost the gardener an answer."""

import os
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, closing, contextmanager
from pathlib import Path
from time import monotonic
from typing import Any

from soakbook.weather.session import Answer, Outside
from tests.weather.faults import (
    AGENT,
    LATER,
    NOW,
    PATIENCE_S,
    RAIN,
    Came,
    Case,
    has_rain,
    kept,
    outdated,
    request,
)
from tests.weather.server import Reply, Server, reply_json

FILE = "answers.sqlite"
NOBODY = 65534
ROOT = Path(__file__).parents[2]


def garbage(folder: Path) -> None:
    """No database at all."""
    (folder / FILE).write_bytes(b"no database " * 1000)


def half(folder: Path) -> None:
    """A copy that broke off."""
    content = (folder / FILE).read_bytes()
    (folder / FILE).write_bytes(content[: len(content) // 2])


def a_directory(folder: Path) -> None:
    """A folder of the file's name, with something in it."""
    (folder / FILE).unlink()
    (folder / FILE / "inside").mkdir(parents=True)


def read_only(folder: Path) -> None:
    """Ours, but not to be written."""
    (folder / FILE).chmod(0o444)


def readable_rows_lost(folder: Path) -> None:
    """Rows that say nothing."""
    with closing(sqlite3.connect(folder / FILE)) as rows, rows:
        rows.execute("UPDATE responses SET value = 'no answer'")


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Another program has the file and does not let go."""
    with closing(sqlite3.connect(folder / FILE, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        yield
        other.execute("ROLLBACK")


@contextmanager
def not_ours(folder: Path) -> Iterator[None]:
    """A folder that may only be read; root, who may write everywhere, is nobody meanwhile."""
    folder.chmod(0o555)
    for each in folder.iterdir():
        each.chmod(0o444)
    root = os.geteuid() == 0
    if root:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)
        folder.chmod(0o755)


def before(spoil: Callable[[Path], None]) -> Callable[[Path], Came]:
    """Spoil the file between two runs."""

    def play(folder: Path) -> Came:
        with Server() as server:
            server.script["/weather"] = outdated()
            with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
                outside.get_json(request(server.url()), has_rain, NOW)
            spoil(folder)
            return asked_anew(folder, server)

    return play


def while_held(
    hold: Callable[[Path], AbstractContextManager[None]], *, with_file: bool = True
) -> Callable[[Path], Came]:
    """Ask while the file cannot be had."""

    def play(_: Path) -> Came:
        with tempfile.TemporaryDirectory() as name, Server() as server:
            folder = Path(name)
            server.script["/weather"] = outdated()
            if with_file:
                with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
                    outside.get_json(request(server.url()), has_rain, NOW)
            with hold(folder):
                return asked_anew(folder, server, again=False)

    return play


def in_the_middle(hold: Callable[[Path], AbstractContextManager[None]]) -> Callable[[Path], Came]:
    """The file is spoiled or taken after the first question of a run."""

    def play(folder: Path) -> Came:
        with Server() as server, Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
            server.script["/weather"] = outdated()
            outside.get_json(request(server.url()), has_rain, NOW)
            with hold(folder):
                started = monotonic()
                answer = outside.get_json(request(server.url()), has_rain, LATER)
                seconds = monotonic() - started
            return came_of(answer, outside, seconds)

    return play


@contextmanager
def overwritten(folder: Path) -> Iterator[None]:
    """Another program writes over an open file and what lies beside it."""
    for path in folder.iterdir():
        path.write_bytes(b"\xff" * path.stat().st_size)
    yield


def nothing_old_when_down(folder: Path) -> Came:
    """A broken file on the day on which the service is down as well."""
    garbage(folder)
    with Server() as server, Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
        server.script["/weather"] = [Reply(503)] * 3 + [reply_json(RAIN)]
        started = monotonic()
        try:
            outside.get_json(request(server.url()), has_rain, NOW)
        except Exception as error:
            seconds = monotonic() - started
            kind, say = getattr(error, "kind", type(error).__name__), str(error)
            after = outside.get_json(request(server.url()), has_rain, LATER)
            wrong = () if after.said == RAIN else ("not well afterwards",)
            return Came(kind, say, None, seconds, wrong)
    return Came("", "answered", None, 0.0)


_ANOTHER_PROCESS = """
import sys
from pathlib import Path
from tests.weather.faults import AGENT, LATER, has_rain, request
from soakbook.weather.session import Outside

with Outside(Path(sys.argv[1]), AGENT) as outside:
    for turn in range(2):
        for number in range(15):
            answer = outside.get_json(request(sys.argv[2], place=str(number)), has_rain, LATER)
            assert not answer.stale, answer
    assert outside.findings == (), outside.findings
"""


def two_processes(folder: Path) -> Came:
    """Two programs at one file, from the making of it on: thirty questions each, fifteen answers to keep."""
    with Server() as server:
        server.script["/weather"] = reply_json(RAIN)
        started = monotonic()
        command = [sys.executable, "-c", _ANOTHER_PROCESS, str(folder), server.url()]
        both = [
            subprocess.Popen(
                command, stderr=subprocess.PIPE, text=True, cwd=ROOT, env=_with_source()
            )
            for _ in range(2)
        ]
        faults = [one.communicate(timeout=30)[1] for one in both]
        seconds = monotonic() - started
        asked = len(server.seen)
    wrong = [fault for fault in faults if fault]
    wrong += [f"asked {asked} times"] if not 15 <= asked <= 30 else []
    return Came("", f"answered, by {asked} questions", None, seconds, tuple(wrong))


def _with_source() -> dict[str, str]:
    return os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT / "src"), str(ROOT)])}


def asked_anew(folder: Path, server: Server, *, again: bool = True) -> Came:
    """Ask in a run of its own; and whether a run after that finds the new answer kept."""
    server.script["/weather"] = reply_json(RAIN)
    with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
        started = monotonic()
        answer = outside.get_json(request(server.url()), has_rain, NOW)
        seconds = monotonic() - started
        came = came_of(answer, outside, seconds)
    if again and not kept(folder, server.url()):
        came = came._replace(wrong=(*came.wrong, "nothing is kept afterwards"))
    return came


def came_of(answer: Answer[Any], outside: Outside, seconds: float) -> Came:
    """What was given, and what was found of the file."""
    wrong = () if answer.said == RAIN and not answer.stale else (f"came as {answer}",)
    return Came("", "; ".join(("answered", *outside.findings)), None, seconds, wrong)


KEPT_ANEW = r"kept anew; the old file is \S+answers\.sqlite\.broken"
NOT_KEPT = r"not kept past this run"

FILE_CASES: list[Case] = [
    Case("file: no database", before(garbage), "", KEPT_ANEW, None),
    Case("file: cut in half", before(half), "", KEPT_ANEW, None),
    Case("file: a directory instead", before(a_directory), "", KEPT_ANEW, None),
    Case("file: read-only, ours", before(read_only), "", "^answered$", None),
    Case("file: rows unreadable", before(readable_rows_lost), "", "^answered$", None),
    Case("file: locked", while_held(locked), "", NOT_KEPT, None),
    Case("file: locked in the middle", in_the_middle(locked), "", NOT_KEPT, None),
    Case("file: spoiled in the middle", in_the_middle(overwritten), "", "^answered", None),
    Case("file: two processes", two_processes, "", "by [123][0-9] questions", None, most_s=20),
    Case("file broken, service down", nothing_old_when_down, "down", "status 503", None),
]

if os.name == "posix":  # modes of folders are
    FILE_CASES += [
        Case("file: read-only, not ours", while_held(not_ours), "", "^answered", None),
        Case(
            "file: none, folder read-only",
            while_held(not_ours, with_file=False),
            "",
            NOT_KEPT,
            None,
        ),
    ]
