"""A watering entered, and what it changed read back in litres, minutes and plants."""

from datetime import date
from pathlib import Path

import pytest

from soakbook.garden.entries import Soak
from soakbook.services.entries import left, soak
from soakbook.services.mornings import round_report
from soakbook.services.setup import bed, plant, tap
from tests.services.looking import NOW, Refused, approx, at, entries_of, look_at, pages_of, said


def test_litres_are_shared_by_count_and_size_of_ball(garden: Path) -> None:
    """6 roses of 7.5 L and 5 clematis of 3 L: shares 1.875 and 0.75, together 6 x 1.875 + 5 x 0.75 = 15."""
    (answer,) = soak(garden, ["chapel"], "30l", by="Tom", now=NOW)
    (entry,) = entries_of(garden, Soak)
    assert (entry.litres, entry.typed, entry.by, entry.method) == (30.0, "30l", "Tom", "lance")
    assert entry.happened_at == NOW
    assert answer["changed"]["plantings"] == [
        {"planting": "climbing rose", "count": 6, "litres_each": approx(30 * 1.875 / 15)},
        {"planting": "clematis", "count": 5, "litres_each": approx(30 * 0.75 / 15)},
    ]
    assert "30 L, 2 min of tap A" in said(answer)
    assert "climbing rose 3.8 L each and clematis 1½ L" in said(answer)


def test_minutes_are_read_back_as_litres_and_cans_as_cans(garden: Path) -> None:
    """10 L in 43 s is 13.95 L/min; a can holds 10 L."""
    (by_tap,) = soak(garden, ["dole"], "5min", now=NOW)
    assert by_tap["changed"]["litres"] == approx(5 * 10 / 43 * 60)
    (by_can,) = soak(garden, ["dole"], "2cans", now=NOW)
    assert entries_of(garden, Soak)[-1].method == "can"
    assert by_can["changed"]["cans"] == 2
    assert "20 L, 2 cans" in said(by_can)


def test_a_depth_falls_on_the_bed_or_on_the_ground_of_the_named_planting(garden: Path) -> None:
    """2 mm on 22 m2 is 44 L; on one planting of a bed it is less than on all of the bed."""
    (whole,) = soak(garden, ["dole"], "2mm", method="broadcast", now=NOW)
    assert whole["changed"]["litres"] == approx(44)
    (part,) = soak(garden, ["chapel"], "2mm", planting="clematis", now=NOW)
    assert 0 < part["changed"]["litres"] < 2 * 18


def test_a_bed_without_a_tap_is_watered_by_can(garden: Path) -> None:
    soak(garden, ["ride"], "420l", now=NOW)
    assert entries_of(garden, Soak)[0].method == "can"


def test_two_hundred_for_twenty_is_caught_by_ear(garden: Path) -> None:
    (answer,) = soak(garden, ["chapel"], "200l", now=NOW)
    assert "climbing rose 25 L each" in said(answer)
    assert "More than the balls can keep" in said(answer)


def test_too_little_is_set_beside_what_the_round_had(garden: Path) -> None:
    before = round_report(garden, now=NOW)
    call = next(one for one in before["calls"] if one["bed"] == "chapel")
    assert call["verdict"] == "soak"
    (answer,) = soak(garden, ["chapel"], "12l", now=NOW)
    assert "The round had" in said(answer)


def test_a_sprinkle_only_wets_the_mulch(garden: Path) -> None:
    (answer,) = soak(garden, ["school"], "12l", now=NOW)
    assert "Over 60 perennials that is 0.2 L each" in said(answer)
    assert "likely wets the mulch" in said(answer)


def test_the_advised_dose_is_the_rounds_own(garden: Path) -> None:
    before = {call["bed"]: call for call in round_report(garden, now=NOW)["calls"]}
    answers = soak(garden, ["chapel", "school"], "advised", now=NOW)
    for answer in answers:
        call = before[answer["bed"]]
        assert answer["changed"]["litres"] == approx(call["litres"])
        given = {one["planting"]: one["litres_each"] for one in answer["changed"]["plantings"]}
        assert given == {
            one["planting"]: approx(one["litres_each"])
            for one in call["plantings"]
            if one["litres_each"]
        }
        assert answer["changed"]["after"]["verdict"] in ("leave", "feel")
        assert answer["changed"]["after"]["wanted_on"] > "2031-05-15"
    after = {call["bed"]: call for call in round_report(garden, now=NOW)["calls"]}
    assert after["chapel"]["given_today_l"] == approx(before["chapel"]["litres"])
    assert {one.typed for one in entries_of(garden, Soak)} == {"advised"}


def test_advised_of_yesterday_is_yesterdays_round(garden: Path) -> None:
    yesterday = round_report(garden, now=NOW, on="14may2031")
    call = next(one for one in yesterday["calls"] if one["bed"] == "chapel")
    (answer,) = soak(garden, ["chapel"], "advised", at="yesterday", now=NOW)
    assert answer["changed"]["litres"] == approx(call["litres"])
    assert entries_of(garden, Soak)[0].happened_at == date(2031, 5, 14)


def test_half_advised_is_half_of_each_plantings_dose(garden: Path) -> None:
    call = next(one for one in round_report(garden, now=NOW)["calls"] if one["bed"] == "chapel")
    (answer,) = soak(garden, ["chapel"], " Half  advised", now=NOW)
    entries = entries_of(garden, Soak)
    assert {one.typed for one in entries} == {"half advised"}
    assert sum(one.litres for one in entries) == approx(call["litres"] / 2)
    assert answer["changed"]["plantings"] == [
        {
            "planting": one["planting"],
            "count": one["count"],
            "litres_each": approx(one["litres_each"] / 2),
        }
        for one in call["plantings"]
    ]


