"""Answers to reminders: which beds are meant, what is entered, and that there is silence after it."""

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from soakbook.garden.entries import Left, Soak
from soakbook.reminders.answering import Answer, answer
from soakbook.reminders.setting import set_kind
from soakbook.services.entries import rain, soak
from soakbook.services.mornings import round_report
from soakbook.services.people import person
from soakbook.services.undoing import undo
from soakbook.store.book import open_book
from soakbook.store.outbox import Decided, put_decided
from tests.reminders.garden_days import beds_in, decided, of, uid_of
from tests.services.conftest import make
from tests.services.looking import Refused, at, entries_of, pages_of, said

MORNING, LATER = at(5, 15, 7), at(5, 15, 7, 30)
EVENING, NIGHT = at(5, 15, 18), at(5, 15, 20)
BEDS = {
    "Ann": {"Chapel Wall", "Schoolroom", "Orchard Ride"},
    "Tom": {"Dole Bed"},
}
KEYS = {"Chapel Wall": "chapel", "Schoolroom": "school", "Orchard Ride": "ride", "Dole Bed": "dole"}


@pytest.fixture
def told(garden: Path) -> Path:
    """The garden on a morning on which Ann and Tom were told of their beds."""
    found = of(garden, decided(garden, MORNING), "round")
    assert {name: beds_in(garden, one) for name, one in found.items()} == BEDS
    return garden


def doses(book: Path, now: datetime = LATER) -> dict[str, float]:
    """Litres of the round, by bed."""
    return {one["bed"]: one["litres"] for one in round_report(book, now=now)["calls"]}


def near(litres: dict[str, float]) -> Any:
    """Litres as near as a float can be."""
    return pytest.approx(litres, rel=1e-9)


def given(book: Path) -> dict[str, float]:
    """Litres that were entered, by bed."""
    beds = {one.uid: one.key for one in pages_of(book).beds}
    found: dict[str, float] = {}
    for one in entries_of(book, Soak):
        key = beds[one.bed_uid]
        found[key] = found.get(key, 0.0) + one.litres
    return found


def asked_in_the_evening(book: Path) -> dict[str, set[str]]:
    """Who is asked after which beds at six, and the head at eight."""
    found: dict[str, set[str]] = {}
    for moment in (EVENING, NIGHT):
        for name, one in of(book, decided(book, moment), "unheard").items():
            found[name] = found.get(name, set()) | beds_in(book, one)
    return found


def test_without_an_answer_the_next_and_then_the_head_is_asked(told: Path) -> None:
    assert asked_in_the_evening(told) == {"Tom": BEDS["Ann"], "Ann": BEDS["Tom"]}


@pytest.mark.parametrize("who", ["Ann", "Tom"])
def test_done_is_the_rounds_own_dose_on_all_beds_of_whoever_says_so(told: Path, who: str) -> None:
    wanted = {key: dose for key, dose in doses(told).items() if key in {KEYS[b] for b in BEDS[who]}}
    answers = answer(told, "done", now=LATER, by=who.lower())
    assert given(told) == near(wanted)
    assert sum(one["changed"]["litres"] for one in answers) == pytest.approx(sum(wanted.values()))
    assert {one.typed for one in entries_of(told, Soak)} == {"advised"}
    asked = {bed for beds in asked_in_the_evening(told).values() for bed in beds}
    assert asked == {bed for beds in BEDS.values() for bed in beds} - BEDS[who]


def test_when_all_is_done_the_evening_is_silent(told: Path) -> None:
    answer(told, "done", now=LATER, by="Ann")
    answer(told, "done", now=LATER, by="Tom")
    assert asked_in_the_evening(told) == {}


