"""What is asked on at a terminal: every answer goes to the service of its own command, when it is given."""

import contextlib
import os
import subprocess
import sys
from collections import deque
from pathlib import Path

import click
import pytest

from soakbook.cli import options, paper
from soakbook.cli.exits import BROKEN_OFF
from soakbook.errors import InputError
from soakbook.garden.entries import Feel, Left, Soak, Wilt
from soakbook.garden.records import Bed
from soakbook.services import books, setup
from soakbook.services.same_soak import Twin
from soakbook.services.soaking import Doubt
from tests.cli.conftest import Run, Services
from tests.cli.reports import TOLD, Report
from tests.services.looking import NOW, entries_of

FINGER = "(dust, dry, moist, wet, sour)"
LEAVES_OFF = "Enter leaves a question off; what is answered is in the book.\n"


class Gardener:
    """Somebody at a terminal, with answers; an exception among them is raised."""

    def __init__(self, *answers: str | BaseException) -> None:
        self.answers = deque(answers)
        self.asked: list[str] = []

    def ask(self, question: str, default: str | None = None) -> str:
        self.asked.append(question)
        answer = self.answers.popleft()
        if isinstance(answer, BaseException):
            raise answer
        return answer

    def confirmed(self, question: str) -> bool:
        return self.ask(question) == "y"


def sit(monkeypatch: pytest.MonkeyPatch, *answers: str | BaseException) -> Gardener:
    """A gardener sits down at the terminal."""
    gardener = Gardener(*answers)
    monkeypatch.setattr(paper, "somebody_there", lambda: True)
    monkeypatch.setattr(paper, "ask", gardener.ask)
    monkeypatch.setattr(paper, "confirmed", gardener.confirmed)
    return gardener


def told(step: str | None, say: str = "Dole Bed.", bed: str = "dole") -> list[Report]:
    """The answer to a wilt or a feel after which that is asked."""
    triage = step and {"step": step, "action": None, "ask": f"The {step}?"}
    return [{**TOLD, "bed": bed, "say": [say], "changed": {"triage": triage}}]


@pytest.fixture
def asked_on(services: Services) -> Services:
    """A wilt that asks for the ball; a feel that ends the asking."""
    services.answers |= {"wilt": told("ball"), "feel": told("done", "Water both.")}
    return services


def called(services: Services) -> list[str]:
    return [one.service for one in services.asked if one.service != "where"]


