"""A jam jar beside the gauge and a ruler in the mulch, entered."""

from datetime import date
from functools import partial
from pathlib import Path

from soakbook.garden.entries import Catch, Ruler
from soakbook.services.entries import mulch, rain
from soakbook.services.mornings import round_report
from soakbook.services.setup import bed, beds, jam_jar, ruler
from tests.services.looking import NOW, Refused, approx, at, entries_of, pages_of, said


def share_said(path: Path) -> float | None:
    """What the book says of the wall's share of the rain."""
    return next(one for one in pages_of(path).beds if one.key == "chapel").rain_share


def test_a_jar_sets_the_share_of_the_rain(garden: Path) -> None:
    answer = jam_jar(garden, "chapel", "6mm", gauge="14mm", now=NOW, by="Ann")
    (entry,) = entries_of(garden, Catch)
    assert (entry.jar_mm, entry.gauge_mm, entry.typed, entry.by) == (
        6.0,
        14.0,
        "6mm of 14mm",
        "Ann",
    )
    assert answer["what"] == "jam_jar"
    assert answer["changed"]["rain_share"] == [0.45, approx(6 / 14)]
    assert "So it gets 43% of the rain; it was reckoned with 45%, as a guess" in said(answer)
    again = jam_jar(garden, "chapel", "1mm", gauge="6mm", at="14may", now=NOW)
    assert again["changed"]["rain_share"] == [approx(6 / 14), approx(7 / 20)]
    assert "By 2 showers it gets 35% of the rain" in said(again)


def test_a_jar_stands_beside_the_gauges_last_reading(garden: Path) -> None:
    with Refused(garden, "gauge", None, "--gauge 14mm"):
        jam_jar(garden, "chapel", "6mm", now=NOW)
    rain(garden, "12mm", to="06:00", now=NOW)
    jam_jar(garden, "chapel", "6mm", now=NOW)
    assert entries_of(garden, Catch)[-1].gauge_mm == 12.0
    with Refused(garden, "gauge", None, "no rain in it of the day before", "--gauge 14mm"):
        jam_jar(garden, "chapel", "6mm", now=at(5, 16, 7))


def test_what_was_said_last_holds(garden: Path) -> None:
    bed(garden, "chapel", now=NOW, rain_share="0.6")
    answer = jam_jar(garden, "chapel", "6mm", gauge="14mm", now=NOW)
    assert share_said(garden) is None
    assert "it was reckoned with 60%, as you had said" in said(answer)
    answer = bed(garden, "chapel", now=NOW, rain_share="0.5")
    assert "The jars had 43%; what you say stands over them." in said(answer)
    answer = bed(garden, "chapel", now=NOW, rain_share="jars")
    assert share_said(garden) is None
    assert "Reckoned by the jars: 43%." in said(answer)


def test_a_shower_too_small_is_kept_and_changes_nothing(garden: Path) -> None:
    bed(garden, "chapel", now=NOW, rain_share="0.6")
    answer = jam_jar(garden, "chapel", "0.3mm", gauge="1.5mm", now=NOW)
    assert "it is kept, and changes nothing" in said(answer)
    assert answer["changed"]["rain_share"] == [0.6, 0.6]
    assert (share_said(garden), len(entries_of(garden, Catch))) == (0.6, 1)


def test_a_share_that_jars_have_is_no_guess(garden: Path) -> None:
    def guessed() -> set[str]:
        found = next(one for one in beds(garden)["beds"] if one["bed"] == "chapel")["guesses"]
        return {one["what"] for one in found}

    assert "share of the rain" in guessed()
    jam_jar(garden, "chapel", "6mm", gauge="14mm", now=NOW)
    assert "share of the rain" not in guessed()


def test_a_jar_that_cannot_be_is_refused(garden: Path) -> None:
    with Refused(garden, "jam jar", "30mm", "at most 1.3 times the 14 mm"):
        jam_jar(garden, "chapel", "30mm", gauge="14mm", now=NOW)
    with Refused(garden, "gauge", "0mm", "more than 0"):
        jam_jar(garden, "chapel", "0mm", gauge="0mm", now=NOW)
    with Refused(garden, "jam jar", "-6mm", "nothing below 0"):
        jam_jar(garden, "chapel", "-6mm", gauge="14mm", now=NOW)
    with Refused(garden, "jam jar", "x", "write 15.6mm or 0.6in"):
        jam_jar(garden, "ride", "x", gauge="14mm", now=NOW)
    with Refused(garden, "jam jar", "6", "say of what"):
        jam_jar(garden, "chapel", "6", gauge="14mm", now=NOW)
    with Refused(garden, "jam jar", "6l", "a depth"):
        jam_jar(garden, "chapel", "6l", gauge="14mm", now=NOW)
    with Refused(garden, "at", "2031-06-01 07:00", "not come"):
        jam_jar(garden, "chapel", "6mm", gauge="14mm", now=NOW, at="2031-06-01 07:00")
    with Refused(garden, "bed", "chapl", "did you mean chapel"):
        jam_jar(garden, "chapl", "6mm", gauge="14mm", now=NOW)
    jam_jar(garden, "chapel", "6mm", gauge="14mm", now=NOW)
    with Refused(garden, "jam jar", "6mm", "in the book already"):
        jam_jar(garden, "chapel", "6mm", gauge="14mm", now=NOW)


