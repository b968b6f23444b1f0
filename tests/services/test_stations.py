"""Stations' files that are read again: kept by path or address, and what comes of those that are gone."""

from contextlib import suppress
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import NoReturn

import pytest

from soakbook.errors import InputError, WeatherError
from soakbook.garden.weather import WeatherValue
from soakbook.services import weather_files
from soakbook.services.stations import bring, read_again
from soakbook.store.book import open_book
from soakbook.store.garden_rows import locations
from soakbook.store.weather_rows import add_weather
from tests.services.looking import NOW, Refused, at, look_at, pages_of
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


def test_a_file_is_read_again_only_where_it_is_to_be_kept(new_book: Path, file: Path) -> None:
    bring(new_book, str(file), keep=False, now=NOW)
    file.write_text(text_of(*DAYS, *MORE), encoding="utf-8")
    assert read_again(new_book, now=LATER).say == ()
    assert remembered(new_book) == {}
    bring(new_book, str(file), keep=True, now=NOW)
    assert remembered(new_book) == {"shed.csv": str(file)}


def test_a_kept_file_brings_its_new_days(new_book: Path, file: Path) -> None:
    """Read under the name and with the columns that were said when it was kept."""
    file.write_text("day,Low,High,Wet\n2031-05-13,7.0,20.0,0.1\n", encoding="utf-8")
    columns = ["date=day", "tmin=Low:C", "tmax=High:C", "rain=Wet:in"]
    bring(new_book, str(file), keep=True, now=NOW, columns=columns, name="the shed")
    file.write_text("day,Low,High,Wet\n2031-05-13,7,20,0.1\n2031-05-14,8,21,1\n", encoding="utf-8")
    (say,) = read_again(new_book, now=LATER, by="Ann").say
    assert say.startswith("the shed: 2 days from 13 May 2031 to 14 May 2031, ")
    assert rain_of(new_book) == {13: pytest.approx(2.54), 14: pytest.approx(25.4)}
    assert pages_of(new_book).weather[-1].sources["rain_mm"] == ("the shed", "measured", "")
    before = look_at(new_book)
    read_again(new_book, now=LATER)
    after = look_at(new_book)
    assert (after.pages, after.mark) == (before.pages, before.mark)


def test_a_gauge_that_stands_still_is_said_while_it_does(new_book: Path, file: Path) -> None:
    """A service has 12 mm on each of three days, the gauge none; a fortnight and more later that is no news."""
    service_mm = [
        WeatherValue(date(2031, 5, day), "rain_mm", 12.0, "Open-Meteo", "analysed", NOW)
        for day in (12, 13, 14)
    ]
    with open_book(new_book) as book:
        add_weather(book, service_mm)
    dry = [f"2031-05-{day},6.0,19.0,0" for day in (12, 13, 14)]
    file.write_text(text_of(*dry), encoding="utf-8")
    bring(new_book, str(file), keep=True, now=NOW)
    _, still = read_again(new_book, now=LATER).say
    assert "the gauge stood at 0 while the weather service has 36 mm on 3 wet days" in still
    assert len(read_again(new_book, now=at(6, 1, 6, 30)).say) == 1


