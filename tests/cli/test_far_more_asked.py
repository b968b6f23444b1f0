"""A soak ten times the usual at a terminal: asked about before anything is entered, and Enter is no."""

from pathlib import Path

import click
import pytest

from soakbook.cli import options, paper
from soakbook.cli.exits import BROKEN_OFF
from soakbook.cli.main import main
from soakbook.garden.entries import Soak
from soakbook.garden.records import Bed
from soakbook.services import books, entries, setup
from soakbook.services.far_more import FarMore
from soakbook.services.same_soak import Twin
from soakbook.services.soaking import Doubt
from tests.cli.conftest import Run, Services
from tests.cli.test_asking import sit
from tests.services.looking import NOW, at, entries_of, look_at

BORDER = "Warden's Long Border"
SLIP = FarMore(BORDER, 2000, 160, by_habit=True)
QUESTION = f"{BORDER}: 2,000 L is 12 times what is usual there, about 160 L. Enter it?"


@pytest.fixture
def doubting(services: Services) -> Services:
    """So much on the border is a slip; on the chapel wall it is not."""
    services.answers |= {"doubts": {"warden": Doubt(None, SLIP)}, "soak": []}
    return services


def called(services: Services) -> list[str]:
    return [one.service for one in services.asked if one.service != "where"]


@pytest.mark.parametrize(("answer", "beds"), [("y", ["warden", "chapel"]), ("", ["chapel"])])
def test_it_is_asked_of_the_bed_alone(
    answer: str,
    beds: list[str],
    run: Run,
    doubting: Services,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    gardener = sit(monkeypatch, answer)
    ran = run("soak", "warden", "chapel", "2000l", "--kind", "rescue", "--method", "can")
    assert gardener.asked == [QUESTION]
    assert (f"{BORDER}: nothing entered.\n" in ran.out) == ("warden" not in beds)
    of_what = doubting.called("doubts").options
    assert (of_what["kind"], of_what["method"]) == ("rescue", "can")
    entered = doubting.called("soak")
    assert (entered.words[1], entered.options["sure"]) == (beds, True)


def test_what_is_not_meant_is_not_asked_about_further(
    run: Run, doubting: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Tom has entered as much; still it is one question, and no soak."""
    soak = Soak(
        uid="s", happened_at=NOW, written_at=NOW, by="Tom", bed_uid="b", litres=2000, typed="2000l"
    )
    twin = Twin(Bed("b", "warden", BORDER, 18), (soak,))
    doubting.answers["doubts"] = {"warden": Doubt(twin, SLIP)}
    gardener = sit(monkeypatch, "")
    assert run("soak", "warden", "2000l").status == 0
    assert (gardener.asked, called(doubting)) == ([QUESTION], ["doubts"])
    both = sit(monkeypatch, "y", "yes")
    run("soak", "warden", "2000l")
    assert len(both.asked) == 2
    assert "soak" not in called(doubting)


def test_broken_off_nothing_is_entered(
    run: Run, doubting: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    doubting.answers["far_more_amended"] = SLIP
    sit(monkeypatch, click.Abort(), click.Abort())
    soaked, amended = run("soak", "warden", "2000l"), run("book", "amend", "3fa2", "2000l")
    assert (soaked.status, soaked.out) == (BROKEN_OFF, "\nNothing is entered.\n")
    assert (amended.status, amended.out) == (BROKEN_OFF, "\nNothing is changed.\n")
    assert called(doubting) == ["doubts", "far_more_amended"]


@pytest.mark.parametrize(("answer", "entered"), [("y", True), ("", False)])
def test_a_correction_is_asked_about(
    answer: str,
    entered: bool,
    run: Run,
    services: Services,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    services.answers["far_more_amended"] = SLIP
    gardener = sit(monkeypatch, answer)
    ran = run("book", "amend", "3fa2", "2000l", "--by", "Ann")
    assert gardener.asked == [QUESTION]
    asked = services.called("far_more_amended")
    assert asked.words[1:] == ("3fa2", {"amount": "2000l"})
    if entered:
        assert services.last().service == "amend"
        assert services.last().options["sure"] is True
    else:
        assert (ran.out, called(services)) == (
            f"{BORDER}: nothing changed.\n",
            ["far_more_amended"],
        )


def test_a_correction_that_is_not_of_how_much_is_not_asked_about(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    sit(monkeypatch)
    run("book", "amend", "3fa2", "--at", "07:00", "--note", "late")
    assert called(services) == ["amend"]
    assert services.last().options["sure"] is False


def test_without_a_terminal_and_for_a_machine_nothing_is_asked(
    run: Run, doubting: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    run("soak", "warden", "2000l")
    run("book", "amend", "3fa2", "2000l")
    sit(monkeypatch)
    run("soak", "warden", "2000l", "--json")
    run("book", "amend", "3fa2", "2000l", "--json")
    assert called(doubting) == ["soak", "amend"] * 2


def test_a_slip_at_the_end_of_the_hose(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """200 for 20, end to end: taken back by Enter, entered by y and called doubtful where nobody is."""
    book = tmp_path / "garden.book"
    books.new(
        book, now=NOW, name="Yard", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone="Europe/London",
    )  # fmt: skip
    setup.bed(book, "wall", now=NOW, area="9m2")
    setup.plant(book, "wall", "rose", "4", now=NOW, pot="5l", on="1may")
    for day in (12, 13, 14):
        entries.soak(book, ["wall"], "20l", now=at(5, day, 7))
    monkeypatch.setattr(options, "now", lambda: NOW)
    words = ["soak", "wall", "200l", "--book", str(book)]
    before = look_at(book)
    gardener = sit(monkeypatch, "", "y")
    assert main(words) == 0
    assert capsys.readouterr().out == "wall: nothing entered.\n"
    assert look_at(book) == before
    assert main(words) == 0
    assert (
        gardener.asked == ["wall: 200 L is 10 times what is usual there, about 20 L. Enter it?"] * 2
    )
    assert "Doubtful" not in capsys.readouterr().out
    assert (entries_of(book, Soak)[-1].note or "").startswith("meant so: 200 L is 10 times")
    monkeypatch.setattr(paper, "somebody_there", lambda: False)
    monkeypatch.setattr(options, "now", lambda: at(5, 15, 9))
    assert main(words) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "Doubtful: 200 L is 10 times what is usual there, about 20 L. It is entered as" in shown
    assert [one.litres for one in entries_of(book, Soak)] == [20, 20, 20, 200, 200]
