"""A station's file of two days, on disk and at an address, and what the book has of it."""

from pathlib import Path

import pytest

from soakbook.store.book import open_book
from soakbook.store.garden_rows import locations
from tests.services.looking import at, pages_of
from tests.services.weather_service import WeatherService
from tests.weather.server import Reply

HEADER = "date,tmin_c,tmax_c,rain_mm"
DAYS = ("2031-05-12,6.0,19.0,0", "2031-05-13,7.0,20.0,2.4")
MORE = ("2031-05-14,8.0,21.0,1.1", "2031-05-15,8.0,21.0,0")
LATER = at(5, 16, 6, 30)


def text_of(*rows: str) -> str:
    """A table of these days."""
    return "\n".join([HEADER, *rows]) + "\n"


def table(*rows: str) -> Reply:
    """The same at an address; its answers outlive nothing."""
    headers = {"Expires": "Thu, 01 Jan 2015 00:00:00 GMT"}
    return Reply(200, text_of(*rows).encode(), "text/csv", headers)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A file of two days."""
    path = tmp_path / "shed.csv"
    path.write_text(text_of(*DAYS), encoding="utf-8")
    return path


@pytest.fixture
def address(service: WeatherService) -> str:
    """The same two days at an address."""
    service.script["/shed.csv"] = table(*DAYS)
    return service.url("/shed.csv")


def rain_of(path: Path) -> dict[int, float | None]:
    """Day of the month -> its rain."""
    return {day.day.day: day.rain_mm for day in pages_of(path).weather}


def remembered(path: Path) -> dict[str, str]:
    """Where files are read again, by name."""
    with open_book(path, read_only=True) as book:
        return locations(book)
