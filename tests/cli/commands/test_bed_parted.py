"""A bed begun as a part of another, a bed at rest, plants moved: each goes to its own service."""

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
            'bed west --part-of|warden|--area|12m2|--plants|rose 6, fern|--name|West Border|--on|tomorrow',
            "part",
            (BOOK, "warden", "west"),
            {"area": "12m2", "plants": "rose 6, fern", "name": "West Border", "on": "tomorrow"},
        ),
        ("bed school --rest|1oct", "rest", (BOOK, "school", "1oct"), {}),
        ("bed school --rest|no", "rest", (BOOK, "school", "no"), {}),
        (
            "plant dole clematis 2 --moved-from|chapel|--ball|30cm|--on|3may",
            "move",
            (BOOK, "chapel", "clematis"),
            {"to": "dole", "count": "2", "ball": "30cm", "on": "3may"},
        ),
    ],
)  # fmt: skip
def test_what_is_said_goes_on_as_typed(
    run: Run,
    services: Services,
    line: str,
    service: str,
    words: tuple[Any, ...],
    handed: dict[str, Any],
) -> None:
    head, _, rest = line.partition(" --")
    assert run(*head.split(), *f"--{rest}".split("|"), "--by", "Ann").status == 0
    asked = services.last()
    assert (asked.service, asked.words) == (service, words)
    assert asked.options == {"now": NOW, "by": "Ann"} | handed


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("bed west --part-of warden --area 12m2", "--area and --plants"),
        ("bed west --part-of warden --plants rose", "--area and --plants"),
        ("bed west --part-of warden --area 1m2 --plants rose --soil clay", "as of the whole"),
        ("bed west --plants rose", "--part-of"),
        ("bed west --on today", "--part-of"),
        ("bed west --rest today --soil clay", "by itself"),
        ("bed west --rest today --at yesterday", "--at goes with"),
        ("bed west --rest today --ruler 4", "by itself"),
        ("plant dole clematis 2 --moved-from chapel --pot 5l", "as it was"),
        ("plant dole clematis --moved-from chapel", "COUNT"),
    ],
)
def test_what_does_not_go_together_is_refused(
    run: Run, services: Services, line: str, says: str
) -> None:
    ran = run(*line.split())
    assert ran.status == 2
    assert says in ran.err
    assert services.asked == []
