"""Limp leaves entered: what they say depends on the hour."""

from pathlib import Path

import pytest

from soakbook.garden.entries import Wilt
from soakbook.services.entries import feel, soak, wilt
from tests.services.looking import NOW, Refused, at, entries_of, said


@pytest.mark.parametrize(
    ("hour", "words"),
    [
        ("yesterday 12:00", "a note, not a call"),
        ("yesterday 15:00", "Limp at 15:00 in the sun is a note, not a call"),
        ("yesterday 18:00", "look again at dawn"),
        ("yesterday 23:30", "look again at dawn"),
        ("03:00", "look again at dawn"),
        ("05:30", "feel the ball and a hand's breadth outside before anything is given"),
        ("yesterday 11:59", "before anything is given"),
        ("yesterday", "Without its hour a wilt says little"),
    ],
)
def test_the_hour_decides_what_is_said(garden: Path, hour: str, words: str) -> None:
    (answer,) = wilt(garden, ["dole"], at=hour, now=NOW)
    assert words in said(answer)
    assert "  soakbook feel dole --ball ? --bed ?" in said(answer)
    assert len(entries_of(garden, Wilt)) == 1


def test_a_sodden_bed_is_given_nothing_for_a_wilt(garden: Path) -> None:
    soak(garden, ["dole"], "1500l", now=NOW)
    (answer,) = wilt(garden, ["dole"], now=at(5, 15, 15))
    assert "sodden" in said(answer)
    assert "Give nothing on the strength of a wilt alone" in said(answer)


def test_three_afternoons_in_a_week_tell_of_the_place(garden: Path) -> None:
    for day in (12, 13):
        (answer,) = wilt(garden, ["school"], now=at(5, day, 15))
        assert "afternoons in a week" not in said(answer)
    (morning,) = wilt(garden, ["school"], now=at(5, 14, 6))
    assert "afternoons in a week" not in said(morning)
    (answer,) = wilt(garden, ["school"], now=at(5, 14, 15))
    assert "Limp on 3 afternoons in a week" in said(answer)


def test_what_is_reckoned_stands_beside_it(garden: Path) -> None:
    (answer,) = wilt(garden, ["chapel"], planting="clematis", now=at(5, 15, 15))
    assert answer["changed"]["reckoned"].keys() == {"ball", "bed"}
    assert answer["say"][0].startswith("Chapel Wall, clematis. Limp at 15:00")


def test_where_nothing_lives_nothing_wilts(garden: Path) -> None:
    with Refused(garden, "bed", "yard", "living plants"):
        wilt(garden, ["yard"], now=NOW)


def test_a_wilt_and_a_feel_go_together(garden: Path) -> None:
    wilt(garden, ["dole"], now=NOW)
    feel(garden, ["dole"], ball="dry", bed="dry", now=at(5, 15, 6, 45))
    assert len(entries_of(garden, Wilt)) == 1
