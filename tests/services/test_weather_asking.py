"""Asking for weather, against a service on this machine: what comes, and what the book has afterwards."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any, NoReturn

import pytest

from soakbook.services import weather_asking
from soakbook.services.mornings import round_report
from soakbook.services.weather_asking import refresh
from soakbook.services.weather_settings import set_weather
from tests.services.looking import NOW, at, look_at, pages_of
from tests.services.weather_service import (
    ARCHIVE,
    CONTACT,
    ENSEMBLE,
    FORECAST,
    SECOND,
    SKY,
    TODAY,
    WET,
    Ask,
    WeatherService,
    days,
    planted,
    said_of,
)


def test_a_new_book_gets_the_days_since_planting_and_those_ahead(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """Planted on the 5th: from that day to yesterday as analysed, today and fifteen more as forecast."""
    found = ask()
    pages = pages_of(young_book)
    planting_day = date(2031, 5, 5)
    known = [day for day in pages.weather if day.day >= planting_day]
    assert [day.day for day in known] == days(planting_day, 10)
    assert {day.sources["rain_mm"][:2] for day in known} == {("Open-Meteo", "analysed")}
    assert all(day.et0_mm is not None and 2 < day.et0_mm < 7 for day in known)
    wet = next(day for day in known if day.day == WET)
    assert wet.rain_mm == 9.0
    assert wet.rain_by_hour_mm[19:23] == (0.0, 6.0, 3.0, 0.0)
    (forecast,) = pages.forecasts
    assert [day.day for day in forecast.days] == days(TODAY, 16)
    assert {len(day.rain_members_mm) for day in forecast.days} == {SKY.members}
    assert forecast.issued_at == NOW
    assert found.say[0].startswith("Open-Meteo: ")
    assert f"forecast to 30 May in {SKY.members} futures" in found.say[0]
    assert found.troubles == ()
    asked = service.asked(FORECAST)[0]
    assert (asked["latitude"], asked["longitude"], asked["elevation"]) == ("52.30", "-0.40", "62")


def test_asked_twice_nothing_is_added(ask: Ask, young_book: Path) -> None:
    assert ask().values_added > 0
    before = look_at(young_book)
    again = ask(at(5, 15, 6, 50))
    assert (again.values_added, again.calls_changed, again.troubles) == (0, (), ())
    after = look_at(young_book)
    assert (after.pages, after.mark) == (before.pages, before.mark)
    assert {one.came for one in said_of(young_book, "Open-Meteo").values()} == {"same"}


def test_a_correction_of_a_day_gone_by_flows_through_and_names_the_call(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """9 mm three days ago become none: what was taken for watered is wanted after all."""
    service.sky = SKY._replace(rain={WET: [(20, 30.0)]})
    ask()
    service.sky = SKY._replace(rain={})
    found = ask(at(5, 15, 6, 50))
    wet = next(day for day in pages_of(young_book).weather if day.day == WET)
    assert wet.rain_mm == 0.0
    assert found.calls_changed == ("wall",)
    assert "This changes 1 call: Wall now wanted" in found.say[-1]
    service.sky = SKY._replace(rain={WET: [(20, 30.0)]})
    back = ask(at(5, 15, 7, 10))
    assert back.calls_changed == ("wall",)
    assert next(day for day in pages_of(young_book).weather if day.day == WET).rain_mm == 30.0


def test_of_a_round_that_nobody_could_ask_for_nobody_is_asked_for_word(
    ask: Ask, young_book: Path
) -> None:
    """The first weather came this morning: yesterday's round was given to nobody, today's is missed tomorrow."""
    ask()
    today = round_report(young_book, now=at(5, 15, 7))
    assert today["totals"]["calls"] > 0
    assert "no_word" not in {one["kind"] for one in today["findings"]}
    tomorrow = round_report(young_book, now=at(5, 16, 7))
    assert "no_word" in {one["kind"] for one in tomorrow["findings"]}


def test_a_round_kept_in_the_morning_is_not_the_evenings(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """Rain told for ten o'clock is likely at half past six; at half past seven in the evening it is over."""
    service.sky = SKY._replace(rain={TODAY: [(10, 12.0)]})
    ask()
    morning = round_report(young_book, now=at(5, 15, 6, 40))
    assert morning["week"]["say"].startswith("Useful rain likely today")
    evening = round_report(young_book, now=at(5, 15, 19, 30))
    assert "today" not in evening["week"]["say"].lower()
    assert round_report(young_book, now=at(5, 15, 19, 50)) == evening
    assert round_report(young_book, now=at(5, 15, 6, 50)) == morning


