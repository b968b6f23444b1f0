"""Plants dug up for another bed: gone there, new here, and nobody takes them for dead."""

from datetime import date
from pathlib import Path

import pytest

from soakbook.errors import InputError
from soakbook.garden.entries import Loss
from soakbook.garden.records import Planting
from soakbook.services.entries import soak
from soakbook.services.history import LAST
from soakbook.services.mornings import round_report
from soakbook.services.setup import beds, move, plant
from soakbook.services.undoing import undo
from tests.services.looking import NOW, Refused, at, entries_of, look_at, pages_of, said


def planting_in(path: Path, key: str, name: str) -> Planting:
    """A planting by its bed's key and its name."""
    pages = pages_of(path)
    bed = next(one for one in pages.beds if one.key == key)
    return next(one for one in pages.plantings_of(bed) if one.name == name)


def test_they_are_gone_there_and_new_here(garden: Path) -> None:
    answer = move(garden, "chapel", "rose", to="dole", count="2", ball="40cm", now=NOW)
    assert answer["bed"] == "chapel"
    assert {name: answer["changed"][name] for name in ("moved", "standing", "to")} == {
        "moved": 2,
        "standing": 4,
        "to": "dole",
    }
    assert "2 climbing roses moved to Dole Bed; 4 of them stand there still" in said(answer)
    assert "Water in with about" in said(answer)
    new, old = (planting_in(garden, key, "climbing rose") for key in ("dole", "chapel"))
    assert (new.count, new.came_from, new.parted_on) == (2, old.uid, None)
    assert (new.origin, new.ball_diameter_m, new.planted_on) == ("dug", 0.40, NOW.date())
    assert new.dug_from_soil == "sandy loam"
    assert (old.count, old.canopy_full_m2) == (6, new.canopy_full_m2)
    (gone,) = entries_of(garden, Loss)
    assert (gone.count, gone.cause, gone.note) == (2, "moved", "to Dole Bed")


def test_their_leaves_are_as_grown_as_they_are_by_then(garden: Path) -> None:
    old = planting_in(garden, "chapel", "clematis")
    move(garden, "chapel", "clematis", to="dole", count="1", now=NOW)
    new = planting_in(garden, "dole", "clematis")
    weeks = (NOW.date() - old.planted_on).days / 7
    grown = old.canopy_full_m2 - old.canopy_start_m2
    expected = old.canopy_start_m2 + grown * weeks / old.weeks_to_full
    assert new.canopy_start_m2 == pytest.approx(expected)


def test_a_ball_that_nobody_measured_is_a_guess(garden: Path) -> None:
    answer = move(garden, "chapel", "clematis", to="dole", now=NOW)
    assert "taken as wide as it came: --ball says how wide" in said(answer)
    assert answer["changed"]["guesses"][0]["what"] == "ball"
    told = move(garden, "chapel", "rose", to="dole", ball="30cm", now=NOW)
    assert "taken as wide" not in said(told)
    assert "ball" not in {one["what"] for one in told["changed"]["guesses"]}


def test_bare_roots_stay_bare(garden: Path) -> None:
    answer = move(garden, "ride", "whip", to="yard", count="3", on="10may", now=NOW)
    assert "3 hornbeam whips, bare root, planted 10 May. They begin anew there." in said(answer)
    assert planting_in(garden, "yard", "hornbeam whip").ball_volume_l == 0


def test_from_tomorrow_the_round_counts_them_where_they_are(garden: Path) -> None:
    move(garden, "chapel", "rose", to="dole", count="2", now=NOW)
    calls = {one["bed"]: one for one in round_report(garden, now=at(5, 16, 7))["calls"]}
    counts = {
        (key, one["planting"]): one["count"]
        for key in ("chapel", "dole")
        for one in calls[key]["plantings"]
    }
    assert counts["chapel", "climbing rose"] == 4
    assert counts["dole", "climbing rose"] == 2


def test_nobody_takes_them_for_dead(garden: Path) -> None:
    move(garden, "chapel", "clematis", to="dole", count="2", now=NOW)
    chapel = next(one for one in beds(garden)["beds"] if one["bed"] == "chapel")
    clematis = next(one for one in chapel["plantings"] if one["planting"] == "clematis")
    assert (clematis["count"], clematis["living"], clematis["elsewhere"]) == (5, 3, 2)


