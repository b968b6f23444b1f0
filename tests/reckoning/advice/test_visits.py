"""Who comes when."""

from datetime import date, timedelta

import pytest

from soakbook.garden.pages import Pages
from soakbook.garden.records import Absence, Person
from soakbook.reckoning.advice.visits import (
    comes_on,
    hours_on,
    last_visit,
    next_visit,
    people_on,
    visits_after,
)
from tests.reckoning.gardens import garden, pages

MONDAY = date(2031, 6, 2)

ANN = Person(
    "ann",
    "Ann",
    frozenset({0, 2, 4}),
    2.0,
    (Absence(MONDAY + timedelta(days=2), MONDAY + timedelta(days=4)),),
)
TOM = Person("tom", "Tom", frozenset({0, 5}), 1.5, first=MONDAY + timedelta(days=1))


def with_people(*people: Person) -> Pages:
    return pages(people=people, garden=garden(hours_by_default=2.5))


def on(days: int) -> date:
    return MONDAY + timedelta(days=days)


@pytest.mark.parametrize(
    ("days", "names"),
    [
        (0, ["Ann"]),
        (1, []),
        (2, []),
        (4, []),
        (5, ["Tom"]),
        (7, ["Ann", "Tom"]),
        (9, ["Ann"]),
        (-2, []),
    ],
)
def test_weekdays_absences_and_first_days_count(days: int, names: list[str]) -> None:
    assert [one.name for one in people_on(with_people(ANN, TOM), on(days))] == names


def test_a_person_with_a_last_day_comes_on_it_and_no_more() -> None:
    stand_in = Person("will", "Will", first=on(3), last=on(5))
    assert [comes_on(stand_in, on(days)) for days in (2, 3, 5, 6)] == [False, True, True, False]


def test_hours_are_the_sum_of_those_who_come_or_the_gardens_usual() -> None:
    assert [hours_on(with_people(ANN, TOM), on(days)) for days in (0, 1, 5, 7)] == [
        2.0,
        0.0,
        1.5,
        3.5,
    ]
    assert hours_on(with_people(), MONDAY) == 2.5


def test_the_next_visit_is_after_the_day() -> None:
    """Ann on Monday, then nobody till Tom on Saturday, then both on Monday."""
    book = with_people(ANN, TOM)
    assert [(next_visit(book, on(days)) - MONDAY).days for days in (-1, 0, 1, 4, 5, 7)] == [
        0,
        5,
        5,
        5,
        7,
        9,
    ]
    assert visits_after(book, MONDAY, 3) == [on(5)] * 3


def test_with_nobody_entered_somebody_comes_every_day() -> None:
    assert next_visit(with_people(), MONDAY) == on(1)


@pytest.mark.parametrize(("days", "before"), [(1, 0), (5, 0), (6, 5), (7, 5), (8, 7), (9, 7)])
def test_the_last_visit_is_the_day_before_on_which_somebody_could_come(
    days: int, before: int
) -> None:
    assert last_visit(with_people(ANN, TOM), on(days)) == on(before)


def test_with_nobody_entered_the_last_visit_was_yesterday_and_with_nobody_who_came_there_was_none() -> (
    None
):
    assert last_visit(with_people(), on(3)) == on(2)
    newcomer = Person("will", "Will", first=on(3))
    assert last_visit(with_people(newcomer), on(3)) is None
