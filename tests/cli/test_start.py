"""The first moments of a process, and the last."""

import os
import subprocess
import sys

import pytest

from soakbook.cli.start import run, status_of_command


@pytest.fixture(autouse=True)
def _collecting(monkeypatch: pytest.MonkeyPatch) -> None:
    """The tests' own process goes on collecting garbage."""
    monkeypatch.setattr("gc.disable", lambda: None)


def test_the_status_is_that_of_the_command_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("soakbook.cli.main.main", lambda: 2)
    assert status_of_command() == 2


def test_breaking_off_outside_of_a_command_is_quiet_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken_off() -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr("soakbook.cli.main.main", broken_off)
    assert status_of_command() == 130


def test_nothing_that_takes_time_is_imported_before_breaking_off_is_quiet() -> None:
    code = "import sys; import soakbook.cli.start; print('click' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


def test_a_process_ends_with_the_status_when_all_is_printed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def says_something() -> int:
        print("a word")
        return 2

    class EndedError(Exception):
        pass

    def end(status: int) -> None:
        raise EndedError(status, capsys.readouterr().out)

    monkeypatch.setattr("soakbook.cli.main.main", says_something)
    monkeypatch.setattr("os._exit", end)
    with pytest.raises(EndedError) as ended:
        run()
    assert ended.value.args == (2, "a word\n")


def test_what_is_still_to_be_printed_is_not_lost_at_the_end() -> None:
    """Standard output is a pipe here, which Python fills before it lets go of anything."""
    code = (
        "import soakbook.cli.main as cli; from soakbook.cli.start import run\n"
        "cli.main = lambda: print('a word') or 3\n"
        "run()"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (3, "a word\n", "")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device here that is always full")
def test_what_cannot_be_printed_at_the_end_is_said() -> None:
    code = (
        "import soakbook.cli.main as cli; from soakbook.cli.start import run\n"
        "cli.main = lambda: print('a word') or 0\n"
        "run()"
    )
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-c", code],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode != 0
    assert "No space left on device" in done.stderr
