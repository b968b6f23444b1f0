"""Days on which no service answers, asked for every morning all the same: what the round makes of them.

A fine week is forecast with a wet day in some futures and none in others; then nothing more comes.
"""

from datetime import date, datetime, timedelta
from itertools import count
from pathlib import Path
from shutil import rmtree
from typing import Any
from uuid import UUID

import pytest

from soakbook.services.mornings import round_report
from soakbook.store.places import cache_folder
from tests.services.looking import NOW, at, pages_of
from tests.services.weather_service import (
    CONTACT,
    ENSEMBLE,
    FORECAST,
    SKY,
    Ask,
    WeatherService,
    planted,
)

WET_TO_COME = date(2031, 5, 18)
LATER = at(5, 24, 6, 30)


@pytest.fixture
def young_book(new_book: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A garden with clematis planted ten days ago; its draws, which hang on uids, are the same each time."""
    numbers = count(1)
    monkeypatch.setattr("uuid.uuid4", lambda: UUID(int=next(numbers)))
    planted(new_book, "5may")
    return new_book


@pytest.fixture(autouse=True)
def sky(service: WeatherService, monkeypatch: pytest.MonkeyPatch) -> None:
    """12 mm on the 18th in the middle of what the futures have."""
    rain = {**SKY.rain, WET_TO_COME: [(13, 12.0)]}
    monkeypatch.setattr(service, "sky", SKY._replace(rain=rain, members=11))


def mornings(first: datetime, last: datetime) -> list[datetime]:
    """The same hour of every day."""
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def width(path: Path, now: datetime = LATER) -> float:
    """How far apart eight of ten members lie in what the bed holds."""
    (call,) = round_report(path, now=now)["calls"]
    return float(call["bed_fraction"]["p90"] - call["bed_fraction"]["p10"])


def of_kind(report: dict[str, Any], kind: str) -> list[str]:
    """What is said of one kind."""
    return [one["say"] for one in report["findings"] if one["kind"] == kind]


@pytest.fixture
def known_width(ask: Ask, young_book: Path) -> float:
    """The doubt where every day was measured; book and kept answers are as before after it."""
    before = young_book.read_bytes()
    for now in mornings(NOW, LATER):
        ask(now)
    found = width(young_book)
    young_book.write_bytes(before)
    rmtree(cache_folder())
    return found


@pytest.mark.parametrize("contact", ["", CONTACT], ids=["nobody answers", "the second answers"])
def test_the_doubt_of_days_that_nobody_measured_is_wider(
    known_width: float, contact: str, ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """Whether nobody answers or the second service, which knows no day that is over."""
    ask()
    service.fail(FORECAST, ENSEMBLE)
    for now in mornings(NOW + timedelta(days=1), LATER):
        ask(now, contact=contact)
    assert width(young_book) > 1.1 * known_width


def test_to_ask_in_vain_is_as_not_to_ask(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    ask()
    untouched = width(young_book)
    service.fail(FORECAST, ENSEMBLE)
    for now in mornings(NOW + timedelta(days=1), LATER):
        ask(now)
    assert width(young_book) == untouched


def test_it_is_said_how_old_all_is_and_what_is_supposed(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    ask()
    service.fail(FORECAST, ENSEMBLE)
    ask(LATER)
    report = round_report(young_book, now=LATER)
    assert report["weather"]["age_days"] == 10
    (old,) = of_kind(report, "weather_old")
    assert "no weather since Wed 14" in old
    assert "The days since are taken as forecast on Thu 15, with its doubt." in old
    assert of_kind(report, "forecast_old") == ["The forecast is that of Thu 15, 9 days old."]


def test_rain_that_the_second_forecast_is_not_said_to_have_fallen(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """14 mm were forecast for the 18th; nobody has measured whether they came."""
    service.fail(FORECAST, ENSEMBLE)
    for now in mornings(NOW, at(5, 20, 6, 30)):
        ask(now, contact=CONTACT)
    now = at(5, 20, 6, 30)
    assert pages_of(young_book).weather == ()
    report = round_report(young_book, now=now)
    (call,) = report["calls"]
    assert "reached" not in call["reason"]
    assert call["bed_fraction"]["p90"] - call["bed_fraction"]["p10"] > 0.2