def test_a_kept_path_holds_wherever_it_is_asked_from(
    new_book: Path, file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(file.parent)
    bring(new_book, file.name, keep=True, now=NOW)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    file.write_text(text_of(*DAYS, *MORE), encoding="utf-8")
    read_again(new_book, now=LATER)
    assert rain_of(new_book) == {12: 0.0, 13: 2.4, 14: 1.1, 15: 0.0}


def test_a_file_that_has_gone_says_so_and_leaves_the_book(new_book: Path, file: Path) -> None:
    bring(new_book, str(file), keep=True, now=NOW)
    before = look_at(new_book)
    file.unlink()
    (say,) = read_again(new_book, now=LATER).say
    assert say.startswith("shed.csv: not read again. file: ")
    assert "a file that is there" in say
    assert say.endswith("What the book has stays.")
    assert look_at(new_book) == before
    file.write_text(text_of(*DAYS, *MORE), encoding="utf-8")
    assert "4 days" in read_again(new_book, now=LATER).say[0]


def test_a_file_that_cannot_be_right_leaves_the_book_and_the_other_files(
    new_book: Path, file: Path
) -> None:
    other = file.with_name("barn.csv")
    other.write_text(text_of(*DAYS), encoding="utf-8")
    bring(new_book, str(file), keep=True, now=NOW)
    bring(new_book, str(other), keep=True, now=NOW)
    file.write_text(text_of(*DAYS, "2031-05-14,8.0,21.0,-4"), encoding="utf-8")
    other.write_text(text_of(*DAYS, *MORE), encoding="utf-8")
    first, second = read_again(new_book, now=LATER).say
    assert first.startswith("shed.csv: not read again. rain on 2031-05-14")
    assert second.startswith("barn.csv: 4 days")
    assert pages_of(new_book).weather[-1].sources["rain_mm"][0] == "barn.csv"


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


def test_offline_a_file_on_disk_is_read_and_an_address_is_left(
    new_book: Path, file: Path, address: str, service: WeatherService
) -> None:
    bring(new_book, str(file), keep=True, now=NOW, name="the shed")
    bring(new_book, address, keep=False, now=NOW, name="the barn")
    asked = len(service.seen)
    file.write_text(text_of(*DAYS, *MORE), encoding="utf-8")
    assert "the shed: 4 days" in read_again(new_book, now=LATER, offline=True).say[0]
    assert len(service.seen) == asked


def test_a_day_that_is_corrected_at_the_station_is_corrected_in_the_book(
    new_book: Path, address: str, service: WeatherService
) -> None:
    bring(new_book, address, keep=False, now=NOW)
    service.script["/shed.csv"] = table(DAYS[0], "2031-05-13,7.0,20.0,5.2")
    read_again(new_book, now=LATER)
    assert rain_of(new_book) == {12: 0.0, 13: 5.2}


@pytest.mark.parametrize(
    "file", ["http://[x", "http:///a.csv", "http://", "https://a b/", "a" * 300, "~nobody/a.csv"]
)
def test_a_file_that_cannot_be_is_refused(new_book: Path, file: str) -> None:
    right = "an address like https://" if "://" in file else "a file that is there, or an address"
    with Refused(new_book, "file", file, right):
        bring(new_book, file, keep=False, now=NOW)


@pytest.mark.parametrize(
    ("place", "name"),
    [("/" + "a" * 300, "a" * 300), ("/out/..", "127.0.0.1"), ("/%2e%2e", "%2e%2e")],
)
def test_an_odd_end_of_an_address_is_a_name_like_any(
    place: str, name: str, new_book: Path, service: WeatherService, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever is asked there is answered with the same two days."""
    monkeypatch.setattr(service, "told", lambda _: table(*DAYS))
    answer = bring(new_book, service.url(place), keep=False, now=NOW)
    assert answer["changed"]["source"].partition(":")[0] == name
    assert answer["changed"]["days"] == 2


def test_two_addresses_whose_files_are_called_alike_want_a_name(
    new_book: Path, address: str, service: WeatherService
) -> None:
    bring(new_book, address, keep=False, now=NOW)
    service.script["/barn/shed.csv"] = table("2031-05-13,7.0,20.0,9.9")
    other = service.url("/barn/shed.csv")
    with Refused(new_book, "name", "shed.csv", f"that of {address}", "--name"):
        bring(new_book, other, keep=False, now=NOW)
    bring(new_book, other, keep=False, now=NOW, name="barn")
    bring(new_book, address, keep=False, now=NOW)
    assert remembered(new_book) == {"shed.csv": address, "barn": other}


@pytest.mark.parametrize("keep", [True, False])
def test_two_files_called_alike_want_a_name(new_book: Path, file: Path, keep: bool) -> None:
    bring(new_book, str(file), keep=keep, now=NOW)
    other = file.parent / "barn" / "shed.csv"
    other.parent.mkdir()
    other.write_text(text_of("2031-05-13,7.0,20.0,9.9"), encoding="utf-8")
    for kept in (True, False):
        with Refused(new_book, "name", "shed.csv", f"that of {file}", 'say --name "shed.csv"'):
            bring(new_book, str(other), keep=kept, now=NOW)
    assert rain_of(new_book) == {12: 0.0, 13: 2.4}
    bring(new_book, str(other), keep=False, now=NOW, name="shed.csv")
    assert rain_of(new_book) == {12: 0.0, 13: 9.9}
    bring(new_book, str(file), keep=keep, now=NOW)


def test_a_name_said_on_purpose_moves_and_says_so(new_book: Path, file: Path, address: str) -> None:
    bring(new_book, str(file), keep=True, now=NOW, name="shed")
    answer = bring(new_book, address, keep=False, now=NOW, name="shed")
    moved = f"shed is read from {address} from now on, no longer from {file}"
    assert answer["changed"]["findings"][-1] == moved
    assert remembered(new_book) == {"shed": address}


@pytest.mark.parametrize("name", ["", "  "])
def test_a_name_is_some_word(new_book: Path, file: Path, name: str) -> None:
    with Refused(new_book, "name", name, "--name shed"):
        bring(new_book, str(file), keep=False, now=NOW, name=name)


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


def test_what_is_brought_and_where_from_goes_in_together(
    new_book: Path, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> NoReturn:
        raise InputError("disk", "full", "room")

    monkeypatch.setattr(weather_files, "keep_location", fails)
    with Refused(new_book, "disk", "full"):
        bring(new_book, str(file), keep=True, now=NOW)


def test_a_clock_that_is_wrong_is_said_while_it_is(new_book: Path, tmp_path: Path) -> None:
    """Sun from 8 to 20 by a clock three hours ahead; right from the 20th on, and no word of it on the 5th of June."""

    def hours(first: int, last: int, ahead_h: int) -> list[str]:
        begun = at(5, 1, 0)
        return [
            f"{begun + timedelta(days=day, hours=hour):%Y-%m-%d %H:%M},10,"
            f"{max(0, 600 - 100 * abs(hour - 12.5 - ahead_h)):.0f}"
            for day in range(first - 1, last)
            for hour in range(24)
        ]

    file = tmp_path / "hours.csv"

    def written(*rows: list[str]) -> None:
        lines = ["date,temp_c,radiation_w_m2", *(row for some in rows for row in some)]
        file.write_text("\n".join(lines) + "\n", encoding="utf-8")

    wrong = hours(1, 14, 3)
    written(wrong)
    brought = bring(new_book, str(file), keep=True, now=NOW, clock="utc")
    assert any("hours ahead of the sun" in one for one in brought["changed"]["findings"])
    written(wrong, hours(15, 15, 3))
    _, still = read_again(new_book, now=at(5, 16, 7)).say
    assert "the file's clock is 3" in still
    written(wrong, hours(15, 33, 0))
    assert len(read_again(new_book, now=at(6, 3, 7)).say) == 1
