"""An entry corrected: what is said otherwise is another, the rest stays, and the change is said."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.garden.entries import (
    Catch,
    Feel,
    Left,
    Look,
    Loss,
    MulchLaid,
    Rain,
    Ruler,
    Soak,
    Wilt,
)
from soakbook.services.amending import amend
from soakbook.services.entries import feel, left, look, loss, mulch, rain, soak, wilt
from soakbook.services.mornings import round_report
from soakbook.services.setup import jam_jar, ruler
from soakbook.services.undoing import undo
from soakbook.store.book import open_book
from soakbook.store.entry_rows import add_entries
from soakbook.store.garden_rows import add_record
from tests.services.looking import (
    NOW,
    Refused,
    approx,
    at,
    entries_of,
    look_at,
    pages_of,
    said,
)

LATER = at(5, 15, 9)


def handle(book: Path, kind: type[Any]) -> str:
    """The uid of the only entry of a kind: a handle as good as any."""
    (entry,) = entries_of(book, kind)
    uid: str = entry.uid
    return uid


def test_two_hundred_for_twenty_is_put_right(garden: Path) -> None:
    """6 roses and 5 clematis share 20 L by 1.875 and 0.75: a rose has 2.5 L."""
    soak(garden, ["chapel"], "200l", by="Tom", at="06:00", now=NOW)
    was = {call["bed"]: call for call in round_report(garden, now=LATER)["calls"]}["chapel"]
    answer = amend(garden, handle(garden, Soak), {"amount": "20l"}, by="Ann", now=LATER)
    (entry,) = entries_of(garden, Soak)
    assert (entry.litres, entry.typed, entry.by, entry.corrected_by) == (20, "20l", "Tom", "Ann")
    assert (entry.happened_at, entry.written_at, entry.method) == (at(5, 15, 6), LATER, "lance")
    text = said(answer)
    assert "was: Chapel Wall: soaked with 200 L by lance, Thu 15 May 2031 06:00, by Tom." in text
    assert "climbing rose 2½ L each" in text
    assert "Wrong? soakbook book undo" in text
    now = {call["bed"]: call for call in round_report(garden, now=LATER)["calls"]}["chapel"]
    assert (was["verdict"], now["verdict"]) == ("leave", "soak")
    assert answer["changed"]["calls_changed"] == ["chapel"]
    assert "This changes 1 call of this morning's round: Chapel Wall now wanted" in text
    assert answer["changed"]["fields"]["litres"] == [200, 20]


def test_what_changes_no_call_says_none(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", at="06:00", now=NOW)
    answer = amend(garden, "last", {"note": "by lamp"}, now=LATER)
    assert entries_of(garden, Soak)[0].note == "by lamp"
    assert answer["changed"]["calls_changed"] == []
    assert "This changes" not in said(answer)
    amend(garden, "last", {"note": "", "done_by": "Joe"}, now=at(5, 15, 10))
    (entry,) = entries_of(garden, Soak)
    assert (entry.note, entry.by, entry.litres) == (None, "Joe", 20)


def test_last_is_what_was_written_last_by_whoever_says_so(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", by="Tom", now=NOW)
    soak(garden, ["dole"], "30l", by="Ann", now=at(5, 15, 7))
    amend(garden, "last", {"amount": "25l"}, by="tom", now=LATER)
    assert sorted(one.litres for one in entries_of(garden, Soak)) == [25, 30]
    amend(garden, "last", {"amount": "26l"}, now=at(5, 15, 10))
    assert sorted(one.litres for one in entries_of(garden, Soak)) == [26, 30]
    with Refused(garden, "by", "Joe", "somebody who has written"):
        amend(garden, "last", {"amount": "27l"}, by="Joe", now=at(5, 15, 11))


def test_a_soak_moves_to_another_bed_and_its_minutes_are_of_the_tap_there(garden: Path) -> None:
    soak(garden, ["chapel"], "2min", planting="rose", now=NOW)
    uid = handle(garden, Soak)
    with Refused(garden, "planting of Dole Bed", "climbing rose"):
        amend(garden, uid, {"in_bed": "dole"}, now=LATER)
    with Refused(garden, "amount for ride", "2min", "minutes need a tap"):
        amend(garden, uid, {"in_bed": "ride", "planting": "all"}, now=LATER)
    amend(garden, uid, {"in_bed": "dole", "planting": "all"}, now=LATER)
    (entry,) = entries_of(garden, Soak)
    assert (entry.planting_uid, entry.litres) == (None, approx(2 * 10 / 43 * 60))
    with Refused(garden, "method", "can", "minutes are of a hose"):
        amend(garden, "last", {"amount": "3min", "method": "can"}, now=LATER)
    amend(garden, "last", {"method": "Spray"}, now=at(5, 15, 9, 30))
    assert entries_of(garden, Soak)[0].method == "spray"
    amend(garden, "last", {"amount": "3cans"}, now=at(5, 15, 10))
    (entry,) = entries_of(garden, Soak)
    assert (entry.litres, entry.method) == (30, "can")
    amend(garden, "last", {"kind": "re-wet"}, now=at(5, 15, 11), at="yesterday 18:00")
    (entry,) = entries_of(garden, Soak)
    assert (entry.kind, entry.happened_at, entry.typed) == ("re_wet", at(5, 14, 18), "3cans")


def test_a_feel(garden: Path) -> None:
    feel(garden, ["chapel"], ball="dust", bed="moist", at="06:00", now=NOW)
    answer = amend(garden, "last", {"ball": "moist", "unsure": True}, now=LATER)
    (entry,) = entries_of(garden, Feel)
    assert (entry.ball, entry.bed, entry.unsure) == ("moist", "moist", True)
    assert answer["changed"]["felt"] == {"ball": "moist", "bed": "moist"}
    amend(garden, "last", {"ball": "none"}, now=at(5, 15, 10))
    with Refused(garden, "feel", "none", "what was felt"):
        amend(garden, "last", {"bed": "none"}, now=at(5, 15, 11))
    with Refused(garden, "ball", "damp", "dust, dry, moist, wet, sour or none"):
        amend(garden, "last", {"ball": "damp"}, now=at(5, 15, 11))


def test_a_gauge_reading(garden: Path) -> None:
    rain(garden, "15.6mm", from_="14may 18:00", to="06:00", now=NOW)
    amend(garden, "last", {"amount": "1.56mm", "kind": "Gentle"}, at="06:15", now=LATER)
    (entry,) = entries_of(garden, Rain)
    assert (entry.rain_mm, entry.kind, entry.happened_at) == (1.56, "gentle", at(5, 15, 6, 15))
    assert entry.began_at == at(5, 14, 18)
    with Refused(garden, "at", "14may 12:00", "when the rain began"):
        amend(garden, "last", {}, at="14may 12:00", now=LATER)
    with Refused(garden, "from", "07:00", "before the reading"):
        amend(garden, "last", {"from": "07:00"}, now=LATER)
    with Refused(garden, "kind", "hard"):
        amend(garden, "last", {"kind": "hard"}, now=LATER)


def test_losses_are_at_most_what_stands_without_them(garden: Path) -> None:
    loss(garden, "chapel", "rose", "2", "drowned", now=NOW)
    uid = handle(garden, Loss)
    loss(garden, "chapel", "rose", "3", "drought", now=at(5, 15, 7))
    with Refused(garden, "count", "4", "at most 3"):
        amend(garden, uid, {"count": "4"}, now=LATER)
    answer = amend(garden, uid, {"count": "3"}, now=LATER)
    assert answer["changed"]["standing"] == 0
    with Refused(garden, "planting", "all", "by its name"):
        amend(garden, "last", {"planting": "all"}, now=at(5, 15, 10))


def test_the_other_kinds(garden: Path) -> None:
    left(garden, ["dole"], "no time", now=NOW)
    amend(garden, "last", {"reason": "too wet"}, now=at(5, 15, 7))
    assert entries_of(garden, Left)[0].reason == "too wet"
    wilt(garden, ["dole"], at="06:00", now=at(5, 15, 7, 1))
    amend(garden, "last", {}, at="14may 15:00", now=at(5, 15, 7, 2))
    assert entries_of(garden, Wilt)[0].happened_at == at(5, 14, 15)
    mulch(garden, ["school"], "bark", "5cm", on="14may", now=at(5, 15, 7, 3))
    amend(garden, "last", {"amount": "8cm"}, at="13may", now=at(5, 15, 7, 4))
    assert [(one.depth_cm, one.happened_at) for one in entries_of(garden, MulchLaid)][-1] == (
        8,
        date(2031, 5, 13),
    )
    ruler(garden, "school", "4cm", now=at(5, 15, 7, 5))
    amend(garden, "last", {"amount": "3,4,5cm"}, now=at(5, 15, 7, 6))
    assert entries_of(garden, Ruler)[0].spots == 3
    with Refused(garden, "ruler", "3,4,5cm", "a bed with a mulch"):
        amend(garden, "last", {"in_bed": "yard"}, now=at(5, 15, 7, 7))
    look(garden, ["chapel"], "20cm", now=at(5, 15, 7, 8))
    amend(garden, "last", {"amount": "10cm"}, now=at(5, 15, 7, 9))
    assert entries_of(garden, Look)[0].wet_to_cm == approx(10)
    jam_jar(garden, "chapel", "5mm", gauge="14mm", now=at(5, 15, 7, 10))
    amend(garden, "last", {"amount": "6mm"}, now=at(5, 15, 7, 11))
    (jar,) = entries_of(garden, Catch)
    assert (jar.jar_mm, jar.gauge_mm, jar.typed) == (6, 14, "6mm of 14mm")
    with Refused(garden, "jam jar", "6mm", "at most 1.3 times"):
        amend(garden, "last", {"gauge": "2mm"}, now=at(5, 15, 7, 12))


@pytest.mark.parametrize(
    ("words", "field", "right"),
    [
        ({"ball": "dry"}, "ball", "this kind of entry has AMOUNT, --kind, --method, --in-bed"),
        ({"bed": "dry"}, "bed", "--in-bed moves it to another bed"),
        ({"count": "2"}, "count", "this kind of entry has"),
        ({"amount": "20"}, "amount", ""),
        ({"amount": "advised"}, "amount", "by soakbook soak"),
        ({"kind": "drench"}, "kind", "soak, rescue, re_wet"),
        ({"method": "hose"}, "method", "lance"),
        ({"planting": "yew"}, "planting of Chapel Wall", "climbing rose"),
        ({"amount": "9000l"}, "amount", "at most"),
        ({"done_by": "A" * 61}, "by", "at most 60"),
        ({"note": "a\nb"}, "note", "on one line"),
    ],
)
def test_what_a_soak_cannot_be(garden: Path, words: dict[str, Any], field: str, right: str) -> None:
    soak(garden, ["chapel"], "20l", now=NOW)
    value = next(iter(words.values()))
    with Refused(garden, field, value, right):
        amend(garden, "last", words, now=LATER)


def test_nor_a_day_that_has_not_come_or_before_it_was_planted(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", now=NOW)
    with Refused(garden, "at", "16may2031", "not come yet"):
        amend(garden, "last", {}, at="16may2031", now=LATER)
    with Refused(garden, "at", "1mar2031", "came into Chapel Wall"):
        amend(garden, "last", {}, at="1mar2031", now=LATER)


def test_nothing_said_and_the_same_said_are_refused(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", now=NOW)
    with Refused(garden, "correction", None, "an amount"):
        amend(garden, "last", {}, now=LATER)
    with Refused(garden, "correction", "last", "says already"):
        amend(garden, "last", {"amount": "20l"}, now=LATER)


def test_an_hour_alone_is_of_the_day_on_which_it_was(garden: Path) -> None:
    """Put right on Thursday evening: it was on Tuesday, and stays there."""
    soak(garden, ["chapel"], "20l", at="tue", now=NOW)
    rain(garden, "4mm", from_="13may 06:00", to="13may 09:00", now=NOW)
    amend(garden, handle(garden, Soak), {}, at="18:00", now=at(5, 15, 20))
    amend(garden, handle(garden, Rain), {"from": "07:00"}, at="10:00", now=at(5, 15, 20))
    (soaked,), (rained,) = entries_of(garden, Soak), entries_of(garden, Rain)
    assert soaked.happened_at == at(5, 13, 18)
    assert (rained.began_at, rained.happened_at) == (at(5, 13, 7), at(5, 13, 10))
    amend(garden, soaked.uid, {}, at="today 18:00", now=at(5, 15, 20))
    assert entries_of(garden, Soak)[0].happened_at == at(5, 15, 18)


def test_of_an_hour_that_comes_twice_the_other_is_another(garden: Path) -> None:
    """On 26 October 2031 the clocks go back from 02:00 to 01:00: 01:30 is first summer time, then Greenwich's."""
    monday = at(10, 27, 9)
    soak(garden, ["chapel"], "20l", at="26oct 01:30", now=monday)
    twice = "2031-10-26 01:30+00:00"
    answer = amend(garden, "last", {}, at=twice, now=monday)
    assert answer["changed"]["fields"]["happened_at"] == [
        "2031-10-26T01:30:00+01:00", "2031-10-26T01:30:00+00:00",
    ]  # fmt: skip
    with Refused(garden, "correction", "last", "says already"):
        amend(garden, "last", {}, at=twice, now=monday)


