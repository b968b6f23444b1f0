"""A bed parted in two: the records, the entries, and what the rounds say before and after."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.garden.entries import Loss, Soak
from soakbook.services.amending import amend
from soakbook.services.entries import feel, rain, soak
from soakbook.services.history import LAST
from soakbook.services.mornings import round_report, why_report
from soakbook.services.mulch_words import lies_on
from soakbook.services.setup import bed, beds, part, plant
from soakbook.services.undoing import undo
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
from tests.services.looking import NOW, Refused, at, entries_of, look_at, said

NOOK = {"area": "6m2", "plants": "clematis 2", "name": "Chapel Nook"}


def call_of(path: Path, key: str, now: Any = NOW) -> Any:
    """What the round says of a bed; None where it says nothing."""
    calls = round_report(path, now=now)["calls"]
    return next((one for one in calls if one["bed"] == key), None)


def test_the_part_has_its_plants_its_ground_and_its_words(garden: Path) -> None:
    answer = part(garden, "chapel", "nook", now=NOW, **NOOK)
    assert answer["bed"] == "nook"
    assert answer["changed"] == {
        "entries": [entries_of(garden, Loss)[0].uid],
        "parted_from": "chapel",
        "parted_on": "2031-05-15",
        "area_m2": [12.0, 6.0],
        "plantings": [{"planting": "clematis", "count": 2}],
    }
    assert "Chapel Nook, 6 m², is a bed of its own from today, with 2 clematis." in said(answer)
    assert "Chapel Wall, 12 m², keeps 6 climbing roses and 3 clematis." in said(answer)
    listed = {one["bed"]: one for one in beds(garden)["beds"]}
    assert listed["nook"]["soil"] == listed["chapel"]["soil"]
    assert (listed["nook"]["parted_from"], listed["nook"]["parted_on"]) == ("chapel", "2031-05-15")
    kept = {
        one["planting"]: (one["living"], one["elsewhere"]) for one in listed["chapel"]["plantings"]
    }
    assert kept == {"climbing rose": (6, 0), "clematis": (3, 2)}


def test_the_round_asks_for_both_and_for_no_plant_twice(garden: Path) -> None:
    before = call_of(garden, "chapel")
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    counts = [
        (call_of(garden, key)["bed"], one["planting"], one["count"], one["litres_each"])
        for key in ("chapel", "nook")
        for one in call_of(garden, key)["plantings"]
    ]
    each = {one["planting"]: one["litres_each"] for one in before["plantings"]}
    assert counts == [
        ("chapel", "climbing rose", 6, each["climbing rose"]),
        ("chapel", "clematis", 3, each["clematis"]),
        ("nook", "clematis", 2, each["clematis"]),
    ]


def test_the_past_stays_in_the_round_of_an_earlier_day_and_in_the_sums(garden: Path) -> None:
    soak(garden, ["chapel"], "30l", at="yesterday 08:00", now=NOW)
    yesterday = round_report(garden, now=NOW, on="yesterday")
    given = why_report(garden, "chapel", now=NOW)["plantings"][1]["ball"]
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    assert round_report(garden, now=NOW, on="yesterday")["calls"] == yesterday["calls"]
    assert why_report(garden, "nook", now=NOW)["plantings"][0]["ball"] == given


def test_where_it_was_watered_today_it_is_parted_from_tomorrow(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", now=NOW)
    was = call_of(garden, "chapel")
    answer = part(garden, "chapel", "nook", now=NOW, **NOOK)
    assert "from tomorrow" in said(answer)
    assert "Today Chapel Wall is entered as one bed still" in said(answer)
    assert call_of(garden, "chapel") == was
    assert call_of(garden, "nook") is None
    tomorrow = NOW + timedelta(days=1)
    assert call_of(garden, "nook", tomorrow)["plantings"][0]["count"] == 2
    soak(garden, ["chapel"], "5l", now=NOW + timedelta(hours=2))
    with Refused(garden, "at", "2031-05-15", "a day from 16 May", "a part of Chapel Wall"):
        soak(garden, ["nook"], "5l", now=NOW)


def test_a_day_that_was_entered_as_one_bed_is_refused(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", at="yesterday", now=NOW)
    with Refused(garden, "on", "yesterday", "15 May or later", "entered as one bed"):
        part(garden, "chapel", "nook", now=NOW, on="yesterday", **NOOK)
    with Refused(garden, "on", "20may", "tomorrow at the latest"):
        part(garden, "chapel", "nook", now=NOW, on="20may", **NOOK)
    soak(garden, ["chapel"], "20l", now=NOW)
    with Refused(garden, "on", "today", "16 May or later"):
        part(garden, "chapel", "nook", now=NOW, on="today", **NOOK)


def test_two_parts_may_be_made_on_one_day(garden: Path) -> None:
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    answer = part(garden, "chapel", "door", now=NOW, area="3m2", plants="climbing rose 2")
    assert "door, 3 m², is a bed of its own from today, with 2 climbing roses" in said(answer)
    assert [one["count"] for one in call_of(garden, "chapel")["plantings"]] == [4, 3]


@pytest.mark.parametrize(
    ("said_so", "field", "right"),
    [
        ({"area": "18m2"}, "area", "less than the 18 m² of Chapel Wall"),
        ({"area": "0.01m2"}, "area", "the balls of those plants need as much"),
        ({"area": "none"}, "area", "18m2"),
        ({"plants": ""}, "plants", "those that stand on the part"),
        ({"plants": "clematis 6"}, "plants", "1 to 5"),
        ({"plants": "clematis 0"}, "plants", "at least 1"),
        ({"plants": "clematis 1.5"}, "plants", "whole number"),
        ({"plants": "clematis, clematis 1"}, "plants", "each planting once"),
        ({"plants": "tulip"}, "planting of Chapel Wall", "climbing rose, clematis"),
        ({"name": "Dole Bed"}, "name", "no other bed has"),
        ({"on": "never"}, "on", "1apr"),
    ],
)
def test_what_cannot_be_right_changes_nothing(
    garden: Path, said_so: dict[str, str], field: str, right: str
) -> None:
    before = look_at(garden)
    with pytest.raises(InputError, match=right) as refused:
        part(garden, "chapel", "nook", now=NOW, **{**NOOK, **said_so})
    assert refused.value.field == field
    assert look_at(garden) == before


def test_a_key_that_another_has_is_refused(garden: Path) -> None:
    with Refused(garden, "key", "Dole", "no bed has yet"):
        part(garden, "chapel", "Dole", now=NOW, **NOOK)


def test_what_only_says_who_went_over_is_not_taken_back_alone(garden: Path) -> None:
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    with Refused(garden, "handle", LAST, "in another bed from this morning on"):
        undo(garden, LAST, now=NOW)
    with Refused(garden, "handle", LAST, "in another bed from this morning on"):
        amend(garden, LAST, {"count": "1"}, now=NOW)


def test_an_entry_of_before_is_still_corrected_in_the_whole(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", planting="clematis", at="yesterday 08:00", now=NOW)
    part(garden, "chapel", "nook", now=NOW, area="6m2", plants="clematis")
    uid = entries_of(garden, Soak)[0].uid
    answer = amend(garden, uid, {"amount": "10l"}, now=NOW)
    assert "10 L" in said(answer)
    assert "nook" in answer["changed"]["calls_changed"]


def test_what_stood_there_may_not_be_replaced(garden: Path) -> None:
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    with Refused(garden, "count", 1, "at most 0"):
        plant(garden, "chapel", "clematis", "1", now=NOW, replaces="clematis")


def test_as_it_was_known_before_there_is_one_bed(garden: Path) -> None:
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    with open_book(garden, read_only=True) as book:
        pages = read_pages(book, written_before=at(5, 15, 6))
    assert "nook" not in {one.key for one in pages.beds}
    assert {one.key: one.area_m2 for one in pages.beds}["chapel"] == 18
    assert not [one for one in pages.entries if isinstance(one, Loss)]


def test_the_part_is_told_of_rain_and_felt_by_itself(garden: Path) -> None:
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    assert "nook" in {one["bed"] for one in rain(garden, "9mm", now=NOW)["changed"]["beds"]}
    answer = feel(garden, ["nook"], ball="wet", bed="wet", now=NOW)[0]
    assert "Chapel Nook, felt" in said(answer)
    assert "felt_wet" not in str(call_of(garden, "chapel")["bed_state"])


def test_the_mulch_of_the_whole_lies_on_the_part(garden: Path) -> None:
    part(garden, "chapel", "nook", now=NOW, **NOOK)
    assert bed(garden, "nook", now=NOW, walk="5m")["bed"] == "nook"
    with open_book(garden, read_only=True) as book:
        pages = read_pages(book)
    here, there = (
        lies_on(pages, next(one for one in pages.beds if one.key == key), NOW.date())
        for key in ("nook", "chapel")
    )
    assert here == there
    assert here.depth_cm > 0
