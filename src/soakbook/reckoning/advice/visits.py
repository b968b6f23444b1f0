"""Who comes on which day, and for how long."""

from collections.abc import Sequence
from datetime import date, timedelta

from soakbook.garden.pages import Pages
from soakbook.garden.records import Person

LONGEST_LOOK_DAYS = 60


def comes_on(person: Person, day: date) -> bool:
    """Whether a person can water on a day."""
    if day.weekday() not in person.weekdays:
        return False
    if (person.first and day < person.first) or (person.last and day > person.last):
        return False
    return not any(absence.first <= day <= absence.last for absence in person.absences)


def people_on(pages: Pages, day: date) -> tuple[Person, ...]:
    """Those who come on a day."""
    return tuple(person for person in pages.people if comes_on(person, day))


def hours_on(pages: Pages, day: date) -> float:
    """Hours of watering there are on a day; with nobody entered, the garden's usual hours."""
    if not pages.people:
        return pages.garden.hours_by_default
    return sum(person.hours for person in people_on(pages, day))


def next_visit(pages: Pages, day: date) -> date:
    """The next day after `day` on which somebody can come; with nobody entered, tomorrow."""
    following = day + timedelta(days=1)
    if not pages.people:
        return following
    for ahead in range(LONGEST_LOOK_DAYS):
        if people_on(pages, following + timedelta(days=ahead)):
            return following + timedelta(days=ahead)
    return following + timedelta(days=LONGEST_LOOK_DAYS)


def last_visit(pages: Pages, day: date) -> date | None:
    """The last day before `day` on which somebody could come; with nobody entered, the day before.

    None where nobody could for two months.
    """
    before = (day - timedelta(days=behind) for behind in range(1, LONGEST_LOOK_DAYS + 1))
    return next((one for one in before if not pages.people or people_on(pages, one)), None)


def visits_after(pages: Pages, day: date, days: int) -> Sequence[date]:
    """For each of `days` mornings from `day` on, the next visit after it."""
    return [next_visit(pages, day + timedelta(days=ahead)) for ahead in range(days)]
