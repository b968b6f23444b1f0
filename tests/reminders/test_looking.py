"""One look: after sleep, with clocks that jump, two at once, and on books that are not as they should be."""

import shutil
import sqlite3
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from datetime import datetime, timedelta
from functools import partial
from multiprocessing import get_context
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.garden.reminding import Notice
from soakbook.reminders.looking import Looked, look
from soakbook.reminders.sight import Sight
from soakbook.reminders.sights import sight_of
from soakbook.services import books, people, setup
from soakbook.store.book import open_book
from soakbook.store.outbox import Decided, read_decided, read_incidents, read_notices
from tests.reminders.garden_days import DAY, SET_UP, THURSDAY, begin, decided, dry_days, of, on
from tests.services.conftest import make
from tests.services.looking import pages_of

LAST = THURSDAY + 3 * DAY


def outbox(path: Path) -> tuple[Notice, ...]:
    """All that is in the outbox."""
    with open_book(path, read_only=True) as book:
        return read_notices(book)


def how_far(path: Path) -> Decided | None:
    """How far has been decided."""
    with open_book(path, read_only=True) as book:
        return read_decided(book)


def told(path: Path) -> list[str]:
    """What the clock met with."""
    with open_book(path, read_only=True) as book:
        return [one.say for one in read_incidents(book, 10)]


def plainly(notices: tuple[Notice, ...]) -> set[Notice]:
    """Reminders without what depends on when they were decided."""
    return {one._replace(state="due", settled_at=None) for one in notices}


def test_a_book_of_which_nobody_was_reminded_is_looked_at_from_this_morning_on(
    tmp_path: Path,
) -> None:
    path = tmp_path / "first.book"
    make(path)
    found = decided(path, on(THURSDAY, 13))
    assert [(one.what, one.whom, one.for_day) for one in found] == [("round", "", THURSDAY)]
    people.person(path, "Ann", now=on(THURSDAY, 13, 30))
    dry, *asked = decided(path, on(THURSDAY, 23))
    assert (dry.what, asked) == (
        "dry",
        [],
    )  # the beds were hers already, so nobody is asked after them
    assert dry.whom == pages_of(path).people[0].uid


def test_a_look_again_adds_nothing(garden: Path) -> None:
    first = decided(garden, on(THURSDAY, 19))
    assert decided(garden, on(THURSDAY, 19)) == decided(garden, on(THURSDAY, 19, 20)) == ()
    assert outbox(garden) == first


def test_who_slept_three_days_finds_what_was_due_and_what_has_lapsed(garden: Path) -> None:
    shutil.copy(garden, awake := garden.with_name("awake.book"))
    for path in (garden, awake):
        dry_days(path, LAST)
    for n in range(4 * 24):
        decided(awake, SET_UP + timedelta(hours=n))
    now = SET_UP + timedelta(hours=4 * 24)
    decided(awake, now)
    found = look(garden, now=now)
    assert found.say == ""
    assert plainly(outbox(garden)) == plainly(outbox(awake))
    assert {one.state for one in found.decided if one.not_after <= now} == {"lapsed"}
    assert {one.state for one in found.decided if one.not_after > now} == {"due"}
    assert {one.for_day for one in found.decided} >= {THURSDAY, LAST}


def nothing_in_it(path: Path) -> Callable[[datetime], Sight]:
    """A garden in which nothing is to be done at any moment."""
    one = sight_of(path, SET_UP)
    empty = one._replace(round=one.round._replace(calls=(), findings=()), spell=None, heat=None)
    return lambda at: empty._replace(at=at)


def test_of_sixty_days_asleep_the_first_are_not_gone_through_and_that_is_said_once(
    garden: Path,
) -> None:
    now = on(THURSDAY + 60 * DAY, 12)
    sight_at = nothing_in_it(garden)
    found = look(garden, now=now, sight_at=sight_at)
    assert found.say == (
        "Nobody looked from 06:35 on Thursday 15 May 2031 on: what was due before 12:00 on Friday 13 June 2031 is too "
        "old and was not gone through."
    )
    assert look(garden, now=now + timedelta(hours=2), sight_at=sight_at).say == ""
    assert told(garden) == [found.say]
    assert how_far(garden) == Decided(now + timedelta(hours=2), now + timedelta(hours=2))


@pytest.mark.parametrize("back", [timedelta(hours=1), timedelta(days=1)])
def test_a_clock_set_back_decides_nothing_until_it_has_caught_up(
    garden: Path, back: timedelta
) -> None:
    first = decided(garden, on(THURSDAY, 17, 30))
    before = how_far(garden)
    found = look(garden, now=on(THURSDAY, 17, 30) - back)
    assert found.decided == ()
    assert found.say.startswith("The clock has been at 17:30 on Thursday 15 May 2031 before")
    assert "soakbook remind once --clock-is-right" in found.say
    assert (outbox(garden), how_far(garden)) == (first, before)
    assert {one.what for one in decided(garden, on(THURSDAY, 18))} == {"unheard"}


def test_a_clock_put_right_by_minutes_is_no_matter(garden: Path) -> None:
    first = decided(garden, on(THURSDAY, 18, 2))
    assert look(garden, now=on(THURSDAY, 17, 58)) == Looked(())
    assert look(garden, now=on(THURSDAY, 18, 1)) == Looked(())
    assert outbox(garden) == first


