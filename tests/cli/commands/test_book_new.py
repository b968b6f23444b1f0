"""`book new` and `book where`: what is asked, when somebody is there to answer."""

from collections import deque
from datetime import UTC, datetime
from pathlib import Path

import pytest

from soakbook.cli import options, paper
from soakbook.cli.commands import book_new
from soakbook.errors import BookError
from tests.cli.conftest import Run, Services
from tests.cli.reports import TOLD

NOW = datetime(2031, 5, 15, 5, 40, tzinfo=UTC)
WHOLE = (
    *("book", "new", "The Corrody", "--lat", "52.3", "--lon", "-0.4"),
    *("--elevation", "62", "--timezone", "Europe/London"),
)


@pytest.fixture(autouse=True)
def _at_breakfast(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(options, "now", lambda: NOW)


class Gardener:
    """Somebody at the terminal, with the answers they will give."""

    def __init__(self) -> None:
        self.answers: deque[str] = deque()
        self.asked: list[str] = []

    def ask(self, question: str, default: str | None = None) -> str:
        self.asked.append(question)
        answer = self.answers.popleft()
        return default or "" if answer == "" else answer


@pytest.fixture
def gardener(monkeypatch: pytest.MonkeyPatch) -> Gardener:
    """Somebody who answers."""
    there = Gardener()
    monkeypatch.setattr(paper, "somebody_there", lambda: True)
    monkeypatch.setattr(paper, "ask", there.ask)
    monkeypatch.setattr(book_new, "_own_clock", lambda: "Europe/London")
    return there


def test_where(run: Run, services: Services) -> None:
    path, why = run("book", "where", "--book", "mine.book").out.splitlines()
    assert path == "garden.book"
    assert why == "As --book says. Not begun yet: soakbook book new begins it."
    assert services.last().words == ("mine.book",)


def test_where_a_book_that_is_there_lies_and_why(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    services.answers["where"] = tmp_path
    assert run("book", "where").out.endswith("names another. It is there.\n")
    monkeypatch.setenv("SOAKBOOK_BOOK", "other.book")
    assert run("book", "where").out.endswith("\nAs SOAKBOOK_BOOK says. It is there.\n")


def test_a_book_is_begun_in_one_line_and_nothing_is_asked(run: Run, services: Services) -> None:
    services.answers["new"] = {**TOLD, "say": ["The book of The Corrody lies at garden.book."]}
    ran = run(*WHOLE)
    assert ran.status == 0
    asked = services.last()
    assert (asked.service, asked.words) == ("new", (Path("garden.book"),))
    assert asked.options == {
        "name": "The Corrody",
        "latitude_deg": 52.3,
        "longitude_deg": -0.4,
        "elevation_m": 62.0,
        "timezone": "Europe/London",
        "hours": 2.0,
        "now": NOW,
    }
    assert ran.out.startswith("The book of The Corrody lies at garden.book.\nNext the taps")
    assert ran.out.endswith("  soakbook round\n")


@pytest.mark.parametrize("words", [("book", "new"), ("book", "new", "The Corrody", "--lat", "1")])
def test_without_a_terminal_nothing_is_asked(
    words: tuple[str, ...], run: Run, services: Services
) -> None:
    ran = run(*words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("soakbook: a book begins with NAME, --lat, --lon")
    assert services.asked == []


def test_asked_at_a_terminal(run: Run, services: Services, gardener: Gardener) -> None:
    gardener.answers = deque(
        ["The Corrody", "52.3 N 0.4 W", "62", "", "1h30", "Ann", "mon-sat"],
    )
    assert run("book", "new").status == 0
    assert gardener.asked == [
        "What is the garden called?",
        "Where is it? (degrees, as 52.3 N 0.4 W)",
        "How high does it lie, in metres?",
        "Which clock does it keep?",
        "How long is there for the round in a day?",
        "Who waters? (Enter for nobody yet)",
        "On which days?",
    ]
    new = services.last()
    assert new.options["longitude_deg"] == -0.4
    assert new.options["timezone"] == "Europe/London"
    assert new.options["hours"] == 1.5
    assert new.options["waters"] == "Ann"
    assert new.options["weekdays"] == frozenset(range(6))


def test_every_answer_is_held_up_when_it_is_given(run: Run, gardener: Gardener) -> None:
    gardener.answers = deque(
        ["The Corrody", "52.3 0.4", "62", "Mars/Olympus", "", "", "Ann", "someday", "mon"],
    )
    ran = run("book", "new")
    assert ran.status == 0
    assert not gardener.answers
    assert [line.partition(";")[0] for line in ran.err.splitlines()] == [
        "soakbook: taken as degrees east",
        "soakbook: timezone: 'Mars/Olympus' cannot be right",
        "soakbook: days: 'someday' cannot be right",
    ]


def test_what_was_typed_is_read_before_anything_is_asked(run: Run, gardener: Gardener) -> None:
    ran = run("book", "new", "G", "--timezone", "Mars/Olympus")
    assert (ran.status, gardener.asked) == (2, [])


def test_a_place_that_is_taken_is_said_before_anything_is_asked(
    run: Run, services: Services, gardener: Gardener
) -> None:
    services.answers["check_free"] = BookError("there is something at garden.book already")
    assert run("book", "new").status == 2
    assert gardener.asked == []


def test_only_what_is_missing_is_asked(run: Run, services: Services, gardener: Gardener) -> None:
    gardener.answers = deque(["0.4 W"])
    ran = run("book", "new", "G", "--lat", "52", "--elevation", "200ft", "--timezone", "UTC")
    assert ran.status == 0
    assert gardener.asked == ["How many degrees east? (west: 0.4 W)"]
    assert services.last().options["elevation_m"] == pytest.approx(60.96)


def test_an_answer_that_cannot_be_right_is_asked_again(run: Run, gardener: Gardener) -> None:
    gardener.answers = deque(["", "The Corrody", "52,3", "52.3 N 0.4 W", "high", "62", "", "", ""])
    ran = run("book", "new")
    assert ran.status == 0
    assert gardener.asked.count("Where is it? (degrees, as 52.3 N 0.4 W)") == 2
    assert [line.partition(" cannot")[0] for line in ran.err.splitlines()] == [
        "soakbook: name is missing: at least a letter",
        "soakbook: place: '52,3'",
        "soakbook: elevation: 'high'",
    ]


@pytest.mark.parametrize(
    ("option", "value", "sentence"),
    [
        ("--lat", "52,3", "latitude: '52,3' cannot be right; degrees north: 52.3"),
        ("--lat", "95", "latitude: '95' cannot be right; from -90 to 90"),
        ("--lat", "0.4 W", "latitude: '0.4 W' cannot be right; degrees north"),
        ("--lat", "-33.9 S", "latitude: '-33.9 S' cannot be right; degrees north"),
        ("--lon", "two", "longitude: 'two' cannot be right; degrees east: 4.9"),
        ("--elevation", "9000", "elevation: '9000' cannot be right; from -430 to 5000 m"),
        ("--elevation", "62,5", "elevation: '62,5' cannot be right; write 62.5"),
        ("--hours", "30h", "hours: '30h' cannot be right; more than 0 and at most 24 h"),
        ("--hours", "2", "hours: '2' cannot be right; say of what"),
        ("--timezone", " ", "timezone is missing: a zone such as"),
    ],
)
def test_what_cannot_be_right_is_named(
    option: str, value: str, sentence: str, run: Run, services: Services
) -> None:
    ran = run(*WHOLE, option, value)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"soakbook: {sentence}")
    assert services.asked == []


@pytest.mark.parametrize(
    "text",
    ["52.3 N 0.4 W", "52.3N, 0.4W", "52.3,-0.4", "52.3; -0.4", "52.3 -0.4", "52.3° N, 0.4° W"],
)
def test_a_place_pasted_from_a_map(
    text: str, run: Run, services: Services, gardener: Gardener
) -> None:
    gardener.answers = deque([text])
    run("book", "new", "G", "--elevation", "62", "--timezone", "UTC")
    asked = services.last().options
    assert (asked["latitude_deg"], asked["longitude_deg"]) == (52.3, -0.4)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("33.9 S", -33.9), ("33.9s", -33.9), ("-33.9", -33.9), ("52.3°N", 52.3), ("52.3 n", 52.3)],
)
def test_latitudes(text: str, degrees: float, run: Run, services: Services) -> None:
    run(*WHOLE, "--lat", text)
    assert services.last().options["latitude_deg"] == degrees


def test_this_machines_own_clock_is_a_zone_or_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    links = {"/usr/share/zoneinfo/Europe/London": "Europe/London", "/etc/localtime": None}
    monkeypatch.delenv("TZ", raising=False)
    monkeypatch.setattr(book_new, "_first_line", lambda _: "")
    for target, clock in links.items():
        monkeypatch.setattr("os.path.realpath", lambda _, target=target: target)
        assert book_new._own_clock() == clock
    monkeypatch.setattr(book_new, "_first_line", lambda _: "Europe/Paris")
    assert book_new._own_clock() == "Europe/Paris"
    monkeypatch.setenv("TZ", ":Europe/Rome")
    assert book_new._own_clock() == "Europe/Rome"


def test_habits_are_said_with_the_book_or_not_at_all(run: Run, services: Services) -> None:
    assert run(*WHOLE, "--readiness", "lean", "--can", "9l", "--gallon", "us").status == 0
    options_of_new = services.last().options
    assert (options_of_new["readiness"], options_of_new["gallon"]) == ("lean", "us")
    assert options_of_new["can_l"] == 9.0
    ran = run(*WHOLE, "--can", "90l")
    assert ran.status == 2
    assert "can: '90l' cannot be right; from 1 to 30 L" in ran.err
