"""Setting up: options go on to the services as typed; the list of beds is printed."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.cli import options
from tests.cli.conftest import Run, Services
from tests.cli.reports import BEDS

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)
BOOK = Path("garden.book")


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch, services: Services) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)
    services.answers["beds"] = BEDS


@pytest.mark.parametrize(
    ("line", "words", "handed"),
    [
        (
            [
                *("bed", "chapel", "--area", "18m2", "--soil", "sandy loam", "--place", "open"),
                *("--rain-share", "0.45", "--hole", "20mm/h", "--jar", "6,3,1", "--stones", "some"),
            ],
            (BOOK, "chapel"),
            {
                "area": "18m2",
                "soil": "sandy loam",
                "place": "open",
                "rain_share": "0.45",
                "hole": "20mm/h",
                "jar": "6,3,1",
                "stones": "some",
            },
        ),
        (
            ["plant", "chapel", "climbing rose", "6", "--pot", "7.5l", "--on", "20mar"],
            (BOOK, "chapel", "climbing rose", "6"),
            {"pot": "7.5l", "on": "20mar"},
        ),
        (
            [
                *("plant", "ride", "whip", "120", "--bare", "--not-watered-in", "--leaf"),
                *("dies-down", "--as", "whip", "--leaves-full", "30cm"),
            ],
            (BOOK, "ride", "whip", "120"),
            {
                "bare": "yes",
                "watered_in": "no",
                "leaf": "dies_down",
                "plant_class": "whip",
                "leaves_full": "30cm",
            },
        ),
        (
            ["plant", "ride", "whip", "1", "--watered-in"],
            (BOOK, "ride", "whip", "1"),
            {"watered_in": "yes"},
        ),
        (
            ["plant", "ride", "whip", "1", "--heft", "light"],
            (BOOK, "ride", "whip", "1"),
            {"heft": "light"},
        ),
        (["bed", "chapel", "--share", "0.45"], (BOOK, "chapel"), {"rain_share": "0.45"}),
        (
            ["plant", "ride", "whip", "1", "--ball-felt", "Wet", "--bed-felt", "moist"],
            (BOOK, "ride", "whip", "1"),
            {"ball_felt": "wet", "bed_felt": "moist"},
        ),
        (["tap", "A", "--fill", "10l", "43s"], (BOOK, "A"), {"fill": "10l 43s"}),
        (
            ["tap", "B", "--flow", "11l/min", "--method", "Lance", "--source", "mains"],
            (BOOK, "B"),
            {"flow": "11l/min", "method": "lance", "source": "mains"},
        ),
        (
            ["person", "Ann", "--days", "mon-sat", "--hours", "2h", "--away", "9jul..17jul"],
            (BOOK, "Ann"),
            {"days": "mon-sat", "hours": "2h", "away": "9jul..17jul"},
        ),
        (
            ["person", "Joe", "--from", "9jul", "--until", "17jul"],
            (BOOK, "Joe"),
            {"first": "9jul", "last": "17jul"},
        ),
        (
            [
                "restriction",
                "18jul",
                "5sep",
                "--tool",
                "hose",
                "--source",
                "mains",
                "--text",
                "No.",
            ],
            (BOOK, "18jul", "5sep"),
            {"tool": "hose", "source": "mains", "text": "No."},
        ),
        (["rate", "1apr", "water", "4.00"], (BOOK, "1apr", "water", "4.00"), {}),
        (
            ["rate", "1apr", "hour", "14", "--currency", "GBP"],
            (BOOK, "1apr", "hour", "14"),
            {"currency": "GBP"},
        ),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_options_go_on_as_typed(
    line: list[str], words: tuple[Any, ...], handed: dict[str, str], run: Run, services: Services
) -> None:
    ran = run(*line, "--by", "Ann")
    assert ran.status == 0
    asked = services.last()
    assert (asked.service, asked.words) == (line[0], words)
    assert asked.options == handed | {"now": NOW, "by": "Ann"}
    assert ran.out == "17 L, 1½ min of tap A.\nWanted again about Sat 17.\n"


def test_bed_alone_lists_all_beds(run: Run, services: Services) -> None:
    out = run("bed").out
    assert "CHAPEL WALL (chapel)" in out
    assert "RIDE (ride)" in out
    assert json.loads(run("bed", "--json").out) == BEDS
    assert {asked.service for asked in services.asked} == {"where", "beds"}


def test_a_bed_without_options_is_shown_not_changed(run: Run, services: Services) -> None:
    out = run("bed", "ride", "--specimen").out
    assert "RIDE (ride)" in out
    assert "CHAPEL" not in out
    assert services.asked[0].words == (None, True)


def test_a_bed_that_is_not_there_is_refused(run: Run) -> None:
    ran = run("bed", "rode")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == (
        "soakbook: bed: 'rode' cannot be right; did you mean ride? known: chapel, ride; a new bed needs --area\n"
    )


def test_a_planting_is_not_both_watered_in_and_not(run: Run, services: Services) -> None:
    ran = run("plant", "chapel", "rose", "3", "--watered-in", "--not-watered-in")
    assert ran.status == 2
    assert ran.err.startswith("soakbook: either --watered-in or --not-watered-in, not both")
    assert services.asked == []
    run("plant", "chapel", "rose", "3", "--not-watered-in")
    assert services.last().options["watered_in"] == "no"