def test_an_entry_that_is_out_of_force_names_what_stands(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", now=NOW)
    old = handle(garden, Soak)
    amend(garden, old, {"amount": "30l"}, now=LATER)
    new = handle(garden, Soak)[:4]
    with Refused(
        garden, "handle", old, f"{new}: {old[:4]} was corrected by that on Thu 15 May 2031 09:00"
    ):
        amend(garden, old, {"amount": "40l"}, now=at(5, 15, 10))
    taking_back = undo(garden, new, now=at(5, 15, 10))["changed"]["handles"][0]
    with Refused(garden, "handle", old, "was taken back by that on"):
        amend(garden, old, {"amount": "40l"}, now=at(5, 15, 11))
    with Refused(garden, "handle", taking_back, "brings it back first"):
        amend(garden, taking_back, {"amount": "40l"}, now=at(5, 15, 11))


def test_the_last_is_the_last_that_stands(garden: Path) -> None:
    """Taken back is passed over: alone, one of two beds, or of one person; the correction is undone as any."""
    soak(garden, ["chapel"], "20l", by="Ann", now=NOW)
    with_one = entries_of(garden, Soak)
    soak(garden, ["dole", "school"], "30l", by="Tom", now=at(5, 15, 7))
    undo(garden, now=at(5, 15, 8))
    assert entries_of(garden, Soak) == with_one
    answer = amend(garden, "last", {"amount": "25l"}, now=LATER)
    assert answer["changed"]["supersedes"] == [with_one[0].uid]
    undo(garden, now=at(5, 15, 10))
    assert [one.litres for one in entries_of(garden, Soak)] == [20]
    with Refused(garden, "by", "Tom", "somebody who has written"):
        amend(garden, "last", {"amount": "25l"}, by="Tom", now=at(5, 15, 11))
    soak(garden, ["dole", "school"], "30l", by="Tom", now=at(5, 15, 11))
    undo(garden, entries_of(garden, Soak)[-1].uid, now=at(5, 15, 12))
    amend(garden, "last", {"amount": "35l"}, now=at(5, 15, 13))
    assert [one.litres for one in entries_of(garden, Soak)] == [20, 35]


def test_where_all_was_taken_back_none_stands_to_be_corrected(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", now=NOW)
    for one in pages_of(garden).entries:
        undo(garden, one.uid, now=LATER)
    with Refused(garden, "handle", "last", "all were taken back; soakbook book undo"):
        amend(garden, "last", {"amount": "40l"}, now=at(5, 15, 10))


def test_handles_that_mean_none_or_several(garden: Path) -> None:
    soak(garden, ["chapel", "dole"], "20l", now=NOW)
    with Refused(garden, "handle", "last", "one of those written together", "Dole Bed"):
        amend(garden, "last", {"amount": "30l"}, now=LATER)
    with Refused(garden, "handle", "ab", "at least 4 letters"):
        amend(garden, "ab", {"amount": "30l"}, now=LATER)
    with Refused(garden, "handle", "nosuch", "soakbook book log"):
        amend(garden, "nosuch", {"amount": "30l"}, now=LATER)


def test_an_empty_book_has_no_last(new_book: Path) -> None:
    before = look_at(new_book)
    with pytest.raises(InputError, match="there is none yet"):
        amend(new_book, "last", {"amount": "30l"}, now=NOW)
    assert look_at(new_book) == before


def test_of_two_plantings_of_one_name_the_one_that_was_meant_stays(garden: Path) -> None:
    with open_book(garden) as book:
        (clematis,) = (one for one in pages_of(garden).plantings if one.name == "clematis")
        second = clematis._replace(uid="second", planted_on=date(2031, 4, 1))
        add_record(book, second, at=NOW)
        fields: dict[str, Any] = {
            "bed_uid": clematis.bed_uid,
            "planting_uid": "second",
            "typed": "5l",
        }
        add_entries(book, [Soak(uid="mine", happened_at=NOW, written_at=NOW, litres=5, **fields)])
    amend(garden, "mine", {"amount": "6l"}, now=LATER)
    (entry,) = entries_of(garden, Soak)
    assert (entry.planting_uid, entry.litres) == ("second", 6)
    with Refused(garden, "bed", "chapel", "nothing stands in the clematis"):
        amend(garden, "last", {}, at="30mar", now=at(5, 15, 10))