def test_half_is_half_of_each_plants_dose(told: Path) -> None:
    wanted = doses(told)
    whole = {
        one["planting"]: one["litres_each"]
        for call in round_report(told, now=LATER)["calls"]
        for one in call["plantings"]
        if call["bed"] == "chapel"
    }
    chapel, *_ = answer(told, "half", ["chapel", "school"], now=LATER, by="Ann")
    assert given(told) == near({"chapel": wanted["chapel"] / 2, "school": wanted["school"] / 2})
    halves = {one["planting"]: one["litres_each"] for one in chapel["changed"]["plantings"]}
    assert halves == near({name: each / 2 for name, each in whole.items()})
    assert "The round had 5 L for each of the climbing roses" in said(chapel)
    assert {one.typed for one in entries_of(told, Soak)} == {"half advised"}
    assert asked_in_the_evening(told) == {"Tom": {"Orchard Ride"}, "Ann": BEDS["Tom"]}


def test_after_half_the_rest_can_be_done(told: Path) -> None:
    before = doses(told)["school"]
    answer(told, "half", ["school"], now=LATER)
    rest = doses(told)["school"]
    assert 0 < rest < before
    answer(told, "done", ["school"], now=LATER + timedelta(minutes=5))
    assert given(told)["school"] == pytest.approx(before / 2 + rest)


def test_could_not_passes_a_bed_on(told: Path) -> None:
    answers = answer(told, "could-not", ["chapel"], now=LATER, by="Ann")
    assert said(answers[0]).endswith("Tom is told at 18:00.")
    (entry,) = entries_of(told, Left)
    assert (entry.reason, entry.by) == ("could not", "Ann")
    answer(told, "done", ["school", "ride"], now=LATER, by="Ann")
    answer(told, "done", now=LATER, by="Tom")
    found = of(told, decided(told, EVENING), "unheard")
    assert {name: beds_in(told, one) for name, one in found.items()} == {"Tom": {"Chapel Wall"}}
    assert "Ann could not get there." in found["Tom"].body
    assert decided(told, NIGHT) == ()


def test_who_gets_there_after_a_could_not_gives_the_dose_of_the_round(told: Path) -> None:
    dose = doses(told)["dole"]
    answer(told, "could-not", now=LATER, by="Tom")
    assert doses(told)["dole"] == 0
    decided(told, EVENING)
    answer(told, "done", ["dole"], now=EVENING + timedelta(minutes=5), by="Ann")
    assert given(told) == near({"dole": dose})


def test_that_one_cannot_is_said_once(told: Path) -> None:
    answer(told, "could-not", now=LATER, by="Tom")
    with Refused(told, "bed", None, "no reminder of Tom's of today waits for an answer"):
        answer(told, "could-not", now=LATER, by="Tom")
    answer(told, "left", now=LATER, by="Tom", reason="moist after all")
    assert [one.reason for one in entries_of(told, Left)] == ["could not", "moist after all"]


@pytest.mark.parametrize(
    ("who", "moment", "say"),
    [
        ("Tom", LATER, "Ann is told at 18:00."),
        ("Ann", LATER, "Tom is told at 18:00."),
        ("Tom", at(5, 15, 19), "Ann is told at 20:00."),
        ("Ann", at(5, 15, 19), "There is nobody else to be told today."),
        ("Tom", at(5, 15, 21), "There is nobody else to be told today."),
    ],
)
def test_it_is_said_who_is_told_next(told: Path, who: str, moment: datetime, say: str) -> None:
    assert said(answer(told, "could-not", now=moment, by=who)[-1]).endswith(say)


def test_where_no_word_is_switched_off_it_is_said_that_nobody_is_told(told: Path) -> None:
    set_kind(told, "unheard", now=LATER, wanted="no")
    (found,) = answer(told, "could-not", now=LATER, by="Tom")
    assert said(found).endswith("Nobody else is told: soakbook remind settings unheard --on")


def test_of_a_bed_nobody_was_told_of_nothing_is_passed_on(told: Path) -> None:
    (found,) = answer(told, "could-not", ["yard"], now=LATER)
    assert "told" not in said(found)


@pytest.mark.parametrize(
    ("reason", "kept"), [(None, "looked at, needs none"), ("moist to the knuckle",) * 2]
)
def test_left_has_its_reason_and_ends_it(told: Path, reason: str | None, kept: str) -> None:
    answers = answer(told, "left", now=LATER, by="Ann", reason=reason)
    assert {one["bed"] for one in answers} == {"chapel", "school", "ride"}
    assert {one.reason for one in entries_of(told, Left)} == {kept}
    assert asked_in_the_evening(told) == {"Ann": BEDS["Tom"]}


