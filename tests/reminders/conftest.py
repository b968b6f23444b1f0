"""What every test of reminders holds: nothing secret is said aloud."""

import logging
from collections.abc import Iterator

import pytest

from tests.reminders.secrets import SECRETS


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
