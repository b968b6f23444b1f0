"""Mistakes of every kind: a clear word, exit status 2, the book as it was. `fuzz` tries 100,000 of them."""

import os
import sys
from pathlib import Path

import pytest

from soakbook.cli.main import main
from tests.cli.fuzz import lines, play, play_file, surroundings, tried
from tests.cli.spoiled_files import good


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

    with surroundings() as (template, folder):
        monkeypatch.setattr("tests.cli.fuzz.main", wrong)
        assert play(["soak", "chapel", "17l"], template, folder).fault
        monkeypatch.setattr("tests.cli.fuzz.main", main)
        assert play(["soak", "chapel", "-1l"], template, folder) == (2, "")
        assert play(["soak", "chapel", "17l"], template, folder) == (0, "")


def test_what_is_spoiled_was_good(monkeypatch: pytest.MonkeyPatch) -> None:
    """Else all would be refused for the same reason, and nothing be tried."""
    taken = set()
    for name in ("spoiled_text", "spoiled_bytes"):
        monkeypatch.setattr(
            f"tests.cli.spoiled_files.{name}", lambda content, _: (content, "as it was")
        )
    for name in ("misplaced", "_otherwise"):
        monkeypatch.setattr(f"tests.cli.spoiled_files.{name}", lambda *_: "as it was")
    with surroundings() as (template, folder):
        goods = good(template, folder)
        for number in range(60):
            file, came = play_file(number, goods, template, folder)
            assert not came.fault, (number, came)
            unsaid = file.words[0] == "weather" and len(file.words) == 2  # how its columns are read
            if file.kind != "book" and not unsaid:
                assert came.status == 0, (number, file)
                taken.add(file.how)
    assert taken >= {f"{name}: as it was" for name in ("days.csv", "comma.csv", "hours.csv")}
    assert taken >= {f"{name}: as it was" for name in ("plan.csv", "both.csv", "beds.csv")}
    assert taken >= {
        f"{name}: as it was" for name in ("garden.toml", "entries.csv", "forecasts.csv")
    }


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ("raises", "not for a gardener"),
        ("soakbook: that is wrong", "not said what of"),
        ("soakbook: area: '-1' cannot be right; more\nand more", "no sentence"),
        (f"soakbook: area: '{'9' * 9000}' cannot be right; less", "no sentence"),
        ("soakbook: area: \x1b[2J cannot be right; less", "no letters"),
        ("prints", "this was printed"),
        ("begins", "there is a new book"),
    ],
)
def test_a_fault_with_a_file_is_seen(how: str, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def wrong(words: list[str]) -> int:
        if how == "raises":
            raise ValueError("not for a gardener")
        if how == "begins":
            Path("other.book").touch()
        print("Bed" if how == "prints" else "", end="")
        print(how if " " in how else "soakbook: area: -1 cannot be right; more", file=sys.stderr)
        return 2

    with surroundings() as (template, folder):
        goods = good(template, folder)
        monkeypatch.setattr("tests.cli.fuzz.main", wrong)
        number = next(
            number
            for number in range(60)
            if play_file(number, goods, template, folder)[0].kind == "weather"
        )
        assert said in play_file(number, goods, template, folder)[1].fault


def test_a_book_that_cannot_be_read_after_a_file_was_taken_is_seen(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Whoever takes a file says yes to what is in it."""

    def careless(words: list[str]) -> int:
        if words[0] in ("weather", "plant", "bed") or words[:2] == ["book", "import"]:
            return 0
        print("soakbook: it cannot be read", file=sys.stderr)
        return 2

    with surroundings() as (template, folder):
        goods = good(template, folder)
        monkeypatch.setattr("tests.cli.fuzz.main", careless)
        faults = [play_file(number, goods, template, folder)[1].fault for number in range(0, 60, 4)]
    assert any(fault.startswith("taken, and then round") for fault in faults)
