"""The history read: what holds, newest last; with all what was corrected; changes in words."""

from pathlib import Path
from typing import Any

import pytest

from soakbook.cli.log_page import write_log
from soakbook.cli.paper import Page
from soakbook.errors import BookError, InputError
from soakbook.garden.entries import Soak
from soakbook.services.amending import amend
from soakbook.services.book_log import SCREENFUL, Wanted, log_report
from soakbook.services.entries import left, rain, soak
from soakbook.services.setup import bed, person, plant, tap
from soakbook.services.undoing import undo
from soakbook.store.book import open_book
from tests.cli.test_schemas import validate
from tests.services.looking import NOW, at, entries_of

LATER = at(5, 15, 12)
Report = dict[str, Any]


def log(book: Path, **wanted: Any) -> Report:
    report = log_report(book, Wanted(**wanted), now=LATER)
    validate(report, "log")
    return report


def said(report: Report) -> list[str]:
    return [line["say"] for line in report["lines"]]


def page(report: Report) -> str:
    paper = Page(80)
    write_log(paper, report)
    return str(paper)


def test_what_holds_is_told_by_when_it_happened(garden: Path) -> None:
    soak(garden, ["chapel"], "2cans", by="Tom", now=NOW)
    left(garden, ["dole"], "no time", at="13may", by="Ann", now=at(5, 15, 7))
    rain(garden, "3mm", from_="07:00", to="08:00", now=at(5, 15, 8))
    found = log(garden, since="13may")
    entries = [line for line in found["lines"] if line["of"] == "entry"]
    assert [(one["say"], one["by"]) for one in entries] == [
        ("Dole Bed: left, no time", "Ann"),
        ("Chapel Wall: soaked with 20 L by can", "Tom"),
        ("3 mm of rain, since 15 May 07:00", None),
    ]
    assert [len(one["handle"]) for one in entries] == [4, 4, 4]
    text = page(found)
    assert "Tue 13 May  Dole Bed: left, no time, Ann\n      written Thu 15 May 07:00\n" in text
    assert "Thu 15 May 06:30  Chapel Wall: soaked with 20 L by can (2cans), Tom" in text
    assert text.index("Dole Bed: left") < text.index("by can") < text.index("3 mm of rain")


def test_what_was_corrected_or_taken_back_stands_under_it_with_all(garden: Path) -> None:
    soak(garden, ["chapel"], "200l", by="Tom", now=NOW)
    amend(garden, entries_of(garden, Soak)[0].uid, {"amount": "20l"}, by="Ann", now=at(5, 15, 7))
    soak(garden, ["dole"], "30l", by="Tom", now=at(5, 15, 8))
    undo(garden, now=at(5, 15, 9))
    brief, whole = log(garden, since="15may"), log(garden, since="15may", every=True)
    soaks = [line for line in brief["lines"] if line["what"] == "soak"]
    assert [(one["say"], one["corrected"], one["corrected_by"]) for one in soaks] == [
        ("Chapel Wall: soaked with 20 L by lance", True, "Ann")
    ]
    assert soaks[0]["earlier"] == []
    chapel, dole = (line for line in whole["lines"] if line["what"] == "soak")
    assert [one["say"] for one in chapel["earlier"]] == ["Chapel Wall: soaked with 200 L by lance"]
    assert (dole["say"], dole["holds"]) == (
        "taken back: Dole Bed: soaked with 30 L by lance",
        False,
    )
    assert dole["earlier"][0]["by"] == "Tom"
    text = page(whole)
    assert f"was {chapel['earlier'][0]['handle']}: Chapel Wall: soaked with 200 L" in text
    assert "corrected Thu 15 May 07:00 by Ann" in text
    assert "taken back Thu 15 May 09:00\n" in text
    undo(garden, dole["handle"], now=at(5, 15, 10))
    assert [one.litres for one in entries_of(garden, Soak)] == [20, 30]


def test_a_day_of_one_figure_has_no_nought_before_it(garden: Path) -> None:
    rain(garden, "3mm", from_="5may 07:00", to="5may 19:00", now=NOW)
    assert said(log(garden, since="5may", until="5may")) == ["3 mm of rain, since 5 May 07:00"]


