"""Stations' files on disk that are read again, and what comes of those that are gone."""

from datetime import date, timedelta
from pathlib import Path
from typing import NoReturn

import pytest

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherValue
from soakbook.services import weather_files
from soakbook.services.stations import bring, read_again
from soakbook.store.book import open_book
from soakbook.store.weather_rows import add_weather
from tests.services.looking import NOW, Refused, at, look_at, pages_of
from tests.services.stations import DAYS, LATER, MORE, address, file, rain_of, remembered, text_of
from tests.services.weather_service import WeatherService

__all__ = ["address", "file"]


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


def test_offline_a_file_on_disk_is_read_and_an_address_is_left(
    new_book: Path, file: Path, address: str, service: WeatherService
) -> None:
    bring(new_book, str(file), keep=True, now=NOW, name="the shed")
    bring(new_book, address, keep=False, now=NOW, name="the barn")
    asked = len(service.seen)
    file.write_text(text_of(*DAYS, *MORE), encoding="utf-8")
    assert "the shed: 4 days" in read_again(new_book, now=LATER, offline=True).say[0]
    assert len(service.seen) == asked


@pytest.mark.parametrize(
    "file", ["http://[x", "http:///a.csv", "http://", "https://a b/", "a" * 300, "~nobody/a.csv"]
)
def test_a_file_that_cannot_be_is_refused(new_book: Path, file: str) -> None:
    right = "an address like https://" if "://" in file else "a file that is there, or an address"
    with Refused(new_book, "file", file, right):
        bring(new_book, file, keep=False, now=NOW)


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
