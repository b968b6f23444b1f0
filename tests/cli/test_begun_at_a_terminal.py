"""A garden set up at a terminal of its own: what keys do there, and lines pasted at once."""

import os
import select
import subprocess
import sys
import time
from pathlib import Path
from typing import NamedTuple

import pytest

from soakbook.cli.exits import BROKEN_OFF
from tests.cli.test_asking import AT_HALF_PAST_SIX
from tests.services.looking import pages_of

pytestmark = pytest.mark.skipif(
    sys.platform == "win32", reason="pseudo-terminals are a thing of POSIX"
)

WITHIN_S = 60.0
CTRL_C, CTRL_D = "\x03", "\x04"
OWN_TERMINAL = (
    "import fcntl, signal, termios; fcntl.ioctl(0, termios.TIOCSCTTY, 0); "
    "signal.signal(signal.SIGINT, signal.default_int_handler)"
)
"""Lets Ctrl-C of the terminal reach the program, also where the tests run in a shell's background, which ignores it."""
GARDEN = [
    "The Corrody\n", "52.3 N 0.4 W\n", "62\n", "Europe/London\n", "\n", "\n",
    "A 43\n", "\n", "\n",
    "Chapel Wall, 18 m2, sandy loam, south wall foot, A\n", "\n", "\n",
]  # fmt: skip


class Shown(NamedTuple):
    """How the program ended, and what the terminal showed."""

    status: int
    screen: str


def at_a_terminal(path: Path, answers: list[str]) -> Shown:
    """Answer each question of `book new` once it is asked."""
    import pty

    ours, theirs = pty.openpty()
    words = [
        sys.executable,
        "-c",
        OWN_TERMINAL + AT_HALF_PAST_SIX,
        "book",
        "new",
        "--book",
        str(path),
    ]
    with subprocess.Popen(
        words, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True,
    ) as program:  # fmt: skip
        os.close(theirs)
        shown = ""
        for answer in [*answers, None]:
            shown += _until_asked(ours)
            if answer is not None:
                os.write(ours, answer.encode())
        try:
            status = program.wait(timeout=WITHIN_S)
        except subprocess.TimeoutExpired:
            program.kill()  # else it would be waited for
            raise
    os.close(ours)
    return Shown(status, shown)


def _until_asked(terminal: int) -> str:
    """What is shown until a question waits for its answer, or the program has ended."""
    shown = b""
    end = time.monotonic() + WITHIN_S
    while time.monotonic() < end:
        if not select.select([terminal], [], [], 0.1)[0]:
            if shown.endswith(b": "):
                break
            continue
        try:
            more = os.read(terminal, 4096)
        except OSError:  # Linux ends a terminal so when nobody writes to it any more
            break
        if not more:
            break
        shown += more
    return shown.decode()


def test_a_garden_is_set_up_and_its_first_round_shown(tmp_path: Path) -> None:
    pasted = (
        "chapel, climbing rose, 6, 7.5 L pot, 20 mar\n"
        "chapel\tclematis\t5\t3l\t22 mar\n"
        "chapel, lavender, 3, P9\n"
    )
    path = tmp_path / "own.book"
    shown = at_a_terminal(path, [*GARDEN, pasted, "\n", "\n", "\n", "\n"])
    assert shown.status == 0, shown.screen
    assert sorted((one.name, one.count) for one in pages_of(path).plantings) == [
        ("clematis", 5), ("climbing rose", 6), ("lavender", 3),
    ]  # fmt: skip
    assert "Right? [yes]" in shown.screen
    assert "Done: 1 bed, 14 plants." in shown.screen
    assert "THE ROUND" in shown.screen


@pytest.mark.parametrize("key", [CTRL_C, CTRL_D], ids=["interrupted", "end of input"])
def test_whoever_breaks_off_is_told_how_to_go_on(key: str, tmp_path: Path) -> None:
    path = tmp_path / "own.book"
    shown = at_a_terminal(path, [*GARDEN, key])
    assert shown.status == BROKEN_OFF, shown.screen
    assert "What was read back is in the book." in shown.screen
    assert "Traceback" not in shown.screen
    assert [one.key for one in pages_of(path).beds] == ["chapel"]
    early = at_a_terminal(tmp_path / "none.book", [*GARDEN[:3], key])
    assert early.status == BROKEN_OFF
    assert "soakbook book new 'The Corrody' --lat=52.3 --lon=-0.4 --elevation=62" in " ".join(
        early.screen.split()
    )
    assert not (tmp_path / "none.book").exists()
