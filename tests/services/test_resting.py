"""A bed laid to rest is in no round and takes no entry; its past stays."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import InputError, UnreckonedError
from soakbook.services.entries import feel, loss, mulch, rain, soak
from soakbook.services.mornings import round_report, why_report
from soakbook.services.setup import beds, jam_jar, move, part, plant, rest, ruler
from tests.services.looking import NOW, Refused, look_at, said

TOMORROW = NOW + timedelta(days=1)


def called(path: Path, now: Any = NOW, on: str | None = None) -> set[str]:
    """The beds that a round speaks of."""
    return {one["bed"] for one in round_report(path, now=now, on=on)["calls"]}


def test_it_is_in_no_round_from_then_on(garden: Path) -> None:
    assert "chapel" in called(garden)
    answer = rest(garden, "chapel", "today", now=NOW)
    assert "Chapel Wall rests from today" in said(answer)
    assert "11 plants stand in it still: nobody will be told to water them" in said(answer)
    assert answer["changed"]["fields"] == {"rests_from": [None, "2031-05-15"]}
    assert "chapel" not in called(garden)
    assert "chapel" not in called(garden, TOMORROW)
    assert "chapel" in called(garden, on="yesterday")
    report = round_report(garden, now=NOW)
    assert "Chapel" not in str(report["findings"])
    assert "chapel" not in str(report["tomorrow"])


def test_a_rest_to_come_begins_then(garden: Path) -> None:
    rest(garden, "chapel", "tomorrow", now=NOW)
    assert "chapel" in called(garden)
    assert "chapel" not in called(garden, TOMORROW)
    assert "chapel" not in str(round_report(garden, now=NOW)["tomorrow"])
    soak(garden, ["chapel"], "20l", now=NOW)


def test_it_takes_no_entry(garden: Path) -> None:
    rest(garden, "chapel", "today", now=NOW)
    refusal = "Chapel Wall is since 15 May; soakbook bed chapel --rest no ends it"
    for entry in (
        lambda: soak(garden, ["chapel"], "20l", now=NOW),
        lambda: feel(garden, ["chapel"], ball="dry", now=NOW),
        lambda: loss(garden, "chapel", "rose", "1", "frost", now=NOW),
        lambda: mulch(garden, ["chapel"], "bark", "5cm", now=NOW),
        lambda: jam_jar(garden, "chapel", "3mm", gauge="6mm", now=NOW),
        lambda: ruler(garden, "chapel", "4,5", now=NOW),
        lambda: plant(garden, "chapel", "fern", "2", now=NOW),
        lambda: move(garden, "chapel", "rose", to="dole", now=NOW),
        lambda: move(garden, "dole", "rose", to="chapel", count="1", now=NOW),
        lambda: part(garden, "chapel", "nook", area="3m2", plants="clematis", now=NOW),
    ):
        with Refused(garden, "bed", "chapel", refusal):
            entry()


def test_what_was_before_may_still_be_entered(garden: Path) -> None:
    rest(garden, "chapel", "today", now=NOW)
    assert "30 L" in said(soak(garden, ["chapel"], "30l", at="yesterday 08:00", now=NOW)[0])


def test_rain_falls_on_the_others(garden: Path) -> None:
    rest(garden, "chapel", "today", now=NOW)
    told = {one["bed"] for one in rain(garden, "9mm", now=NOW)["changed"]["beds"]}
    assert "chapel" not in told
    assert "dole" in told


def test_a_why_says_that_it_rests(garden: Path) -> None:
    rest(garden, "chapel", "today", now=NOW)
    with pytest.raises(UnreckonedError, match="Chapel Wall: at rest since 15 May"):
        why_report(garden, "chapel", now=NOW)


def test_its_rest_ends(garden: Path) -> None:
    before = round_report(garden, now=NOW)["calls"]
    rest(garden, "chapel", "today", now=NOW)
    answer = rest(garden, "chapel", "no", now=NOW)
    assert "on the round again" in said(answer)
    assert round_report(garden, now=NOW)["calls"] == before
    with Refused(garden, "rest", "no", "Chapel Wall is not at rest"):
        rest(garden, "chapel", "no", now=NOW)


def test_the_list_says_since_when(garden: Path) -> None:
    rest(garden, "chapel", "1oct", now=NOW)
    chapel = next(one for one in beds(garden)["beds"] if one["bed"] == "chapel")
    assert chapel["rests_from"] == "2031-10-01"


@pytest.mark.parametrize(("on", "feel"), [("1oct", False), ("10may", True)])
def test_a_bed_that_has_rested_is_felt_first(garden: Path, on: str, feel: bool) -> None:
    rest(garden, "chapel", on, now=NOW)
    assert ("Feel it first" in said(rest(garden, "chapel", "no", now=NOW))) == feel


def test_a_day_just_gone_is_not_next_years(garden: Path) -> None:
    assert "rests from 10 May:" in said(rest(garden, "chapel", "10may", now=NOW))
    assert "rests from 1 March 2032:" in said(rest(garden, "chapel", "1mar", now=NOW))


@pytest.mark.parametrize("on", ["1jan2040", "31feb", "soon", ""])
def test_a_day_that_cannot_be_right_changes_nothing(garden: Path, on: str) -> None:
    before = look_at(garden)
    with pytest.raises(InputError) as refused:
        rest(garden, "chapel", on, now=NOW)
    assert refused.value.field == "rest"
    assert look_at(garden) == before
