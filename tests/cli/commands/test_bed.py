"""A jam jar and a ruler are entries, each by itself."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.cli import options
from tests.cli.conftest import Run, Services

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)
BOOK = Path("garden.book")


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)


@pytest.mark.parametrize(
    ("line", "service", "words", "handed"),
    [
        (
            ["--jam-jar", "6mm", "--gauge", "14mm", "--at", "yesterday", "--by", "Ann"],
            "jam_jar",
            (BOOK, "chapel", "6mm"),
            {"gauge": "14mm", "at": "yesterday", "by": "Ann"},
        ),
        (["--jam-jar", "6mm"], "jam_jar", (BOOK, "chapel", "6mm"), {"gauge": None}),
        (["--ruler", "4,5,3"], "ruler", (BOOK, "chapel", "4,5,3"), {"at": None, "by": None}),
    ],
)
def test_a_measurement_is_an_entry(
    run: Run,
    services: Services,
    line: list[str],
    service: str,
    words: tuple[Any, ...],
    handed: dict[str, Any],
) -> None:
    assert run("bed", "chapel", *line).status == 0
    asked = services.last()
    assert (asked.service, asked.words) == (service, words)
    assert asked.options == {"now": NOW, "at": None, "by": None} | handed


@pytest.mark.parametrize(
    "line",
    [
        ["--gauge", "14mm"],
        ["--ruler", "4,5,3", "--gauge", "14mm"],
        ["--gauge", "14mm", "--area", "18m2"],
        ["--gauge", "14mm", "--on", "6may"],
        ["--ruler", "4,5,3", "--jam-jar", "6mm"],
        ["--jam-jar", "6mm", "--soil", "loam"],
        ["--soil", "loam", "--at", "yesterday"],
        ["--at", "yesterday"],
        ["--ruler", "4,5,3", "--specimen"],
    ],
)
def test_a_measurement_stands_by_itself(run: Run, services: Services, line: list[str]) -> None:
    ran = run("bed", "chapel", *line)
    assert ran.status == 2
    assert not [one for one in services.asked if one.service in ("bed", "jam_jar", "ruler")]
