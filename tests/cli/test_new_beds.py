"""The conversation of a new garden against real books: what it enters, reads back and asks again."""

from pathlib import Path

import pytest

from soakbook.cli.exits import BROKEN_OFF
from soakbook.cli.main import main
from soakbook.garden.pages import Pages
from tests.cli.talking import Talk, Talked, talk
from tests.services.looking import NOW, pages_of

__all__ = ["talk"]

GARDEN = ["The Corrody", "52.3 N 0.4 W", "62", "Europe/London", "", "mon-sat 2h", ""]
TAPS = ["A 43", "", "B 11l/min", "25", ""]
CHAPEL = ["Chapel Wall, 18 m2, sandy loam, south wall foot, A", ""]
ROSES = ["chapel, climbing rose, 6, 7.5 L pot, 20 mar", ""]


def set_up(talk: Talk, path: Path, *answers: str | list[str] | None) -> Talked:
    """The conversation, its garden and taps answered, then these."""
    answered = [*GARDEN, *TAPS, *answers]
    talked = talk.talk(["book", "new", "--book", str(path)], answered, NOW)
    assert talked.unasked == ()
    return talked


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the book is to lie."""
    return tmp_path / "new.book"


def same(pages: Pages) -> Pages:
    """Pages without what differs between two books of one garden: uids and the hour of writing."""
    beds = {one.uid: one.key for one in pages.beds}
    return pages._replace(
        garden=pages.garden._replace(uid=""),
        beds=tuple(one._replace(uid="") for one in pages.beds),
        plantings=tuple(one._replace(uid="", bed_uid=beds[one.bed_uid]) for one in pages.plantings),
        taps=tuple(one._replace(uid="") for one in pages.taps),
        people=tuple(one._replace(uid="") for one in pages.people),
    )


def test_the_conversation_makes_what_the_commands_make(
    talk: Talk, path: Path, tmp_path: Path
) -> None:
    set_up(
        talk, path, *CHAPEL, "Dole Bed, 22 m2, ?, open, A", "clay", "standing",
        "Orchard Ride, 60 m2, short ribbon, windy bank, none", "no", "70%", "1.1", "",
        *ROSES, "dole, shrub rose, 14, dug ball 45 cm, 3 apr", "n", "yes", "40cm", "",
        "ride, hornbeam whip, 120, bare root, 22 jan, hedge", "yes", "",
    )  # fmt: skip
    typed = tmp_path / "typed.book"
    lines = [
        ["book", "new", "The Corrody", "--lat", "52.3", "--lon", "-0.4", "--elevation", "62",
         "--timezone", "Europe/London", "--hours", "2h", "--gallon", "uk"],
        ["person", "the gardener", "--days", "mon-sat"],
        ["tap", "A", "--fill", "10l", "43s", "--reach", "30m"],
        ["tap", "B", "--flow", "11l/min", "--reach", "25m"],
        ["bed", "chapel", "--name", "Chapel Wall", "--area", "18m2", "--soil", "sandy loam", "--place",
         "south wall foot", "--tap", "A", "--right"],
        ["bed", "dole", "--name", "Dole Bed", "--area", "22m2", "--soil", "clay", "--place", "open", "--tap",
         "A", "--hole", "standing"],
        ["bed", "orchard", "--name", "Orchard Ride", "--area", "60m2", "--squeeze", "short ribbon", "--place",
         "windy bank", "--tap", "none", "--rain-share", "70%", "--exposure", "1.1"],
        ["plant", "chapel", "climbing rose", "6", "--pot", "7.5l", "--on", "20mar", "--right"],
        ["plant", "dole", "shrub rose", "14", "--ball", "45cm", "--deep", "--on", "3apr", "--leaves", "40cm",
         "--leaves-full", "80cm"],
        ["plant", "ride", "hornbeam whip", "120", "--bare", "--on", "22jan", "--name", "hedge", "--right"],
    ]  # fmt: skip
    for words in lines:
        assert main([*words, "--book", str(typed)]) == 0
    assert same(pages_of(path)) == same(pages_of(typed))


def test_a_garden_without_taps_or_beds_ends_in_what_is_left_to_say(talk: Talk, path: Path) -> None:
    talked = talk.talk(["book", "new", "--book", str(path)], [*GARDEN, "", ""], NOW)
    assert (talked.status, talked.unasked) == (0, ())
    assert "Done: 0 beds, 0 plants." in talked.screen
    assert talked.screen.endswith("  soakbook plant --from plan.csv\n  soakbook round\n")


@pytest.mark.parametrize(
    ("answers", "beds", "plants"),
    [
        ([*CHAPEL, None], 1, 0),
        ([CHAPEL[0], None], 1, 0),
        ([*CHAPEL, "", ROSES[0], None], 1, 6),
        ([None], 0, 0),
    ],
)
def test_whoever_breaks_off_has_lost_nothing(
    answers: list[str | None], beds: int, plants: int, talk: Talk, path: Path
) -> None:
    talked = set_up(talk, path, *answers)
    assert talked.status == BROKEN_OFF
    assert "What was read back is in the book." in talked.screen
    assert "soakbook plant --from plan.csv" in talked.screen
    found = pages_of(path)
    assert (len(found.taps), len(found.beds)) == (2, beds)
    assert sum(one.count for one in found.plantings) == plants


def test_a_tap_is_there_when_its_reach_is_not_answered(talk: Talk, path: Path) -> None:
    talked = talk.talk(["book", "new", "--book", str(path)], [*GARDEN, "A 43", None], NOW)
    assert talked.status == BROKEN_OFF
    assert [one.key for one in pages_of(path).taps] == ["A"]


def test_what_cannot_be_right_is_said_and_asked_again(talk: Talk, path: Path) -> None:
    talked = set_up(
        talk, path, "Chapel Wall", "Chapel Wall, 18, clay, open, A", "Chapel Wall, 18 m2, mud, open, A",
        "Chapel Wall, 18 m2, sandy loam, open", "Chapel Wall, 18 m2, sandy loam, moon, A",
        "Chapel Wall, 18 m2, sandy loam, south wall, A", "maybe", "no", "lots", "0.5", "", "",
        "chapel, rose", "nowhere, rose, 3", "chapel, rose, 3, 45 cm", "chapel, rose, 3, 5 L pot, 1/4", "",
    )  # fmt: skip
    reasons = [line.partition(" cannot")[0] for line in talked.screen.splitlines()]
    assert [line for line in reasons if line.startswith("soakbook: ")] == [
        "soakbook: bed: 'Chapel Wall'",
        "soakbook: area: '18'",
        "soakbook: soil: 'mud'",
        "soakbook: tap is missing: which one, as the fifth: A, B or none",
        "soakbook: place: 'moon'",
        "soakbook: answer: 'maybe'",
        "soakbook: rain share: 'lots'",
        "soakbook: planting: 'chapel, rose'",
        "soakbook: bed: 'nowhere'",
        "soakbook: size: '45 cm'",
        "soakbook: on: '1/4'",
    ]
    (one,) = pages_of(path).beds
    assert (one.rain_share, one.exposure_factor, one.place) == (0.5, 1.2, "south wall foot")


def test_an_answer_out_of_bounds_is_asked_again_though_its_line_is_in_the_book(
    talk: Talk, path: Path
) -> None:
    answers = ["A 43", "5000", "25", "", CHAPEL[0], "no", "5000", "40%", "90", "1.1", "", ""]
    talked = talk.talk(["book", "new", "--book", str(path)], [*GARDEN, *answers], NOW)
    assert (talked.status, talked.unasked) == (0, ())
    pages = pages_of(path)
    assert [one.reach_m for one in pages.taps] == [25]
    assert [(one.rain_share, one.exposure_factor) for one in pages.beds] == [(0.4, 1.1)]


def test_no_and_none_end_as_a_blank_does(talk: Talk, path: Path) -> None:
    answers = [*GARDEN, "A 43", "", "None", *CHAPEL[:1], "", "no", *ROSES[:1], "", "no"]
    talked = talk.talk(["book", "new", "--book", str(path)], answers, NOW)
    assert (talked.status, talked.unasked) == (0, ())
    assert "cannot be right" not in talked.screen
    assert len(pages_of(path).plantings) == 1


def test_a_pinch_is_asked_for_once_the_rest_can_be_right(talk: Talk, path: Path) -> None:
    talked = set_up(talk, path, "Dole Bed, 22 m2, ?, wall, A", "")
    assert "place: 'wall' cannot be right" in talked.screen
    assert "Wet a pinch" not in talked.screen


def test_a_tap_tested_once_more_is_still_the_only_one(talk: Talk, path: Path) -> None:
    answers = ["A 43", "", "a 45", "", "", "Dole Bed, 22 m2, loam, open", "", ""]
    talked = talk.talk(["book", "new", "--book", str(path)], [*GARDEN, *answers], NOW)
    assert (talked.status, talked.unasked) == (0, ())
    assert [one.tap for one in pages_of(path).beds] == ["A"]


def test_lines_pasted_at_once_are_a_line_each(talk: Talk, path: Path) -> None:
    pasted = [
        "chapel\tclimbing rose\t6\t7.5 L pot\t20 mar",
        "",
        "chapel; clematis; 5; 3l",
        "chapel, rose, lots",
    ]
    talked = set_up(talk, path, *CHAPEL, "", pasted, "", "no", "", "40cm", "")
    assert "count: 'lots' cannot be right" in talked.screen
    assert [(one.name, one.count) for one in pages_of(path).plantings] == [
        ("climbing rose", 6), ("clematis", 5),
    ]  # fmt: skip


def test_a_plant_that_is_not_known_is_said_to_be_like_another(talk: Talk, path: Path) -> None:
    set_up(
        talk, path, *CHAPEL, "", "chapel, Zorble, 3, 2 L pot", "perennial", "",
        "chapel, Wibble, 3", "", "",
    )  # fmt: skip
    assert [(one.name, one.plant_class) for one in pages_of(path).plantings] == [
        ("Zorble", "perennial")
    ]


def test_how_plants_came_is_asked_where_the_guess_is_not_right(talk: Talk, path: Path) -> None:
    talked = set_up(
        talk, path, *CHAPEL, "", "chapel, climbing rose, 6", "no", "bare root", "", "", "",
    )  # fmt: skip
    assert "How it came was not said, so it is taken as usual" in talked.screen
    assert [one.origin for one in pages_of(path).plantings] == ["bare"]


def test_words_are_listed_and_cautions_said_once(talk: Talk, path: Path) -> None:
    talked = set_up(
        talk, path, "?", *CHAPEL, "Yard, 9 m2, ?, open, none", "", "Court, 9 m2, loam, open, none", "",
        *ROSES, "chapel, clematis, 2, 3 L pot, 21 mar", "", "dole, rose, 2", "",
    )  # fmt: skip
    assert "Place: open, south wall foot" in talked.screen.replace("\n", " ")
    assert "Tap: A, B, none." in talked.screen
    for words in ("run it off gently", "A full 10 L can is 10 kg", "legionella"):
        assert talked.screen.replace("\n", " ").count(words) == 1, words
    assert "Wet a pinch, squeeze it" in talked.screen
    assert next(one.soil for one in pages_of(path).beds if one.key == "yard") == "unknown"


def test_guesses_that_stand_are_said_and_the_rest_is_counted(
    talk: Talk, path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    talked = set_up(talk, path, *CHAPEL, "", *ROSES, "")
    assert (
        "Done: 1 bed, 6 plants. 4 things are my guesses; soakbook bed lists them." in talked.screen
    )
    main(["bed", "--book", str(path)])
    listed = capsys.readouterr().out
    assert listed.count("--") == 4
    assert "--leaves" not in listed
    assert "share of the rain" not in listed


def test_without_weather_the_round_says_that_it_knows_nothing(talk: Talk, path: Path) -> None:
    talked = set_up(talk, path, *CHAPEL, "", *ROSES, "")
    assert "No weather was asked for (offline)." in talked.screen
    assert "THE ROUND" in talked.screen
    assert "The book has no weather before this morning" in talked.screen
    assert talked.screen.endswith("there:\n  soakbook feel chapel --ball dry --bed moist\n")
