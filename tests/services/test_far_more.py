"""A soak ten times the usual: doubtful in answer, log and check until it is amended or said to be meant.

The chapel wall has 6 roses from 7.5 L and 5 clematis from 3 L pots: 60 L that balls could want. The schoolroom has 60
perennials from 2 L pots: 120 L.
"""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry, Soak
from soakbook.services.amending import amend, far_more_amended
from soakbook.services.book_log import Wanted, log_report
from soakbook.services.checking import check_report
from soakbook.services.entries import doubts, loss, soak
from soakbook.services.far_more import A_HABIT, LOOKED_BACK, Habits
from soakbook.services.setup import plant
from soakbook.store.book import open_book
from soakbook.store.entry_rows import add_entries
from tests.services.contradictions import soak as roses_soak
from tests.services.looking import NOW, Refused, approx, at, entries_of, look_at, pages_of, said

MORNINGS = [at(5, day, 7) for day in (12, 13, 14)]
"""So many as make a habit."""


def accustom(book: Path, bed: str, amount: str, **more: Any) -> None:
    """Soak a bed with that on three mornings."""
    for morning in MORNINGS:
        soak(book, [bed], amount, now=morning, **more)


def doubted(book: Path, bed: str, amount: str, **more: Any) -> dict[str, Any] | None:
    """What is said to be doubtful of a soak of this morning: before it is entered, of the answer and in it."""
    before = look_at(book)
    found = doubts(book, [bed], amount, now=NOW, **more)
    assert look_at(book) == before
    (answer,) = soak(book, [bed], amount, now=NOW, **more)
    told: dict[str, Any] | None = answer["changed"].get("doubtful")
    assert bool(found) == ("Doubtful" in said(answer)) == bool(told)
    return told


def findings(book: Path) -> list[str]:
    return [
        one["say"] for one in check_report(book, now=NOW)["findings"] if one["kind"] == "far_more"
    ]


def marked(book: Path) -> list[str]:
    lines = log_report(book, Wanted(), now=NOW)["lines"]
    return [one["doubtful"] for one in lines if one["doubtful"]]


@pytest.mark.parametrize(
    ("amount", "doubtful"), [("20l", False), ("199l", False), ("200l", True), ("20cans", True)]
)
def test_ten_times_is_doubtful(garden: Path, amount: str, doubtful: bool) -> None:
    accustom(garden, "chapel", "20l")
    found = doubted(garden, "chapel", amount)
    assert bool(found) == doubtful == bool(findings(garden)) == bool(marked(garden))
    if found:
        assert found == {
            "usual_litres": approx(20), "times": approx(10), "by_habit": True,
        }  # fmt: skip


def test_it_is_entered_and_the_way_to_put_it_right_is_told(garden: Path) -> None:
    accustom(garden, "chapel", "20l")
    (answer,) = soak(garden, ["chapel"], "250l", by="Tom", now=NOW)
    slip = entries_of(garden, Soak)[-1]
    doubt = "250 L is 12 times what is usual there, about 20 L"
    handle = slip.uid[:4]
    assert (slip.litres, slip.note) == (250, None)
    assert answer["say"][-1] == (
        f"Doubtful: {doubt}. It is entered as given. If it is a slip:\n"
        f"  soakbook book amend {handle} AMOUNT\n  soakbook book undo {handle}"
    )
    assert marked(garden) == [doubt]
    assert findings(garden) == [
        f"The soak of Chapel Wall on 15 May (250l, by Tom) is doubtful: {doubt}."
    ]
    corrected = amend(garden, handle, {"amount": "25l"}, now=NOW)
    assert "doubtful" not in corrected["changed"]
    assert (marked(garden), findings(garden)) == ([], [])


def test_of_several_beds_it_is_the_one(garden: Path) -> None:
    for bed in ("chapel", "school"):
        accustom(garden, bed, {"chapel": "20l", "school": "60l"}[bed])
    assert list(doubts(garden, ["school", "chapel"], "200l", now=NOW)) == ["chapel"]
    school, chapel = soak(garden, ["school", "chapel"], "200l", now=NOW)
    assert ("doubtful" in school["changed"], "doubtful" in chapel["changed"]) == (False, True)
    assert chapel["changed"]["entries"][0][:4] in chapel["say"][-1]


@pytest.mark.parametrize(("lost", "doubtful"), [(0, False), (30, True)])
def test_where_plants_died_the_rest_is_usual_with_less(
    garden: Path, lost: int, doubtful: bool
) -> None:
    """30 left of 60, 1 L each: ten times is 300 L."""
    accustom(garden, "school", "60l")
    if lost:
        loss(garden, "school", "perennial", str(lost), "drought", at="14may 09:00", now=NOW)
    assert bool(doubted(garden, "school", "300l")) is doubtful


