"""`plant --from` and `bed --from`: the list is read here, entered by the service, and its report printed."""

import io
import json
import sys
from pathlib import Path

import pytest

from soakbook.cli.main import main
from soakbook.services import books, setup
from tests.cli.conftest import Run, Services
from tests.cli.reports import Report
from tests.cli.test_schemas import validate
from tests.services.looking import NOW

PLAN = "bed,plant,count,pot (L),on\ndole,rose,3,5,1 apr 2031\n"
REPORT: Report = {
    "schema": "soakbook.list/1",
    "what": "plantings",
    "name": "plan.csv",
    "written": False,
    "columns": [{"what": "leaves_full", "header": "Spread (cm)", "unit": "cm"}],
    "beds": [
        {
            "line": 2,
            "bed": "long",
            "name": "Long Walk",
            "area_m2": 40.0,
            "soil": "clay",
            "place": "open",
            "tap": "A",
        }
    ],
    "plantings": [
        {
            "line": 2,
            "bed": "long",
            "planting": "rose",
            "kind": "shrub",
            "count": 3,
            "origin": "pot",
            "ball_l": 5.0,
            "planted_on": "2031-04-01",
            "say": "Long Walk: 3 roses, from 5 L pots, planted 1 April",
        }
    ],
    "plants": 3,
    "guesses": 4,
    "say": ["Nothing is written."],
}


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A list on disk."""
    file = tmp_path / "plan.csv"
    file.write_text(PLAN, encoding="utf-8")
    return file


@pytest.mark.parametrize(("command", "service"), [("plant", "plant_list"), ("bed", "bed_list")])
def test_a_list_is_handed_on_as_it_stands(
    command: str, service: str, run: Run, services: Services, plan: Path
) -> None:
    services.answers[service] = REPORT
    validate(REPORT, "list")
    ran = run(command, "--from", str(plan), "--column", "bed=B", "--dry-run", "--by", "Ann")
    assert ran.out == (
        "Columns: leaves full from 'Spread (cm)'.\n"
        "  line 2: new bed long: Long Walk, 40 m², clay, open, tap A\n"
        "  line 2: Long Walk: 3 roses, from 5 L pots, planted 1 April\n"
        "Nothing is written.\n"
    )
    asked = services.last()
    assert asked.words[1] == (str(plan), PLAN.encode(), ("bed=B",), False, True, None)
    assert asked.options["by"] == "Ann"


def test_what_is_in_the_book_is_not_said_line_by_line(
    run: Run, services: Services, plan: Path
) -> None:
    services.answers["plant_list"] = REPORT | {"written": True, "say": ["Done."]}
    assert run("plant", "--from", str(plan)).out == "Done.\n"
    assert json.loads(run("plant", "--from", str(plan), "--json").out)["say"] == ["Done."]


def test_a_pasted_list_comes_on_standard_input(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    services.answers["plant_list"] = REPORT
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(PLAN.encode())))
    assert run("plant", "--from", "-", "--again", "--dates", "dmy").status == 0
    assert services.last().words[1] == ("what was pasted", PLAN.encode(), (), True, False, "dmy")


def test_at_a_terminal_it_is_said_how_a_pasted_list_ends(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    services.answers["plant_list"] = REPORT
    terminal = io.TextIOWrapper(io.BytesIO(PLAN.encode()))
    monkeypatch.setattr(terminal, "isatty", lambda: True)
    monkeypatch.setattr(sys, "stdin", terminal)
    ran = run("plant", "--from", "-")
    assert "Ctrl-D end it" in ran.err
    assert services.last().words[1][1] == PLAN.encode()


def test_standard_input_may_be_closed(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    ran = run("plant", "--from", "-")
    assert ran.status == 2
    assert "file: '-' cannot be right; a list on standard input, which is closed" in ran.err


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (
            "plant --from nowhere.csv",
            "file: 'nowhere.csv' cannot be right; a CSV file that is there",
        ),
        ("plant --from .", "file: '.' cannot be right; a CSV file that is there"),
        ("plant dole --from plan.csv", "a list says all of it"),
        ("plant --from plan.csv --pot 5l", "a list says all of it"),
        ("plant --from plan.csv --watered-in", "a list says all of it"),
        ("bed dole --from beds.csv", "a list says all of it"),
        ("bed --from beds.csv --specimen", "a list says all of it"),
        ("bed --from beds.csv --again", "No such option"),
        ("plant dole rose 3 --dry-run", "--dry-run is about a list: name it with --from FILE"),
        ("bed dole --column bed=B", "--column is about a list"),
        ("plant dole rose", "Missing argument 'COUNT': BED KIND COUNT, or --from FILE"),
        ("plant", "Missing argument 'BED'"),
    ],
)
def test_words_that_contradict_each_other(
    words: str, why: str, run: Run, services: Services
) -> None:
    ran = run(*words.split())
    assert (ran.status, ran.out) == (2, "")
    assert why in ran.err
    assert {one.service for one in services.asked} <= {"where"}


def test_a_list_goes_into_a_book(
    plan: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "own.book"
    books.new(
        path, now=NOW, name="Own", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone="Europe/London",
    )  # fmt: skip
    setup.bed(path, "dole", now=NOW, area="22m2")
    assert main(["plant", "--from", str(plan), "--book", str(path), "--json"]) == 2
    assert "on: '1 apr 2031' cannot be right; a day that has come" in capsys.readouterr().err
    plan.write_text(PLAN.replace("2031", "2025"), encoding="utf-8")
    assert main(["plant", "--from", str(plan), "--book", str(path), "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    validate(report, "list")
    assert (report["written"], report["plants"]) == (True, 3)
    assert main(["bed", "dole", "--book", str(path)]) == 0
    assert "3 roses, planted 1 Apr 2025" in capsys.readouterr().out
