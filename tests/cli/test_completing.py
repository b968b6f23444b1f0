"""Completion, as a shell asks for it: words so far, the word that is begun, one answer a line."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from soakbook.services.books import SPECIMEN


def completed(words: str, begun: str = "", book: Path = SPECIMEN) -> list[str]:
    """What bash is offered after `words` for a word that begins so."""
    said = f"soakbook {words}".split()
    asking = {
        "COMP_WORDS": " ".join([*said, begun]),
        "COMP_CWORD": str(len(said)),
        "_SOAKBOOK_COMPLETE": "bash_complete",
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
        ("why", "CH", ["chapel"]),
        ("feel", "w", ["warden", "wellct"]),
        ("soak warden", "w", ["wellct"]),
        ("bed", "sch", ["school"]),
        ("soak chapel --planting", "cl", ["climbing roses", "clematis and wall shrubs"]),
        ("soak warden --planting", "cl", []),
        ("left ride --by", "T", ["Tom"]),
    ],
)
def test_a_gardens_own_names_are_offered(words: str, begun: str, offered: list[str]) -> None:
    assert completed(words, begun) == offered


def test_where_there_is_no_book_nothing_is_offered(tmp_path: Path) -> None:
    assert completed("soak", "", tmp_path / "none.book") == []
