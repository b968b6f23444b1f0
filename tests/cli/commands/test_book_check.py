"""`book check` and `book copy`: what they ask of the services, how they print it, with which status they end."""

import json
from pathlib import Path
from typing import Any

import pytest

from soakbook.cli.main import main
from tests.cli.conftest import Run, Services
from tests.cli.test_schemas import validate

Report = dict[str, Any]


def finding(weight: str, say: str, do: str = "") -> Report:
    """Something that was found."""
    return {
        "kind": "twice", "weight": weight, "say": say, "do": do, "bed": "chapel", "day": "2031-05-14", "entries": ["a"],
    }  # fmt: skip


def checked(*findings: Report, sound: bool = True, reckoned: bool = True) -> Report:
    """The report of a check."""
    ran = {"first": "2031-01-22", "morning": "2031-05-15", "days": 113, "members": 200}
    return {
        "schema": "soakbook.check/1",
        "book": "garden.book",
        "garden": "The Abbey" if sound else None,
        "sound": sound,
        "held": {"beds": 5, "plantings": 1, "entries": 4, "weather_days": 120} if sound else None,
        "reckoned": ran if reckoned else None,
        "findings": list(findings),
    }


LOOK = finding("look", "The soak of Chapel Wall on 14 May stands 2 times.", "Take one back.")
WRONG = finding("wrong", "More are lost than stood.")
DAMAGED = finding("damaged", "The file is damaged.", "Put back a copy.")
OURS = finding("ours", "A day's water does not add up.")


@pytest.mark.parametrize(
    ("report", "status"),
    [
        (checked(), 0),
        (checked(LOOK), 0),
        (checked(WRONG, LOOK), 0),
        (checked(OURS, reckoned=False), 1),
        (checked(DAMAGED, sound=False, reckoned=False), 2),
    ],
)
def test_the_status_says_how_bad_it_is(
    run: Run, services: Services, report: Report, status: int
) -> None:
    validate(report, "check")
    services.answers["check_report"] = report
    assert run("book", "check").status == status
    ran = run("book", "check", "--json")
    assert (ran.status, json.loads(ran.out)) == (status, report)


def test_a_book_that_is_well(run: Run, services: Services) -> None:
    services.answers["check_report"] = checked()
    out = " ".join(run("book", "check").out.split())
    assert out == (
        "The Abbey Looked through: 5 beds, 1 planting, 4 entries, 120 days of weather. The water of 113 days "
        "from 22 January 2031 was reckoned, and adds up. All is well: the file is whole, and nothing in it "
        "contradicts the rest."
    )


def test_what_was_found_stands_under_its_weight_with_what_to_do(
    run: Run, services: Services
) -> None:
    services.answers["check_report"] = checked(WRONG, LOOK, reckoned=False)
    lines = run("book", "check").out.splitlines()
    assert lines[-6:] == [
        "Cannot be as it stands",
        " 1  More are lost than stood.",
        "",
        "To be looked at",
        " 1  The soak of Chapel Wall on 14 May stands 2 times.",
        "    Take one back.",
    ]
    assert "was not reckoned: what cannot be as it stands" in " ".join(lines)


def test_a_damaged_book_is_named_by_its_path(run: Run, services: Services) -> None:
    services.answers["check_report"] = checked(DAMAGED, sound=False, reckoned=False)
    lines = run("book", "check").out.splitlines()
    assert lines[0] == "garden.book"
    assert "Looked through" not in " ".join(lines)


def test_which_book_is_checked(run: Run, services: Services) -> None:
    services.answers["check_report"] = checked()
    run("book", "check", "--specimen")
    where, asked = services.asked
    assert where.words == (None, True)
    assert asked.words == (Path("garden.book"),)
    assert set(asked.options) == {"now"}


def test_a_copy_goes_where_it_is_said(run: Run, services: Services) -> None:
    ran = run("book", "copy", "stick/may.book", "--book", "mine.book")
    where, asked = services.asked
    assert where.words == ("mine.book", False)
    assert (asked.service, asked.words) == ("copy", (Path("garden.book"), "stick/may.book"))
    assert ran.status == 0
    assert json.loads(run("book", "copy", "may.book", "--json").out)["schema"] == "soakbook.told/1"


def test_a_copy_needs_a_place(run: Run) -> None:
    assert (
        run("book", "copy").err == "soakbook: Missing argument 'PATH' (see soakbook book copy -h)\n"
    )


def test_the_specimen_from_end_to_end(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    target = tmp_path / "specimen.book"
    assert main(("book", "copy", str(target), "--specimen")) == 0
    assert "809 entries, 396 days of weather" in " ".join(capsys.readouterr().out.split())
    assert main(("book", "check", "--specimen", "--json")) == 0
    validate(json.loads(capsys.readouterr().out), "check")
    assert main(("book", "copy", str(target), "--specimen")) == 2
    assert "copy to a new name" in capsys.readouterr().err
