"""Limp leaves entered: what they say depends on the hour."""

from pathlib import Path
from typing import Any

import pytest

from soakbook.garden.entries import Feel, Wilt
from soakbook.services.entries import soak, wilt
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
    assert " dole --ball ? --bed ?        (dust, dry, moist, wet, sour)" in said(answer)
    assert [one.upright for one in entries_of(garden, Wilt)] == [False]


def test_a_sodden_bed_is_given_nothing_for_a_wilt(garden: Path) -> None:
    soak(garden, ["dole"], "1500l", now=NOW)
    (answer,) = wilt(garden, ["dole"], now=at(5, 15, 15))
    assert "sodden" in said(answer)
    assert "Give nothing on the strength of a wilt alone" in said(answer)


def test_three_afternoons_in_a_week_tell_of_the_place(garden: Path) -> None:
    for day in (11, 12):
        (answer,) = wilt(garden, ["school"], now=at(5, day, 15))
        assert "afternoons in a week" not in said(answer)
    (morning,) = wilt(garden, ["school"], now=at(5, 13, 6))
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


def test_that_they_stand_again_is_entered(garden: Path) -> None:
    wilt(garden, ["dole"], at="yesterday 15:00", now=NOW)
    (answer,) = wilt(garden, ["dole"], upright=True, now=NOW)
    assert [one.upright for one in entries_of(garden, Wilt)] == [False, True]
    assert "They stand at 06:30: no water for the wilt's sake" in said(answer)
    assert answer["changed"]["upright"]
    assert answer["changed"]["triage"] == {"step": "done", "action": "wait", "ask": None}


def test_upright_where_nothing_was_limp_is_entered_all_the_same(garden: Path) -> None:
    (answer,) = wilt(garden, ["dole"], upright=True, now=NOW)
    assert answer["changed"]["triage"]["action"] == "wait"
    assert len(entries_of(garden, Wilt)) == 1


def test_a_finger_of_the_same_sitting_is_a_feel(garden: Path) -> None:
    (answer,) = wilt(garden, ["dole"], ball="dry", bed="wet", by="Joan", now=NOW)
    (look,), (finger,) = entries_of(garden, Wilt), entries_of(garden, Feel)
    assert (finger.ball, finger.bed, finger.by) == ("dry", "wet", "Joan")
    assert finger.happened_at == look.happened_at
    assert answer["changed"]["entries"] == [look.uid, finger.uid]
    assert answer["changed"]["felt"] == {"ball": "dry", "bed": "wet"}
    assert answer["changed"]["triage"]["action"] == "re_wet"
    (answer,) = wilt(garden, ["school"], now=NOW)
    assert answer["changed"]["felt"] is None


def test_bare_roots_have_no_ball_to_feel(garden: Path) -> None:
    with Refused(garden, "ball", "dry", "bare-rooted", "only --bed"):
        wilt(garden, ["ride"], ball="dry", now=NOW)
    (answer,) = wilt(garden, ["ride"], now=NOW)
    assert "  soakbook feel ride --bed ?" in said(answer)
    assert "--ball" not in said(answer)


def test_the_same_look_twice_in_a_minute_is_refused(garden: Path) -> None:
    wilt(garden, ["dole"], now=NOW)
    with Refused(garden, "wilt", "limp", "in the book already", "soakbook feel"):
        wilt(garden, ["dole"], ball="dry", now=NOW.replace(second=40))
    wilt(garden, ["dole"], upright=True, now=NOW)
    with Refused(garden, "wilt", "upright", "in the book already"):
        wilt(garden, ["dole"], upright=True, now=NOW)
    wilt(garden, ["dole"], planting="rose", now=NOW)
    wilt(garden, ["dole"], now=at(5, 15, 6, 31))
    assert len(entries_of(garden, Wilt)) == 4


def test_one_of_several_beds_that_cannot_wilt_refuses_all(garden: Path) -> None:
    with Refused(garden, "bed", "yard"):
        wilt(garden, ["dole", "yard"], bed="dry", now=NOW)


def test_a_feel_at_odds_with_itself_is_entered_as_unsure(garden: Path) -> None:
    (answer,) = wilt(garden, ["dole"], ball="sour", bed="dust", now=NOW)
    assert entries_of(garden, Feel)[0].unsure
    assert "hardly dust-dry. Feel again" in said(answer)
    assert "Entered as unsure." in said(answer)
    assert answer["changed"]["triage"]["action"] is None


def test_the_heat_ends_with_the_people_once_a_year(garden: Path) -> None:
    def warned(**written: Any) -> list[bool]:
        answers = wilt(garden, ["dole", "school"], **written)
        return [said(one).endswith("call for medical help.") for one in answers]

    assert warned(now=at(5, 14, 6)) == [False, False]
    assert warned(upright=True, now=at(5, 14, 15)) == [False, False]
    assert warned(now=at(5, 14, 16)) == [False, True]
    assert warned(now=at(5, 14, 17)) == [False, False]


def test_of_so_long_ago_nothing_is_asked(garden: Path) -> None:
    (answer,) = wilt(garden, ["dole"], at="12may 15:00", now=NOW)
    assert "Of so long ago nothing is asked" in said(answer)
    assert answer["changed"]["triage"] is None
