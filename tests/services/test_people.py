"""People: who comes on which days, and when they are away."""

from datetime import date
from pathlib import Path

from soakbook.garden.records import Absence
from soakbook.services.mornings import round_report
from soakbook.services.setup import person
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
