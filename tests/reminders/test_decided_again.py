"""Who decides the same hours once more, or was told that the clock is right, comes to the same reminders."""

import shutil
from datetime import UTC, datetime, time, timedelta
from pathlib import Path

import pytest

from soakbook.garden.reminding import Reminder
from soakbook.reminders.deciding import decide
from soakbook.reminders.instants import due_instants
from soakbook.reminders.kinds import settings_of
from soakbook.reminders.looking import look
from soakbook.reminders.once import trust_the_clock
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_garden, read_records
from soakbook.store.outbox import Decided, put_decided, read_decided
from tests.reminders.garden_days import THURSDAY, decided, on, said
from tests.reminders.year.garden import PLACES, make
from tests.reminders.year.sights import Sights, span
from tests.reminders.year.tally import outbox

NOW = datetime(2031, 5, 15, 6, tzinfo=UTC)
A_DAY = timedelta(days=1)


def test_a_fortnight_decided_again_is_the_same(tmp_path: Path) -> None:
    """Also where the day's later reminders are known by then: no word goes to the same person, not to the next."""
    path = tmp_path / "garden.book"
    make(path, PLACES[0])
    with open_book(path) as book:
        garden, said = read_garden(book), read_records(book, Reminder)
    settings = settings_of(said, garden)
    since, until = span(PLACES[0], 14)
    instants = due_instants(settings, garden, since, until)
    sights, by_kind = Sights(path), {one.kind: one for one in settings}
    first = decide(instants, by_kind, (), sights, until)
    assert {one.what for one in first} >= {"round", "rule", "unheard", "week"}
    assert decide(instants, by_kind, first, sights, until) == ()


@pytest.mark.parametrize(
    ("up_to", "greatest", "since"),
    [
        (A_DAY, 3 * A_DAY, 0 * A_DAY),
        (-2 * A_DAY, A_DAY, -2 * A_DAY),
        (-2 * A_DAY, -A_DAY, -2 * A_DAY),
    ],
    ids=["leapt ahead", "killed before all was gone through", "right all along"],
)
def test_a_clock_said_to_be_right_skips_nothing(
    tmp_path: Path, up_to: timedelta, greatest: timedelta, since: timedelta
) -> None:
    path = tmp_path / "garden.book"
    make(path, PLACES[0])
    with open_book(path) as book:
        put_decided(book, Decided(NOW + up_to, NOW + greatest))
    trust_the_clock(path, NOW)
    with open_book(path) as book:
        assert read_decided(book) == Decided(NOW + since, NOW)


def test_days_that_a_wrong_clock_has_gone_through_are_decided_when_they_come(garden: Path) -> None:
    """It stood three days ahead late on Thursday: what it let lapse, or has waiting, is no more than a mistake."""
    said(garden, "dry", hour=time(23))  # waits for the end of the quiet hours
    shutil.copy(garden, right := garden.with_name("right.book"))
    nights = [on(THURSDAY, 23, 30) + n * A_DAY for n in range(4)]
    for path in (garden, right):
        look(path, now=nights[0])
    look(garden, now=nights[-1])
    trust_the_clock(garden, nights[0])
    for now in nights[1:]:
        for path in (garden, right):
            decided(path, now)
    assert sorted(outbox(garden)) == sorted(outbox(right))
    assert {one.what for one in outbox(garden)} >= {"dry", "round", "week"}
