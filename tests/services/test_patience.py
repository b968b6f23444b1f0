"""What is remembered of a station that would not answer, and how long it is left alone."""

from datetime import timedelta
from pathlib import Path

import pytest

from soakbook.errors import WeatherError
from soakbook.services.stations import bring, read_again
from tests.services.looking import NOW, at
from tests.services.weather_service import WeatherService, said_of
from tests.weather.server import Reply

TABLE = Reply(
    200,
    b"date,tmin_c,tmax_c,rain_mm\n2031-05-13,7.0,20.0,2.4\n",
    "text/csv",
    {"Expires": "Thu, 01 Jan 2015 00:00:00 GMT"},
)
SOON = NOW + timedelta(minutes=5)


@pytest.fixture
def address(new_book: Path, service: WeatherService) -> str:
    """A station that was read once."""
    service.script["/shed.csv"] = TABLE
    found = service.url("/shed.csv")
    bring(new_book, found, keep=False, now=at(5, 15, 0))
    return found


def test_an_address_that_would_not_answer_asked_for_no_wait(
    new_book: Path, address: str, service: WeatherService
) -> None:
    service.script["/shed.csv"] = Reply(403)
    read_again(new_book, now=NOW)
    (say,) = read_again(new_book, now=SOON).say
    assert say.partition(": will")[2] == (
        " not answer us (status 403), asked at 06:30 on 15 May; not asked again before 07:30 on 15 May. "
        "What the book has stays."
    )


def test_an_address_that_would_not_answer_is_asked_at_once_where_it_is_typed(
    new_book: Path, address: str, service: WeatherService
) -> None:
    """And answers again from then on."""
    service.script["/shed.csv"] = Reply(403)
    read_again(new_book, now=NOW)
    service.script["/shed.csv"] = TABLE
    assert bring(new_book, address, keep=False, now=SOON)["changed"]["days"] == 1
    assert read_again(new_book, now=SOON).came == 1


def test_one_that_asked_for_a_wait_is_left_alone_though_it_is_typed(
    new_book: Path, address: str, service: WeatherService
) -> None:
    service.script["/shed.csv"] = Reply(429, headers={"Retry-After": "7200"})
    read_again(new_book, now=NOW)
    service.script["/shed.csv"] = TABLE
    says = r"asks us to wait \(status 429\), asked at 06:30 on 15 May; not asked again before 08:30"
    for _ in range(2):
        with pytest.raises(WeatherError, match=says) as caught:
            bring(new_book, address, keep=False, now=SOON)
        assert caught.value.kind == "waiting"


def test_of_one_that_was_not_asked_nothing_is_noted(
    new_book: Path, address: str, service: WeatherService
) -> None:
    service.script["/shed.csv"] = Reply(403)
    read_again(new_book, now=NOW)
    (noted,) = said_of(new_book, service.url("").partition("://")[2]).values()
    read_again(new_book, now=SOON)
    (same,) = said_of(new_book, service.url("").partition("://")[2]).values()
    assert noted == same
    assert (noted.came, noted.not_before) == ("refused", NOW + timedelta(hours=1))
