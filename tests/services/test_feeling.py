"""A finger test entered: felt beside reckoned, and what to do with the two."""

from pathlib import Path
from typing import Any, get_args

from soakbook.garden.entries import Feel
from soakbook.garden.records import FeltClass
from soakbook.services.entries import feel, soak
from soakbook.services.feeling import contradiction
from soakbook.services.mornings import round_report
from tests.services.looking import NOW, Refused, at, entries_of, said


def planting_call(path: Path, planting: str, on: str | None = None) -> dict[str, Any]:
    """What the round says of one planting of Chapel Wall."""
    calls = round_report(path, now=NOW, on=on)["calls"]
    chapel = next(one for one in calls if one["bed"] == "chapel")
    return next(one for one in chapel["plantings"] if one["planting"] == planting)


def test_felt_stands_beside_reckoned(garden: Path) -> None:
    """Where no planting is named it is the one with most plants: the six roses."""
    call = planting_call(garden, "climbing rose")
    (answer,) = feel(garden, ["chapel"], ball="dry", bed="moist", by="Ann", now=NOW)
    (entry,) = entries_of(garden, Feel)
    assert (entry.ball, entry.bed, entry.by, entry.unsure) == ("dry", "moist", "Ann", False)
    assert answer["changed"]["felt"] == {"ball": "dry", "bed": "moist"}
    assert answer["changed"]["reckoned"] == {"ball": call["ball_state"], "bed": call["bed_state"]}
    beside = f"Reckoned then: ball {call['ball_state']} and bed {call['bed_state']}."
    assert f"felt: ball dry and bed moist, taken for the climbing roses. {beside}" in said(answer)


def test_a_dry_ball_in_a_wet_bed_is_re_wet_in_pours(garden: Path) -> None:
    soak(garden, ["dole"], "1500l", now=NOW)
    (answer,) = feel(garden, ["dole"], ball="dry", bed="wet", now=at(5, 15, 8))
    assert "Dry ball in a wet bed. Re-wet the ball only" in said(answer)
    assert "The round has 4 pours of" in said(answer)
    assert answer["changed"]["after"]["verdict"] == "held_back"


def test_where_finger_and_reckoning_are_far_apart_a_second_place_is_felt(garden: Path) -> None:
    (answer,) = feel(garden, ["dole"], ball="dry", bed="wet", now=NOW)
    assert "no water on the bed" in said(answer)
    assert "Still wanted today" not in said(answer)
    assert "Feel in a second place before you pour" in answer["say"][-1]
    assert "soakbook left" not in said(answer)


def test_both_wet_is_left(garden: Path) -> None:
    (answer,) = feel(garden, ["dole"], ball="wet", bed="wet", now=NOW)
    assert "no water until it feels moist" in said(answer)


def test_sour_is_left_and_drained(garden: Path) -> None:
    (answer,) = feel(garden, ["dole"], bed="sour", now=NOW)
    assert said(answer).count("too little air") == 1


def test_moist_where_the_round_sends_somebody_is_to_be_left(garden: Path) -> None:
    call = next(one for one in round_report(garden, now=NOW)["calls"] if one["bed"] == "chapel")
    assert call["verdict"] == "soak"
    (answer,) = feel(garden, ["chapel"], ball="moist", now=NOW)
    assert answer["say"][-1].endswith('\n  soakbook left chapel moist --planting "climbing rose"')


def test_a_finger_that_agrees_with_the_reckoning_takes_nothing_off_the_round(garden: Path) -> None:
    """Reckoned parched, felt dust: the water is wanted, and nothing is to be left."""
    (answer,) = feel(garden, ["chapel"], ball="dust", now=NOW)
    assert "soakbook left" not in said(answer)


def test_a_dry_feel_puts_a_bed_on_the_round(garden: Path) -> None:
    soak(garden, ["school"], "advised", now=NOW)
    later = at(5, 15, 8)
    (answer,) = feel(garden, ["school"], ball="dust", now=later)
    assert "Now wanted today" in said(answer)
    call = next(one for one in round_report(garden, now=later)["calls"] if one["bed"] == "school")
    assert call["verdict"] == "soak"


def test_a_feel_of_yesterday_stands_beside_yesterdays_reckoning(garden: Path) -> None:
    call = planting_call(garden, "climbing rose", on="14may2031")
    (answer,) = feel(garden, ["chapel"], ball="moist", at="yesterday 06:00", now=NOW)
    assert answer["changed"]["reckoned"] == {"ball": call["ball_state"], "bed": call["bed_state"]}


def test_a_named_planting_is_set_beside_its_own_reckoning(garden: Path) -> None:
    call = planting_call(garden, "clematis")
    (answer,) = feel(garden, ["chapel"], ball="dry", planting="clematis", now=NOW)
    assert answer["changed"]["reckoned"] == {"ball": call["ball_state"], "bed": call["bed_state"]}


def test_bare_roots_have_no_ball_to_feel(garden: Path) -> None:
    with Refused(garden, "ball", "dry", "bare-rooted", "only --bed"):
        feel(garden, ["ride"], ball="dry", now=NOW)
    feel(garden, ["ride"], bed="dry", now=NOW)
    assert entries_of(garden, Feel)[0].bed == "dry"


def test_a_feel_of_nothing_is_refused(garden: Path) -> None:
    with Refused(garden, "feel", None, "--ball dry"):
        feel(garden, ["chapel"], now=NOW)


def test_a_bed_without_living_plants_has_nothing_to_feel(garden: Path) -> None:
    with Refused(garden, "bed", "yard", "living plants", "Yard"):
        feel(garden, ["yard"], bed="moist", now=NOW)


def test_the_same_feel_twice_in_a_minute_is_refused(garden: Path) -> None:
    feel(garden, ["chapel"], ball="dry", bed="moist", now=NOW)
    with Refused(garden, "feel", "ball dry, bed moist", "in the book already"):
        feel(garden, ["chapel"], ball="dry", bed="moist", now=NOW.replace(second=59))
    feel(garden, ["chapel"], ball="dry", bed="moist", now=at(5, 15, 6, 31))
    feel(garden, ["chapel"], ball="dry", bed="wet", now=NOW)
    assert len(entries_of(garden, Feel)) == 3


def test_one_of_several_beds_that_cannot_be_felt_refuses_all(garden: Path) -> None:
    with Refused(garden, "bed", "yard"):
        feel(garden, ["chapel", "yard"], bed="dry", now=NOW)


def test_unsure_is_kept(garden: Path) -> None:
    (answer,) = feel(garden, ["chapel"], bed="moist", unsure=True, planting="clematis", now=NOW)
    assert entries_of(garden, Feel)[0].unsure
    assert "Entered as unsure" in said(answer)


def test_a_feel_at_odds_with_itself_is_entered_as_unsure(garden: Path) -> None:
    """The soil round a drowned ball is hardly dust-dry. Common practice, no source."""
    (answer,) = feel(garden, ["dole"], ball="sour", bed="dust", now=NOW)
    assert entries_of(garden, Feel)[0].unsure
    assert "Ball sour, bed dust: the soil round a drowned ball is hardly dust-dry." in said(answer)
    assert "Entered as unsure:" in said(answer)
    assert "Feel again, in another of them." in answer["say"]


def test_what_may_stand_together_contradicts_nothing() -> None:
    odd = {
        (ball, bed)
        for ball in (None, *get_args(FeltClass))
        for bed in (None, *get_args(FeltClass))
        if contradiction(ball, bed)
    }
    assert odd == {("sour", "dust")}
