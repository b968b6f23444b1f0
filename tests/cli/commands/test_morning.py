"""`round` and `why`: what they ask of the services, and in which form they print it."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from soakbook.cli import options
from soakbook.cli.options import SCHEMAS
from tests.cli.conftest import Run, Services
from tests.cli.reports import a_round, a_why

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch, services: Services) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)
    services.answers |= {"round_report": a_round(), "why_report": a_why()}


def test_the_clock_is_read_in_utc() -> None:
    read = options.now()
    assert read == NOW


def test_the_round_of_this_morning(run: Run, services: Services) -> None:
    assert run("round").out.startswith("THE ROUND")
    where, asked = services.asked
    assert where.words == (None, False)
    assert asked.words == (Path("garden.book"),)
    assert asked.options == {"now": NOW, "as_known": None, "on": None, "specimen": False}


def test_another_morning_of_the_specimen(run: Run, services: Services) -> None:
    run("round", "--specimen", "--on", "15may2031")
    where, asked = services.asked
    assert where.words == (None, True)
    assert asked.options == {"now": NOW, "as_known": None, "on": "15may2031", "specimen": True}


def test_the_book_is_named_by_option_before_environment(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOAKBOOK_BOOK", "of-the-house.book")
    run("round")
    run("round", "--book", "mine.book")
    asked = [one.words[0] for one in services.asked if one.service == "where"]
    assert asked == ["of-the-house.book", "mine.book"]


def test_a_card_for_each_on_a_sheet_of_their_own(run: Run, services: Services) -> None:
    services.answers["round_report"] = a_round(people=["Ann", "Tom"])
    anns, toms = run("round", "--card").out.split("\f")
    assert "for Ann" in anns
    assert "for Tom" in toms


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("round --card --json", "either --card or --json, not both"),
        ("round --specimen --book mine.book", "either --specimen or --book, not both"),
        ("why chapel --specimen --book mine.book", "either --specimen or --book, not both"),
    ],
)
def test_what_contradicts_itself_is_refused(
    words: str, said: str, run: Run, services: Services
) -> None:
    ran = run(*words.split())
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"soakbook: {said}")
    assert services.asked == []


@pytest.mark.parametrize("words", [("round", "--json")])
def test_the_round_for_machines(words: tuple[str, ...], run: Run) -> None:
    assert json.loads(run(*words).out) == a_round()


@pytest.mark.parametrize(
    ("words", "name"),
    [
        (("round",), "round"),
        (("why",), "why"),
        (("weather",), "weather"),
        (("bed",), "beds"),
    ],
)
def test_a_schema_is_printed_without_a_book(
    words: tuple[str, ...], name: str, run: Run, services: Services
) -> None:
    printed = run(*words, "--json-schema").out
    assert json.loads(printed) == json.loads((SCHEMAS / f"{name}.json").read_text("utf-8"))
    assert services.asked == []


def test_why(run: Run, services: Services) -> None:
    assert run("why", "chapel", "--on", "yesterday").out.startswith("CHAPEL WALL, Thursday")
    asked = services.last()
    assert asked.words == (Path("garden.book"), "chapel")
    assert asked.options == {"now": NOW, "as_known": None, "on": "yesterday", "specimen": False}
    assert "FAO eq 82" in run("why", "chapel", "--symbols").out
    assert json.loads(run("why", "chapel", "--json").out) == a_why()


def test_a_screen_of_sixty_columns(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    for words in (("round",), ("why", "chapel")):
        assert max(map(len, run(*words).out.splitlines())) <= 60


def test_as_known_is_handed_on_and_said_above_the_page(run: Run, services: Services) -> None:
    for words in (("round",), ("why", "chapel")):
        out = run(*words, "--as-known", "12may").out
        assert out.startswith("By what was written in the book by the end of Thursday 15 May 2031.")
        assert services.last().options["as_known"] == "12may"
    assert run("round", "--as-known", "12may", "--card").status == 2
