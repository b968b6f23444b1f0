"""`remind done`, `half`, `could-not`, `left`: said back on a page and to a machine; what is refused is one sentence."""

import json

import pytest

from tests.cli.commands.conftest import NOW, Go
from tests.cli.test_schemas import validate
from tests.cli.words import amiss

ANSWERS = ("done", "half", "could-not", "left")


@pytest.fixture(autouse=True)
def _told(go: Go) -> None:
    """Ann and Tom were told of their beds."""
    assert go("remind", "once", "--offline").status == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["done", "--by", "Tom"], "Dole Bed: 140 L, 10 min of tap A, a rescue."),
        (["half", "dole"], "Dole Bed: 70 L, 5 min of tap A, a rescue."),
        (["could-not", "--by", "Tom"], "Ann is told at 18:00.\n"),
        (["left", "dole", "--reason", "moist"], "Dole Bed: left, moist.\n"),
        (["left", "--by", "Tom", "--at", "06:50"], "Dole Bed: left, looked at, needs none.\n"),
    ],
)
def test_an_answer_is_said_back(go: Go, words: list[str], said: str) -> None:
    ran = go("remind", *words)
    assert (ran.status, ran.err) == (0, "")
    assert said in ran.out
    assert amiss(ran.out) == []


@pytest.mark.parametrize("what", ANSWERS)
def test_several_told_and_nobody_named_is_asked(go: Go, what: str) -> None:
    ran = go("remind", what)
    assert ran == (
        2,
        "",
        "soakbook: by is missing: say who it was, --by Ann or --by Tom, or name the beds\n",
    )


def test_with_nothing_waiting_it_is_said(go: Go) -> None:
    go("remind", "done", "--by", "Tom")
    ran = go("remind", "done", "--by", "Tom")
    said = "name one; no reminder of Tom's of today waits for an answer"
    assert ran == (2, "", f"soakbook: bed is missing: {said}\n")


@pytest.mark.parametrize("what", ANSWERS)
def test_an_unknown_bed_is_refused_with_the_nearest(go: Go, what: str) -> None:
    ran = go("remind", what, "dolle")
    assert (ran.status, ran.out) == (2, "")
    assert "bed: 'dolle' cannot be right; did you mean dole?" in ran.err


@pytest.mark.parametrize("what", ["done", "half", "could-not"])
def test_only_left_has_a_reason(go: Go, what: str) -> None:
    assert "No such option '--reason'" in go("remind", what, "dole", "--reason", "moist").err


@pytest.mark.parametrize("what", ANSWERS)
def test_for_machines_it_is_a_list_of_answers(go: Go, what: str) -> None:
    found = json.loads(go("remind", what, "chapel", "dole", "--json").out)
    assert [one["bed"] for one in found] == ["chapel", "dole"]
    for one in found:
        validate(one, "told")


def test_an_answer_is_in_the_log_and_can_be_taken_back(go: Go) -> None:
    go("remind", "half", "dole", "--by", "Tom")
    log = " ".join(go("book", "log").out.split())
    assert "soaked to rescue with 70 L by lance (half advised), Tom" in log
    assert "Taken back" in go("book", "undo").out
    assert "Dole Bed: 140 L" in go("remind", "done", "dole", now=NOW).out
