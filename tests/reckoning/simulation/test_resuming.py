"""Seasons of years run on from what was kept of them, and what is kept."""

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest

from soakbook.garden.pages import Pages
from soakbook.reckoning.simulation import resuming
from soakbook.reckoning.simulation.resuming import days_to_keep, run_on
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.gardens import (
    at,
    feel,
    loss,
    pages,
    roses,
    soak,
    weather,
    with_entries,
)
from tests.reckoning.simulation.kept_garden import assert_same, season

FIRST = date(2030, 4, 10)
MORNING = date(2031, 9, 20)
NEWEST, SUMMER, WINTER = date(2031, 8, 1), date(2031, 7, 1), date(2031, 1, 1)
LAST = 9


class Basket:
    """A shelf that is a dictionary and remembers what it was asked for."""

    def __init__(self) -> None:
        self.code = "1"
        self.found: dict[date, bytes] = {}
        self.loaded: list[date] = []
        self.put: list[date] = []

    def days(self) -> tuple[date, ...]:
        """The newest first."""
        return tuple(sorted(self.found, reverse=True))

    def load(self, day: date) -> bytes | None:
        """What was put."""
        self.loaded.append(day)
        return self.found[day]

    def keep(self, found: Mapping[date, bytes], wanted: frozenset[date]) -> None:
        """Put, and let the rest go."""
        self.put = sorted(found)
        self.found |= found
        self.found = {day: one for day, one in self.found.items() if day in wanted}


@cache
def book() -> Pages:
    """Roses of two years: the first died in the winter and were replaced in spring."""
    planted = [
        roses(name="first", count=4, planted_on=FIRST),
        roses("other", name="staying", planted_on=FIRST + timedelta(days=7)),
        roses(name="second", count=4, replaces="bed/first", planted_on=date(2031, 3, 1)),
    ]
    weeks = range(1, 76)
    entries: list[Any] = [
        *(soak(at(FIRST + timedelta(weeks=n), 8), 40.0) for n in weeks),
        *(feel(at(FIRST + timedelta(weeks=5 * n), 7), ball="dry", bed="moist") for n in weeks[:14]),
        loss(at(date(2030, 12, 3), 9), 4, planting_uid="bed/first"),
    ]
    fallen = {FIRST + timedelta(days=n): 6.0 for n in range(3, 500, 9)}
    return pages(planted, entries, days=weather(FIRST, 540, rain=fallen))


def of_book(of: Pages | None = None, morning: date = MORNING) -> Season:
    """It laid out, in few members."""
    return season(of or book(), morning, 3)


@pytest.fixture
def basket() -> Basket:
    """One in which the dawns of the book were kept."""
    found = Basket()
    run_on(of_book(), LAST, found)
    return found


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[date | None]:
    """From when each season was run on, None being its beginning."""
    days: list[date | None] = []

    def watched(of: Season, last: int, **more: Dawn | None) -> tuple[Dawn, ...]:
        dawn = more.get("begun")
        days.append(None if dawn is None else dawn.day)
        return run(of, last, **more)  # type: ignore[arg-type]  # as it was given

    monkeypatch.setattr(resuming, "run", watched)
    return days


def test_the_days_that_are_kept() -> None:
    assert list(days_to_keep(FIRST, date(2031, 8, 21))) == [NEWEST, SUMMER, WINTER]
    assert list(days_to_keep(FIRST, NEWEST)) == [NEWEST, SUMMER, WINTER]
    assert list(days_to_keep(FIRST, date(2031, 7, 1))) == [SUMMER, WINTER, date(2030, 7, 1)]
    assert list(days_to_keep(FIRST, date(2031, 1, 31))) == [WINTER, date(2030, 7, 1)]
    assert list(days_to_keep(FIRST, date(2030, 5, 2))) == [date(2030, 5, 1)]
    assert list(days_to_keep(FIRST, date(2030, 4, 30))) == []
    assert list(days_to_keep(date(2030, 4, 1), date(2030, 4, 30))) == []


