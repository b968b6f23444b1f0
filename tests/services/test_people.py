"""People: who comes on which days, and when they are away."""

from datetime import date
from pathlib import Path

from soakbook.garden.records import Absence
from soakbook.services.mornings import round_report
from soakbook.services.setup import bed, person
from tests.services.looking import NOW, Refused, look_at, pages_of, said


def test_somebody_comes_on_their_days(garden: Path) -> None:
    answer = person(garden, "Ann", now=NOW, days="mon,wed,fri", hours="90min")
    (ann,) = pages_of(garden).people
    assert (ann.weekdays, ann.hours) == (frozenset({0, 2, 4}), 1.5)
    assert "Ann comes Mon, Wed, Fri, 1 h 30." in said(answer)
    assert "no longer on every day" in said(answer)
    assert "comes next on Fri 16" in said(answer)
    assert round_report(garden, now=NOW)["totals"]["hours_available"] == 0


def test_days_away_are_added(garden: Path) -> None:
    person(garden, "Ann", now=NOW)
    person(garden, "ann", now=NOW, away="9jul..17jul")
    person(garden, "Ann", now=NOW, away="1jun")
    (ann,) = pages_of(garden).people
    assert ann.absences == (
        Absence(date(2031, 6, 1), date(2031, 6, 1)),
        Absence(date(2031, 7, 9), date(2031, 7, 17)),
    )
    before = look_at(garden)
    answer = person(garden, "Ann", now=NOW, away="1jun")
    assert look_at(garden) == before
    assert "away 1 June, 9 July to 17 July" in said(answer)


def test_a_stand_in_comes_for_a_while(garden: Path) -> None:
    person(garden, "Joe", now=NOW, first="9jul", last="17jul", hours="45min")
    (joe,) = pages_of(garden).people
    assert (joe.first, joe.last) == (date(2031, 7, 9), date(2031, 7, 17))
    with Refused(garden, "last", "2031-07-01", "not before 2031-07-09"):
        person(garden, "Joe", now=NOW, last="1jul")
    with Refused(garden, "hours", "25h", "at most 24 h"):
        person(garden, "Joe", now=NOW, hours="25h")


def test_a_new_name_is_said_to_be_new(garden: Path) -> None:
    """Whoever types Anne for Ann hears that she is somebody else, who comes every day."""
    assert "is new" not in said(person(garden, "Ann", now=NOW))
    assert "is new" not in said(person(garden, "ann", now=NOW, away="9jul..17jul"))
    answer = person(garden, "Anne", now=NOW, away="9jul..17jul")
    assert said(answer).startswith("Anne is new here, beside Ann.\nAnne comes every day")


def test_a_keeper_whom_nobody_knows_is_said(garden: Path) -> None:
    assert "not among" not in said(bed(garden, "dole", now=NOW, keeper="Zoë"))
    person(garden, "Zoe", now=NOW)
    answer = bed(garden, "chapel", now=NOW, keeper="Zoë")
    assert "Zoë is not among those entered: Zoe." in said(answer)
    assert "not among" not in said(bed(garden, "chapel", now=NOW, keeper="zoe"))
