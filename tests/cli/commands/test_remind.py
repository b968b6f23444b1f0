"""`remind` itself: a test to everybody or somebody, and what makes a computer run it."""

import plistlib
import sys
from pathlib import Path

import pytest

from soakbook.reminders.addresses import keep_person
from tests.cli.commands.conftest import Go
from tests.cli.words import amiss
from tests.reminders.channels.hooks import open_hook
from tests.reminders.secrets import TOKEN, gives_away

pytestmark = pytest.mark.filterwarnings("ignore:'imghdr' is deprecated:DeprecationWarning")


def test_a_test_goes_to_everybody_or_to_somebody(go: Go) -> None:
    with open_hook(200) as hook:
        keep_person("Ann", push=hook.address(f"/{TOKEN}"))
        keep_person("Zoe", push=hook.address("/z"))
        everybody, zoe = go("remind", "--test"), go("remind", "--test", "zo")
    assert everybody == (0, "A test went to Ann by push.\nA test went to Zoe by push.\n", "")
    assert zoe == (0, "A test went to Zoe by push.\n", "")
    assert len(hook.got) == 3


def test_a_test_that_does_not_arrive_is_status_3(go: Go) -> None:
    keep_person("Ann", push=f"jsons://127.0.0.1:1/{TOKEN}")
    ran = go("remind", "--test", "Ann")
    assert (ran.status, ran.err) == (3, "")
    assert ran.out.startswith("The test did not reach Ann by push: ")
    assert gives_away(ran) == []


@pytest.mark.parametrize(
    ("words", "say"),
    [
        (["--test"], "test is missing: somebody who has an address: soakbook person Ann --mail"),
        (["--test", "Tom"], "test: 'Tom' cannot be right; somebody who has an address"),
        (["--test", "Tomm"], "person: 'Tomm' cannot be right; did you mean Tom? known: Ann"),
        (["--unit", "upstart"], "unit: 'upstart' cannot be right; one of systemd, launchd, cron"),
        (["--unit", "cron", "--test", "Ann"], "either --unit or --test, not both"),
        (["--calendar", "x.ics"], "--calendar goes with --unit, or with soakbook remind once"),
        (["--calendar", "x.ics", "once"], "--calendar after once"),
        (["--unit", "cron", "log"], "--test and --unit stand by themselves"),
        (["--book", "x.book", "once"], "soakbook remind once --book PATH"),
        (["--unit", "cron", "--calendar", "a\nb"], "calendar: '"),
        (["onse"], "There is no command 'onse'; did you mean once?"),
    ],
)
def test_what_cannot_be_right_is_refused(go: Go, words: list[str], say: str) -> None:
    ran = go("remind", *words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("soakbook: ")
    assert say in ran.err
    assert ran.err.count("\n") == 1


def test_units_name_this_python_and_this_book(go: Go, abbey: Path) -> None:
    words = [sys.executable, "-m", "soakbook", "remind", "run", "--book", str(abbey)]
    agent = plistlib.loads(go("remind", "--unit", "launchd").out.encode())
    assert agent["ProgramArguments"] == words
    assert f"ExecStart={' '.join(words)}\n" in go("remind", "--unit", "systemd").out
    once = " ".join(words).replace("remind run", "remind once")
    assert go("remind", "--unit", "CRON").out.endswith(f"*/5 * * * * {once} --quiet\n")


def test_paths_of_units_are_whole(go: Go, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    ran = go("remind", "--unit", "cron", "--book", "b.book", "--calendar", "~/c.ics")
    assert f"--book {tmp_path}/b.book --calendar {Path.home()}/c.ics --quiet\n" in ran.out


def test_alone_it_tells_what_there_is(go: Go) -> None:
    ran = go("remind")
    assert ran.status == 0
    assert ran.out.startswith("Usage: soakbook remind")
    assert amiss(ran.out) == []
