"""The book as it was at a moment: entries, lasting things, weather and forecasts that had come by then."""

from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Soak, Void
from soakbook.garden.pages import Pages
from soakbook.garden.records import (
    Absence,
    Bed,
    Flow,
    Garden,
    Person,
    Planting,
    Rate,
    Restriction,
    Tap,
)
from soakbook.garden.weather import Forecast, ForecastDay, WeatherSeries, WeatherValue
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import add_entries, entries_in_force
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.garden_rows import add_record, update_record
from soakbook.store.pages import read_pages
from soakbook.store.rain_hours import add_rain_hours
from soakbook.store.sheets import plain_record, record_of
from soakbook.store.weather_rows import add_weather

LONDON = ZoneInfo("Europe/London")
A_DAY = timedelta(days=1)
DAY = date(2031, 5, 14)
MORNING = datetime(2031, 5, 14, 7, 40, tzinfo=LONDON)
MIDNIGHT = datetime(2031, 5, 15, tzinfo=LONDON)
LATER = datetime(2031, 5, 16, 9, tzinfo=LONDON)


def soak(uid: str, written_at: datetime, litres: float, supersedes: str | None = None) -> Soak:
    return Soak(
        uid=uid,
        happened_at=MORNING,
        written_at=written_at,
        supersedes=supersedes,
        bed_uid="bed-1",
        litres=litres,
        typed=f"{litres:g}l",
    )


def void(uid: str, written_at: datetime, of: str) -> Void:
    return Void(uid=uid, happened_at=written_at, written_at=written_at, supersedes=of)


def then(book: BookFile) -> Pages:
    return read_pages(book, written_before=MIDNIGHT)


def test_an_entry_holds_until_what_supersedes_it_is_written(book: BookFile, garden: Garden) -> None:
    """Three soaks of the 14th: one corrected that day, one on the 16th, one taken back on the 16th."""
    on_time = [soak("a", MORNING, 200), soak("b", MORNING, 30), soak("c", MORNING, 40)]
    add_entries(book, [*on_time, soak("a2", MORNING + timedelta(hours=1), 20, "a")])
    add_entries(book, [soak("b2", LATER, 3, "b"), void("c2", LATER, "c"), soak("d", LATER, 50)])
    assert {one.uid for one in then(book).entries} == {"a2", "b", "c"}
    assert {one.uid for one in read_pages(book).entries} == {"a2", "b2", "d"}
    moments = {f"{n}": MIDNIGHT + timedelta(seconds=n) for n in (-1, 0)}
    add_entries(book, [soak(uid, at, 10) for uid, at in moments.items()])
    known = entries_in_force(book, garden, written_before=MIDNIGHT)
    assert {one.uid for one in known} == {"a2", "b", "c", "-1"}


def test_a_taking_back_is_never_in_force_and_can_be_taken_back(book: BookFile) -> None:
    add_entries(book, [soak("a", MORNING, 20), void("v", MORNING, "a")])
    assert read_pages(book).entries == ()
    add_entries(book, [soak("b", MORNING, 20, "v")])
    assert [one.uid for one in read_pages(book).entries] == ["b"]
    add_entries(book, [void("w", MORNING, "b")])
    assert read_pages(book).entries == ()


def test_lasting_things_are_as_they_stood(book: BookFile, bed: Bed, planting: Planting) -> None:
    """A bed made larger twice, one that came later, a person away since, a garden that moved its hour."""
    person = Person("p", "Ann", absences=(Absence(DAY, DAY),))
    add_record(book, person, at=MORNING)
    garden = read_pages(book).garden
    update_record(book, garden._replace(round_hour=time(6)), at=LATER)
    update_record(book, bed._replace(area_m2=20), at=LATER)
    update_record(book, bed._replace(area_m2=22, said=frozenset({"area_m2"})), at=LATER + A_DAY)
    update_record(book, planting._replace(watered_in=False), at=LATER)
    update_record(book, person._replace(absences=(), weekdays=frozenset({1})), at=LATER)
    bank = Bed("bed-2", "bank", "Bank", 10)
    add_record(book, bank, at=LATER)
    add_record(book, planting._replace(uid="planting-2", bed_uid="bed-2"), at=LATER)
    known = then(book)
    assert (known.garden, known.beds, known.plantings) == (garden, (bed,), (planting,))
    assert known.people == (person,)
    between = read_pages(book, written_before=LATER + timedelta(hours=1))
    assert [one.area_m2 for one in between.beds] == [20, 10]
    assert len(read_pages(book).plantings) == 2


