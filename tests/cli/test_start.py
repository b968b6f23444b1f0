"""The first moments of a process."""

import subprocess
import sys

import pytest

from soakbook.cli.start import run


@pytest.fixture(autouse=True)
def _collecting(monkeypatch: pytest.MonkeyPatch) -> None:
    """The tests' own process goes on collecting garbage."""
    monkeypatch.setattr("gc.disable", lambda: None)
    monkeypatch.setattr("gc.freeze", lambda: None)


def test_the_status_is_that_of_the_command_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("soakbook.cli.main.main", lambda: 2)
    assert run() == 2


def test_breaking_off_outside_of_a_command_is_quiet_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken_off() -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr("soakbook.cli.main.main", broken_off)
    assert run() == 130


def test_nothing_that_takes_time_is_imported_before_breaking_off_is_quiet() -> None:
    code = "import sys; import soakbook.cli.start; print('click' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"
