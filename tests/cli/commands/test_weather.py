"""`weather`: a file read in, and what the book has."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from soakbook.cli import options
from tests.cli.conftest import Run, Services
from tests.cli.weather_known import WEATHER

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch, services: Services) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)
    services.answers["weather_report"] = WEATHER


def test_a_file_is_handed_on_with_what_was_said_of_it(
    run: Run, services: Services, tmp_path: Path
) -> None:
    file = tmp_path / "shed.csv"
    file.write_text("date,rain_mm\n", encoding="utf-8")
    columns = ("--column", "tmax=High:F", "--column", "wind=-")
    said = (
        "--dates",
        "dmy",
        "--comma",
        "--rain-day",
        "09:00 before",
        "--clock",
        "utc",
        "--gaps",
        "--name",
        "shed",
    )
    ran = run("weather", str(file), *columns, *said, "--by", "Ann")
    assert ran.status == 0
    asked = services.last()
    assert (asked.service, asked.words) == ("bring", (Path("garden.book"), str(file)))
    assert asked.options == {
        "columns": ["tmax=High:F", "wind=-"],
        "dates": "dmy",
        "comma": True,
        "rain_day": "09:00 before",
        "clock": "utc",
        "by": "Ann",
        "gaps": True,
        "name": "shed",
        "keep": False,
        "offline": True,
        "now": NOW,
    }


def test_a_file_of_which_nothing_is_said(run: Run, services: Services, tmp_path: Path) -> None:
    file = tmp_path / "shed.csv"
    file.write_text("date,rain_mm\n", encoding="utf-8")
    run("weather", str(file))
    assert services.last().options == {
        "columns": [],
        "dates": None,
        "comma": None,
        "rain_day": None,
        "clock": None,
        "by": None,
        "gaps": False,
        "name": None,
        "keep": False,
        "offline": True,
        "now": NOW,
    }


def test_nothing_is_read_into_the_specimen(run: Run, services: Services, tmp_path: Path) -> None:
    file = tmp_path / "shed.csv"
    file.write_text("date,rain_mm\n", encoding="utf-8")
    ran = run("weather", str(file), "--specimen")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("soakbook: the specimen garden is only read")
    assert [asked.service for asked in services.asked] == ["where"]


def test_what_the_book_has(run: Run, services: Services) -> None:
    assert "From where" in run("weather", "--specimen").out
    assert services.asked[0].words == (None, True)
    assert services.last().options == {"now": NOW, "specimen": True, "asked": []}
    services.answers["ask"].say = ["Open-Meteo: forecast to 30 May."]
    assert json.loads(run("weather", "--json").out) == WEATHER
    asked, shown = services.asked[-2:]
    assert asked.options == {"now": NOW, "by": None, "offline": True}
    assert shown.options["asked"] == ["Open-Meteo: forecast to 30 May."]


@pytest.mark.parametrize("words", [(), ("--json",)])
def test_where_nothing_came_the_page_is_shown_and_the_status_says_so(
    words: tuple[str, ...], run: Run, services: Services
) -> None:
    services.answers["ask"].nothing_came = True
    ran = run("weather", *words)
    assert (ran.status, ran.err) == (3, "")
    assert "Marl Hatherby" in ran.out


@pytest.mark.parametrize(
    "words",
    [
        "--column rain=Precip:in",
        "--gaps",
        "--comma",
        "--point",
        "--rain-day midnight",
        "--clock utc",
        "--name=",
        "--keep",
    ],
)
def test_how_a_file_is_read_needs_a_file(words: str, run: Run, services: Services) -> None:
    ran = run("weather", *words.split())
    assert (ran.status, ran.out) == (2, "")
    assert f"{words.split(maxsplit=1)[0].rstrip('=')} is about a file: name the FILE" in ran.err


@pytest.mark.parametrize("words", ["--heat=", "--heat 28c", "--promises", "--ask second"])
def test_what_is_about_services_stands_by_itself(words: str, run: Run, services: Services) -> None:
    ran = run("weather", "shed.csv", *words.split())
    assert (ran.status, ran.out) == (2, "")
    assert f"{words.split(maxsplit=1)[0].rstrip('=')} is not about a file" in ran.err


@pytest.mark.parametrize("words", ["--heat 30c", "--ask none"])
def test_what_only_shows_changes_nothing(words: str, run: Run, services: Services) -> None:
    ran = run("weather", "--promises", *words.split())
    assert (ran.status, ran.out) == (2, "")
    assert "--promises shows, --ask and --heat change: say them one by one" in ran.err
    assert [asked.service for asked in services.asked] == ["where"]
