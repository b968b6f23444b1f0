"""Completion, as a shell asks for it: words so far, the word that is begun, one answer a line."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from soakbook.reminders.kinds import USUAL
from soakbook.services.books import SPECIMEN


def completed(words: str, begun: str = "", book: Path = SPECIMEN, shell: str = "bash") -> list[str]:
    """What a shell is offered after `words` for a word that begins so."""
    said = f"soakbook {words}".split()
    asking = {
        "COMP_WORDS": " ".join([*said, begun]),
        "COMP_CWORD": str(len(said)),
        "_SOAKBOOK_COMPLETE": f"{shell}_complete",
        "SOAKBOOK_BOOK": str(book),
    }
    ran = subprocess.run(
        [sys.executable, "-c", "from soakbook.cli.start import run; run()"],
        env=os.environ | asking,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.stderr == ""
    return [line.removeprefix("plain,") for line in ran.stdout.splitlines() if line]


@pytest.mark.parametrize(
    ("words", "begun", "offered"),
    [
        ("soak", "ch", ["chapel"]),
        ("remind done", "ch", ["chapel"]),
        ("remind could-not --by", "T", ["Tom"]),
        ("remind settings", "", list(USUAL)),
        ("remind settings", "r", ["round", "rule"]),
        ("remind settings round --for", "an", ["Ann"]),
        ("remind --unit", "l", ["launchd"]),
        ("why", "CH", ["chapel"]),
        ("feel", "w", ["warden", "wellct"]),
        ("soak warden", "w", ["wellct"]),
        ("bed", "sch", ["school"]),
        ("soak chapel --planting", "cl", [r"climbing\\ roses", r"clematis\\ and\\ wall\\ shrubs"]),
        ("soak chapel --planting", r"climbing\ r", [r"climbing\\ roses"]),
        ("soak chapel --planting", '"climbing r', ["climbing roses"]),
        ("soak warden --planting", "cl", []),
        ("left ride --by", "T", ["Tom"]),
    ],
)
def test_a_gardens_own_names_are_offered(words: str, begun: str, offered: list[str]) -> None:
    assert completed(words, begun) == offered


def test_a_shell_that_quotes_by_itself_is_given_the_bare_word() -> None:
    assert "climbing roses" in completed("soak chapel --planting", "cl", shell="zsh")


@pytest.mark.skipif(shutil.which("bash") is None, reason="bash is not here")
def test_bash_itself_puts_in_one_word(tmp_path: Path) -> None:
    """By the script that click writes for it, which reads what it is offered in its own way."""
    ours = tmp_path / "soakbook"
    run = "import sys; sys.argv[0] = 'soakbook'; from soakbook.cli.start import run; run()"
    ours.write_text(f'#!/bin/sh\nexec {sys.executable} -c "{run}"\n', encoding="utf-8")
    ours.chmod(0o700)
    asked = (
        f'eval "$(_SOAKBOOK_COMPLETE=bash_source {ours} | grep -v setup\\;)"\n'
        "COMP_WORDS=(soakbook soak chapel --planting cli) COMP_CWORD=4\n"
        f"_soakbook_completion {ours}\n"
        'printf "%s" "${COMPREPLY[0]}"\n'
    )
    shown = subprocess.run(
        ["bash", "--norc", "-c", asked], env=os.environ | {"SOAKBOOK_BOOK": str(SPECIMEN)},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert shown.stdout == r"climbing\ roses"


def test_where_there_is_no_book_nothing_is_offered(tmp_path: Path) -> None:
    assert completed("soak", "", tmp_path / "none.book") == []
