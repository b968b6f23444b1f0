"""A garden of three people on a real book, and its command line at a moment."""

import io
import shutil
import sys
from collections.abc import Callable
from datetime import datetime
from itertools import count
from pathlib import Path
from unittest.mock import patch
from uuid import UUID

import pytest

from soakbook.cli import options
from soakbook.cli.main import main
from tests.cli.conftest import Ran
from tests.reminders.garden_days import team
from tests.services.conftest import make
from tests.services.looking import at

Go = Callable[..., Ran]
NOW = at(5, 15, 7)
"""The round hour of a Thursday."""


@pytest.fixture(scope="session")
def whole_abbey(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book, made once and never written again; with the same uids it is the same garden to the litre."""
    path = tmp_path_factory.mktemp("abbey") / "abbey.book"
    numbers = count(1)
    with patch("uuid.uuid4", lambda: UUID(int=next(numbers))):
        make(path)
        team(path)
    return path


@pytest.fixture
def abbey(whole_abbey: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book of its own, which is the one that is meant where none is named."""
    path = tmp_path / "abbey.book"
    shutil.copyfile(whole_abbey, path)
    monkeypatch.setenv("SOAKBOOK_BOOK", str(path))
    return path


@pytest.fixture
def go(
    abbey: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., Ran]:
    """Run a command line on that book at a moment, with what is piped into it."""

    def went(*words: str, now: datetime = NOW, piped: str | bytes = "") -> Ran:
        raw = piped if isinstance(piped, bytes) else piped.encode()
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))
        monkeypatch.setattr(options, "now", lambda: now)
        status = main(words)
        out, err = capsys.readouterr()
        return Ran(status, out, err)

    return went