def test_a_ruler_sets_the_depth_of_the_mulch(garden: Path) -> None:
    """5 cm of chip laid on 24 March have settled to 5 (1 - 0.2 x 52/180) by 15 May."""
    answer = ruler(garden, "chapel", "4,5,3,5,4", now=NOW)
    (entry,) = entries_of(garden, Ruler)
    assert (entry.measured_cm, entry.spots, entry.typed) == (approx(4.2), 5, "4,5,3,5,4")
    was, now = answer["changed"]["depth_cm"]
    assert (was, now) == (approx(5 * (1 - 0.2 * 52 / 180)), approx(4.2))
    assert answer["changed"]["capacity_mm"] == approx(0.6 * 4.2)
    assert "the mean of 5 spots" in said(answer)
    assert "Thin" not in said(answer)


def test_thin_and_much_more_than_reckoned_are_said(garden: Path) -> None:
    assert "Thin" in said(ruler(garden, "chapel", "2cm", now=NOW))
    more = ruler(garden, "chapel", "6cm", at="14may", now=NOW)
    assert more["changed"]["depth_cm"][1] == approx(6.0)
    assert "Much more" not in said(more)
    assert "If it was dressed again" in said(ruler(garden, "chapel", "9cm", at="12may", now=NOW))


def test_a_ruler_that_cannot_be_is_refused(garden: Path) -> None:
    with Refused(garden, "ruler", "4,5,3", "soakbook mulch dole bark 5cm"):
        ruler(garden, "dole", "4,5,3", now=NOW)
    with Refused(garden, "ruler", "4,5,3", "a bed with a mulch"):
        ruler(garden, "chapel", "4,5,3", at="23mar", now=NOW)
    with Refused(garden, "ruler", "40,50,30", "from 0 to 30 cm"):
        ruler(garden, "chapel", "40,50,30", now=NOW)
    with Refused(garden, "ruler", "-4cm", "the depth in some spots"):
        ruler(garden, "chapel", "-4cm", now=NOW)
    with Refused(garden, "at", "2031-05-16", "not come"):
        ruler(garden, "chapel", "4cm", at="2031-05-16", now=NOW)
    mulch(garden, ["dole"], "membrane", "1cm", on="1may", now=NOW)
    with Refused(garden, "ruler", "4cm", "a mulch that has a depth"):
        ruler(garden, "dole", "4cm", now=NOW)
    ruler(garden, "chapel", "4cm", now=NOW)
    with Refused(garden, "ruler", "4cm", "in the book already"):
        ruler(garden, "chapel", "4cm", now=NOW)


def test_a_ruler_of_a_day_is_of_that_day(garden: Path) -> None:
    ruler(garden, "chapel", "4cm", at="14may", now=NOW)
    assert entries_of(garden, Ruler)[-1].happened_at == date(2031, 5, 14)


def test_a_jar_of_days_ago_says_what_it_changes_for_today(garden: Path) -> None:
    days_ago = "9may 08:00"
    for measured in (partial(jam_jar, caught="2mm", gauge="14mm"), partial(ruler, spots="3cm")):
        answer = measured(garden, "chapel", at=days_ago, now=NOW)
        call = next(one for one in round_report(garden, now=NOW)["calls"] if one["bed"] == "chapel")
        after = {name: call[name] for name in ("verdict", "wanted_on", "litres")}
        assert answer["changed"]["after"] == after
        assert f"Still wanted today: {call['litres']:g} L." in said(answer)


def test_a_share_left_to_the_jars_says_by_what_it_is_reckoned_now(garden: Path) -> None:
    """By what they had; and where no jar has told yet, by the guess from its place."""
    bed(garden, "chapel", now=NOW, rain_share="0.5")
    none_yet = said(bed(garden, "chapel", now=NOW, rain_share="jars"))
    assert none_yet.startswith(
        "Chapel Wall. Share of the rain left to jam jars; it said share of the rain 50%."
    )
    assert "No jar has told yet: reckoned with 45%, a guess from its place, south wall" in none_yet
    jam_jar(garden, "chapel", "3mm", gauge="10mm", now=NOW)
    bed(garden, "chapel", now=NOW, rain_share="0.5")
    back = said(bed(garden, "chapel", now=NOW, rain_share="jars"))
    assert "Reckoned by the jars: 30%." in back
