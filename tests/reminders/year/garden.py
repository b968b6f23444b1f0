"""The garden of the simulated year: three beds, three people, and everything that is written into its book.

The whole year is in the book from the beginning, each thing with the moment at which it was written. Read as it had
been written by a moment, it is the book of that moment: so one file, in which nothing changes but the outbox, plays a
year.
"""

import random
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import NamedTuple, TypedDict
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, Feel, Left, Soak
from soakbook.garden.records import Absence, Bed, FeltClass, Garden, Person, Planting, Restriction
from soakbook.garden.reminding import Reminder
from soakbook.store.book import create
from soakbook.store.entry_rows import add_entries
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.garden_rows import add_record
from soakbook.store.weather_rows import add_weather
from tests.reminders.year.sky import DAY, DAYS, foretold, measured, sky

NIGHTLY = time(0)


class Place(NamedTuple):
    """Where a year is played, and at what hours of the night it is made hard."""

    zone: str
    latitude_deg: float
    longitude_deg: float
    first: date
    week_at: time
    """Sunday's look at the week: an hour that the clock shows twice in autumn, or leaps over in spring."""
    rule_at: time
    rule_ends: date
    """A rule's last day is the one on which the clock is put on, in the year's first week."""

    @property
    def days(self) -> list[date]:
        """The year, day by day."""
        return [self.first + n * DAY for n in range(DAYS)]


PLACES = (
    Place(
        "Europe/London", 51.5, -0.1, date(2031, 3, 25), time(1, 30), time(16), date(2031, 3, 30)
    ),
    Place(
        "Australia/Lord_Howe", -31.5, 159.1, date(2030, 10, 1), time(1, 45), time(2, 15),
        date(2030, 10, 6),
    ),
    Place(
        "America/Havana", 23.1, -82.4, date(2031, 3, 4), time(0, 30), time(16), date(2031, 3, 9)
    ),
)  # fmt: skip

ANN, TOM, JOAN = "ann", "tom", "joan"
NAMES = {ANN: "Ann", TOM: "Tom", JOAN: "Joan"}
WEEKDAYS = {ANN: frozenset({0, 1, 2, 4, 5}), TOM: frozenset({1, 3, 5}), JOAN: frozenset({2, 4, 6})}
"""On which they come, Monday as 0."""
AWAY = {ANN: (150, 159), JOAN: (80, 100)}
"""First and last day of the year on which they do not."""
KEEPERS = {"chapel": ANN, "dole": TOM, "bank": JOAN}
AREAS = {"chapel": 12.0, "dole": 20.0, "bank": 15.0}
COUNTS = {"chapel": 5, "dole": 9, "bank": 60}
POTS_L = {"chapel": 7.5, "dole": 5.0, "bank": 1.0}
CLASSES = {"chapel": "shrub", "dole": "shrub", "bank": "perennial"}
DOSE_L = {"chapel": 2.0, "dole": 2.5, "bank": 0.5}
"""What they give a plant."""


ANSWER_HOURS = (time(6, 40), time(7, 10), time(9), time(12, 30), time(18, 20), time(21))
FELT: tuple[FeltClass, ...] = ("dry", "moist")


class _Said(TypedDict):
    uid: str
    happened_at: datetime
    written_at: datetime
    by: str
    bed_uid: str


def people(place: Place) -> Iterator[Person]:
    """Who comes on which days."""
    for uid, name in NAMES.items():
        away = AWAY.get(uid)
        absences = (Absence(*(place.first + n * DAY for n in away)),) if away else ()
        yield Person(uid, name, WEEKDAYS[uid], 2.0, absences)


def restrictions(place: Place) -> Iterator[Restriction]:
    """One whose end falls on the change of the clock, one in summer."""
    yield Restriction(
        "ban-1", place.first + DAY, place.rule_ends, "hose", "mains", "No hoses in March."
    )
    first = place.first + 140 * DAY
    yield Restriction("ban-2", first, first + 33 * DAY, "hose", "mains", "No hoses before eight.")


def entries(place: Place) -> Iterator[AnyEntry]:
    """What they answered: many mornings at once, some late, some not at all, some that they could not."""
    dice, zone = random.Random(20310302), ZoneInfo(place.zone)
    for n, day in enumerate(place.days):
        for key, count in COUNTS.items():
            did, by = dice.random(), dice.choice(tuple(NAMES.values()))
            at = datetime.combine(day, dice.choice(ANSWER_HOURS), zone)
            said = _Said(
                uid=f"{key}-{n}",
                happened_at=at,
                written_at=(at + timedelta(minutes=dice.randint(1, 40))).astimezone(UTC),
                by=by,
                bed_uid=key,
            )
            litres = DOSE_L[key] * count
            if did < 0.33:
                yield Soak(**said, litres=litres, typed=f"{litres}l")
            elif did < 0.40:
                yield Left(**said, reason=dice.choice(("could not", "no time")))
            elif did < 0.44:
                yield Left(**said, reason="wet enough")
            elif did < 0.45:
                yield Feel(**said, ball=dice.choice(FELT), bed="moist")


def reminders(place: Place) -> Iterator[Reminder]:
    """What this garden has said of its reminders."""
    yield Reminder("week", hour=place.week_at, quiet_from=NIGHTLY, quiet_until=NIGHTLY)
    yield Reminder("rule", hour=place.rule_at, quiet_from=NIGHTLY, quiet_until=NIGHTLY)
    yield Reminder("unheard", hour=time(20, 30))  # the second step, at 22:30, waits for the morning
    yield Reminder("heat", whom="all")
    yield Reminder("dry", hour=time(16))  # with the heat: a moment less to be reckoned


def make(path: Path, place: Place) -> None:
    """The book of a place, the whole year in it."""
    zone = ZoneInfo(place.zone)
    begun = datetime.combine(place.first - 20 * DAY, time(9), zone)
    garden = Garden(
        f"garden-{place.zone}", "The Corrody", place.latitude_deg, place.longitude_deg, 20.0,
        place.zone, head=NAMES[ANN],
    )  # fmt: skip
    with create(path, garden, at=begun) as book, book.writing():
        for key, keeper in KEEPERS.items():
            bed = Bed(key, key, key.title(), AREAS[key], soil="loam", keeper=NAMES[keeper])
            add_record(book, bed, at=begun)
            pot = POTS_L[key]
            planting = Planting(
                f"plants-{key}", key, CLASSES[key], CLASSES[key], COUNTS[key], "pot", place.first,
                pot, 0.13 * pot ** (1 / 3),
            )  # fmt: skip
            add_record(book, planting, at=begun)
        for person in people(place):
            add_record(book, person, at=begun)
        for reminder in reminders(place):
            add_record(book, reminder, at=begun)
        for rule in restrictions(place):
            written = datetime.combine(rule.first - 10 * DAY, time(12), zone)
            add_record(book, rule, at=max(begun, written))
        days = sky(place.first)
        add_weather(book, measured(days, zone))
        add_forecasts(book, foretold(days, zone))
        add_entries(book, sorted(entries(place), key=lambda one: one.written_at))
