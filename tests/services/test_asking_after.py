"""Limp leaves asked after in answers: litres, the next command, and the round set beside it."""

from pathlib import Path
from typing import Any

import pytest

from soakbook.garden.records import FeltClass
from soakbook.services import setup
from soakbook.services.entries import feel, left, soak, wilt
from soakbook.services.mornings import round_report
from tests.services.looking import NOW, at, said

DAWN = at(5, 15, 5, 30)


def triage(report: dict[str, Any]) -> tuple[str, str | None]:
    """Where the asking stands."""
    found = report["changed"]["triage"]
    return found["step"], found["action"]


def call_of(path: Path, key: str) -> dict[str, Any]:
    calls: list[dict[str, Any]] = round_report(path, now=DAWN)["calls"]
    return next(one for one in calls if one["bed"] == key)


def test_from_an_afternoon_to_one_thing_to_do(garden: Path) -> None:
    """Each answer is an entry, and says what comes next."""
    (told,) = wilt(garden, ["dole"], now=at(5, 14, 15))
    assert triage(told) == ("dusk", "shade")
    (told,) = wilt(garden, ["dole"], now=at(5, 14, 20))
    assert triage(told) == ("dawn", "wait")
    (told,) = wilt(garden, ["dole"], now=DAWN)
    assert triage(told) == ("ball", None)
    assert f"The round has {call_of(garden, 'dole')['litres']:g} L for it: feel first." in said(
        told
    )
    (told,) = feel(garden, ["dole"], ball="dry", now=at(5, 15, 5, 35))
    assert triage(told) == ("bed", None)
    assert "Still wanted" not in said(told)
    assert "  soakbook feel dole --bed ?" in said(told)
    (told,) = feel(garden, ["dole"], bed="wet", now=at(5, 15, 5, 36))
    assert triage(told) == ("done", "re_wet")
    assert said(told).count("e-wet the ball") == 1


def test_thirst_is_given_the_rounds_own_dose(garden: Path) -> None:
    (told,) = wilt(garden, ["dole"], ball="dry", bed="dry", now=DAWN)
    assert triage(told) == ("done", "water")
    after = call_of(garden, "dole")
    assert after["litres"] > 0
    assert f"\n  soakbook soak dole {after['litres']:g}l" in said(told)
    assert "knows better" not in said(told)


def test_the_command_it_gives_can_be_entered_and_closes_the_asking(garden: Path) -> None:
    (told,) = wilt(garden, ["dole"], ball="dry", bed="moist", now=DAWN)
    line = next(one for one in said(told).splitlines() if one.startswith("  soakbook soak"))
    amount = line.split()[3]
    assert line.split()[4:] == ["--kind", "re-wet"]
    soak(garden, ["dole"], amount, kind="re_wet", now=at(5, 15, 6))
    (told,) = feel(garden, ["dole"], ball="moist", now=at(5, 15, 7))
    assert told["changed"]["triage"] is None
    (told,) = wilt(garden, ["dole"], at="05:45", now=at(5, 15, 8))
    assert triage(told) == ("dusk", "wait")


def test_a_planting_among_others_is_named_where_water_is_given(garden: Path) -> None:
    (told,) = wilt(garden, ["chapel"], ball="dry", bed="moist", now=DAWN)
    assert '--kind re-wet --planting "climbing rose"' in said(told)
    (told,) = wilt(garden, ["chapel"], planting="clem", ball="wet", bed="wet", now=DAWN)
    assert '\n  soakbook left chapel "limp, and wet" --planting clematis' in said(told)


@pytest.mark.parametrize(
    ("ball", "bed", "action", "command"),
    [
        ("dry", "moist", "re_wet", "soak dole"),
        ("moist", "moist", "wait", "left dole ?"),
        ("wet", "moist", "hold", 'left dole "limp, and wet"'),
    ],
)
def test_a_finger_sets_a_round_that_would_water_aside(
    garden: Path, ball: FeltClass, bed: FeltClass, action: str, command: str
) -> None:
    (told,) = wilt(garden, ["dole"], ball=ball, bed=bed, now=DAWN)
    assert triage(told)[1] == action
    assert f"\n  soakbook {command}" in said(told)
    still = told["changed"]["after"]["verdict"] == "soak"
    assert ("the finger knows better" in said(told)) == still
    assert "Still wanted" not in said(told)


def test_planted_lately_they_are_shaded_and_cut_back(garden: Path) -> None:
    (told,) = wilt(garden, ["school"], ball="moist", bed="moist", now=DAWN)
    assert triage(told) == ("done", "cut_back")
    assert '\n  soakbook left school "shaded, cut back by a third"' in said(told)


def test_what_a_tug_tells_is_entered_as_the_reason(garden: Path) -> None:
    wilt(garden, ["dole"], ball="moist", bed="moist", now=DAWN)
    (told,) = left(garden, ["dole"], "weevil grubs", now=at(5, 15, 5, 40))
    assert told["changed"]["after"]["verdict"] != "soak"


def test_a_sodden_bed_that_a_finger_finds_dry_is_felt_twice(garden: Path) -> None:
    soak(garden, ["dole"], "1500l", now=NOW)
    (told,) = wilt(garden, ["dole"], ball="dry", bed="dry", now=at(5, 15, 15))
    assert triage(told) == ("done", "water")
    assert "feel in a second place before you pour" in said(told)
    assert "strength of a wilt alone" not in said(told)


def test_in_a_book_without_weather_it_is_asked_all_the_same(new_book: Path) -> None:
    setup.bed(new_book, "wall", now=NOW, area="9m2")
    setup.plant(new_book, "wall", "rose", "2", now=NOW, pot="5l", on="1may")
    (told,) = wilt(new_book, ["wall"], ball="dry", bed="wet", now=NOW)
    assert triage(told) == ("done", "re_wet")
    assert "\n  soakbook soak wall ?l --kind re-wet" in said(told)
