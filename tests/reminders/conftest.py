"""What every test of reminders holds: nothing secret is said aloud; and a garden with people in it."""

import logging
import shutil
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from unittest.mock import patch
from uuid import UUID

import pytest

from tests.reminders.garden_days import team
from tests.reminders.secrets import SECRETS
from tests.services.conftest import make


class _Ear(logging.Handler):
    def __init__(self) -> None:
        super().__init__(level=1)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        if record.name == "mail.log":  # the tests' own mail server, which writes down all it hears
            return
        self.heard.append(f"{record.getMessage()} {record.args} {record.exc_info}")


@pytest.fixture(autouse=True)
def nothing_is_given_away(capfd: pytest.CaptureFixture[str]) -> Iterator[None]:
    """Logs down to the lowest level, and all that is printed, are looked through for passwords and tokens."""
    ear, root = _Ear(), logging.getLogger()
    level = root.level
    root.addHandler(ear)
    root.setLevel(1)
    try:
        yield
    finally:
        root.removeHandler(ear)
        root.setLevel(level)
    said = "\n".join([*ear.heard, *capfd.readouterr()])
    assert [secret for secret in SECRETS if secret in said] == []


@pytest.fixture(scope="session")
def whole_garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book of the small garden with its three people, made once and never written again.

    What is drawn by chance goes by uids: with the same ones it is the same garden to the litre.
    """
    path = tmp_path_factory.mktemp("garden") / "abbey.book"
    numbers = count(1)
    with patch("uuid.uuid4", lambda: UUID(int=next(numbers))):
        make(path)
        team(path)
    return path


@pytest.fixture
def garden(whole_garden: Path, tmp_path: Path) -> Path:
    """A book of that garden of its own, of which nothing has been decided since half past six."""
    path = tmp_path / "abbey.book"
    shutil.copyfile(whole_garden, path)
    return path