def test_an_answer_is_entered_as_by_its_own_command(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    gardener = sit(monkeypatch, "Dry")
    monkeypatch.setattr(options, "now", lambda: NOW)
    ran = run("wilt", "dole", "--by", "Joan", "--at", "05:30", "--planting", "roses")
    assert (ran.status, ran.out) == (0, f"Dole Bed.\n{LEAVES_OFF}Water both.\n")
    assert gardener.asked == [f"The ball? {FINGER}"]
    finger = asked_on.last()
    assert (finger.service, finger.words[1]) == ("feel", ["dole"])
    more = {"planting": "roses", "by": "Joan", "at": "05:30", "now": NOW}
    assert finger.options == {"ball": "dry", "bed": None, **more}


def test_enter_leaves_off(run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch) -> None:
    sit(monkeypatch, "")
    assert run("wilt", "dole").status == 0
    assert called(asked_on) == ["wilt"]


def test_broken_off_what_was_answered_is_entered(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked_on.answers["feel"] = told("bed")
    sit(monkeypatch, "dry", click.Abort())
    ran = run("wilt", "dole")
    assert ran.status == BROKEN_OFF
    assert ran.out.endswith("\nWhat was answered is in the book.\n")
    assert called(asked_on) == ["wilt", "feel"]


def test_broken_off_at_what_contradicts_itself_nothing_is_entered(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    sit(monkeypatch, click.Abort())
    ran = run("feel", "dole", "--ball", "sour", "--bed", "dust")
    assert (ran.status, ran.out) == (BROKEN_OFF, "\nNothing is entered.\n")
    assert called(asked_on) == []


def test_a_word_that_is_no_class_is_asked_again(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    gardener = sit(monkeypatch, "crisp", "moist")
    ran = run("wilt", "dole")
    assert ran.err == f"soakbook: {InputError('ball', 'crisp', 'one of ' + FINGER[1:-1])}\n"
    assert len(gardener.asked) == 2
    assert asked_on.last().options["ball"] == "moist"


@pytest.mark.parametrize("step", ["dusk", "dawn", "done", None])
def test_what_cannot_be_answered_yet_is_not_asked(
    step: str | None, run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked_on.answers["wilt"] = told(step)
    assert sit(monkeypatch).asked == []
    assert run("wilt", "dole").status == 0
    assert called(asked_on) == ["wilt"]


@pytest.mark.parametrize(("reason", "entered"), [("weevil grubs", True), ("", False)])
def test_what_a_tug_tells_is_why_the_bed_is_left(
    reason: str, entered: bool, run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked_on.answers["wilt"] = told("tug")
    sit(monkeypatch, reason)
    run("wilt", "dole")
    assert called(asked_on) == (["wilt", "left"] if entered else ["wilt"])
    if entered:
        assert asked_on.last().words[1:] == (["dole"], reason)


def test_a_reason_that_cannot_be_right_is_asked_again(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The wilt is in the book: what is said of the root afterwards does not make the command fail."""
    asked_on.answers["wilt"] = told("tug")
    asked_on.answers["left"] = InputError("reason", "rot...", "at most 200 letters, not 201")
    gardener = sit(monkeypatch, "rot" * 67, "")
    ran = run("wilt", "dole")
    assert (ran.status, len(gardener.asked)) == (0, 2)
    assert ran.err == "soakbook: reason: 'rot...' cannot be right; at most 200 letters, not 201\n"


def test_beds_are_asked_after_one_by_one(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked_on.answers["wilt"] = [*told("ball"), *told("bed", bed="bank")]
    gardener = sit(monkeypatch, "", "wet")
    run("wilt", "dole", "bank")
    assert gardener.asked == [f"dole: The ball? {FINGER}", f"bank: The bed? {FINGER}"]
    assert (asked_on.last().words[1], asked_on.last().options["bed"]) == (["bank"], "wet")


def test_without_a_terminal_or_for_a_machine_nothing_is_asked(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run("wilt", "dole").status == 0
    assert run("wilt", "dole", "--ball", "sour", "--bed", "dust").status == 0
    sit(monkeypatch)
    assert run("wilt", "dole", "--json").status == 0
    assert run("feel", "dole", "--ball", "sour", "--bed", "dust", "--json").status == 0
    assert called(asked_on) == ["wilt", "wilt", "wilt", "feel"]


@pytest.mark.parametrize("command", ["feel", "wilt"])
@pytest.mark.parametrize("answer", ["y", "n"])
def test_a_feel_at_odds_with_itself_is_made_sure_of(
    command: str, answer: str, run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked_on.answers["wilt"] = told("done")
    gardener = sit(monkeypatch, answer)
    ran = run(command, "dole", "--ball", "sour", "--bed", "dust")
    assert "hardly dust-dry. Enter both?" in gardener.asked[0]
    assert called(asked_on) == ([command] if answer == "y" else [])
    if answer == "n":
        assert (ran.status, ran.out) == (2, "")
        assert "felt again, in another of them" in ran.err


def test_what_goes_together_is_entered_without_a_question(
    run: Run, asked_on: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run("feel", "dole", "--ball", "sour", "--bed", "wet").status == 0
    assert sit(monkeypatch).asked == []
    assert run("feel", "dole", "--ball", "dry", "--bed", "wet").status == 0


AT_HALF_PAST_SIX = f"""
import sys
from datetime import datetime
from soakbook.cli import main, options
options.now = lambda: datetime.fromisoformat("{NOW.isoformat()}")
sys.exit(main.main(sys.argv[1:]))
"""


def typed(words: list[str], keys: bytes) -> str:
    """What a terminal of its own shows when these keys are pressed."""
    import pty

    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", AT_HALF_PAST_SIX, *words], stdin=theirs, stdout=theirs, stderr=theirs
    ) as program:
        os.close(theirs)
        os.write(ours, keys)
        shown = b""
        with contextlib.suppress(
            OSError
        ):  # Linux ends a terminal so when nobody writes to it any more
            while more := os.read(ours, 4096):
                shown += more
        status = program.wait(timeout=60)
    os.close(ours)
    assert status == 0, shown.decode()
    return shown.decode()


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are a thing of POSIX")
def test_at_a_terminal_of_its_own(tmp_path: Path) -> None:
    """Ball and bed answered, the tug left off by Enter."""
    path = tmp_path / "own.book"
    books.new(
        path, now=NOW, name="Own", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone="Europe/London",
    )  # fmt: skip
    setup.bed(path, "wall", now=NOW, area="9m2")
    setup.plant(path, "wall", "rose", "2", now=NOW, pot="5l", on="1may")
    shown = typed(
        ["wilt", "wall", "--at", "05:30", "--book", str(path)], b"moist\nwet knees\nmoist\n\n"
    )
    assert "cannot be right; one of dust, dry, moist, wet, sour" in " ".join(shown.split())
    assert "Is it windy there" in shown
    assert [one.upright for one in entries_of(path, Wilt)] == [False]
    felt = [(one.ball, one.bed) for one in entries_of(path, Feel)]
    assert felt == [("moist", None), (None, "moist")]
    assert entries_of(path, Left) == []


def soaked(run: Run, services: Services, *words: str) -> tuple[list[str], bool]:
    """The beds that were entered after the asking, and whether they were meant so."""
    run("soak", *words, "17l", "--by", "Ann")
    last = services.last()
    return (last.words[1], last.options["sure"]) if last.service == "soak" else ([], False)


@pytest.fixture
def toms(services: Services) -> Services:
    """Tom has entered the chapel wall already."""
    garden_bed = Bed("b", "chapel", "Chapel Wall", 18)
    soak = Soak(
        uid="s", happened_at=NOW, written_at=NOW, by="Tom", bed_uid="b", litres=17, typed="17l"
    )
    services.answers["doubts"] = {"chapel": Doubt(Twin(garden_bed, (soak,)), None)}
    services.answers["soak"] = []
    return services


@pytest.mark.parametrize(
    ("answers", "entered"),
    [
        (("yes",), (["bank"], True)),
        (("what?", "Y"), (["bank"], True)),
        (("no",), (["chapel", "bank"], True)),
        (("no, both",), (["chapel", "bank"], True)),
    ],
)
def test_the_same_soak_of_two_people_is_asked_about(
    answers: tuple[str, ...],
    entered: tuple[list[str], bool],
    run: Run,
    toms: Services,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    gardener = sit(monkeypatch, *answers)
    assert soaked(run, toms, "chapel", "bank") == entered
    question = "Chapel Wall: Tom entered 17 L at 06:30. The same one? (yes; or no, both)"
    assert gardener.asked == [question] * len(answers)


def test_when_all_of_it_is_the_same_nothing_is_entered(
    run: Run, toms: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    sit(monkeypatch, "yes")
    assert run("soak", "chapel", "17l").out == (
        "Chapel Wall: nothing entered; what was entered already stands.\n"
    )
    assert [one.service for one in toms.asked] == ["where", "doubts"]


def test_without_a_terminal_and_for_a_machine_it_is_not_asked(
    run: Run, toms: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert soaked(run, toms, "chapel") == (["chapel"], False)
    sit(monkeypatch)
    assert soaked(run, toms, "--json", "chapel") == (["chapel"], False)
