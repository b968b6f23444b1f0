"""Books with something wrong in them, each written past the services that would not have let it in."""

import sqlite3
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any, NamedTuple

from soakbook.garden.entries import AnyEntry, Feel, Loss, Rain, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Absence, Person, Restriction
from soakbook.garden.weather import WeatherSeries, WeatherValue
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import add_entries
from soakbook.store.garden_rows import add_record, update_record
from soakbook.store.pages import read_pages
from soakbook.store.rain_hours import add_rain_hours
from soakbook.store.weather_rows import add_weather
from tests.services.looking import NOW, at

THAT_DAY = date(2031, 5, 10)


class Wrong(NamedTuple):
    """What is written into the garden's book, and what is to be found."""

    write: Callable[[BookFile, Pages], None]
    kind: str
    weight: str
    say: str
    bed: str | None = None
    day: date | None = None
    reckoned: bool = True


def written(path: Path, wrong: Wrong) -> None:
    """Write it into a book."""
    with open_book(path) as book:
        wrong.write(book, read_pages(book))


def soak(pages: Pages, uid: str, **more: object) -> Soak:
    """A soak of the climbing roses at Chapel Wall on 14 May, said otherwise where wanted."""
    planting = next(one for one in pages.plantings if one.name == "climbing rose")
    usual = Soak(
        uid=uid,
        happened_at=at(5, 14, 7),
        written_at=at(5, 14, 8),
        bed_uid=planting.bed_uid,
        planting_uid=planting.uid,
        litres=20,
        typed="20l",
    )
    return replace(usual, **more)  # type: ignore[arg-type]


def uid_of(pages: Pages, name: str) -> str:
    """The uid of a planting, or of the bed of that key."""
    plantings = {one.name: one.uid for one in pages.plantings}
    return {**plantings, **{one.key: one.uid for one in pages.beds}}[name]


def _entries(*make: Callable[[Pages], AnyEntry]) -> Callable[[BookFile, Pages], None]:
    return lambda book, pages: add_entries(book, [one(pages) for one in make])


def _loss(pages: Pages, uid: str, count: int, day: int = 12) -> Loss:
    roses = uid_of(pages, "climbing rose")
    return Loss(
        uid=uid, happened_at=at(5, day, 9), written_at=at(5, day, 9), bed_uid=uid_of(pages, "chapel"),
        planting_uid=roses, count=count, cause="drought",
    )  # fmt: skip


def _feel(pages: Pages, planting: str | None) -> Feel:
    return Feel(
        uid="feel", happened_at=at(5, 14, 7), written_at=at(5, 14, 7), bed_uid=uid_of(pages, "ride"),
        planting_uid=planting, ball="dry",
    )  # fmt: skip


def _replacing(*pairs: tuple[str, str]) -> Callable[[BookFile, Pages], None]:
    def write(book: BookFile, pages: Pages) -> None:
        for name, before in pairs:
            one = next(one for one in pages.plantings if one.name == name)
            update_record(book, one._replace(replaces=uid_of(pages, before)), at=NOW)

    return write


def _coming_from(*pairs: tuple[str, str]) -> Callable[[BookFile, Pages], None]:
    def write(book: BookFile, pages: Pages) -> None:
        for name, before in pairs:
            one = next(one for one in pages.plantings if one.name == name)
            before_it = uid_of(pages, before)
            update_record(book, one._replace(came_from=before_it, parted_on=THAT_DAY), at=NOW)

    return write


def _parted(*pairs: tuple[str, str]) -> Callable[[BookFile, Pages], None]:
    def write(book: BookFile, pages: Pages) -> None:
        beds = {bed.key: bed for bed in pages.beds}
        for key, whole in pairs:
            bed, of = beds[key], beds[whole].uid
            update_record(book, bed._replace(parted_from=of, parted_on=THAT_DAY), at=NOW)

    return write


def _weather(**values: float) -> Callable[[BookFile, Pages], None]:
    def write(book: BookFile, pages: Pages) -> None:
        add_weather(
            book,
            [
                WeatherValue(THAT_DAY, name, value, "the shed", "measured", NOW)
                for name, value in values.items()
            ],
        )

    return write


def _rain_by_hour(book: BookFile, pages: Pages) -> None:
    _weather(rain_mm=9.0)(book, pages)
    hours = (0.0,) * 20 + (1.0,) * 4
    add_rain_hours(
        book, [WeatherSeries(THAT_DAY, "hours", "rain_mm", hours, "the shed", "measured", NOW)]
    )