def test_who_comes_after_a_bed_was_left_gives_what_the_round_would_have(garden: Path) -> None:
    """Left this morning, the round has no more of it; left yesterday it is as any bed."""
    dose = next(one for one in round_report(garden, now=NOW)["calls"] if one["bed"] == "dole")
    left(garden, ["dole"], "no time", now=NOW)
    left(garden, ["chapel"], "no time", at="yesterday", now=NOW)
    assert soak(garden, ["dole"], "advised", now=NOW)[0]["changed"]["litres"] == dose["litres"]
    assert soak(garden, ["chapel"], "advised", now=NOW)[0]["changed"]["litres"] > 0


def test_nothing_advised_is_refused(garden: Path) -> None:
    soak(garden, ["chapel"], "advised", now=NOW)
    with Refused(garden, "amount", "advised", "litres, cans or minutes", "Chapel Wall"):
        soak(garden, ["chapel"], "advised", now=at(5, 15, 6, 40))


def test_an_evening_soak_counts_for_tomorrow(garden: Path) -> None:
    """After 17:00 it is drunk in the next day's step: what is said is tomorrow's round."""
    (answer,) = soak(garden, ["school"], "90l", now=at(5, 15, 19))
    assert answer["changed"]["after"]["wanted_on"] > "2031-05-15"
    assert "today" not in said(answer)


def test_a_held_back_bed_is_said_to_have_been(garden: Path) -> None:
    soak(garden, ["dole"], "1500l", now=NOW)
    held = next(call for call in round_report(garden, now=NOW)["calls"] if call["bed"] == "dole")
    assert held["verdict"] == "held_back"
    (answer,) = soak(garden, ["dole"], "50l", now=at(5, 15, 8))
    assert "It was held back before this" in said(answer)


def test_several_beds_are_one_transaction(garden: Path) -> None:
    """The last of three beds has no flow: nothing of the first two is in the book."""
    plant(garden, "yard", "rose", "2", now=NOW, pot="5l", on="1may")
    with Refused(garden, "amount for yard", "12min", "minutes need a tap with a flow"):
        soak(garden, ["chapel", "dole", "yard"], "12min", now=NOW)
    answers = soak(garden, ["chapel", "dole"], "12min", now=NOW)
    assert [answer["bed"] for answer in answers] == ["chapel", "dole"]
    assert look_at(garden).counter > 0


def test_a_bed_without_plants_is_not_soaked(garden: Path) -> None:
    with Refused(garden, "bed", "yard", "nothing stands in Yard"):
        soak(garden, ["yard"], "20l", now=NOW)


def test_more_than_any_plant_could_want_is_refused(garden: Path) -> None:
    """Sixty perennials from 2 L pots: 9000 L are 150 L each, 2 L what one could want."""
    with Refused(
        garden, "amount", "9000l", "at most 6,000 L", "150 L for each of the 60 perennial", "2 L"
    ):
        soak(garden, ["school"], "9000l", now=NOW)
    soak(garden, ["school"], "5900l", now=NOW)


def test_what_wets_nothing_is_refused(garden: Path) -> None:
    with Refused(garden, "amount", "0.0001l", "at least 3 L", "wets nothing"):
        soak(garden, ["school"], "0.0001l", now=NOW)
    soak(garden, ["school"], "3.1l", now=NOW)


def test_minutes_are_of_a_hose(garden: Path) -> None:
    with Refused(garden, "method", "can", "minutes are of a hose"):
        soak(garden, ["chapel"], "12min", method="can", now=NOW)


def test_tanks_of_a_barrow_are_an_amount(garden: Path) -> None:
    tap(garden, "barrow", now=NOW, source="barrow", tank="60l")
    bed(garden, "ride", now=NOW, tap="barrow")
    (answer,) = soak(garden, ["ride"], "2tanks", now=NOW)
    assert answer["changed"]["litres"] == 120
    with Refused(garden, "amount for chapel", "2tanks", "a tap with a --tank"):
        soak(garden, ["chapel"], "2tanks", now=NOW)


@pytest.mark.parametrize("by", ["", "  ", "Ann\nTom", "A" * 61])
def test_nobody_is_called_so(garden: Path, by: str) -> None:
    with Refused(garden, "by", by):
        soak(garden, ["chapel"], "12l", by=by, now=NOW)


def test_a_garden_without_weather_says_what_can_be_said(new_book: Path) -> None:
    bed(new_book, "plot", now=NOW, area="10m2", soil="loam")
    plant(new_book, "plot", "shrub", "3", now=NOW, pot="5l", on="1may")
    (answer,) = soak(new_book, ["plot"], "9l", now=NOW)
    assert "Over 3 shrubs that is 3 L each" in said(answer)
    assert "soakbook weather FILE" in said(answer)
    assert len(pages_of(new_book).entries) == 1


def test_a_soak_may_be_named_by_a_part_of_a_name(garden: Path) -> None:
    (answer,) = soak(garden, ["chap"], "6l", planting="rose", now=NOW)
    assert answer["say"][0].startswith("Chapel Wall, climbing rose: 6 L")
    pages = pages_of(garden)
    rose = next(one for one in pages.plantings if one.name == "climbing rose")
    assert entries_of(garden, Soak)[0].planting_uid == rose.uid
