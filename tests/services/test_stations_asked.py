"""Stations' files at an address: asked, remembered, asked again, and left alone where they want patience."""

from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from soakbook.errors import InputError, WeatherError
from soakbook.services.stations import bring, read_again
from tests.services.looking import NOW, at, look_at, pages_of
from tests.services.stations import (
    DAYS,
    LATER,
    MORE,
    address,
    rain_of,
    remembered,
    table,
)
from tests.services.weather_service import WeatherService
from tests.weather.server import Reply

__all__ = ["address"]


def test_an_address_is_read_and_remembered(
    new_book: Path, address: str, service: WeatherService
) -> None:
    answer = bring(new_book, address, keep=False, now=NOW)
    assert answer["changed"]["days"] == 2
    assert rain_of(new_book) == {12: 0.0, 13: 2.4}
    assert remembered(new_book) == {"shed.csv": address}
    service.script["/shed.csv"] = table(*DAYS, *MORE)
    (say,) = read_again(new_book, now=LATER).say
    assert say.startswith("shed.csv: 4 days")
    assert rain_of(new_book) == {12: 0.0, 13: 2.4, 14: 1.1, 15: 0.0}
    assert len(service.seen) == 2


def test_an_address_keeps_what_it_is_asked(new_book: Path, service: WeatherService) -> None:
    """A station that is chosen behind the question mark."""
    service.script["/export"] = table(*DAYS)
    address = service.url("/export?station=7&days=30")
    bring(new_book, address, keep=False, now=NOW, name="the shed")
    assert service.asked("/export") == [{"station": "7", "days": "30"}]
    assert remembered(new_book) == {"the shed": address}


@pytest.mark.parametrize(
    ("reply", "kind", "says"),
    [
        (Reply(404), "refused", "has nothing there"),
        (Reply(200, b"<!DOCTYPE html><p>Log in</p>", "text/html"), "rubbish", "sent a web page"),
        (Reply(200, b"<html>Log in", "text/csv"), "rubbish", "sent a web page"),
        (Reply(408), "down", "has a fault of its own"),
    ],
    ids=["404", "page", "page that says it is a table", "fault"],
)
def test_nothing_from_an_address_leaves_the_book(
    reply: Reply, kind: str, says: str, new_book: Path, service: WeatherService
) -> None:
    service.script["/shed.csv"] = reply
    before = look_at(new_book)
    with pytest.raises(WeatherError, match=says) as caught:
        bring(new_book, service.url("/shed.csv"), keep=False, now=NOW)
    assert (caught.value.kind, caught.value.service.partition(":")[0]) == (kind, "127.0.0.1")
    assert look_at(new_book) == before
    assert remembered(new_book) == {}


@pytest.mark.parametrize(
    ("reply", "says"),
    [
        (Reply(404), "has nothing there (status 404)"),
        (Reply(200, b"<html>", "text/html"), "sent a web page instead of weather"),
    ],
    ids=["404", "page"],
)
def test_a_remembered_address_that_fails_says_so_and_leaves_the_book(
    reply: Reply, says: str, new_book: Path, address: str, service: WeatherService
) -> None:
    bring(new_book, address, keep=False, now=NOW)
    before = look_at(new_book)
    service.script["/shed.csv"] = reply
    (say,) = read_again(new_book, now=LATER).say
    assert say.startswith("shed.csv: not read again. 127.0.0.1")
    assert says in say
    assert say.endswith("What the book has stays.")
    after = look_at(new_book)
    assert (after.pages, after.mark) == (before.pages, before.mark)
    assert remembered(new_book) == {"shed.csv": address}


def test_what_is_no_table_of_weather_is_refused(new_book: Path, service: WeatherService) -> None:
    service.script["/shed.csv"] = Reply(200, b"name,price\nhose,30\n", "text/csv")
    before = look_at(new_book)
    with pytest.raises(InputError):
        bring(new_book, service.url("/shed.csv"), keep=False, now=NOW)
    assert look_at(new_book) == before


def test_offline_no_address_is_asked(new_book: Path, address: str, service: WeatherService) -> None:
    with pytest.raises(WeatherError, match="not asked while offline") as caught:
        bring(new_book, address, keep=False, now=NOW, offline=True)
    assert caught.value.kind == "offline"
    assert service.seen == []
    assert pages_of(new_book).weather == ()


def test_a_day_that_is_corrected_at_the_station_is_corrected_in_the_book(
    new_book: Path, address: str, service: WeatherService
) -> None:
    bring(new_book, address, keep=False, now=NOW)
    service.script["/shed.csv"] = table(DAYS[0], "2031-05-13,7.0,20.0,5.2")
    read_again(new_book, now=LATER)
    assert rain_of(new_book) == {12: 0.0, 13: 5.2}


@pytest.mark.parametrize(
    ("reply", "until"),
    [
        (Reply(429, headers={"Retry-After": "7200"}), at(5, 15, 8, 30)),
        (Reply(403), at(5, 15, 7, 30)),
    ],
    ids=["busy", "shut"],
)
def test_a_station_that_wants_patience_is_left_alone_until_then(
    reply: Reply, until: datetime, new_book: Path, address: str, service: WeatherService
) -> None:
    bring(new_book, address, keep=False, now=at(5, 15, 0))
    service.script["/shed.csv"] = reply
    assert read_again(new_book, now=NOW).failed == 1
    service.script["/shed.csv"] = table(*DAYS, *MORE)
    asked = len(service.seen)
    (say,) = read_again(new_book, now=until - timedelta(minutes=1)).say
    assert f", asked at 06:30 on 15 May; not asked again before {until:%H:%M on %d %B}." in say
    (same,) = read_again(new_book, now=until - timedelta(minutes=1)).say
    assert same == say
    assert len(service.seen) == asked
    assert read_again(new_book, now=until).came == 1
    assert len(service.seen) == asked + 1


def test_a_busy_host_is_left_alone_and_a_shut_door_shuts_no_other(
    new_book: Path, address: str, service: WeatherService
) -> None:
    service.script["/barn.csv"] = table(*DAYS)
    service.script["/shed.csv"] = Reply(403)
    for status, asked in ((403, 2), (429, 3)):
        service.script["/shed.csv"] = Reply(status, headers={"Retry-After": "60"})
        with pytest.raises(WeatherError):
            bring(new_book, f"{address}?{status}", keep=False, now=NOW)
        with suppress(WeatherError):
            bring(new_book, service.url("/barn.csv"), keep=False, now=NOW)
        assert len(service.seen) == asked
