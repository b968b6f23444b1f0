"""Plantings: what they are taken for, what is guessed, and what is found out about them later."""

import math
from datetime import date
from pathlib import Path

import pytest

from soakbook.garden.records import Planting
from soakbook.services.entries import loss
from soakbook.services.mornings import round_report
from soakbook.services.setup import plant
from tests.services.looking import NOW, Refused, approx, pages_of, said


def planting(path: Path, name: str) -> Planting:
    """A planting of a book."""
    return next(one for one in pages_of(path).plantings if one.name == name)


def test_a_pot_is_taken_for_what_it_usually_is(garden: Path) -> None:
    """A 5 L pot is 22 cm across, and its shrub 0.10 m2 growing to 0.40 in 12 weeks."""
    answer = plant(garden, "yard", "rose", "3", now=NOW, pot="5l", on="1may")
    made = planting(garden, "rose")
    assert (made.plant_class, made.origin, made.ball_volume_l) == ("shrub", "pot", 5.0)
    assert made.ball_diameter_m == approx(0.22)
    assert (made.canopy_start_m2, made.canopy_full_m2, made.weeks_to_full) == (0.10, 0.40, 12)
    assert made.planted_on == date(2031, 5, 1)
    assert made.watered_in
    assert "3 roses, from 5 L pots, planted 1 May" in said(answer)
    assert "My guesses: leaves 36 cm across when planted" in said(answer)
    assert "\n  soakbook plant yard rose 3 --leaves 36cm" in said(answer)


@pytest.mark.parametrize(
    ("options", "origin", "volume_l", "width_m", "plant_class"),
    [
        ({"pot": "9cm"}, "pot", 0.5, 0.09, "shrub"),
        ({"pot": "1can"}, "pot", 10.0, 0.28, "shrub"),
        ({"ball": "45cm"}, "dug", 30.0, 0.45, "dug_shrub"),
        ({"ball": "45cm", "deep": "yes"}, "dug", 40.0, 0.45, "dug_shrub"),
        ({"bare": "yes"}, "bare", 0.0, 0.0, "bare_shrub"),
        ({}, "pot", 4.0, 0.20, "shrub"),
    ],
)
def test_how_it_came_makes_its_ball(
    garden: Path,
    options: dict[str, str],
    origin: str,
    volume_l: float,
    width_m: float,
    plant_class: str,
) -> None:
    plant(garden, "yard", "rose", "3", now=NOW, on="1may", **options)
    made = planting(garden, "rose")
    assert (made.origin, made.plant_class) == (origin, plant_class)
    assert made.ball_volume_l == approx(volume_l)
    assert made.ball_diameter_m == approx(width_m)


def test_a_hedge_comes_bare_unless_it_is_said(garden: Path) -> None:
    plant(garden, "yard", "hawthorn hedge", "9", now=NOW)
    assert planting(garden, "hawthorn hedge").origin == "bare"


def test_every_word_of_a_planting_is_read(garden: Path) -> None:
    words = {
        "pot": "5l",
        "on": "1may",
        "name": "roses by the door",
        "mix": "loam",
        "leaves": "35cm",
        "leaves_full": "4spans",
        "weeks": "14",
        "leaf": "evergreen",
        "leaf_out": "20apr",
        "leaf_fall": "1nov",
        "spacing": "60cm",
        "usual": "7l",
        "watered_in": "no",
        "bowl": "made",
        "ball_felt": "moist",
        "bed_felt": "dry",
    }
    plant(garden, "yard", "rose", "3", now=NOW, **words)
    made = planting(garden, "roses by the door")
    assert made.canopy_start_m2 == approx(math.pi / 4 * 0.35**2)
    assert made.canopy_full_m2 == approx(math.pi / 4 * 0.8**2)
    assert made.cell_m2 == approx(0.36)
    assert (made.mix, made.weeks_to_full, made.leaf) == ("loam-based", 14.0, "evergreen")
    assert (made.leaf_out_on, made.leaf_fall_on) == (date(2031, 4, 20), date(2031, 11, 1))
    assert (made.usual_dose_l, made.watered_in) == (7.0, False)
    assert made.bowl_m2 == approx(2.5 * math.pi / 4 * 0.22**2)
    assert (made.bowl_depth_m, made.ball_felt, made.bed_felt) == (0.05, "moist", "dry")


def test_a_plant_unknown_is_said_to_be_like_another(garden: Path) -> None:
    with Refused(garden, "kind", "flurble", "say what it is like"):
        plant(garden, "yard", "flurble", "3", now=NOW)
    plant(garden, "yard", "flurble", "3", now=NOW, plant_class="perennial")
    assert planting(garden, "flurble").plant_class == "perennial"


def test_planted_today_it_is_watered_in(garden: Path) -> None:
    """Six pots of 5 L want a pot's volume each: 30 L."""
    answer = plant(garden, "chapel", "shrub", "6", now=NOW, pot="5l")
    assert "Heft the pots" in said(answer)
    assert "Water in with about 5 L each, slowly: 30 L" in said(answer)
    assert "at tap A" in said(answer)