def _rain_alone(book: BookFile, pages: Pages) -> None:
    days = [date(2031, 5, 15) + timedelta(days=number) for number in (0, 1, 3)]
    add_weather(
        book, [WeatherValue(day, "rain_mm", 0.0, "the shed", "measured", NOW) for day in days]
    )


def _circle(book: BookFile, pages: Pages) -> None:
    """No command can write one: the rule that an entry is never changed is set aside, and put back."""
    add_entries(book, [soak(pages, "one"), soak(pages, "two", supersedes="one", typed="2cans")])
    (rule,) = book.connection.execute(
        "SELECT sql FROM sqlite_schema WHERE name = 'entry_never_changed'"
    ).fetchone()
    book.connection.execute("DROP TRIGGER entry_never_changed")
    book.connection.execute("UPDATE entry SET supersedes = 'two' WHERE uid = 'one'")
    book.connection.execute(rule)


def _person(*absences: Absence) -> Callable[[BookFile, Pages], None]:
    return lambda book, pages: add_record(book, Person("p", "Tom", absences=absences), at=NOW)


def _absence(first: int, last: int) -> Absence:
    return Absence(date(2031, 7, first), date(2031, 7, last))


def _rule(book: BookFile, pages: Pages) -> None:
    rule = Restriction("r", date(2031, 9, 5), date(2031, 7, 18), "hose", "mains", "no hoses")
    add_record(book, rule, at=NOW)


def _bed(**fields: Any) -> Callable[[BookFile, Pages], None]:
    def write(book: BookFile, pages: Pages) -> None:
        bed = next(one for one in pages.beds if one.key == "chapel")
        update_record(book, bed._replace(**fields), at=NOW)

    return write


def _foreign_key(book: BookFile, pages: Pages) -> None:
    other = sqlite3.connect(book.path, isolation_level=None)
    other.execute("DELETE FROM tap_flow")
    other.execute("DELETE FROM tap WHERE key = 'A'")
    other.close()


def _time_of_no_day(book: BookFile, pages: Pages) -> None:
    """SQLite reads 2459000.5 as a moment, the records do not."""
    add_entries(book, [soak(pages, "one")])
    book.connection.execute(
        "INSERT INTO entry (uid, kind, happened_at, written_at, bed_uid, reason)"
        " SELECT 'odd', 'left', '2031-05-14', '2459000.5', bed_uid, 'no time' FROM entry WHERE uid = 'one'"
    )


def _rain(pages: Pages) -> Rain:
    return Rain(
        uid="rain", happened_at=at(5, 14, 7), written_at=at(5, 14, 7), rain_mm=2, typed="2mm",
        began_at=at(5, 14, 9),
    )  # fmt: skip


LATER = datetime(2031, 5, 20, 7, tzinfo=NOW.tzinfo)

