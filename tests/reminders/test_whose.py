"""Whose a bed is on a day, and who comes after them."""

from datetime import date

import pytest

from soakbook.garden.pages import Pages
from soakbook.garden.records import Absence, Bed, Person
from soakbook.garden.reminding import Reminder, ReminderKind, Whom
from soakbook.reminders.kinds import Setting, settled
from soakbook.reminders.whose import (
    GARDENER,
    dealt,
    everyone,
    head_of,
    name_of,
    next_to,
    uids_of,
)
from tests.reminders.sights_made import GARDEN

SATURDAY, SUNDAY, MONDAY = date(2031, 5, 17), date(2031, 5, 18), date(2031, 5, 19)
ANN = Person("a", "Ann", weekdays=frozenset(range(6)))
TOM = Person("t", "Tom", absences=(Absence(MONDAY, MONDAY),))
ZOE = Person("z", "Zoe", weekdays=frozenset({6}))
WALL = Bed("b1", "wall", "Wall", 6.0, keeper="tom")
BANK = Bed("b2", "bank", "Bank", 6.0)
LOST = Bed("b3", "lost", "Lost", 6.0, keeper="Nobody of the team")
BEDS = (WALL, BANK, LOST)
TEAM = Pages(GARDEN, beds=BEDS, people=(ANN, TOM, ZOE))


def sent(whom: Whom | None = None, *named: str, kind: ReminderKind = "round") -> Setting:
    """How a kind is sent."""
    return settled(kind, Reminder(kind, whom=whom, named=frozenset(named)), GARDEN)


def owners(setting: Setting, day: date, pages: Pages = TEAM) -> dict[str, str]:
    """Key of a bed -> who has it."""
    return {
        bed.key: whom for whom, beds in dealt(BEDS, setting, pages, day).items() for bed in beds
    }


@pytest.mark.parametrize(
    ("day", "found"),
    [
        (SATURDAY, {"wall": "t", "bank": "a", "lost": "a"}),
        (SUNDAY, {"wall": "t", "bank": "t", "lost": "t"}),
        (MONDAY, {"wall": "a", "bank": "a", "lost": "a"}),
    ],
)
def test_a_bed_is_its_keepers_else_the_first_who_comes(day: date, found: dict[str, str]) -> None:
    assert owners(sent(), day) == found


def test_where_nobody_comes_it_is_the_keepers_else_the_heads() -> None:
    pages = TEAM._replace(
        people=(ANN._replace(weekdays=frozenset()), TOM, ZOE), garden=GARDEN._replace(head="zoe")
    )
    assert owners(sent(), MONDAY, pages) == {"wall": "t", "bank": "z", "lost": "z"}


def test_where_nobody_is_entered_there_is_one_gardener() -> None:
    alone = TEAM._replace(people=())
    assert owners(sent(), MONDAY, alone) == dict.fromkeys(("wall", "bank", "lost"), GARDENER)
    assert everyone(sent("all"), BEDS, alone, MONDAY) == (GARDENER,)
    assert head_of(alone) == GARDENER
    assert next_to({GARDENER}, sent(kind="unheard"), alone, MONDAY) is None
    assert name_of(GARDENER, alone) == ""


@pytest.mark.parametrize(
    ("setting", "found"),
    [
        (sent("head"), ("a",)),
        (sent("all"), ("a", "t", "z")),
        (sent("named", "z", "t"), ("t", "z")),
        (sent("named", "z", "gone"), ("z",)),
        (sent("named", "gone"), ("a",)),
        (sent("keeper"), ("t", "a")),
    ],
)
def test_who_is_told_what_gives_nobody_a_bed(setting: Setting, found: tuple[str, ...]) -> None:
    assert everyone(setting, BEDS, TEAM, SATURDAY) == found


def test_after_who_was_told_comes_the_next_that_day_and_then_the_head() -> None:
    pages = TEAM._replace(garden=GARDEN._replace(head="Zoe"))
    unheard = sent(kind="unheard")
    assert next_to({"t"}, unheard, pages, SATURDAY) == "a"
    assert next_to({"t", "a"}, unheard, pages, SATURDAY) == "z"
    assert next_to({"t", "a", "z"}, unheard, pages, SATURDAY) is None
    assert next_to({"a"}, sent("named", "z", kind="unheard"), pages, SUNDAY) == "z"


def test_people_are_known_by_their_names_as_entries_have_them() -> None:
    assert uids_of(("ann", "TOM ", "somebody"), TEAM) == {"a", "t"}
    assert name_of("t", TEAM) == "Tom"