@pytest.mark.parametrize(("amount", "doubtful"), [("219l", False), ("220l", True)])
def test_plantings_soaked_one_by_one_tell_of_the_bed(
    garden: Path, amount: str, doubtful: bool
) -> None:
    accustom(garden, "chapel", "12l", planting="rose")
    accustom(garden, "chapel", "10l", planting="clematis")
    assert bool(doubted(garden, "chapel", amount)) is doubtful


@pytest.mark.parametrize(("amount", "doubtful"), [("149l", False), ("150l", True)])
def test_soaks_of_the_bed_tell_of_a_planting(garden: Path, amount: str, doubtful: bool) -> None:
    """20 L shared by 1.875 and 0.75: the roses have 15 L of it."""
    accustom(garden, "chapel", "20l")
    found = doubted(garden, "chapel", amount, planting="rose")
    assert bool(found) is doubtful
    if found:
        assert marked(garden)[0].startswith("150 L is 10 times")


@pytest.mark.parametrize(("amount", "doubtful"), [("590l", False), ("600l", True)])
def test_before_there_is_a_habit_the_plants_tell(garden: Path, amount: str, doubtful: bool) -> None:
    for morning in MORNINGS[: A_HABIT - 1]:
        soak(garden, ["chapel"], "20l", now=morning)
    found = doubted(garden, "chapel", amount)
    assert bool(found) is doubtful
    if found:
        assert found == {"usual_litres": approx(60), "times": approx(10), "by_habit": False}
        assert findings(garden)[0].endswith(
            "10 times what the plants there could want, about 60 L."
        )


@pytest.mark.parametrize(("amount", "doubtful"), [("239l", False), ("240l", True)])
def test_or_the_usual_dose_that_was_entered(garden: Path, amount: str, doubtful: bool) -> None:
    plant(garden, "chapel", "climbing rose", "6", now=NOW, usual="4l")
    assert bool(doubted(garden, "chapel", amount, planting="rose")) is doubtful


@pytest.mark.parametrize("kind", ["water_in", "re_wet", "rescue"])
@pytest.mark.parametrize(("amount", "doubtful"), [("1190l", False), ("1200l", True)])
def test_other_kinds_may_be_what_a_ball_could_want(
    garden: Path, kind: str, amount: str, doubtful: bool
) -> None:
    """Helped with half a litre each; a soak of 300 L is doubtful, a water-in of it is not."""
    accustom(garden, "school", "30l")
    assert doubts(garden, ["school"], "300l", now=NOW)
    found = doubted(garden, "school", amount, kind=kind)
    assert bool(found) is doubtful
    if found:
        assert found["by_habit"] is False


def test_other_kinds_make_no_habit(garden: Path) -> None:
    accustom(garden, "school", "120l", kind="water_in")
    found = doubted(garden, "school", "1200l")
    assert found
    assert found["by_habit"] is False


def test_the_rounds_own_dose_is_never_doubted(garden: Path) -> None:
    """After three sprinklings of 0.1 L a plant it is more than ten times the usual."""
    accustom(garden, "chapel", "1.2l")
    assert doubted(garden, "chapel", "advised") is None
    given = sum(one.litres for one in entries_of(garden, Soak)[A_HABIT:])
    assert given > 12
    assert (marked(garden), findings(garden)) == ([], [])


def test_what_is_meant_has_a_note_and_is_not_doubted_again(garden: Path) -> None:
    accustom(garden, "chapel", "20l")
    (answer,) = soak(garden, ["chapel"], "200l", sure=True, now=NOW)
    assert "Doubtful" not in said(answer)
    assert "doubtful" not in answer["changed"]
    note = entries_of(garden, Soak)[-1].note
    assert note == "meant so: 200 L is 10 times what is usual there, about 20 L"
    assert (marked(garden), findings(garden)) == ([], [])
    soak(garden, ["dole"], "30l", sure=True, now=NOW)
    assert entries_of(garden, Soak)[-1].note is None


def test_a_correction_to_ten_times_is_doubtful_too(garden: Path) -> None:
    accustom(garden, "chapel", "20l")
    soak(garden, ["chapel"], "20l", now=NOW)
    before = look_at(garden)
    far = far_more_amended(garden, "last", {"amount": "240l"}, now=NOW)
    assert look_at(garden) == before
    assert far
    assert (far.place, far.times) == ("Chapel Wall", approx(12))
    answer = amend(garden, "last", {"amount": "240l"}, now=NOW)
    assert answer["changed"]["doubtful"]["times"] == approx(12)
    assert answer["say"][-1].startswith("Doubtful: 240 L is 12 times")
    assert f"soakbook book amend {answer['changed']['handles'][0]} AMOUNT" in answer["say"][-1]
    assert len(findings(garden)) == 1
    of_who = amend(garden, "last", {"done_by": "Ann"}, now=NOW)
    assert "doubtful" not in of_who["changed"]