def test_the_first_time_it_is_run_from_its_beginning_and_kept(begun: list[date | None]) -> None:
    empty = Basket()
    assert_same(run_on(of_book(), LAST, empty), run(of_book(), LAST))
    assert begun == [None]
    assert empty.put == [WINTER, SUMMER, NEWEST]


def test_then_from_the_newest(basket: Basket, begun: list[date | None]) -> None:
    basket.put = []
    assert_same(run_on(of_book(), LAST, basket), run(of_book(), LAST))
    assert begun == [NEWEST]
    assert basket.loaded == [NEWEST]
    assert basket.put == []


def test_an_entry_of_today_changes_nothing_of_that(
    basket: Basket, begun: list[date | None]
) -> None:
    more = of_book(with_entries(book(), feel(at(MORNING, 6), bed="dust")))
    assert_same(run_on(more, LAST, basket), run(more, LAST))
    assert begun == [NEWEST]


def test_in_a_new_month_one_more_is_kept_and_the_last_ones_goes(
    basket: Basket, begun: list[date | None]
) -> None:
    later = of_book(morning=date(2031, 10, 1))
    assert_same(run_on(later, LAST, basket), run(later, LAST))
    assert begun == [NEWEST]
    assert basket.put == [date(2031, 9, 1)]
    assert basket.days() == (date(2031, 9, 1), SUMMER, WINTER)


@pytest.mark.parametrize(
    ("entered", "expected", "put"),
    [
        (date(2031, 7, 20), SUMMER, [NEWEST]),
        (date(2031, 5, 20), WINTER, [SUMMER, NEWEST]),
        (date(2030, 5, 20), None, [WINTER, SUMMER, NEWEST]),
    ],
)
def test_an_entry_of_long_ago_makes_it_go_further_back(
    basket: Basket,
    begun: list[date | None],
    entered: date,
    expected: date | None,
    put: list[date],
) -> None:
    more = of_book(with_entries(book(), soak(at(entered, 9), 12.0)))
    assert_same(run_on(more, LAST, basket), run(more, LAST))
    assert begun == [expected]
    assert basket.put == put
    run_on(more, LAST, basket)
    assert begun == [expected, NEWEST]


def test_a_successor_that_is_entered_late_makes_it_go_back_to_the_dead(
    begun: list[date | None],
) -> None:
    """Before it was planted nobody asked after the dead of December, and they had been left out since."""
    alone = book()._replace(plantings=book().plantings[:2])
    basket, spring = Basket(), date(2031, 3, 20)
    run_on(of_book(alone, spring), LAST, basket)
    assert basket.days() == (date(2031, 2, 1), WINTER, date(2030, 7, 1))
    with_it = of_book(book(), spring)
    assert_same(run_on(with_it, LAST, basket), run(with_it, LAST))
    assert begun == [None, date(2030, 7, 1)]


@pytest.mark.parametrize("content", [b"", b"\0" * 5000])
def test_what_is_damaged_is_passed_over(
    basket: Basket, begun: list[date | None], content: bytes
) -> None:
    basket.found[NEWEST] = content
    assert_same(run_on(of_book(), LAST, basket), run(of_book(), LAST))
    assert begun == [SUMMER]
    assert basket.put == [NEWEST]


def test_the_dawn_of_another_day_or_another_program_is_passed_over(
    basket: Basket, begun: list[date | None]
) -> None:
    basket.found[NEWEST] = basket.found[WINTER]
    run_on(of_book(), LAST, basket)
    basket.code = "2"
    assert_same(run_on(of_book(), LAST, basket), run(of_book(), LAST))
    assert begun == [SUMMER, None]


def test_an_earlier_morning_goes_on_from_nothing_that_lies_in_the_month_before_it(
    basket: Basket, begun: list[date | None]
) -> None:
    for morning, expected in ((date(2031, 8, 31), NEWEST), (date(2031, 8, 30), SUMMER)):
        of = of_book(morning=morning)
        assert_same(run_on(of, LAST, basket), run(of, LAST))
        assert begun.pop() == expected


def test_the_longer_it_looks_back_the_earlier_it_begins(
    basket: Basket, begun: list[date | None]
) -> None:
    dawns = run_on(of_book(), 51, basket)
    assert len(dawns) == 51
    assert begun == [SUMMER]
