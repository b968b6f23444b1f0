"""Beds: begun, changed, listed with every guess."""

from pathlib import Path

from soakbook.garden.records import Bed
from soakbook.services.entries import soak
from soakbook.services.mornings import round_report
from soakbook.services.setup import bed, beds, plant, tap
from tests.services.looking import NOW, Refused, look_at, pages_of, said


def bed_of(path: Path, key: str) -> Bed:
    """A bed of a book."""
    return next(one for one in pages_of(path).beds if one.key == key)


def test_a_new_bed_says_what_is_guessed(new_book: Path) -> None:
    tap(new_book, "A", now=NOW, flow="14l/min")
    words = {"area": "18m2", "soil": "sandy loam", "place": "south wall", "tap": "a"}
    answer = bed(new_book, "chapel", now=NOW, name="Chapel Wall", **words)
    made = bed_of(new_book, "chapel")
    assert (made.area_m2, made.soil, made.place) == (18.0, "sandy loam", "south wall foot")
    assert made.tap == "A"
    assert made.rain_share is None
    assert said(answer).startswith(
        "New bed Chapel Wall: 18 m², sandy loam, south wall foot, tap A."
    )
    assert "share of the rain 0.45" in said(answer)
    assert "drying 1.2 times as fast as open ground" in said(answer)


def test_clay_is_asked_for_its_hole(garden: Path) -> None:
    answer = bed(garden, "low", now=NOW, area="12m2", soil="clay")
    assert "Does water still stand in a 30 cm hole" in said(answer)
    answer = bed(garden, "low", now=NOW, hole="standing")
    assert said(answer) == (
        "low. Water still stands in the hole after a day.\n"
        "What it cannot keep drains away in about 8 days; before in 4 days."
    )
    assert answer["changed"]["fields"] == {"hole": [None, "standing"]}
    bed(garden, "low", now=NOW, hole="20mm/h")
    assert (bed_of(garden, "low").hole, bed_of(garden, "low").hole_mm_h) == (None, 20.0)


def test_every_word_of_a_bed_is_read(garden: Path) -> None:
    words = {
        "area": "200sqft",
        "jar": "6,3,1",
        "exposure": "1.15",
        "rain_share": "0.8",
        "stones": "some",
        "organic": "4%",
        "slope": "1 in 4",
        "depth": "45cm",
        "intake": "8mm/h",
        "walk": "30m",
        "keeper": "Ann",
        "place": "bank",
    }
    bed(garden, "slope", now=NOW, **words)
    made = bed_of(garden, "slope")
    assert (made.sand_fraction, made.clay_fraction) == (0.6, 0.1)
    assert (made.exposure_factor, made.rain_share, made.stone_fraction) == (1.15, 0.8, 0.15)
    assert (made.organic_percent, made.slope_fraction, made.bed_depth_m) == (4.0, 0.25, 0.45)
    assert (made.intake_mm_h, made.walk_m, made.keeper) == (8.0, 30.0, "Ann")
    assert made.place == "windy bank"


def test_a_squeeze_names_the_soil_and_its_grain_turns_it(garden: Path) -> None:
    bed(garden, "yard", now=NOW, squeeze="ribbon")
    assert bed_of(garden, "yard").soil == "clay loam"
    bed(garden, "yard", now=NOW, squeeze="ribbon, gritty")
    assert bed_of(garden, "yard").soil == "sandy clay loam"


def test_a_soil_said_after_a_jar_takes_its_place(garden: Path) -> None:
    bed(garden, "yard", now=NOW, jar="1,1,8")
    assert beds(garden)["beds"][-1]["soil"] == "clay by the jar"
    bed(garden, "yard", now=NOW, soil="loam")
    assert beds(garden)["beds"][-1]["soil"] == "loam"


def test_a_change_that_changes_nothing_says_so(garden: Path) -> None:
    before = look_at(garden)
    answer = bed(garden, "yard", now=NOW, soil="loam")
    assert said(answer) == "Yard: it stands so in the book already."
    assert look_at(garden) == before