def test_a_note_says_that_it_is_right(garden: Path) -> None:
    accustom(garden, "chapel", "20l")
    soak(garden, ["chapel"], "200l", now=NOW)
    amend(garden, "last", {"note": "the hose was left on"}, now=NOW)
    assert (marked(garden), findings(garden)) == ([], [])


def test_a_note_that_it_is_meant_holds_for_that_amount_alone(garden: Path) -> None:
    accustom(garden, "chapel", "20l")
    soak(garden, ["chapel"], "20l", now=NOW)
    amend(garden, "last", {"amount": "200l"}, sure=True, now=NOW)
    assert (entries_of(garden, Soak)[-1].note or "").startswith("meant so: 200 L")
    amend(garden, "last", {"amount": "25l"}, now=NOW)
    assert entries_of(garden, Soak)[-1].note is None
    amend(garden, "last", {"amount": "210l", "note": "flooded"}, now=NOW)
    assert entries_of(garden, Soak)[-1].note == "flooded"


def test_what_nobody_can_have_given_is_refused_as_before(garden: Path) -> None:
    accustom(garden, "chapel", "20l")
    with Refused(garden, "amount", "20000l", "at most"):
        doubts(garden, ["chapel"], "20000l", now=NOW)


def roses(book: Path, *soaks: tuple[date, float]) -> tuple[Habits, list[Soak]]:
    """A book in which the roses were given so many litres on those days."""
    pages = pages_of(book)
    entries: list[AnyEntry] = [
        roses_soak(pages, f"s{number}", happened_at=day, litres=litres, typed=f"{litres:g}l")
        for number, (day, litres) in enumerate(soaks)
    ]
    with open_book(book) as opened:
        add_entries(opened, entries)
    pages = pages_of(book)
    return Habits(pages), [one for one in pages.entries if isinstance(one, Soak)]


def test_what_is_usual_changes_with_the_years(garden: Path) -> None:
    """As many soaks of 5 L, then of 60 L: 400 L is 80 times the one and 6 times the other."""
    start = date(2031, 3, 21)
    early = [(start + timedelta(days=number), 5.0) for number in range(LOOKED_BACK)]
    later = [(start + timedelta(days=number + LOOKED_BACK), 60.0) for number in range(LOOKED_BACK)]
    habits, soaks = roses(garden, *early, *later)
    last = replace(soaks[-1], uid="new", happened_at=date(2031, 12, 1), litres=400, typed="400l")
    assert habits.far_more(last) is None
    among_the_first = replace(last, uid="early", happened_at=start + timedelta(days=20))
    found = habits.far_more(among_the_first)
    assert found
    assert found.usual_l == approx(5)


def test_a_first_soak_is_told_by_hindsight(garden: Path) -> None:
    """It alone is 300 L of the 450 L that ten times six pots of 7.5 L are; those after it have 20 L."""
    days = [(date(2031, 5, day), litres) for day, litres in ((10, 300.0), (11, 20.0), (12, 20.0))]
    habits, soaks = roses(garden, *days)
    assert habits.doubtful(soaks[0]) is None
    with open_book(garden) as opened:
        add_entries(opened, [replace(soaks[1], uid="more", happened_at=date(2031, 5, 13))])
    again = Habits(pages_of(garden))
    assert [bool(again.doubtful(one)) for one in entries_of(garden, Soak)] == [
        True, False, False, False,
    ]  # fmt: skip


def test_a_slip_of_yesterday_makes_no_habit_for_today(garden: Path) -> None:
    habits, soaks = roses(
        garden, *[(date(2031, 5, day), 200.0 if day == 13 else 20.0) for day in range(9, 15)]
    )
    assert [one.litres for one in soaks if habits.doubtful(one)] == [200]


def test_a_bed_without_living_plants_is_told_of_elsewhere(garden: Path) -> None:
    """A bare day before the roses were planted: nothing is shared, so nothing is usual."""
    habits, soaks = roses(garden, (date(2031, 3, 1), 500.0))
    assert habits.far_more(soaks[0]) is None


def test_noon_entries_come_after_the_mornings(garden: Path) -> None:
    """With the same day's soak before it there are three before it; without, two."""
    accustom(garden, "chapel", "20l")
    assert doubts(garden, ["chapel"], "200l", now=NOW, at="14may 07:01")
    assert entries_of(garden, Soak)[-1].happened_at == at(5, 14, 7)
