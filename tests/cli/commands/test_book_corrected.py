"""`book log`, `book amend`, `book undo`: what is handed to the services; and a slip put right, end to end."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from soakbook.cli import options
from soakbook.cli.main import main
from soakbook.services import books, setup
from tests.cli.conftest import Run, Services

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)
BOOK = Path("garden.book")


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)


def test_only_what_is_said_is_handed_on(run: Run, services: Services) -> None:
    run("book", "amend", "last", "20l")
    asked = services.last()
    assert asked.words == (BOOK, "last", {"amount": "20l"})
    assert asked.options == {"at": None, "by": None, "sure": False, "now": NOW}
    words = (
        "--ball dry --bed none --sure --planting all --in-bed dole --from 07:00 --at 1apr --by Ann"
    )
    run("book", "amend", "3fa2", *words.split(), "--note", "")
    asked = services.last()
    assert asked.words == (
        BOOK,
        "3fa2",
        {
            "ball": "dry",
            "bed": "none",
            "unsure": False,
            "planting": "all",
            "in_bed": "dole",
            "from": "07:00",
            "note": "",
        },
    )
    assert asked.options == {"at": "1apr", "by": "Ann", "sure": False, "now": NOW}


def test_undo_takes_the_last_or_the_one_named(run: Run, services: Services) -> None:
    run("book", "undo")
    assert services.last().words == (BOOK, "last")
    run("book", "undo", "3fa2", "--by", "Tom")
    assert services.last().words == (BOOK, "3fa2")
    assert services.last().options == {"by": "Tom", "now": NOW}


def test_a_slip_is_found_in_the_log_and_put_right(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without weather nothing is reckoned, and all the same everything is read back."""
    path = tmp_path / "own.book"
    monkeypatch.setenv("SOAKBOOK_BOOK", str(path))
    books.new(
        path,
        now=NOW,
        name="The Abbey",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )
    setup.bed(path, "chapel", now=NOW, area="18m2", soil="loam")
    setup.plant(path, "chapel", "shrub rose", "6", now=NOW, pot="5l", on="1may")

    def said(words: str, at_minute: int, status: int = 0) -> str:
        monkeypatch.setattr(options, "now", lambda: NOW.replace(minute=at_minute))
        assert main(words.split()) == status
        out, err = capsys.readouterr()
        return out + err

    assert "33 L each" in said("soak chapel 200l --by Tom", 41)
    lines = json.loads(said("book log --json", 42))["lines"]
    handle = lines[-1]["handle"]
    out = said(f"book amend {handle} 20l --by Ann", 43)
    assert f"{handle} was: chapel: soaked with 200 L by can" in out
    assert "Over 6 shrub roses that is 3.3 L each." in out
    assert "corrected Thu 15 May 06:43 by Ann" in " ".join(said("book log", 44).split())
    assert f"{handle} was corrected by that" in said(f"book undo {handle}", 45, status=2)
    assert "As before the correction" in said("book undo", 46)
    assert "200 L" in said("book log", 47)
    said("book undo", 48)
    assert said("book log --all", 49).count("\n      was ") == 3
