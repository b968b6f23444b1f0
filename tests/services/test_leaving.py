"""A visit without water entered."""

from datetime import date
from pathlib import Path

from soakbook.garden.entries import Left
from soakbook.services.entries import left
from tests.services.looking import NOW, Refused, entries_of, said


def test_what_was_left_is_still_wanted(garden: Path) -> None:
    (answer,) = left(garden, ["chapel"], "no time", at="yesterday", by="Tom", now=NOW)
    (entry,) = entries_of(garden, Left)
    assert (entry.reason, entry.by, entry.happened_at) == ("no time", "Tom", date(2031, 5, 14))
    assert said(answer).startswith("Chapel Wall: left, no time.")
    assert "Still wanted today" in said(answer)
    assert answer["changed"]["after"]["litres"] > 0


def test_several_beds_are_left_for_one_reason(garden: Path) -> None:
    answers = left(garden, ["chapel", "dole"], "moist to the knuckle", now=NOW)
    assert [answer["bed"] for answer in answers] == ["chapel", "dole"]
    assert len(entries_of(garden, Left)) == 2


def test_a_bed_named_twice_is_refused(garden: Path) -> None:
    with Refused(garden, "bed", "Chapel Wall", "named twice"):
        left(garden, ["chapel", "Chapel Wall"], "no time", now=NOW)


def test_without_a_reason_it_is_refused(garden: Path) -> None:
    with Refused(garden, "reason", " ", "why it was left"):
        left(garden, ["chapel"], " ", now=NOW)


def test_a_reason_of_several_words_is_asked_for_in_quotes(garden: Path) -> None:
    with Refused(garden, "bed", "no", 'several words in quotes: "no time"'):
        left(garden, ["chapel", "no"], "time", now=NOW)