def test_their_ground_is_free_for_others(garden: Path) -> None:
    move(garden, "chapel", "clematis", to="dole", count="2", now=NOW)
    plant(garden, "chapel", "clematis", "2", replaces="clematis", name="new clematis", now=NOW)
    assert planting_in(garden, "chapel", "new clematis").replaces is not None


def test_a_name_that_is_taken_there_has_the_day_with_it(garden: Path) -> None:
    move(garden, "chapel", "rose", to="dole", count="1", now=NOW)
    move(garden, "chapel", "rose", to="dole", count="1", now=NOW)
    assert planting_in(garden, "dole", "climbing rose of 15 May").count == 1
    with Refused(garden, "name", "shrub rose", "no other planting of Dole Bed"):
        move(garden, "chapel", "rose", to="dole", count="1", name="shrub rose", now=NOW)


@pytest.mark.parametrize(
    ("typed", "field", "right"),
    [
        ({"to": "chapel"}, "to", "another bed than Chapel Wall"),
        ({"to": "nowhere"}, "bed", "known"),
        ({"to": "dole", "count": "7"}, "count", "at most 6"),
        ({"to": "dole", "count": "0"}, "count", "at least 1"),
        ({"to": "dole", "on": "20may2031"}, "on", "a day that has come"),
        ({"to": "dole", "on": "1mar"}, "on", "not before 20 March"),
        ({"to": "dole", "ball": "9m"}, "ball", "from 0 to 2000 L"),
        ({"to": "dole", "ball": "40cm", "bare": "yes"}, "bare", "one way"),
        ({"to": "yard", "ball": "150cm"}, "count", "fewer plants or a larger bed"),
    ],
)
def test_what_cannot_be_right_changes_nothing(
    garden: Path, typed: dict[str, str], field: str, right: str
) -> None:
    before = look_at(garden)
    with pytest.raises(InputError, match=right) as refused:
        move(garden, "chapel", "rose", now=NOW, **typed)
    assert refused.value.field == field
    assert look_at(garden) == before


def test_none_that_stand_cannot_be_moved(garden: Path) -> None:
    move(garden, "chapel", "clematis", to="dole", now=NOW)
    with Refused(garden, "planting", "clematis", "none of the clematis of Chapel Wall do"):
        move(garden, "chapel", "clematis", to="school", now=NOW)


def test_a_move_is_undone_by_moving_back(garden: Path) -> None:
    move(garden, "chapel", "clematis", to="dole", now=NOW)
    with Refused(garden, "handle", LAST, "soakbook plant with --moved-from takes them back"):
        undo(garden, LAST, now=NOW)
    move(garden, "dole", "clematis", to="chapel", name="clematis again", now=NOW)
    assert planting_in(garden, "chapel", "clematis again").count == 5


def test_moved_back_they_stand_in_their_own_ground(garden: Path) -> None:
    move(garden, "chapel", "clematis", to="dole", now=NOW)
    plant(garden, "chapel", "hosta", "790", pot="2l", on="1may", now=NOW)  # ball by ball
    with Refused(
        garden, "count", "3", "--replaces clematis plants in the ground of those that are"
    ):
        plant(garden, "chapel", "fern", "3", pot="2l", now=NOW)
    answer = move(garden, "dole", "clematis", to="chapel", count="4", name="back", now=NOW)
    assert "4 clematis moved to Chapel Wall; 1 of them stands there still." in said(answer)
    old = planting_in(garden, "chapel", "clematis")
    assert planting_in(garden, "chapel", "back").replaces == old.uid
    with Refused(garden, "count", 2, "at most 1"):
        plant(garden, "chapel", "fern", "2", pot="2l", replaces="clematis", now=NOW)


def test_where_they_stood_keeps_its_past(garden: Path) -> None:
    soak(garden, ["chapel"], "30l", at="yesterday 08:00", now=NOW)
    before = round_report(garden, now=NOW, on="yesterday")["calls"]
    move(garden, "chapel", "clematis", to="dole", now=NOW)
    assert round_report(garden, now=NOW, on="yesterday")["calls"] == before
    assert date(2031, 5, 15) in {one.planted_on for one in pages_of(garden).plantings}