def test_a_clock_that_leapt_ahead_decides_those_days_and_then_waits(garden: Path) -> None:
    ahead = on(THURSDAY, 12) + timedelta(days=3)
    found = look(garden, now=ahead)
    assert found.decided
    assert look(garden, now=on(THURSDAY, 12, 5)).say.startswith("The clock has been at 12:00 on")
    assert outbox(garden) == found.decided


def _look(path: Path) -> int:
    return len(look(path, now=on(THURSDAY, 23)).decided)


def test_two_threads_at_once_make_one_set_of_rows(garden: Path) -> None:
    shutil.copy(garden, alone := garden.with_name("alone.book"))
    expected = decided(alone, on(THURSDAY, 23))
    with ThreadPoolExecutor(4) as pool:
        counts = list(pool.map(_look, [garden] * 4))
    assert outbox(garden) == expected
    assert sum(counts) == len(expected)


def test_two_processes_at_once_make_one_set_of_rows(garden: Path) -> None:
    shutil.copy(garden, alone := garden.with_name("alone.book"))
    expected = decided(alone, on(THURSDAY, 23))
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        counts = list(pool.map(_look, [garden] * 2))
    assert outbox(garden) == expected
    assert sum(counts) == len(expected)


def test_what_another_has_decided_meanwhile_is_not_written_over(garden: Path) -> None:
    """Another program looks while this one still thinks."""
    others: list[Notice] = []

    def slowly(at: datetime) -> Sight:
        if not others:
            others.extend(decided(garden, on(THURSDAY, 12)))
        return sight_of(garden, at)

    found = look(garden, now=on(THURSDAY, 23), sight_at=slowly).decided
    assert {one.what for one in others} == {"round"}
    assert {one.what for one in found} == {"dry", "unheard"}
    assert outbox(garden) == (*others, *found)


def test_what_cannot_be_opened_is_said(tmp_path: Path, garden: Path) -> None:
    with pytest.raises(BookError, match="there is no book at"):
        look(tmp_path / "nowhere.book", now=on(THURSDAY, 12))
    foreign = tmp_path / "foreign.book"
    foreign.write_bytes(b"Dear diary, " * 500)
    with pytest.raises(BookError, match="is not a book"):
        look(foreign, now=on(THURSDAY, 12))
    tables = tmp_path / "tables.book"
    with sqlite3.connect(tables) as other:
        other.execute("CREATE TABLE notice (uid TEXT)")
    other.close()
    with pytest.raises(BookError, match="is not a book"):
        look(tables, now=on(THURSDAY, 12))


def test_a_book_that_can_only_be_read_is_said_and_nothing_is_half_written(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = how_far(garden)
    monkeypatch.setattr("soakbook.reminders.looking.open_book", partial(open_book, read_only=True))
    with pytest.raises(BookError, match=r"abbey\.book"):
        look(garden, now=on(THURSDAY, 23))
    assert (outbox(garden), how_far(garden)) == ((), before)


def test_a_garden_with_nothing_in_it_has_no_reminders(tmp_path: Path) -> None:
    path = tmp_path / "new.book"
    books.new(
        path,
        now=SET_UP,
        name="New Ground",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )
    begin(path, SET_UP)
    assert decided(path, on(LAST, 23)) == ()


def test_a_garden_without_weather_has_no_reminders(tmp_path: Path) -> None:
    path = tmp_path / "dry.book"
    books.new(
        path,
        now=SET_UP,
        name="New Ground",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )
    setup.bed(path, "wall", now=SET_UP, name="Wall", area="6m2", soil="sandy loam")
    setup.plant(path, "wall", "clematis", "5", now=SET_UP, pot="3l", on="5may")
    begin(path, SET_UP)
    assert {one.what for one in decided(path, on(THURSDAY, 23))} <= {"round"}


def test_where_nobody_is_entered_it_is_the_gardeners(tmp_path: Path) -> None:
    path = tmp_path / "alone.book"
    make(path)
    begin(path, SET_UP)
    found = decided(path, on(THURSDAY, 23))
    assert {one.what for one in found} == {"round", "dry"}
    assert {one.whom for one in found} == {""}


def test_a_bed_laid_to_rest_is_in_no_reminder(garden: Path) -> None:
    setup.rest(garden, "chapel", "today", now=SET_UP)
    found = decided(garden, on(THURSDAY, 23))
    assert found
    assert [one for one in found if "Chapel Wall" in one.title + one.body] == []


def test_both_parts_of_a_parted_bed_are_told(garden: Path) -> None:
    setup.part(
        garden,
        "school",
        "north",
        now=SET_UP,
        area="10m2",
        name="North School",
        plants="perennial 20",
    )
    keys = {bed.key: bed.uid for bed in pages_of(garden).beds}
    found = of(garden, decided(garden, on(THURSDAY, 8)), "round")
    assert {keys["school"], keys["north"]} <= {uid for one in found.values() for uid in one.beds}


def test_a_look_leaves_the_book_unchanged_but_for_the_outbox(garden: Path) -> None:
    before = pages_of(garden)
    with open_book(garden, read_only=True) as book:
        mark = book.change_mark()
    decided(garden, on(THURSDAY, 23))
    assert pages_of(garden) == before
    with open_book(garden, read_only=True) as book:
        assert book.change_mark() == mark