def test_of_before_the_book_was_begun_there_is_the_garden_alone(book: BookFile) -> None:
    known = read_pages(book, written_before=MORNING - A_DAY)
    assert known == Pages(read_pages(book).garden)


def test_a_bed_is_led_back_to_the_letter_its_tap_bore(book: BookFile, bed: Bed) -> None:
    tap = read_pages(book).taps[0]
    update_record(book, tap._replace(key="D", flows=(Flow(12, DAY),)), at=LATER)
    assert read_pages(book).beds[0].tap == "D"
    assert (then(book).taps, then(book).beds) == ((tap,), (bed,))


def test_what_is_about_a_bed_that_came_later_is_left_out(
    book: BookFile, planting: Planting
) -> None:
    """So it is with an entry that was written elsewhere and brought in with its bed on the 16th."""
    add_record(book, Bed("bed-2", "bank", "Bank", 10), at=LATER)
    brought = soak("a", MORNING, 20)
    add_entries(book, [brought, Soak(uid="b", happened_at=MORNING, written_at=MORNING,
                                     bed_uid="bed-2", litres=5, typed="5l")])  # fmt: skip
    assert then(book).entries == (brought,)


def test_records_come_back_from_the_log_as_they_went_in(planting: Planting, bed: Bed) -> None:
    for record in (
        Garden("g", "G", 52, 0, 1, "Europe/London", round_hour=time(6, 30)),
        bed,
        planting._replace(leaf_out_on=DAY, watered_in=False, said=frozenset({"count", "leaf"})),
        Tap("t", "A", flows=(Flow(12.5, DAY), Flow(14, DAY + A_DAY))),
        Person("p", "Ann", frozenset({0, 4}), absences=(Absence(DAY, DAY),), first=DAY),
        Restriction("r", DAY, DAY, "hose", "mains", "no hoses"),
        Rate("w", DAY, "water", 4),
    ):
        back: Any = record_of
        assert back(type(record), plain_record(record)) == record
    older = {name: value for name, value in plain_record(bed).items() if name != "walk_m"}
    assert record_of(Bed, older) == bed


def test_weather_is_what_had_come(book: BookFile) -> None:
    """Rain of the 13th: 3 mm measured on the 14th, corrected to 5 on the 16th, its hours come then."""
    for fetched_at, rain_mm in ((MORNING, 3.0), (LATER, 5.0)):
        told = WeatherValue(DAY - A_DAY, "rain_mm", rain_mm, "gauge", "measured", fetched_at)
        add_weather(book, [told])
    hours = WeatherSeries(
        DAY - A_DAY, "hours", "rain_mm", (5.0, *[0.0] * 23), "one", "analysed", LATER
    )
    add_rain_hours(book, [hours])
    ((known,), (now,)) = then(book).weather, read_pages(book).weather
    assert (known.rain_mm, known.rain_by_hour_mm) == (3.0, ())
    assert (now.rain_mm, now.rain_by_hour_mm) == (5.0, hours.numbers)


def test_forecasts_are_those_that_had_come_whenever_they_were_issued(book: BookFile) -> None:
    """An issue of the 14th that came on the 16th only; the one before it was known."""
    days = (ForecastDay(DAY + A_DAY, rain_mm=9.0, rain_members_mm=(9.0, 8.0)),)
    first = Forecast("one", MORNING - A_DAY, days)
    second = Forecast("two", MORNING, days)
    add_forecasts(book, [first])
    add_forecasts(book, [second], fetched_at=LATER)
    assert [one.source for one in then(book).forecasts] == ["one"]
    assert [one.source for one in read_pages(book).forecasts] == ["two"]
    assert {one.source for one in then(book).promises} == {"one"}
    assert {one.source for one in read_pages(book).promises} == {"one", "two"}
