"""Entries: what is handed to the services, and that their words are printed."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.cli import options
from tests.cli.conftest import Run, Services
from tests.cli.reports import TOLD

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)
BOOK = Path("garden.book")
NOBODY: dict[str, Any] = {"planting": None, "at": None, "by": None, "now": NOW}


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)


@pytest.mark.parametrize(
    ("line", "words", "handed"),
    [
        (
            ["soak", "chapel", "17l"],
            (BOOK, ["chapel"], "17l"),
            NOBODY | {"kind": "soak", "method": None, "sure": False},
        ),
        (
            [
                *("soak", "chapel", "bank", "5cans", "--kind", "re-wet", "--method", "can"),
                *("--at", "1apr 07:40", "--by", "Ann", "--planting", "roses"),
            ],
            (BOOK, ["chapel", "bank"], "5cans"),
            {
                "planting": "roses",
                "kind": "re_wet",
                "method": "can",
                "at": "1apr 07:40",
                "by": "Ann",
                "sure": False,
                "now": NOW,
            },
        ),
        (
            ["soak", "school", "advised"],
            (BOOK, ["school"], "advised"),
            NOBODY | {"kind": "soak", "method": None, "sure": False},
        ),
        (
            ["rain", "15.6mm", "--gentle"],
            (BOOK, "15.6mm"),
            {"from_": None, "to": None, "kind": "gentle", "at": None, "by": None, "now": NOW},
        ),
        (
            ["rain", "1in", "--burst", "--from", "16:10", "--to", "16:50", "--by", "Tom"],
            (BOOK, "1in"),
            {"from_": "16:10", "to": "16:50", "kind": "burst", "at": None, "by": "Tom", "now": NOW},
        ),
        (
            ["rain", "3mm"],
            (BOOK, "3mm"),
            {"from_": None, "to": None, "kind": None, "at": None, "by": None, "now": NOW},
        ),
        (
            ["feel", "chapel", "--ball", "Dry", "--bed", "moist"],
            (BOOK, ["chapel"]),
            NOBODY | {"ball": "dry", "bed": "moist", "unsure": False},
        ),
        (
            ["feel", "chapel", "bank", "--ball", "sour", "--unsure"],
            (BOOK, ["chapel", "bank"]),
            NOBODY | {"ball": "sour", "bed": None, "unsure": True},
        ),
        (
            ["wilt", "dole", "--at", "15:00"],
            (BOOK, ["dole"]),
            NOBODY | {"at": "15:00", "upright": False, "ball": None, "bed": None},
        ),
        (
            ["wilt", "dole", "bank", "--upright", "--ball", "dry", "--bed", "Wet"],
            (BOOK, ["dole", "bank"]),
            NOBODY | {"upright": True, "ball": "dry", "bed": "wet"},
        ),
        (
            ["left", "bank", "school", "no time", "--at", "yesterday"],
            (BOOK, ["bank", "school"], "no time"),
            NOBODY | {"at": "yesterday"},
        ),
        (
            ["loss", "bank", "sun shrubs", "2", "dry ball", "--by", "Ann"],
            (BOOK, "bank", "sun shrubs", "2", "dry ball"),
            {"at": None, "by": "Ann", "now": NOW},
        ),
        (
            ["mulch", "chapel", "bark", "5cm", "--wet", "--on", "24mar"],
            (BOOK, ["chapel"], "bark", "5cm"),
            {"wet": True, "on": "24mar", "at": None, "by": None, "now": NOW},
        ),
        (
            ["mulch", "chapel", "bank", "bark", "34sacks", "--dry"],
            (BOOK, ["chapel", "bank"], "bark", "34sacks"),
            {"wet": False, "on": None, "at": None, "by": None, "now": NOW},
        ),
        (
            ["mulch", "chapel", "bark", "12", "sacks", "--at", "yesterday"],
            (BOOK, ["chapel"], "bark", "12sacks"),
            {"wet": None, "on": None, "at": "yesterday", "by": None, "now": NOW},
        ),
        (
            ["mulch", "chapel", "bark", "5cm"],
            (BOOK, ["chapel"], "bark", "5cm"),
            {"wet": None, "on": None, "at": None, "by": None, "now": NOW},
        ),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_an_entry_is_handed_on_as_typed(
    line: list[str], words: tuple[Any, ...], handed: dict[str, Any], run: Run, services: Services
) -> None:
    ran = run(*line)
    assert ran.status == 0
    asked = services.last()
    assert (asked.service, asked.words, asked.options) == (line[0], words, handed)


def test_the_answer_is_the_services_own(run: Run) -> None:
    assert run("rain", "3mm").out == "17 L, 1½ min of tap A.\nWanted again about Sat 17.\n"


def test_an_answer_for_each_bed_stands_apart(run: Run, services: Services) -> None:
    bank = {**TOLD, "bed": "bank", "say": ["Bank: as\n  soakbook why bank"]}
    services.answers["soak"] = [TOLD, bank]
    assert run("soak", "chapel", "bank", "17l").out.splitlines() == [
        "17 L, 1½ min of tap A.",
        "Wanted again about Sat 17.",
        "",
        "Bank: as",
        "  soakbook why bank",
    ]


def test_the_book_that_is_named_is_written(run: Run, services: Services) -> None:
    run("rain", "3mm", "--book", "mine.book")
    where = services.asked[0]
    assert (where.words, where.options) == (("mine.book",), {"specimen": False})


def test_nothing_is_written_in_the_specimen(run: Run, services: Services) -> None:
    ran = run("rain", "3mm", "--specimen")
    assert ran.status == 2
    assert services.asked == []


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("rain 3mm --gentle --burst", "either --gentle or --burst, not both"),
        ("mulch chapel bark 5cm --wet --dry", "either --wet or --dry, not both"),
        ("soak chapel 5 l", "amount: '5 l' cannot be right; write 5l"),
    ],
)
def test_what_contradicts_itself_is_refused(
    line: str, said: str, run: Run, services: Services
) -> None:
    ran = run(*line.split())
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"soakbook: {said}")
    assert services.asked == []


@pytest.mark.parametrize("name", ["soak", "rain", "feel", "wilt", "left", "loss", "mulch"])
def test_every_entry_shows_the_schema_of_its_answer(name: str, run: Run) -> None:
    assert json.loads(run(name, "--json-schema").out)["type"] == "object"
