"""How a plant came, in a gardener's and a nursery's words."""

import pytest

from soakbook.errors import InputError
from soakbook.services.line_words import bed_line, key_for, plant_line, tap_line
from soakbook.services.origin_words import is_origin, origin_said


@pytest.mark.parametrize(
    ("text", "options"),
    [
        ("7.5 L pot", {"pot": "7.5 L"}),
        ("pot 9 cm", {"pot": "9 cm"}),
        ("5l", {"pot": "5l"}),
        ("2 gallon", {"pot": "2 gallon"}),
        ("Container of 10 litres", {"pot": "10 litres"}),
        ("C7.5", {"pot": "7.5l"}),
        ("c 3 l", {"pot": "3l"}),
        ("P9", {"pot": "9cm"}),
        ("dug ball 45 cm", {"ball": "45 cm"}),
        ("45 cm rootball, deep", {"ball": "45 cm", "deep": "yes"}),
        ("root-ball 18in", {"ball": "18in"}),
        ("ball 45,5 cm", {"ball": "45,5 cm"}),
        ("RB 60cm", {"ball": "60cm"}),
        ("dug 45cm deep", {"ball": "45cm", "deep": "yes"}),
        ("bare root", {"bare": "yes"}),
        ("Bare-rooted", {"bare": "yes"}),
        ("BR", {"bare": "yes"}),
    ],
)
def test_how_it_came(text: str, options: dict[str, str]) -> None:
    assert is_origin(text)
    assert origin_said(text) == options


@pytest.mark.parametrize(
    "text", ["45 cm", "pot", "a ball", "7.5", "", "pot or ball 5l", "20 mar", "C45cm", "P9 l"]
)
def test_what_is_neither_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="how they came"):
        origin_said(text)


def test_a_day_is_no_origin() -> None:
    assert not is_origin("20 mar")
    assert plant_line("a, rose, 6, 20 mar").typed == {"on": "20 mar"}
    assert plant_line("a, rose, 6, , 20 mar").typed == {"on": "20 mar"}
    assert plant_line("a\trose\t6\tP9\t\teast").typed == {"pot": "9cm", "name": "east"}


@pytest.mark.parametrize(
    ("name", "taken", "key"),
    [
        ("Chapel Wall", (), "chapel"),
        ("Chapel Wall", ("chapel",), "chapel-wall"),
        ("Chapel Wall", ("chapel", "chapel wall"), "chapel-2"),
        ("The Dole Bed", (), "dole"),
        ("Warden's Long Border", (), "warden"),
        ("--all", (), "all"),
        ("The", (), "the"),
        ("🌹 bed", (), "bed"),
        ("وردة", (), "وردة"),
        ("x" * 60, (), "x" * 30),
    ],
)
def test_keys(name: str, taken: tuple[str, ...], key: str) -> None:
    assert key_for(name, taken) == key


def test_no_key_without_a_letter() -> None:
    with pytest.raises(InputError, match="a name with a letter in it"):
        key_for("🌹 !", ())


def test_a_beds_line_may_end_early() -> None:
    assert bed_line("Yard, 9 m2", (), ("A",)).typed == {"name": "Yard", "area": "9 m2", "tap": "A"}
    assert bed_line("Yard; 9 m2; ?", (), ()) == ("yard", {"name": "Yard", "area": "9 m2"}, True)
    with pytest.raises(InputError, match="tap is missing: which one, as the fifth: A, B or none"):
        bed_line("Yard, 9 m2, loam", (), ("A", "B"))


@pytest.mark.parametrize(
    ("text", "key", "typed"),
    [
        ("A 43", "A", {"fill": "10l 43s"}),
        ("A, 43 s", "A", {"fill": "10l 43 s"}),
        ("yard tap 1min", "yard tap", {"fill": "10l 1min"}),
        ("B 14 l/min", "B", {"flow": "14 l/min"}),
    ],
)
def test_taps(text: str, key: str, typed: dict[str, str]) -> None:
    assert tap_line(text, 10.0) == (key, typed)
