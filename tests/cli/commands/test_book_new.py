"""`book new`: what is asked, when somebody is there to answer."""

import json
import shlex
from collections import deque
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace

import click
import pytest

from soakbook.cli import new_garden, options, paper
from soakbook.cli.exits import BROKEN_OFF
from soakbook.cli.new_garden import WHERE
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
        self.answers: deque[str | BaseException] = deque()
        self.asked: list[str] = []

    def ask(self, question: str, default: str | None = None) -> str:
        self.asked.append(question)
        answer = self.answers.popleft()
        if isinstance(answer, BaseException):
            raise answer
        return default or "" if answer == "" else answer


@pytest.fixture
def gardener(monkeypatch: pytest.MonkeyPatch) -> Gardener:
    """Somebody who answers."""
    there = Gardener()
    monkeypatch.setattr(paper, "somebody_there", lambda: True)
    monkeypatch.setattr(paper, "ask", there.ask)
    monkeypatch.setattr(paper, "_more_waits", lambda: False)
    monkeypatch.setattr(new_garden, "own_clock", lambda: "Europe/London")
    return there


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
        "looked_up": set(),
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
    assert "missing here: " in ran.err
    assert services.asked == []


@pytest.mark.parametrize(
    ("words", "missing"),
    [
        ((), "NAME, --lat, --lon, --elevation, --timezone"),
        (("The Corrody", "--lat", "1"), "--lon, --elevation, --timezone"),
        (("G", "--lat", "1", "--lon", "2", "--timezone", "UTC"), "--elevation"),
    ],
)
def test_for_a_machine_nothing_is_asked_though_somebody_is_there(
    words: tuple[str, ...], missing: str, run: Run, services: Services, gardener: Gardener
) -> None:
    ran = run("book", "new", *words, "--json")
    assert (ran.status, ran.out, gardener.asked) == (2, "", [])
    assert f"missing here: {missing}; with --json nothing is asked" in ran.err
    assert [one.service for one in services.asked if one.service == "new"] == []


