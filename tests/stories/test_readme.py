"""README's own lines, typed as they stand there."""

import re
import shlex
from pathlib import Path

import pytest

from soakbook.cli.main import main

ROOT = Path(__file__).parents[2]
LITRES = re.compile(r"^(?: *\d+)?  ?([A-Z' ]+?) +(\d+) L ", re.MULTILINE)


def block(name: str) -> str:
    """A marked block of README."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    found = re.search(rf"<!-- {name} -->\n```\w*\n(.*?)```", text, re.DOTALL)
    assert found, name
    return found[1]


def litres_of(round_text: str) -> dict[str, int]:
    """Bed -> litres of a printed round's calls."""
    return {bed: int(litres) for bed, litres in LITRES.findall(round_text)}


def typed(line: str, capsys: pytest.CaptureFixture[str]) -> str:
    words = shlex.split(line)
    assert words[0] == "soakbook"
    status = main(words[1:])
    printed = capsys.readouterr()
    assert status == 0, f"{line}: {printed.err}"
    return printed.out


def test_the_specimens_round_is_the_one_that_is_printed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert typed("soakbook round --specimen", capsys).rstrip() == block("round").rstrip()


def test_the_specimens_reminders_are_those_that_are_printed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    line = "soakbook remind show --specimen --on 2031-05-14"
    assert typed(line, capsys).rstrip() == block("remind").rstrip()


def test_the_specimens_account_is_the_one_that_is_printed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    line = "soakbook account 2031 --specimen"
    assert typed(line, capsys).rstrip() == block("account").rstrip()


def test_a_first_garden_by_readmes_lines(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """Every garden's draws are its own, so litres may move by a can; what is called may not."""
    monkeypatch.chdir(ROOT)
    monkeypatch.setenv("SOAKBOOK_BOOK", str(tmp_path / "first.book"))
    printed = ""
    for line in block("first garden").splitlines():
        printed = typed(line, capsys)
    now, then = litres_of(printed), litres_of(block("first round"))
    assert "Thursday 21 June 2018" in printed
    assert set(now) == set(then) == {"KITCHEN WALL", "LONG BORDER"}
    for bed, litres in then.items():
        assert now[bed] == pytest.approx(litres, rel=0.35)