def test_a_tap_is_taken_away_again(garden: Path) -> None:
    bed(garden, "yard", now=NOW, tap="none")
    assert bed_of(garden, "yard").tap is None


def test_the_list_has_every_guess_with_what_settles_it(garden: Path) -> None:
    report = beds(garden)
    assert report["schema"] == "soakbook.beds/1"
    chapel = next(one for one in report["beds"] if one["bed"] == "chapel")
    assert chapel["plantings"][0] == {
        "planting": "climbing rose",
        "kind": "shrub",
        "count": 6,
        "living": 6,
        "elsewhere": 0,
        "planted_on": "2031-03-20",
    }
    answers = [guess["answer"] for guess in chapel["guesses"]]
    assert "soakbook bed chapel --jam-jar 6mm --gauge 14mm" in answers
    assert 'soakbook plant chapel "climbing rose" 6 --leaves 44cm' in answers
    assert not any("--pot" in answer for answer in answers), "the pot was said"


def test_what_is_settled_is_no_guess_any_more(garden: Path) -> None:
    bed(garden, "chapel", now=NOW, rain_share="0.4", intake="20mm/h")
    guesses = {one["what"] for one in beds(garden)["beds"][0]["guesses"] if not one["planting"]}
    assert "share of the rain" not in guesses
    assert "intake" not in guesses
    assert "drying" in guesses


def test_what_was_said_is_no_guess_though_it_be_the_usual(garden: Path) -> None:
    def guessed() -> set[tuple[str | None, str]]:
        found = next(one for one in beds(garden)["beds"] if one["bed"] == "chapel")["guesses"]
        return {(one["planting"], one["what"]) for one in found}

    assert {(None, "walk"), ("climbing rose", "leaves")} <= guessed()
    bed(garden, "chapel", now=NOW, walk="20m")
    plant(garden, "chapel", "climbing rose", "6", now=NOW, leaves="44cm")
    assert not {(None, "walk"), ("climbing rose", "leaves")} & guessed()


def test_what_was_said_is_said_back(garden: Path) -> None:
    words = {"slope": "1 in 4", "stones": "some", "hole": "gone", "walk": "30m", "depth": "35cm"}
    answer = bed(garden, "bank", now=NOW, area="200sqft", keeper="Ann", rain_share="45%", **words)
    assert "New bed bank: 18.6 m²" in said(answer)
    assert (
        "As you said: stones 15%; slope 1 in 4; 35 cm of soil for roots; the hole is empty after a "
        "day; share of the rain 45%; walk 30 m; kept by Ann."
    ) in said(answer)


def test_a_change_is_said_with_what_the_book_said_before(garden: Path) -> None:
    answer = bed(garden, "chapel", now=NOW, area="20m2", rain_share="120%")
    assert said(answer) == "Chapel Wall. Area 20 m²; it said area 18 m². Share of the rain 120%."


def test_an_unknown_bed_is_not_begun_without_its_area(garden: Path) -> None:
    with Refused(garden, "bed", "chapl", "did you mean chapel", "a new bed needs --area"):
        bed(garden, "chapl", now=NOW, hole="gone")


def test_what_cannot_be_a_bed_is_refused(garden: Path) -> None:
    with Refused(garden, "area", "18", "18m2"):
        bed(garden, "new", now=NOW, area="18")
    with Refused(garden, "soil", "porridge"):
        bed(garden, "yard", now=NOW, soil="porridge")
    with Refused(garden, "tap", "Z", "soakbook tap adds one"):
        bed(garden, "yard", now=NOW, tap="Z")
    with Refused(garden, "hole", "maybe", "standing, gone"):
        bed(garden, "yard", now=NOW, hole="maybe")
    with Refused(garden, "squeeze", "ball", "the soil said once"):
        bed(garden, "yard", now=NOW, soil="loam", squeeze="ball")
    with Refused(garden, "exposure", "3", "from 0.2 to 2"):
        bed(garden, "yard", now=NOW, exposure="3")
    with Refused(garden, "name", "Chapel Wall", "no other bed has"):
        bed(garden, "yard", now=NOW, name="Chapel Wall")
    with Refused(garden, "colour", "red", "one of name, area"):
        bed(garden, "yard", now=NOW, colour="red")