def test_lasting_things_say_from_what_to_what_and_by_whom(garden: Path) -> None:
    bed(garden, "chapel", now=NOW, area="22m2", by="Ann")
    bed(garden, "chapel", now=NOW, keeper="Tom")
    bed(garden, "dole", now=NOW, right="yes")
    tap(garden, "C", now=NOW, flow="12l/min")
    person(garden, "Joe", now=NOW, days="mon-fri")
    person(garden, "Joe", now=at(5, 15, 7), days="sat", away="9jul-17jul")
    plant(garden, "yard", "rose", "2", now=NOW, pot="5l", on="1may")
    found = log(garden, since="15may")
    told = said(found)
    assert "Bed Chapel Wall: from area 18 m² to area 22 m²" in told
    assert "Bed Chapel Wall: from kept by nobody to kept by Tom" in told
    assert "Bed Dole Bed: what was guessed stands" in told
    assert "Tap C: flow from none to 12 L/min" in told
    assert "Joe joined" in told
    (joe,) = (one for one in told if one.startswith("Joe: "))
    assert "days from Mon, Tue, Wed, Thu and Fri to Sat" in joe
    assert "away from none to 2031-07-09 to 2031-07-17" in joe
    assert "Yard: 2 roses planted" in told
    assert "Thu 15 May 06:30  Bed Chapel Wall: from area 18 m² to area 22 m², Ann" in page(found)


def test_a_bed_a_person_and_days_choose(garden: Path) -> None:
    soak(garden, ["chapel", "dole"], "20l", by="Tom", now=NOW)
    soak(garden, ["chapel"], "10l", by="Ann", at="yesterday", now=at(5, 15, 7))
    amend(garden, "last", {"amount": "11l"}, by="Ann", now=at(5, 15, 8))
    of_dole = log(garden, bed="dole", since="15may")
    assert said(of_dole) == ["Dole Bed: soaked with 20 L by lance"]
    assert {line["bed"] for line in log(garden, bed="dole")["lines"]} == {"dole"}
    assert "Dole Bed: 14 shrub roses planted" in said(log(garden, bed="dole"))
    assert said(log(garden, by="ann")) == ["Chapel Wall: soaked with 11 L by lance"]
    assert len(log(garden, by="Tom")["lines"]) == 2
    undo(garden, log(garden, bed="dole")["lines"][-1]["handle"], by="Ann", now=at(5, 15, 9))
    assert len(log(garden, by="Tom")["lines"]) == 1
    assert said(log(garden, by="tom", every=True))[-1].startswith("taken back: Dole Bed")
    assert said(log(garden, by="ann", every=True))[-1].startswith("taken back: Dole Bed")
    assert log(garden, until="1jan2031")["lines"] == []
    assert "Nothing." in page(log(garden, until="1jan2031"))


def test_a_screenful_says_how_more_is_seen(garden: Path) -> None:
    before = len(log(garden, since="1jan2031")["lines"])
    for minute in range(10):
        soak(garden, ["school"], "20l", now=at(5, 15, 7, minute))
    found = log(garden)
    assert (len(found["lines"]), found["left_out"]) == (SCREENFUL, before + 10 - SCREENFUL)
    assert f"{before + 10 - SCREENFUL} older lines left out: --since DATE shows them" in page(found)
    assert len(log(garden, since="1jan2031")["lines"]) == before + 10


def test_what_cannot_be_asked(garden: Path) -> None:
    with pytest.raises(InputError, match="bed: 'nowhere'"):
        log(garden, bed="nowhere")
    with pytest.raises(InputError, match="since: '1/4'"):
        log(garden, since="1/4")


def test_a_line_of_the_log_that_cannot_be_read_is_damage(garden: Path) -> None:
    """As a flipped byte leaves it; SQLite sees nothing wrong in it."""
    with open_book(garden) as book, book.writing() as connection:
        connection.execute(
            "INSERT INTO change (at, what, uid, after) VALUES (?, 'bed', 'b', ?)",
            ("2031-05-14T08:00:00+00:00", '{"nbme": "Dole Bed"}'),
        )
    with pytest.raises(
        BookError, match=r"is damaged: .*cannot be read: the log of changes, of a bed"
    ):
        log(garden)
