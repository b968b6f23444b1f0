"""Taps: a flow by can and watch, the older tests kept."""

from datetime import date
from pathlib import Path

from soakbook.services.setup import tap
from tests.services.looking import NOW, Refused, approx, look_at, pages_of, said


def test_a_fill_is_read_back_in_seconds(new_book: Path) -> None:
    """10 L in 43 s is 13.95 L/min; 2 L take 8.6 s."""
    answer = tap(new_book, "A", now=NOW, fill="10l 43s", reach="30m")
    (made,) = pages_of(new_book).taps
    assert made.flows[0].flow_l_per_min == approx(600 / 43)
    assert (made.flows[0].tested_on, made.reach_m, made.method) == (
        date(2031, 5, 15),
        30.0,
        "lance",
    )
    assert "2 L for a plant take 9 s" in said(answer)
    assert "sunlit hose can scald" in said(answer)
    assert "scald" not in said(tap(new_book, "B", now=NOW, flow="11l/min"))


def test_a_new_test_keeps_the_older_one(garden: Path) -> None:
    answer = tap(garden, "a", now=NOW, flow="12l/min", method="spray")
    made = next(one for one in pages_of(garden).taps if one.key == "A")
    assert [flow.tested_on for flow in made.flows] == [date(2031, 5, 1), date(2031, 5, 15)]
    assert "12 L/min, tested today (was 14)" in said(answer)
    tap(garden, "A", now=NOW, flow="13l/min")
    made = next(one for one in pages_of(garden).taps if one.key == "A")
    assert [flow.flow_l_per_min for flow in made.flows[1:]] == [13.0]


def test_a_butt_is_carried_by_can(new_book: Path) -> None:
    answer = tap(new_book, "butt", now=NOW, source="butt", tank="210l")
    (made,) = pages_of(new_book).taps
    assert (made.source, made.method, made.tank_l) == ("butt", "can", 210.0)
    assert "small children drown" in said(answer)
    assert "soakbook tap butt --fill 10l 43s" in said(answer)


def test_a_tap_alone_is_shown(garden: Path) -> None:
    before = look_at(garden)
    assert said(tap(garden, "a", now=NOW)).startswith("Tap A, mains, with the lance; 14 L/min")
    assert look_at(garden) == before


def test_a_slip_of_the_finger_is_no_new_tap(garden: Path) -> None:
    tap(garden, "north", now=NOW, flow="14l/min")
    with Refused(garden, "tap", "nrth", "did you mean north?", "a new tap needs --flow"):
        tap(garden, "nrth", now=NOW)
    with Refused(garden, "tap", "nrth", "a new tap needs --flow, --fill, --source or --tank"):
        tap(garden, "nrth", now=NOW, reach="30m")
    tap(garden, "nrth", now=NOW, tank="60l")
    assert [one.key for one in pages_of(garden).taps] == ["A", "C", "north", "nrth"]


def test_a_key_is_short_and_on_one_line(garden: Path) -> None:
    with Refused(garden, "key", "a" * 31, "at most 30 letters"):
        tap(garden, "a" * 31, now=NOW, flow="14l/min")
    with Refused(garden, "key", "a\nb", "on one line"):
        tap(garden, "a\nb", now=NOW, flow="14l/min")


def test_a_tap_that_cannot_be_is_refused(garden: Path) -> None:
    with Refused(garden, "on", "1may", "with the test of that day"):
        tap(garden, "A", now=NOW, on="1may")
    with Refused(garden, "on", "2031-06-01", "a day that has come"):
        tap(garden, "A", now=NOW, flow="14l/min", on="2031-06-01")
    with Refused(garden, "flow", "900l/min", "at most 200 L/min"):
        tap(garden, "A", now=NOW, flow="900l/min")
    with Refused(garden, "source", "river", "one of mains, butt"):
        tap(garden, "A", now=NOW, source="river")


def test_a_new_flow_says_what_becomes_of_todays_round(garden: Path) -> None:
    """Half the flow keeps the taps open twice as long, to the half minute a bed."""
    answer = tap(garden, "A", now=NOW, fill="10l 86s")
    was, now = answer["changed"]["minutes"]
    assert was < now <= 2 * was + 1
    assert "Today's round:" in said(answer)
    assert "of open taps; it was" in said(answer)
    again = tap(garden, "A", now=NOW, fill="10l 86s")
    assert again["changed"]["minutes"] is None


def test_another_lance_is_to_be_tested(garden: Path) -> None:
    answer = tap(garden, "A", now=NOW, method="spray")
    assert "tested with the lance, and another lance gives another flow" in said(answer)
    assert "soakbook tap A --fill 10l 43s" in said(answer)
    answer = tap(garden, "A", now=NOW, method="lance", fill="10l 43s")
    assert "another lance" not in said(answer)
    assert "another lance" not in said(tap(garden, "A", now=NOW, method="can"))
