"""Mistakes of every kind: a clear word, exit status 2, the book as it was. `fuzz` tries 100,000 of them."""

import os
import sys

import pytest

from soakbook.cli.main import main
from tests.cli.fuzz import lines, play, surroundings, tried


def test_no_mistake_is_met_by_a_traceback_or_changes_the_book() -> None:
    counts, faults = tried(2000, 20310515 if "CI" in os.environ else None)
    assert faults == {}
    came = {
        status: sum(count for (_, what), count in counts.items() if what == status)
        for status in ("status 0", "status 2")
    }
    assert came["status 0"] > 50  # what is entered in earnest is tried, too
    assert came["status 2"] > 1000
    for kind in ("folder", "weather", "list", "book"):
        assert counts[kind, "status 2"] > 10, kind


def test_the_examples_are_those_of_every_command() -> None:
    firsts = {words[0] for words in lines()}
    assert {"round", "soak", "bed", "plant", "weather", "book"} <= firsts
    assert ["soak", "chapel", "17l"] in lines()


@pytest.mark.parametrize("how", ["raises", "status 1", "silent", "changes"])
def test_a_fault_is_seen(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a command that fails in each of the ways that must not be."""

    def wrong(words: list[str]) -> int:
        if how == "raises":
            raise ValueError("not for a gardener")
        if how == "changes":
            main(["soak", "chapel", "17l"])
        if how != "silent":
            print("soakbook: no", file=sys.stderr)
        return 1 if how == "status 1" else 2

    monkeypatch.setattr("tests.cli.fuzz.main", wrong)
    with surroundings() as (template, folder):
        assert play(["soak", "chapel", "17l"], template, folder).fault
        monkeypatch.setattr("tests.cli.fuzz.main", main)
        assert play(["soak", "chapel", "-1l"], template, folder) == (2, "")
        assert play(["soak", "chapel", "17l"], template, folder) == (0, "")
