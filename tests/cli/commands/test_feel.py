"""A hole dug to look is an entry by itself."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.cli import options
from tests.cli.conftest import Run, Services

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)
BOOK = Path("garden.book")
NOBODY: dict[str, Any] = {"planting": None, "at": None, "by": None, "now": NOW}


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)


def test_a_look_is_handed_on(run: Run, services: Services) -> None:
    ran = run("feel", "chapel", "dole", "--look", "20cm", "--planting", "rose", "--by", "Ann")
    assert ran.status == 0
    asked = services.last()
    assert (asked.service, asked.words) == ("look", (BOOK, ["chapel", "dole"], "20cm"))
    assert asked.options == NOBODY | {"planting": "rose", "by": "Ann"}


@pytest.mark.parametrize("more", [["--ball", "dry"], ["--bed", "wet"], ["--unsure"]])
def test_a_look_is_entered_by_itself(run: Run, services: Services, more: list[str]) -> None:
    assert run("feel", "chapel", "--look", "20cm", *more).status == 2
    assert services.asked == []
