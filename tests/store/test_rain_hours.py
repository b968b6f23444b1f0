"""Rain by the hour: lists are added, the best of each day is believed."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherSeries, WeatherValue
from soakbook.store.book_file import BookFile
from soakbook.store.rain_hours import add_rain_hours, rain_hours
from soakbook.store.weather_rows import add_weather, weather_days

DAY = date(2031, 5, 14)
FETCHED = datetime(2031, 5, 15, 6, tzinfo=UTC)
EVENING = (0.0,) * 19 + (2.0, 3.0, 0.5, 0.0, 0.0)
NIGHT = (4.0, 1.5, *(0.0,) * 22)


def shape(numbers: tuple[float, ...] = EVENING, **fields: Any) -> WeatherSeries:
    """A day's rain by the hour as analysed."""
    told = WeatherSeries(DAY, "hours", "rain_mm", numbers, "one", "analysed", FETCHED)
    return told._replace(**fields)


def test_a_list_comes_back_and_is_not_written_twice(book: BookFile) -> None:
    assert add_rain_hours(book, [shape()]) == 1
    assert add_rain_hours(book, [shape(fetched_at=FETCHED + timedelta(hours=3))]) == 0
    assert rain_hours(book) == {"2031-05-14": EVENING}


def test_the_best_kind_is_believed_and_then_the_newest(book: BookFile) -> None:
    later = FETCHED + timedelta(days=1)
    add_rain_hours(
        book, [shape(), shape(NIGHT, kind="forecast", issued_at=later, fetched_at=later)]
    )
    assert rain_hours(book) == {"2031-05-14": EVENING}
    add_rain_hours(book, [shape(NIGHT, fetched_at=later)])
    assert rain_hours(book) == {"2031-05-14": NIGHT}


def test_the_day_carries_its_shape(book: BookFile) -> None:
    add_weather(book, [WeatherValue(DAY, "rain_mm", 6.1, "gauge.csv", "measured", FETCHED)])
    add_rain_hours(book, [shape()])
    (day,) = weather_days(book)
    assert (day.rain_mm, day.rain_by_hour_mm) == (6.1, EVENING)


@pytest.mark.parametrize(
    "wrong",
    [
        shape(EVENING[1:-1]),
        shape((*EVENING, 0.0, 0.0)),
        shape((-0.1, *EVENING[1:])),
        shape((float("nan"), *EVENING[1:])),
        shape(of="members"),
        shape(variable="et0_mm"),
    ],
)
def test_what_is_no_day_of_rain_leaves_nothing(book: BookFile, wrong: WeatherSeries) -> None:
    with pytest.raises(InputError, match="23 to 25 numbers"):
        add_rain_hours(book, [shape(), wrong])
    assert rain_hours(book) == {}