@pytest.mark.parametrize(
    ("whom", "paths"), [("second", {SECOND}), ("none", set()), ("first", {FORECAST, ENSEMBLE})]
)
def test_only_those_are_asked_whom_the_garden_chose(
    whom: str, paths: set[str], ask: Ask, young_book: Path, service: WeatherService
) -> None:
    set_weather(young_book, now=NOW, ask_whom=whom)
    found = ask(contact=CONTACT)
    assert {one.path for one in service.seen} == paths
    assert bool(pages_of(young_book).forecasts) is bool(paths)
    assert bool(found.say) is bool(paths)


def test_offline_nobody_is_asked_and_what_is_kept_counts(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    before = look_at(young_book)
    found = ask(offline=True)
    assert service.seen == []
    assert (found.say, found.troubles, found.not_asked) == ((), (), ("Open-Meteo",))
    assert look_at(young_book).pages == before.pages
    service.fail(ENSEMBLE)
    ask()
    asked = len(service.seen)
    noted = said_of(young_book, "Open-Meteo")
    again = ask(at(5, 15, 7), offline=True)
    assert (again.values_added, again.say, again.troubles) == (0, (), ())
    assert said_of(young_book, "Open-Meteo") == noted
    assert len(service.seen) == asked


def test_plants_that_stand_longer_have_their_days_from_the_archive(
    new_book: Path, service: WeatherService
) -> None:
    """Planted 200 days ago: 92 from the forecast's own past, the rest from the archive, once."""
    first = TODAY - timedelta(days=200)
    planted(new_book, first.isoformat())
    service.sky = SKY._replace(rain={first: [(9, 4.0)]})
    refresh(new_book, now=NOW, places=service.places())
    (archive,) = service.asked(ARCHIVE)
    assert archive["start_date"] == (first - timedelta(days=1)).isoformat()
    pages = pages_of(new_book)
    known = [day for day in pages.weather if day.et0_mm is not None and day.rain_mm is not None]
    assert [day.day for day in known] == days(first, 200)
    assert known[0].rain_mm == 4.0
    assert said_of(new_book, "Open-Meteo")["archive"].came == "new"
    service.now = at(5, 16, 6, 30)
    refresh(new_book, now=service.now, places=service.places())
    assert len(service.asked(ARCHIVE)) == 1
    assert [one["past_days"] for one in service.asked(FORECAST)] == ["92", "8"]


def test_old_plants_do_not_have_the_archive_asked_every_morning(
    new_book: Path, service: WeatherService
) -> None:
    """Planted 500 days ago: the last 400 days are enough."""
    planted(new_book, (TODAY - timedelta(days=500)).isoformat())
    for day in (15, 16, 17):
        service.now = at(5, day, 6, 30)
        refresh(new_book, now=service.now, places=service.places())
    assert len(service.asked(ARCHIVE)) == 1
    assert pages_of(new_book).weather[0].day == TODAY - timedelta(days=400)


@pytest.mark.parametrize("fails", ["add_weather", "add_rain_hours", "add_forecasts", "add_asked"])
def test_nothing_is_half_written(
    fails: str, ask: Ask, young_book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that fills up at any of the steps."""
    before = look_at(young_book)
    really = getattr(weather_asking, fails)

    def written_and_broken(*words: Any, **more: Any) -> NoReturn:
        really(*words, **more)
        raise OSError("no space left on device")

    with monkeypatch.context() as broken:
        broken.setattr(weather_asking, fails, written_and_broken)
        with pytest.raises(OSError, match="no space left"):
            ask()
    after = look_at(young_book)
    assert (after.pages, after.mark) == (before.pages, before.mark)
    assert said_of(young_book, "Open-Meteo") == {}
    assert ask().values_added > 0
