"""Ten days of the simulated year, and that its counting sees what it is to see."""

import os
import subprocess
import sys
from collections import Counter
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from soakbook.garden.reminding import Notice, NoticeState
from tests.reminders.year.calendar import Due
from tests.reminders.year.playing import Played
from tests.reminders.year.tally import against_calendar, tally
from tests.reminders.year.troubles import Trouble

DUE = datetime(2031, 5, 15, 6, tzinfo=UTC)
DAY = date(2031, 5, 15)


def notice(uid: str = "n1", state: NoticeState = "sent", whom: str = "ann") -> Notice:
    return Notice(
        uid=uid,
        what="round",
        whom=whom,
        about="",
        for_day=DAY,
        zone="Europe/London",
        title="Corrody: 1 bed",
        body="Chapel 17 L.",
        beds=("chapel",),
        due_at=DUE,
        late_from=DUE + timedelta(hours=6),
        not_after=DUE + timedelta(hours=13),
        state=state,
        settled_at=None if state == "due" else DUE,
    )


def wrongs(
    found: Sequence[Notice],
    taken: dict[str, int],
    killed: dict[str, int] | None = None,
    troubles: Sequence[Trouble] = (),
) -> tuple[int, int]:
    """How many are lost and doubled where Ann's round was due."""
    played = Played(Counter(killed or {}), Counter(), 0, 0, ())
    counted = tally(found, [notice()], Counter(taken), played, troubles)
    return len(counted.lost), len(counted.doubled)


@pytest.mark.parametrize(
    ("found", "taken", "killed", "expected"),
    [
        ([notice()], {"n1": 1}, {}, (0, 0)),
        ([notice()], {"n1": 2}, {"n1": 1}, (0, 0)),
        ([notice()], {"n1": 2}, {}, (0, 1)),
        ([notice()], {"n1": 3}, {"n1": 1}, (0, 1)),
        ([notice()], {}, {"n1": 1}, (1, 0)),
        ([], {}, {}, (1, 0)),
        ([notice()], {"n1": 1, "n2": 1}, {}, (0, 1)),
        ([notice(), notice("n2", whom="tom")], {"n1": 1, "n2": 1}, {}, (0, 1)),
        ([notice(state="due")], {}, {}, (1, 0)),
        ([notice(state="lapsed")], {}, {}, (1, 0)),
        ([notice(state="lapsed")], {"n1": 1}, {"n1": 1}, (0, 0)),
        ([notice(state="given_up")], {"n1": 1}, {}, (0, 1)),
    ],
)
def test_what_is_lost_and_what_is_doubled(
    found: list[Notice], taken: dict[str, int], killed: dict[str, int], expected: tuple[int, int]
) -> None:
    assert wrongs(found, taken, killed) == expected


@pytest.mark.parametrize(("hours", "lost"), [((-1, 14), 0), ((14, 20), 1), ((-9, -4), 1)])
def test_what_lapses_must_have_been_hindered(hours: tuple[int, int], lost: int) -> None:
    begin, end = (DUE + timedelta(hours=n) for n in hours)
    troubles = [Trouble("gone", begin, end)]
    assert wrongs([notice(state="lapsed")], {}, troubles=troubles) == (lost, 0)


def test_the_calendar_is_held_against_the_outbox() -> None:
    anns, toms = (Due(frozenset({"promise", "round"}), whom, DAY) for whom in ("ann", "tom"))
    assert against_calendar([notice()], [anns]) == ()
    assert len(against_calendar([notice()], [anns, toms])) == 1
    assert len(against_calendar([notice(), notice(whom="tom")], [anns])) == 1


@pytest.mark.skipif(os.name != "posix", reason="programs are forked and killed")
def test_ten_days_of_the_year() -> None:
    """What `python -m tests.reminders.year` plays for a year: over the day on which the clock is put on."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.reminders.year", "--days", "10"],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parents[2],
    )
    assert done.returncode == 0, done.stdout + done.stderr
    heads, *rows = done.stdout.splitlines()[:4]
    assert heads.split()[-2:] == ["lost", "doubled"]
    for row in rows:
        zone, due, once, *_, lost, doubled = row.split()
        assert "/" in zone
        assert int(due) > int(once) > 0, zone
        assert (lost, doubled) == ("0", "0"), zone
    assert "killed after the server's yes, before the mark: 3" in done.stdout
