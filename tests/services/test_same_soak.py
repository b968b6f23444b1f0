"""Two people who enter the same soak: said without a terminal, with the way to take it back."""

from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.garden.entries import Soak
from soakbook.services.entries import doubts, soak
from soakbook.services.undoing import undo
from tests.services.looking import NOW, Refused, at, entries_of, look_at, said

LATER = at(5, 15, 8)


def maybe(book: Path, amount: str = "17l", now: datetime = LATER, **more: Any) -> bool:
    """Whether Ann's soak of the chapel wall is said to be one that is in the book already."""
    fields: dict[str, Any] = {"by": "Ann", "now": now} | more
    before = look_at(book)
    found = any(one.twin for one in doubts(book, ["chapel"], amount, **fields).values())
    assert look_at(book) == before
    (answer,) = soak(book, ["chapel"], amount, **fields)
    told = "it is in the book twice" in said(answer)
    assert ("maybe_twice" in answer["changed"]) == told == found
    return told


def test_it_is_entered_and_the_way_back_is_told(garden: Path) -> None:
    soak(garden, ["chapel"], "17l", by="Tom", at="07:40", now=LATER)
    (answer,) = soak(garden, ["chapel"], "2cans", by="Ann", now=LATER.replace(minute=5))
    toms, anns = entries_of(garden, Soak)
    assert answer["changed"]["maybe_twice"] == [toms.uid]
    handle = anns.uid[:4]
    assert answer["say"][-1] == (
        "Tom entered 17 L at 07:40. If that is the same one, it is in the book twice. To take this one "
        f"back:\n  soakbook book undo {handle}"
    )
    undo(garden, handle, now=at(5, 15, 9))
    assert entries_of(garden, Soak) == [toms]


@pytest.mark.parametrize(
    ("amount", "more", "same"),
    [
        ("17l", {}, True),
        ("2cans", {}, True),  # 20 L: 3 of 20 is 15 %
        ("13l", {}, True),
        ("12l", {}, False),  # 5 of 17 is 29 %
        ("24l", {}, False),
        ("17l", {"by": "tom"}, False),
        ("17l", {"by": None}, True),
        ("17l", {"at": "04:40"}, True),
        ("17l", {"at": "04:30"}, False),
        ("17l", {"now": at(5, 15, 10, 40)}, True),
        ("17l", {"now": at(5, 15, 10, 41)}, False),
        ("17l", {"at": "today"}, True),  # counts at the round hour
        ("17l", {"at": "yesterday"}, False),
        ("17l", {"planting": "rose"}, False),
    ],
)
def test_what_may_be_the_same(garden: Path, amount: str, more: dict[str, Any], same: bool) -> None:
    """Beside Tom's 17 L of the whole bed at 07:40."""
    soak(garden, ["chapel"], "17l", by="Tom", at="07:40", now=LATER)
    assert maybe(garden, amount, **more) is same


@pytest.mark.parametrize(("hour", "same"), [("02:30", True), ("02:31", False)])
def test_hours_apart_are_of_time_and_not_of_the_wall(garden: Path, hour: str, same: bool) -> None:
    """Three hours after half past midnight it is half past two: at 02:00 the clocks went back to 01:00."""
    monday = at(10, 27, 9)
    soak(garden, ["chapel"], "17l", by="Tom", at="26oct 00:30", now=monday)
    assert maybe(garden, at=f"26oct {hour}", now=monday) is same


def test_of_one_planting_it_is_that_planting(garden: Path) -> None:
    soak(garden, ["chapel"], "17l", planting="rose", by="Tom", at="07:40", now=LATER)
    assert not maybe(garden)
    assert maybe(garden, planting="rose", by=None)
    assert not maybe(garden, planting="clematis", by="Joe")


def test_where_nobody_is_named_it_may_be_anyone(garden: Path) -> None:
    soak(garden, ["chapel"], "17l", now=NOW)
    (answer,) = soak(garden, ["chapel"], "17l", now=LATER)
    assert "Somebody entered 17 L at 06:30." in said(answer)


def test_an_advised_dose_is_one_soak_though_it_is_several_entries(garden: Path) -> None:
    (given,) = soak(garden, ["chapel"], "advised", by="Tom", now=NOW)
    assert len(given["changed"]["entries"]) == 2
    assert maybe(garden, f"{given['changed']['litres']:g}l")


def test_soaks_of_two_hours_are_two_though_they_were_written_at_once(garden: Path) -> None:
    soak(garden, ["chapel"], "17l", by="Tom", at="06:10", now=LATER)
    soak(garden, ["chapel"], "30l", by="Tom", at="07:40", now=LATER)
    (answer,) = soak(garden, ["chapel"], "30l", by="Ann", now=LATER)
    assert "Tom entered 30 L at 07:40." in said(answer)


def test_what_is_meant_is_not_said_again(garden: Path) -> None:
    soak(garden, ["chapel"], "17l", by="Tom", now=NOW)
    (answer,) = soak(garden, ["chapel"], "17l", by="Ann", sure=True, now=LATER)
    assert "twice" not in said(answer)


def test_what_cannot_be_right_is_refused_before_anything_is_asked(garden: Path) -> None:
    soak(garden, ["chapel"], "17l", by="Tom", now=NOW)
    with Refused(garden, "amount", "17", ""):
        doubts(garden, ["chapel"], "17", by="Ann", now=LATER)