@pytest.mark.parametrize("what", ["done", "half", "could-not"])
def test_a_reason_is_only_for_what_was_left(told: Path, what: Answer) -> None:
    with Refused(told, "reason", "moist", "only a bed that was left has one"):
        answer(told, what, ["chapel"], reason="moist", now=LATER)


def test_a_reason_among_the_beds_is_asked_for_in_its_place(told: Path) -> None:
    with Refused(told, "bed", "moist", "a reason goes with --reason"):
        answer(told, "left", ["chapel", "moist"], now=LATER)


@pytest.mark.parametrize("what", ["done", "half", "could-not", "left"])
def test_where_several_were_told_it_is_asked_who_it_was(told: Path, what: Answer) -> None:
    with Refused(told, "by", None, "say who it was, --by Ann or --by Tom, or name the beds"):
        answer(told, what, now=LATER)


def test_it_is_not_asked_where_only_one_has_anything_open(told: Path) -> None:
    answer(told, "done", now=LATER, by="Ann")
    answers = answer(told, "could-not", now=LATER)
    assert [one["bed"] for one in answers] == ["dole"]
    assert [one.by for one in entries_of(told, Left)] == ["Tom"]


def test_beds_passed_on_are_the_same_beds_whoever_says_so(told: Path) -> None:
    answer(told, "done", now=LATER, by="Tom")
    decided(told, EVENING)
    answers = answer(told, "left", now=EVENING)
    assert {one["bed"] for one in answers} == {"chapel", "school", "ride"}


@pytest.mark.parametrize("by", [None, "Ann"])
def test_with_nothing_waiting_a_bed_has_to_be_named(garden: Path, by: str | None) -> None:
    whose = f" of {by}'s" if by else ""
    with Refused(garden, "bed", None, f"name one; no reminder{whose} of today waits"):
        answer(garden, "done", now=at(5, 15, 6, 40), by=by)


def test_after_partial_answers_the_rest_is_meant(told: Path) -> None:
    answer(told, "left", ["chapel"], now=LATER, by="Ann")
    soak(told, ["ride"], "600l", now=LATER, by="Zoe")
    answers = answer(told, "done", now=LATER, by="Ann")
    assert [one["bed"] for one in answers] == ["school"]


@pytest.mark.parametrize("beds", [["chapel", "chapel"], ["chapel", "Chapel Wall"]])
def test_a_bed_named_twice_is_refused(told: Path, beds: list[str]) -> None:
    with Refused(told, "bed", "chapel", "named twice"):
        answer(told, "half", beds, now=LATER)


@pytest.mark.parametrize("what", ["done", "half"])
def test_a_bed_without_water_in_the_round_is_refused_with_the_command(
    told: Path, what: Answer
) -> None:
    with Refused(told, "amount", None, "no water for Yard now: soakbook soak yard 8l"):
        answer(told, what, ["chapel", "yard"], now=LATER)


def test_beds_that_rain_has_reached_since_are_named_and_left_as_they_are(told: Path) -> None:
    """20 mm at noon: of the four beds only the wall, which gets less than half of the rain, wants water yet."""
    rain(told, "20mm", from_="08:00", to="12:00", now=at(5, 15, 12))
    right = "the round has no water for Dole Bed now: soakbook soak dole 8l; if it was only looked"
    with Refused(told, "amount", None, right):
        answer(told, "done", now=EVENING, by="Tom")
    (chapel,) = answer(told, "done", now=EVENING, by="Ann")
    assert set(given(told)) == {"chapel"}
    assert said(chapel).endswith(
        "The round has no water for Schoolroom and Orchard Ride now: nothing is entered there."
    )