CASES = {
    "more lost than stood": Wrong(
        _entries(lambda p: _loss(p, "a", 4), lambda p: _loss(p, "b", 3)),
        "more_lost_than_stood",
        "wrong",
        "the climbing roses of Chapel Wall, 7 are entered as lost",
        "chapel",
    ),
    "before it was planted": Wrong(
        _entries(lambda p: soak(p, "a", happened_at=at(3, 1, 7))),
        "not_in_the_ground",
        "wrong",
        "before the climbing roses were planted, on 20 March",
        "chapel",
        date(2031, 3, 1),
    ),
    "after all were lost": Wrong(
        _entries(lambda p: _loss(p, "a", 6), lambda p: soak(p, "b")),
        "not_in_the_ground",
        "look",
        "when all of them were lost",
        "chapel",
        date(2031, 5, 14),
    ),
    "another bed": Wrong(
        _entries(lambda p: soak(p, "a", bed_uid=uid_of(p, "dole"))),
        "other_bed",
        "wrong",
        "the climbing roses stand in Chapel Wall",
        "dole",
    ),
    "a ball of bare roots": Wrong(
        _entries(lambda p: _feel(p, uid_of(p, "hornbeam whip"))),
        "no_ball",
        "wrong",
        "came bare-rooted",
        "ride",
    ),
    "a ball in a bed of bare roots": Wrong(
        _entries(lambda p: _feel(p, None)),
        "no_ball",
        "wrong",
        "all there came bare-rooted",
        "ride",
    ),
    "twice": Wrong(
        _entries(lambda p: soak(p, "a", by="Ann"), lambda p: soak(p, "b", by="Tom")),
        "twice",
        "look",
        "on 14 May (20l, by Ann) stands 2 times in the book",
        "chapel",
        date(2031, 5, 14),
    ),
    "twice on a bare day": Wrong(
        _entries(*[lambda p, uid=uid: soak(p, uid, happened_at=date(2031, 5, 14)) for uid in "ab"]),
        "twice",
        "look",
        "stands 2 times",
        "chapel",
    ),
    "ten times the usual": Wrong(
        _entries(
            *[
                lambda p, day=day: soak(p, f"{day}", happened_at=at(5, day, 7))
                for day in (11, 12, 13)
            ],
            lambda p: soak(p, "slip", litres=230, typed="230l"),
        ),
        "far_more",
        "look",
        "on 14 May (230l) is doubtful: 230 L is 11 times what is usual there, about 20 L.",
        "chapel",
        date(2031, 5, 14),
    ),
    "before it happened": Wrong(
        _entries(lambda p: soak(p, "a", happened_at=LATER)),
        "before_it_happened",
        "wrong",
        "was written 14 May, before it happened",
        "chapel",
        date(2031, 5, 20),
    ),
    "out of bounds": Wrong(
        _entries(lambda p: soak(p, "a", litres=2e6)),
        "out_of_bounds",
        "wrong",
        "at most 100000 L",
        "chapel",
        reckoned=False,
    ),
    "rain that ends before it begins": Wrong(
        _entries(_rain),
        "out_of_bounds",
        "wrong",
        "before the reading",
        day=date(2031, 5, 14),
        reckoned=False,
    ),
    "a circle of corrections": Wrong(
        _circle, "circle", "wrong", "2 entries are said to correct", reckoned=False
    ),
    "a rule that ends before it begins": Wrong(
        _rule, "out_of_bounds", "wrong", "The rule from 5 September", reckoned=False
    ),
    "absences that overlap": Wrong(
        _person(_absence(9, 17), _absence(12, 20)),
        "absence",
        "look",
        "these overlap",
        day=date(2031, 7, 12),
    ),
    "an absence that ends before it begins": Wrong(
        _person(_absence(17, 9)),
        "absence",
        "wrong",
        "it ends before it begins",
        day=date(2031, 7, 17),
    ),
    "replaced in another bed": Wrong(
        _replacing(("perennial", "shrub rose")),
        "replaced_elsewhere",
        "wrong",
        "that is another bed",
        "school",
        reckoned=False,
    ),
    "replaced in a circle": Wrong(
        _replacing(("climbing rose", "clematis"), ("clematis", "climbing rose")),
        "replaced_in_a_circle",
        "wrong",
        "cannot be reckoned",
        "chapel",
        reckoned=False,
    ),
    "parted in a circle": Wrong(
        _coming_from(("climbing rose", "clematis"), ("clematis", "climbing rose")),
        "replaced_in_a_circle",
        "wrong",
        "cannot be reckoned",
        "chapel",
        reckoned=False,
    ),
    "beds that are parts of each other": Wrong(
        _parted(("chapel", "dole"), ("dole", "chapel")),
        "parted_in_a_circle",
        "wrong",
        "Chapel Wall",
        reckoned=False,
    ),
    "a ball without room": Wrong(
        _bed(area_m2=0.5),
        "no_room",
        "wrong",
        "fewer plants or a larger bed",
        "chapel",
        reckoned=False,
    ),
    "plants without room": Wrong(
        _bed(area_m2=6.0), "crowded", "look", "want more ground than its 6 m²", "chapel"
    ),
    "a soil of no table": Wrong(
        _bed(soil="moon dust"), "out_of_bounds", "wrong", "'moon dust'", "chapel", reckoned=False
    ),
    "a night warmer than its day": Wrong(
        _weather(tmin_c=31.0, tmax_c=12.0),
        "night_warmer_than_day",
        "look",
        "31.0 °C, is above the highest",
        day=THAT_DAY,
    ),
    "rain alone": Wrong(
        _rain_alone,
        "rain_alone",
        "look",
        "There is rain from 15 May to 16 May",
        day=date(2031, 5, 15),
    ),
    "hours that do not add up": Wrong(
        _rain_by_hour,
        "hours_apart",
        "look",
        "9.0 mm of rain on 10 May, and hour by hour 4.0 mm",
        day=THAT_DAY,
    ),
    "a tap that is gone": Wrong(
        _foreign_key,
        "reference",
        "damaged",
        "rows of bed name a tap that is not there",
        reckoned=False,
    ),
    "a time that is none": Wrong(
        _time_of_no_day, "unreadable", "damaged", "a left with the time '2459000.5'", reckoned=False
    ),
}