def test_leaves_are_never_wider_than_the_plants_share_of_the_bed(garden: Path) -> None:
    """Perennials of 2 L grow to 0.15 m2 each; 90 of them have 0.10 m2 each in 9 m2."""
    plant(garden, "yard", "perennial", "90", now=NOW, pot="2l", on="1may", name="ground cover")
    assert planting(garden, "ground cover").canopy_full_m2 == approx(9 / 90)


def test_what_is_found_out_later_changes_the_planting(garden: Path) -> None:
    before = planting(garden, "climbing rose")
    answer = plant(garden, "chapel", "climbing rose", "6", now=NOW, leaves="40cm", usual="7l")
    after = planting(garden, "climbing rose")
    assert after.uid == before.uid
    assert after.canopy_start_m2 == approx(math.pi / 4 * 0.4**2)
    assert after.planted_on == before.planted_on
    assert "Leaves 40 cm across when planted; it said leaves 44 cm across" in said(answer)
    assert set(answer["changed"]["fields"]) == {"canopy_start_m2", "usual_dose_l"}


def test_what_was_said_of_a_planting_is_said_back(garden: Path) -> None:
    words = {"mix": "loam", "leaf": "evergreen", "bowl": "made", "weeks": "14", "usual": "7l"}
    dates = {"leaf_out": "20apr2031", "leaf_fall": "1nov2030"}
    answer = plant(
        garden, "yard", "rose", "3", now=NOW, pot="5l", on="1may", spacing="0.25m2",
        watered_in="no", **words, **dates,
    )  # fmt: skip
    assert (
        "As you said: mix loam-based; full leaf in 14 weeks; evergreen; leaf out 20 April; leaf off "
        "1 November 2030; 0.25 m² of ground each; usual dose 7 L; not watered in; a bowl of "
    ) in said(answer)
    answer = plant(garden, "yard", "rose", "3", now=NOW, watered_in="yes", on="1may")
    assert said(answer) == "Yard, rose. Watered in; it said not watered in."


def test_a_planting_of_another_year_says_so(garden: Path) -> None:
    answer = plant(garden, "yard", "hawthorn hedge", "9", now=NOW, on="6dec2030")
    assert "planted 6 December 2030." in said(answer)


def test_a_usual_dose_beyond_any_ball_is_refused(garden: Path) -> None:
    """A pot of 5 L is never given more than ten times its water."""
    with Refused(garden, "usual", "60l", "at most 50 L for one plant", "5 L"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="5l", usual="60l")


def test_what_is_out_of_bounds_is_named_as_it_was_typed(garden: Path) -> None:
    with Refused(garden, "leaves full", "20cm", "no less when grown", "36 cm across now"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="5l", leaves="36cm", leaves_full="20cm")
    with Refused(garden, "weeks", "200", "at most 104 weeks"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="5l", weeks="200")
    with Refused(garden, "pot", "0cm", "more than nothing"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="0cm")


def test_replacements_keep_the_name_that_was_typed(garden: Path) -> None:
    loss(garden, "chapel", "climbing rose", "3", "drowned", at="1may", now=NOW)
    plant(garden, "chapel", "rambler rose", "1", now=NOW, pot="5l", replaces="climbing rose")
    plant(garden, "chapel", "climbing rose", "1", now=NOW, pot="5l", replaces="climbing rose")
    names = [one.name for one in pages_of(garden).plantings]
    assert {"rambler rose", "climbing rose of 15 May"} <= set(names)


def test_a_line_typed_twice_plants_nothing_twice(garden: Path) -> None:
    before = pages_of(garden)
    answer = plant(garden, "chapel", "climbing rose", "6", now=NOW, pot="7.5l", on="20mar")
    assert "they stand so in the book already" in said(answer)
    assert pages_of(garden) == before


def test_one_rose_and_more_roses_are_the_same_name(garden: Path) -> None:
    plant(garden, "chapel", "Climbing Roses", "6", now=NOW, leaves="40cm")
    assert len(pages_of(garden).plantings) == 5


def test_a_hyphen_makes_no_other_planting(garden: Path) -> None:
    with Refused(garden, "count", 7, "with --name for others of the kind"):
        plant(garden, "chapel", "climbing-rose", "7", now=NOW, pot="4l")


def test_how_it_came_is_asked_when_it_was_not_said(garden: Path) -> None:
    assert "How it came was not said" in said(plant(garden, "yard", "rose", "2", now=NOW))
    told = plant(garden, "yard", "aster", "2", now=NOW, pot="1l")
    assert "How it came was not said" not in said(told)


def test_more_of_a_kind_want_a_name(garden: Path) -> None:
    with Refused(garden, "count", 8, "6, the climbing roses there since 20 March", "--name"):
        plant(garden, "chapel", "climbing rose", "8", now=NOW)
    with Refused(garden, "on", "1may", "20 March 2031", "--name"):
        plant(garden, "chapel", "climbing rose", "6", now=NOW, on="1may")
    plant(garden, "chapel", "climbing rose", "2", now=NOW, on="1may", name="late roses")
    assert len(pages_of(garden).plantings) == 6