def test_a_name_is_another_only_by_its_letters(garden: Path) -> None:
    """Chapel-Wall would be found wherever Chapel Wall is typed."""
    with Refused(garden, "name", "Chapel-Wall", "no other bed has"):
        bed(garden, "new", now=NOW, area="3m2", name="Chapel-Wall")
    with Refused(garden, "name", "Chapel", "no other bed has: chapel is the key of Chapel Wall"):
        bed(garden, "new", now=NOW, area="3m2", name="Chapel")
    told = bed(garden, "chapel_wall", now=NOW, area="19m2")
    assert told["bed"] == "chapel"


def test_a_bed_too_small_for_its_balls_is_refused(garden: Path) -> None:
    """14 balls 45 cm across, 0.159 m2 each and a quarter more, need 2.8 m2."""
    with Refused(garden, "area", "2m2", "shrub rose", "need 2.8 m²"):
        bed(garden, "dole", now=NOW, area="2m2")


def test_a_crowded_bed_says_so(garden: Path) -> None:
    plant(garden, "yard", "shrub", "20", now=NOW, pot="5l", on="1may")
    answer = bed(garden, "yard", now=NOW, area="8m2")
    assert "The plants of Yard want more ground than its 8 m²" in said(answer)


def test_a_test_of_the_soil_says_what_the_bed_now_holds(garden: Path) -> None:
    """Loam is FC - WP 0.143 of 350 mm, clay loam 0.140, loamy sand 0.077: Saxton & Rawls 2006, FAO-56 table 19."""
    answer = bed(garden, "school", now=NOW, squeeze="ribbon")
    assert "Reckoned to hold 49 L for plants under each m², 35 cm deep; before 27." in said(answer)
    assert "drains away in about 2 days; before in ½ day" in said(answer)
    assert said(answer).count("wanted") == 1, "what the round says of it now"
    answer = bed(garden, "school", now=NOW, jar="8,1.5,0.5")
    assert "before 49" in said(answer)


def test_a_squeeze_of_a_soil_not_known_halves_the_doubt(garden: Path) -> None:
    bed(garden, "new", now=NOW, area="9m2")
    answer = bed(garden, "new", now=NOW, squeeze="falls apart")
    assert "It was a guess with twice the usual doubt." in said(answer)
    assert "a third soak in a week asks for no finger any more" in said(answer)


def test_a_drain_hole_says_whether_clays_guard_is_on(garden: Path) -> None:
    answer = bed(garden, "yard", now=NOW, hole="standing")
    assert "drains away in about 8 days; before in 1 day." in said(answer)
    assert "It drains slowly: a third soak in a week asks for a finger first." in said(answer)
    answer = bed(garden, "yard", now=NOW, hole="gone")
    assert "asks for no finger any more" in said(answer)
    answer = bed(garden, "yard", now=NOW, hole="50mm/h")
    assert "That is as reckoned: it drains in about 1 day." in said(answer)


def test_a_bed_has_another_key_and_its_past_goes_with_it(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", now=NOW)
    answer = bed(garden, "chapel", new_key="wall", now=NOW)
    assert answer["bed"] == "wall"
    assert "Known as wall; it said known as chapel" in said(answer)
    assert bed_of(garden, "wall").name == "Chapel Wall"
    calls = {one["bed"]: one for one in round_report(garden, now=NOW)["calls"]}
    assert calls["wall"]["given_today_l"] == 20


def test_a_key_that_another_has_is_refused(garden: Path) -> None:
    for word in ("dole", "Dole Bed", "DOLE"):
        with Refused(garden, "new key", word, "no other bed has"):
            bed(garden, "chapel", new_key=word, now=NOW)
    with Refused(garden, "new key", "nook", "left out"):
        bed(garden, "fresh", area="3m2", new_key="nook", now=NOW)
    with Refused(garden, "new key", "", "short key"):
        bed(garden, "chapel", new_key="", now=NOW)