def test_when_it_was_says_which_day_is_meant(told: Path) -> None:
    tomorrow = at(5, 16, 6, 30)
    with Refused(told, "bed", None, "no reminder of today waits"):
        answer(told, "done", now=tomorrow)
    with Refused(told, "bed", None, "no reminder of 14 May waits"):
        answer(told, "done", now=tomorrow, at="14may")
    wanted = doses(told)["dole"]
    answer(told, "done", now=tomorrow, at="yesterday", by="Tom")
    assert given(told) == near({"dole": wanted})
    answer(told, "left", now=tomorrow, at="15may 19:00", by="Ann")
    assert {one.happened_at for one in entries_of(told, Left)} == {at(5, 15, 19)}


def test_an_answer_is_taken_back_like_any_entry(told: Path) -> None:
    answer(told, "half", now=LATER, by="Tom")
    assert set(given(told)) == {"dole"}
    undo(told, now=LATER)
    assert given(told) == {}
    assert asked_in_the_evening(told) == {"Tom": BEDS["Ann"], "Ann": BEDS["Tom"]}


def test_a_garden_in_which_nobody_is_entered_is_answered_for_by_its_gardener(
    tmp_path: Path,
) -> None:
    book = tmp_path / "abbey.book"
    make(book)
    with open_book(book) as opened:
        put_decided(opened, Decided(at(5, 15, 6, 35), at(5, 15, 6, 35)))
    assert {one.whom for one in decided(book, MORNING)} == {""}
    answer(book, "could-not", ["dole"], now=LATER)
    answer(book, "done", now=LATER)
    assert set(given(book)) == {"chapel", "dole", "school", "ride"}


def test_who_is_entered_later_in_the_day_does_not_confuse_it(tmp_path: Path) -> None:
    book = tmp_path / "abbey.book"
    make(book)
    with open_book(book) as opened:
        put_decided(opened, Decided(at(5, 15, 6, 35), at(5, 15, 6, 35)))
    decided(book, MORNING)
    person(book, "Ann", now=at(5, 15, 9))
    person(book, "Tom", now=at(5, 15, 9))
    assert {one.whom for one in decided(book, EVENING)} >= {uid_of(book, "Tom")}
    with Refused(book, "by", None, "say who it was, --by Tom, or name the beds"):
        answer(book, "could-not", now=EVENING)
    answers = answer(book, "left", now=EVENING)
    assert {one["bed"] for one in answers} == {"chapel", "dole", "school", "ride"}


def test_nobody_is_told_of_a_bed_that_was_answered_for(told: Path) -> None:
    """Whoever says done and then could-not by mistake is not promised that somebody else is told."""
    answer(told, "done", ["chapel"], now=LATER, by="Ann")
    (found,) = answer(told, "could-not", ["chapel"], now=LATER, by="Ann")
    assert said(found).endswith("Nobody else is told: something was said of it today before.")


def test_beds_of_two_people_that_one_could_not_get_to_go_each_to_its_next(told: Path) -> None:
    answers = answer(told, "could-not", ["chapel", "dole"], now=LATER, by="Zoe")
    assert answers[-1]["say"][-2:] == [
        "Tom is told of Chapel Wall at 18:00.",
        "Ann is told of Dole Bed at 18:00.",
    ]
    asked = asked_in_the_evening(told)
    assert "Chapel Wall" in asked["Tom"]
    assert "Dole Bed" in asked["Ann"]


def test_a_bed_done_twice_is_said_to_be_answered_for(told: Path) -> None:
    answer(told, "done", ["dole"], now=LATER, by="Tom")
    right = "it has been answered for, see soakbook book log dole; given once more: soakbook soak"
    with Refused(told, "amount", None, right):
        answer(told, "done", ["dole"], now=LATER, by="Tom")


def test_whoever_nobody_knows_has_no_beds(told: Path) -> None:
    with Refused(told, "by", "Tmo", "did you mean Tom? known: Ann, Tom"):
        answer(told, "done", now=LATER, by="Tmo")


def test_who_says_so_is_written_as_they_are_called(told: Path) -> None:
    answer(told, "done", now=LATER, by="tom")
    assert {one.by for one in entries_of(told, Soak)} == {"Tom"}