def test_a_count_is_corrected_with_its_day(garden: Path) -> None:
    plant(garden, "chapel", "climbing rose", "7", now=NOW, on="20mar")
    assert planting(garden, "climbing rose").count == 7
    loss(garden, "chapel", "rose", "3", "drought", now=NOW)
    with Refused(garden, "count", 2, "at least 3"):
        plant(garden, "chapel", "climbing rose", "2", now=NOW, on="20mar")


def test_the_dead_are_replaced_and_no_more(garden: Path) -> None:
    with Refused(garden, "count", 2, "at most 0"):
        plant(garden, "dole", "shrub rose", "2", now=NOW, pot="5l", replaces="shrub rose")
    loss(garden, "dole", "shrub rose", "2", "drowned", at="1may", now=NOW)
    plant(garden, "dole", "shrub rose", "2", now=NOW, pot="5l", replaces="shrub rose")
    made = planting(garden, "shrub rose of 15 May")
    assert made.replaces == planting(garden, "shrub rose").uid
    with Refused(garden, "count", 1, "at most 0"):
        plant(garden, "dole", "rose", "1", now=NOW, pot="5l", replaces="shrub rose")


def test_a_ball_without_its_ground_is_refused(garden: Path) -> None:
    """300 pots of 20 L, 35 cm across, on 9 m2 have 0.03 m2 each; a ball needs 1.25 x 0.0962 m2."""
    with Refused(garden, "count", "300", "35 cm across needs 0.12", "9 m²"):
        plant(garden, "yard", "shrub", "300", now=NOW, pot="20l")


def test_what_cannot_be_a_planting_is_refused(garden: Path) -> None:
    with Refused(garden, "ball", "45cm", "one way it came"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="5l", ball="45cm")
    with Refused(garden, "deep", "yes", "with --ball"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="5l", deep="yes")
    with Refused(garden, "on", "2031-05-16", "a day that has come"):
        plant(garden, "yard", "rose", "3", now=NOW, on="2031-05-16")
    with Refused(garden, "count", "0", "a whole number of plants"):
        plant(garden, "yard", "rose", "0", now=NOW)
    with Refused(garden, "mix", "loam", "with --pot"):
        plant(garden, "yard", "rose", "3", now=NOW, bare="yes", mix="loam")
    with Refused(garden, "dug from", "clay", "with --ball"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="5l", dug_from="clay")
    with Refused(garden, "pot", "0l", "more than 0"):
        plant(garden, "yard", "rose", "3", now=NOW, pot="0l")
    with Refused(garden, "bowl", "big", "made, or none"):
        plant(garden, "yard", "rose", "3", now=NOW, bowl="big")
    with Refused(garden, "colour", "red", "one of name, mix"):
        plant(garden, "yard", "rose", "3", now=NOW, colour="red")


def test_a_pot_hefted_light_stands_in_a_bucket(garden: Path) -> None:
    answer = plant(garden, "yard", "rose", "4", now=NOW, pot="5l", heft="light")
    assert pages_of(garden).plantings[-1].ball_felt == "dry"
    assert "in a bucket until it stops bubbling" in said(answer)
    assert "soakbook plant yard rose 4 --heft heavy" in said(answer)
    assert "Taken as watered in" not in said(answer)
    answer = plant(garden, "yard", "rose", "4", now=NOW, heft="heavy")
    assert pages_of(garden).plantings[-1].ball_felt == "wet"
    assert "bucket" not in said(answer)


def test_only_a_pot_is_hefted_and_only_one_word_is_said_of_it(garden: Path) -> None:
    with Refused(garden, "heft", "light", "with --pot"):
        plant(garden, "yard", "whip", "4", now=NOW, bare="yes", heft="light")
    with Refused(garden, "heft", "middling", "one of light, heavy"):
        plant(garden, "yard", "rose", "4", now=NOW, pot="5l", heft="middling")
    with Refused(garden, "ball felt", "dry", "--heft or --ball-felt"):
        plant(garden, "yard", "rose", "4", now=NOW, pot="5l", heft="light", ball_felt="dry")


def test_an_ordinary_herb_bed_planted_over_days_is_taken(garden: Path) -> None:
    """36 herbs in 9 m2, a dozen each time: the last find the ground taken up, at twice their grown leaves each."""
    for kind, on in (("thyme", "1may"), ("sage", "6may"), ("mint", "11may")):
        answer = plant(
            garden, "yard", kind, "12", plant_class="perennial", pot="2l", on=on, now=NOW
        )
    assert "want more ground than its 9 m²: the last to come are reckoned on less" in said(answer)
    (yard,) = (one for one in round_report(garden, now=NOW)["calls"] if one["bed"] == "yard")
    assert [one["count"] for one in yard["plantings"]] == [12, 12, 12]
