"""The whole book in one reading."""

from dataclasses import replace
from datetime import UTC, date, datetime

from soakbook.garden.entries import Left, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Garden, Person, Planting, Rate, Restriction, Tap
from soakbook.garden.weather import WeatherDay, WeatherValue
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import add_entries
from soakbook.store.garden_rows import add_record
from soakbook.store.pages import read_pages
from soakbook.store.weather_rows import add_weather


def test_everything_is_read(
    book: BookFile, garden: Garden, bed: Bed, planting: Planting, morning: datetime
) -> None:
    day = date(2031, 5, 14)
    tom = Person("person-1", "Tom", weekdays=frozenset(), first=day)
    ban = Restriction("rule-1", day, day, "hose", "mains", "no hoses")
    rates = (Rate("rate-2", date(2031, 1, 1), "hour", 14.0), Rate("rate-1", day, "water", 4.0))
    soak = Soak(
        uid="e1", happened_at=morning, written_at=morning, bed_uid=bed.uid, litres=17, typed="17l"
    )
    left = Left(uid="e2", happened_at=day, written_at=morning, bed_uid=bed.uid, reason="no time")
    for record in (tom, ban, rates[1], rates[0]):
        add_record(book, record, at=morning)
    add_entries(book, [soak, left, replace(soak, uid="e3", supersedes="e1", litres=7)])
    came = datetime(2031, 5, 15, 5, tzinfo=UTC)
    add_weather(book, [WeatherValue(day, "rain_mm", 0.0, "gauge", "measured", came)])
    book.close()
    with open_book(book.path) as again:
        assert read_pages(again) == Pages(
            garden=garden,
            beds=(bed,),
            plantings=(planting,),
            taps=(Tap("tap-1", "A"),),
            people=(tom,),
            restrictions=(ban,),
            rates=rates,
            entries=(left, replace(soak, uid="e3", supersedes="e1", litres=7)),
            weather=(WeatherDay(day, rain_mm=0.0, sources={"rain_mm": ("gauge", "measured", "")}),),
            heard_since=came,
        )
        assert read_pages(again, until=day).heard_since is None


def test_an_empty_garden(book: BookFile, garden: Garden) -> None:
    pages = read_pages(book)
    assert (pages.entries, pages.weather, pages.people) == ((), (), ())
    assert pages.garden == garden
