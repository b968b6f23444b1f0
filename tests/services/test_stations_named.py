"""What a station's file is called in the book: a name each, and what becomes of one that is taken."""

from pathlib import Path

import pytest

from soakbook.services.stations import bring
from tests.services.looking import NOW, Refused
from tests.services.stations import DAYS, address, file, rain_of, remembered, table, text_of
from tests.services.weather_service import WeatherService

__all__ = ["address", "file"]


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
