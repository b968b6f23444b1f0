"""A book with something in it that no reckoning gets past: commands name it, and a fault of ours stays one."""

import sqlite3
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from soakbook.cli import options
from soakbook.cli.main import main
from soakbook.reckoning.advice import rounds
from tests.services.conftest import make

NOW = datetime(2031, 5, 15, 6, 30, tzinfo=ZoneInfo("Europe/London"))


@pytest.fixture
def spoiled(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book of a garden; what another program does to it comes in the test."""
    path = tmp_path / "abbey.book"
    make(path)
    monkeypatch.setattr(options, "now", lambda: NOW)
    monkeypatch.setenv("SOAKBOOK_BOOK", str(path))
    return path


def _spoil(path: Path, statement: str) -> None:
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute(statement)
    connection.close()


SPOILS = {
    "a soil of no table": "UPDATE bed SET soil = 'moon' WHERE key = 'dole'",
    "a plant of no table": "UPDATE planting SET plant_class = 'triffid' WHERE name = 'shrub rose'",
    "a place of no table": "UPDATE bed SET place = 'under the sea'",
}


@pytest.mark.parametrize("statement", SPOILS.values(), ids=SPOILS)
@pytest.mark.parametrize("line", ["round", "why dole", "rain 6mm"])
def test_what_is_wrong_in_the_book_is_named(
    spoiled: Path, statement: str, line: str, capsys: pytest.CaptureFixture[str]
) -> None:
    _spoil(spoiled, statement)
    assert main(line.split()) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(f"soakbook: {spoiled} cannot be reckoned with. ")
    assert "soakbook book check lists all of it" in said.err
    assert said.err.count("\n") == 1


def test_a_fault_of_ours_is_not_put_on_a_whole_book(
    spoiled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise KeyError("ours")

    monkeypatch.setattr(rounds, "morning_now", broken)
    with pytest.raises(KeyError, match="ours"):
        main(["round"])
