"""A hole looked into: how deep the water got."""

from datetime import timedelta
from pathlib import Path

import pytest

from soakbook.garden.entries import Look
from soakbook.services.entries import look, soak
from soakbook.services.setup import bed, plant
from tests.services.looking import NOW, Refused, at, entries_of, said


def test_a_hole_is_measured_against_the_depth_of_the_roots(garden: Path) -> None:
    """A ball of a 7.5 L pot 25 cm across is 15 cm deep; roots 5 cm out have 17: z of (12)."""
    soak(garden, ["chapel"], "17l", at="06:00", now=NOW)
    (answer,) = look(garden, ["chapel"], "12cm", now=NOW)
    (entry,) = entries_of(garden, Look)
    assert (entry.wet_to_cm, entry.typed, entry.planting_uid) == (12.0, "12cm", None)
    assert 15.0 < answer["changed"]["depth_cm"] < 20.0
    assert "wet to 12 cm of the 17 cm that the climbing roses are to have" in said(answer)
    assert "it wants more water, given slower" in said(answer)
    assert "Reckoned then: bed" in said(answer)
    assert answer["what"] == "look"


def test_deep_enough_and_deeper_than_it_need(garden: Path) -> None:
    soak(garden, ["chapel"], "17l", at="06:00", now=NOW)
    (enough,) = look(garden, ["chapel"], "20cm", now=NOW)
    assert "deep enough" in said(enough)
    (past,) = look(garden, ["chapel"], "34cm", now=NOW)
    assert "a little less would do" in said(past)
    (unsoaked,) = look(garden, ["dole"], "34cm", now=NOW)
    assert "deep enough" in said(unsoaked)


def test_a_dry_hole_wants_water(garden: Path) -> None:
    (answer,) = look(garden, ["chapel"], "0cm", planting="clematis", now=NOW)
    assert "Chapel Wall, clematis: dry from the top" in said(answer)
    assert "it wants water, given slowly" in said(answer)


@pytest.mark.parametrize("order", [("chapel", "dole"), ("dole", "chapel")])
def test_of_several_beds_each_is_answered_by_its_own_dawn(
    garden: Path, order: tuple[str, str]
) -> None:
    """Soaked this morning, a bed is squared up from this evening on; the other one at once."""
    soak(garden, ["chapel"], "17l", at="06:00", now=NOW)
    answers = look(garden, order, "20cm", now=NOW)
    assert [one["bed"] for one in answers] == [*order]
    assert all("Reckoned then: bed" in said(one) for one in answers)
    tonight = {one["bed"]: "It counts from this evening on" in said(one) for one in answers}
    assert tonight == {"chapel": True, "dole": False}


def test_the_same_hole_within_a_minute_is_a_slip(garden: Path) -> None:
    look(garden, ["chapel"], "12cm", now=NOW)
    with Refused(garden, "look", "12cm", "in the book already"):
        look(garden, ["chapel"], "12cm", now=NOW + timedelta(seconds=20))


def test_without_weather_it_is_measured_against_the_ball(new_book: Path) -> None:
    """A 5 L pot 22 cm across is 5 / (1000 pi 0.11^2) m deep, 13 cm."""
    bed(new_book, "one", now=NOW, area="4m2", soil="loam")
    plant(new_book, "one", "rose", "3", now=NOW, pot="5l", on="1may")
    (answer,) = look(new_book, ["one"], "10cm", now=NOW)
    assert "wet to 10 cm of the 13 cm" in said(answer)


def test_what_cannot_be_a_hole_is_refused(garden: Path) -> None:
    with Refused(garden, "look", "60cm", "at most 35 cm", "--depth"):
        look(garden, ["chapel"], "60cm", now=NOW)
    with Refused(garden, "look", "-5cm", "nothing below 0"):
        look(garden, ["chapel"], "-5cm", now=NOW)
    with Refused(garden, "look", "12", "say of what"):
        look(garden, ["chapel"], "12", now=NOW)
    with Refused(garden, "bed", "yard", "nothing stands in Yard"):
        look(garden, ["chapel", "yard"], "12cm", now=NOW)
    with Refused(garden, "at", "2031-06-01 07:00", "not come"):
        look(garden, ["chapel"], "12cm", at="2031-06-01 07:00", now=NOW)
    with Refused(garden, "at", "1mar", "a day from 20 March 2031"):
        look(garden, ["chapel"], "12cm", at="1mar", now=NOW)
    look(garden, ["chapel"], "12cm", now=at(5, 15, 6))
    with Refused(garden, "look", "12cm", "in the book already"):
        look(garden, ["chapel"], "12cm", at="2031-05-15 06:00", now=NOW)