def test_for_a_machine_the_report_stands_alone(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("SOAKBOOK_OFFLINE")
    services.answers["looked_up"] = SimpleNamespace(elevation_m=65.0, timezone="Europe/Paris")
    ran = run("book", "new", "G", "--lat", "52.3", "--lon", "-0.4", "--elevation", "62", "--json")
    assert json.loads(ran.out) == TOLD
    new = services.called("new").options
    assert (new["elevation_m"], new["timezone"]) == (62.0, "Europe/Paris")
    assert new["looked_up"] == {"timezone"}


NOTHING_MORE = ["", ""]
"""No tap, no bed: then no planting is asked either."""


def test_asked_at_a_terminal(run: Run, services: Services, gardener: Gardener) -> None:
    answers = ["The Corrody", "52.3 N 0.4 W", "62", "", "us", "mon-sat 1h30", "Ann"]
    gardener.answers = deque([*answers, *NOTHING_MORE])
    assert run("book", "new").status == 0
    assert gardener.asked == [
        "What is the garden called?",
        WHERE,
        "How high does it lie, in metres?",
        "Which clock does it keep?",
        "Litres and mm are shown; gallons and inches may be typed. Whose gallon? (uk, us)",
        "Which days can someone water, and how long?",
        "Who comes on those days? (one name; soakbook person adds others)",
        "A tap",
        "Bed",
    ]
    new = services.called("new")
    assert new.options == {
        "name": "The Corrody",
        "latitude_deg": 52.3,
        "longitude_deg": -0.4,
        "elevation_m": 62.0,
        "timezone": "Europe/London",
        "hours_by_default": 1.5,
        "looked_up": (),
        "gallon": "us",
        "waters": "Ann",
        "weekdays": frozenset(range(6)),
        "now": NOW,
    }


def test_nobody_is_named_where_somebody_comes_every_day(
    run: Run, services: Services, gardener: Gardener
) -> None:
    gardener.answers = deque(["G", "52.3 N 0.4 W", "62", "", "", "", *NOTHING_MORE])
    run("book", "new")
    new = services.called("new").options
    assert (new["hours_by_default"], new["gallon"]) == (2.0, "uk")
    assert "waters" not in new


def test_every_answer_is_held_up_when_it_is_given(run: Run, gardener: Gardener) -> None:
    answers = ["The Corrody", "52.3 0.4", "62", "Mars/Olympus", "", "fr", "uk"]
    days = ["someday", "mon 30h", "mon", " ", "Ann"]
    gardener.answers = deque([*answers, *days, *NOTHING_MORE])
    ran = run("book", "new")
    assert ran.status == 0
    assert not gardener.answers
    assert [line.partition(";")[0] for line in ran.err.splitlines()] == [
        "soakbook: taken as degrees east",
        "soakbook: timezone: 'Mars/Olympus' cannot be right",
        "soakbook: gallon: 'fr' cannot be right",
        "soakbook: days: 'someday' cannot be right",
        "soakbook: hours: '30h' cannot be right",
        "soakbook: name is missing: at least a letter",
    ]


def test_height_and_clock_are_read_back_where_the_service_knows_them(
    run: Run, services: Services, gardener: Gardener, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("SOAKBOOK_OFFLINE")
    services.answers["looked_up"] = SimpleNamespace(elevation_m=65.0, timezone="Europe/Paris")
    for answers, expected in (
        (["yes"], (65.0, "Europe/Paris")),
        (["n", "62", ""], (62.0, "Europe/Paris")),
    ):
        gardener.asked.clear()
        gardener.answers = deque(["G", "52.3 N 0.4 W", *answers, "", "", *NOTHING_MORE])
        assert run("book", "new").status == 0
        assert gardener.asked[2] == "Height 65 m, clock Europe/Paris. Right?"
        new = services.called("new").options
        assert (new["elevation_m"], new["timezone"]) == expected


GO_ON = [
    "book", "new", "Ann's Garden", "--lat=-33.9", "--lon=18.4", "--elevation=20", "--timezone=Europe/London",
    "--hours=1h", "--readiness=lean", "--gallon=us", "--can=9l",
]  # fmt: skip


@pytest.mark.parametrize(("answered", "words"), [(1, 3), (2, 5), (3, 6), (4, 7), (5, 7), (6, 8)])
def test_broken_off_before_there_is_a_book_the_line_that_goes_on_is_printed(
    answered: int, words: int, run: Run, services: Services, gardener: Gardener
) -> None:
    answers = ["Ann's Garden", "33.9 S 18.4 E", "20", "", "us", "mon,wed 1h"]
    gardener.answers = deque([*answers[:answered], click.Abort()])
    ran = run("book", "new", "--readiness", "lean", "--can", "9l")
    assert ran.status == BROKEN_OFF
    line = ran.out.splitlines()[2]
    gallon = ["--gallon=us"] if answered > 4 else []
    assert shlex.split(line) == [
        "soakbook",
        *GO_ON[:words],
        "--readiness=lean",
        *gallon,
        "--can=9l",
    ]
    assert ran.out.endswith("  soakbook person NAME --days mon,wed\n") == (answered == 6)
    assert [one.service for one in services.asked if one.service == "new"] == []


def test_the_line_that_goes_on_is_about_the_same_book(run: Run, gardener: Gardener) -> None:
    gardener.answers = deque(["Ann's Garden", click.Abort()])
    ran = run("book", "new", "--book", "our garden.book", "--offline")
    assert shlex.split(ran.out.splitlines()[2])[3:] == [
        "Ann's Garden", "--book=our garden.book", "--offline",
    ]  # fmt: skip


def test_the_line_that_goes_on_is_one_that_works(
    run: Run, services: Services, gardener: Gardener
) -> None:
    gardener.answers = deque(["", *NOTHING_MORE])
    assert run(*GO_ON).status == 0
    assert services.called("new").options["longitude_deg"] == 18.4


def test_broken_off_at_the_first_question_nothing_is_lost(run: Run, gardener: Gardener) -> None:
    gardener.answers = deque([click.Abort()])
    ran = run("book", "new")
    assert (ran.status, ran.out) == (
        BROKEN_OFF, "\nNothing is lost: soakbook book new begins again.\n"
    )  # fmt: skip


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
    gardener.answers = deque(["0.4 W", "every day", *NOTHING_MORE])
    ran = run(
        *("book", "new", "G", "--lat", "52", "--elevation", "200ft", "--timezone", "UTC"),
        *("--hours", "1h", "--gallon", "us"),
    )
    assert ran.status == 0
    assert gardener.asked[:2] == [
        "How many degrees east? (west: 0.4 W)",
        "Which days can someone water?",
    ]
    new = services.called("new").options
    assert new["elevation_m"] == pytest.approx(60.96)
    assert (new["hours_by_default"], new["gallon"]) == (1.0, "us")


def test_an_answer_that_cannot_be_right_is_asked_again(run: Run, gardener: Gardener) -> None:
    answers = ["", "The Corrody", "52,3", "52.3 N 0.4 W", "high", "62", "", "", ""]
    gardener.answers = deque([*answers, *NOTHING_MORE])
    ran = run("book", "new")
    assert ran.status == 0
    assert gardener.asked.count(WHERE) == 2
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
    gardener.answers = deque([text, "", "", *NOTHING_MORE])
    run("book", "new", "G", "--elevation", "62", "--timezone", "UTC")
    asked = services.called("new").options
    assert (asked["latitude_deg"], asked["longitude_deg"]) == (52.3, -0.4)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("33.9 S", -33.9), ("33.9s", -33.9), ("-33.9", -33.9), ("52.3°N", 52.3), ("52.3 n", 52.3)],
)
def test_latitudes(text: str, degrees: float, run: Run, services: Services) -> None:
    run(*WHOLE, "--lat", text)
    assert services.last().options["latitude_deg"] == degrees


def test_habits_are_said_with_the_book_or_not_at_all(run: Run, services: Services) -> None:
    assert run(*WHOLE, "--readiness", "lean", "--can", "9l", "--gallon", "us").status == 0
    options_of_new = services.last().options
    assert (options_of_new["readiness"], options_of_new["gallon"]) == ("lean", "us")
    assert options_of_new["can_l"] == 9.0
    ran = run(*WHOLE, "--can", "90l")
    assert ran.status == 2
    assert "can: '90l' cannot be right; from 1 to 30 L" in ran.err


@pytest.mark.parametrize(
    ("words", "can_l"),
    [
        ("--can 2gal --gallon us", 7.570823568),
        ("--can 2gal --gallon uk", 9.09218),
        ("--can 2usgal", 7.570823568),
    ],
)
def test_a_can_in_gallons_is_by_the_gallon_that_is_said(
    words: str, can_l: float, run: Run, services: Services
) -> None:
    """The US gallon is 3.785411784 L, the UK gallon 4.54609 L."""
    assert run(*WHOLE, *words.split()).status == 0
    assert services.last().options["can_l"] == pytest.approx(can_l, rel=1e-12)


def test_a_can_in_gallons_of_nobody_is_refused(run: Run, services: Services) -> None:
    ran = run(*WHOLE, "--can", "2gal")
    assert ran.status == 2
    assert "can: '2gal' cannot be right; litres; or say whose gallon by --gallon: uk, us" in ran.err
    assert services.asked == []
