"""A mulch laid, by the ruler or by sacks."""

from datetime import date
from pathlib import Path

from soakbook.garden.entries import MulchLaid
from soakbook.services.entries import mulch
from tests.services.looking import NOW, Refused, approx, entries_of, said


def test_a_depth_is_read_back_as_sacks(garden: Path) -> None:
    """5 cm on 22 m2 are 1,100 L: 22 sacks of 50 L."""
    (answer,) = mulch(garden, ["dole"], "bark", "5cm", wet=True, now=NOW)
    entry = entries_of(garden, MulchLaid)[-1]
    assert (entry.kind, entry.depth_cm, entry.typed, entry.on_wet_soil) == (
        "chip",
        5.0,
        "5cm",
        True,
    )
    assert entry.happened_at == date(2031, 5, 15)
    assert "5 cm over 22 m²: 1,100 L, about 22 sacks of 50 L" in said(answer)
    assert answer["changed"]["capacity_mm"] == approx(5 * 0.6)
    assert "it drinks the first 3.0 mm of a shower" in said(answer)


def test_sacks_are_read_as_a_depth(garden: Path) -> None:
    """12 sacks of 60 L on 18 m2 are 4 cm."""
    (answer,) = mulch(garden, ["chapel"], "bark", "12x60l", now=NOW)
    assert answer["changed"]["depth_cm"] == approx(4.0)


def test_thin_thick_and_dry_are_said(garden: Path) -> None:
    (thin,) = mulch(garden, ["dole"], "bark", "2cm", wet=False, now=NOW)
    assert "Thin" in said(thin)
    assert "Laid on dry soil it keeps the rain out" in said(thin)
    (thick,) = mulch(garden, ["dole"], "bark", "8cm", now=NOW)
    assert "Thick" in said(thick)
    assert "Was the soil wet under it?" in said(thick)


def test_over_young_plants_it_stays_thin(garden: Path) -> None:
    """Schoolroom was planted on 6 May, Orchard Ride on 22 January."""
    (young,) = mulch(garden, ["school"], "bark", "5cm", wet=True, now=NOW)
    assert "first six weeks" in said(young)
    (older,) = mulch(garden, ["ride"], "bark", "5cm", wet=True, now=NOW)
    assert "first six weeks" not in said(older)


def test_the_caution_comes_once_a_year(new_book: Path) -> None:
    from soakbook.services.setup import bed

    bed(new_book, "one", now=NOW, area="4m2")
    bed(new_book, "two", now=NOW, area="4m2")
    first, second = mulch(new_book, ["one", "two"], "bark", "5cm", now=NOW)
    assert "legionella" not in said(first)
    assert "legionella" in said(second)
    (third,) = mulch(new_book, ["one"], "bark", "3cm", now=NOW)
    assert "legionella" not in said(third)


def test_what_cannot_be_laid_is_refused(garden: Path) -> None:
    with Refused(garden, "mulch", "90cm", "at most 30 cm"):
        mulch(garden, ["chapel", "dole"], "bark", "90cm", now=NOW)
    with Refused(garden, "mulch", "barck", "did you mean chip"):
        mulch(garden, ["chapel"], "barck", "5cm", now=NOW)
    with Refused(garden, "on", "2031-05-16", "a day that has come"):
        mulch(garden, ["chapel"], "bark", "5cm", on="2031-05-16", now=NOW)


def test_the_same_again_adds_to_it_and_says_so(garden: Path) -> None:
    first = mulch(garden, ["dole"], "bark", "5cm", wet=True, now=NOW)[0]
    again = mulch(garden, ["dole"], "bark", "3cm", wet=True, at="06:00", now=NOW)[0]
    assert "It adds to" not in said(first)
    assert "It adds to the 5 cm of it already entered for that day." in said(again)
    with Refused(garden, "at", "06:00", "--on or --at"):
        mulch(garden, ["dole"], "bark", "3cm", on="1may", at="06:00", now=NOW)
