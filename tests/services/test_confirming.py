"""A guess that is said to be right is no guess any more; a jam jar still corrects it."""

from pathlib import Path

import pytest

from soakbook.services import setup
from tests.services.looking import NOW


@pytest.fixture
def wall(new_book: Path) -> Path:
    """A bed at a wall with climbing roses in it, everything guessed that can be."""
    setup.bed(new_book, "chapel", now=NOW, area="18m2", soil="sandy loam", place="south wall")
    setup.plant(new_book, "chapel", "climbing rose", "6", now=NOW, on="20mar")
    return new_book


def guessed(path: Path) -> list[str]:
    return [one["what"] for one in setup.beds(path)["beds"][0]["guesses"]]


def test_what_a_place_was_taken_for(wall: Path) -> None:
    before = guessed(wall)
    assert {"share of the rain", "drying"} <= set(before)
    told = setup.bed(wall, "chapel", now=NOW, right="yes")
    assert told["say"] == ["chapel: what was guessed stands as said now."]
    assert guessed(wall) == [one for one in before if one not in ("share of the rain", "drying")]


def test_ball_and_leaves_of_a_planting(wall: Path) -> None:
    before = guessed(wall)
    assert {"ball", "leaves", "grown"} <= set(before)
    told = setup.plant(wall, "chapel", "climbing rose", "6", now=NOW, right="yes")
    assert told["say"] == ["chapel, climbing rose: what was guessed stands as said now."]
    assert guessed(wall) == [one for one in before if one not in ("ball", "leaves", "grown")]
    assert [one["what"] for one in told["changed"]["guesses"]] == ["ground"]


def test_said_to_be_right_with_the_line_itself(wall: Path, new_book: Path) -> None:
    setup.bed(wall, "north", now=NOW, area="9m2", soil="loam", place="north wall", right="yes")
    setup.plant(wall, "north", "hydrangea", "2", now=NOW, pot="10l", right="yes")
    north = setup.beds(wall)["beds"][1]["guesses"]
    assert [one["what"] for one in north] == ["intake", "made soil", "walk", "ground"]


def test_a_jam_jar_still_corrects_what_was_said_to_be_right(wall: Path) -> None:
    setup.bed(wall, "chapel", now=NOW, right="yes")
    jar = setup.jam_jar(wall, "chapel", "6mm", gauge="10mm", now=NOW, by=None, at=None)
    was, now = jar["changed"]["rain_share"]
    assert (was, now) == pytest.approx((0.45, 0.6), abs=0.1)
    assert now > was
