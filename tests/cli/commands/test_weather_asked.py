"""`weather` on a real book, with both services on this machine."""

import json
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any, NamedTuple

import jsonschema
import pytest

from soakbook.cli import options
from soakbook.cli.main import main
from soakbook.cli.options import SCHEMAS
from soakbook.services import books
from tests.services.looking import NOW, look_at, pages_of
from tests.services.weather_service import (
    CONTACT,
    ENSEMBLE,
    FORECAST,
    SECOND,
    SKY,
    TODAY,
    WeatherService,
    planted,
    weather_service,
)


class Ran(NamedTuple):
    """What a command line came to."""

    status: int
    out: str
    err: str

    @property
    def words(self) -> str:
        """What was printed, wherever its lines were broken."""
        return " ".join(self.out.split())


Run = Callable[..., Ran]


@pytest.fixture
def service(monkeypatch: pytest.MonkeyPatch) -> Iterator[WeatherService]:
    """The services that the environment names, at half past six."""
    monkeypatch.setattr(options, "now", lambda: NOW)
    hot = dict.fromkeys((TODAY + timedelta(days=n) for n in range(1, 6)), 31.0)
    wet = {TODAY - timedelta(days=3): [(9, 6.0), (10, 3.0)]}
    with weather_service(sky=SKY._replace(rain=wet, tmax_c=hot)) as found:
        for name, value in found.environment().items():
            monkeypatch.setenv(name, value)
        monkeypatch.delenv("SOAKBOOK_OFFLINE")
        yield found


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A garden with clematis planted ten days ago, and no weather yet."""
    path = tmp_path / "new.book"
    books.new(
        path,
        now=NOW,
        name="New Ground",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )
    planted(path, "5may")
    return path


@pytest.fixture
def run(book: Path, service: WeatherService, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run `weather` on that book."""

    def run_it(*words: str, specimen: bool = False) -> Ran:
        which = ("--specimen",) if specimen else ("--book", str(book))
        status = main(("weather", *words, *which))
        return Ran(status, *capsys.readouterr())

    return run_it


def report_of(ran: Ran, schema: str) -> Any:
    """What is printed for machines, held to its schema."""
    assert (ran.status, ran.err) == (0, "")
    report = json.loads(ran.out)
    text = (SCHEMAS / f"{schema}.json").read_text(encoding="utf-8")
    checker = jsonschema.Draft202012Validator.FORMAT_CHECKER
    jsonschema.validate(report, json.loads(text), format_checker=checker)
    return report


def test_weather_is_asked_for_and_shown(run: Run, service: WeatherService) -> None:
    ran = run()
    assert (ran.status, ran.err) == (0, "")
    said = "Open-Meteo: 10 days analysed, to 14 May and forecast to 30 May in 5 futures."
    assert ran.words.startswith(f"New Ground: weather {said} 5 May 2031 to 14 May 2031, 10 days.")
    assert "Open-Meteo, issued 15 May 06:30: to 30 May, in 5 futures." in ran.words
    assert "Heat likely from Fri 16 to Tue 20, up to 31 °C." in ran.words
    assert ran.words.endswith(
        "Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0."
    )
    assert {one.path for one in service.seen} == {FORECAST, ENSEMBLE}


def test_the_report_for_machines_keeps_to_its_schema(run: Run) -> None:
    report = report_of(run("--json"), "weather")
    assert (report["first"], report["last"], report["days"]) == ("2031-05-05", "2031-05-14", 10)
    assert report["asked"][0].startswith("Open-Meteo: 10 days analysed")
    assert (report["forecast"]["futures"], report["forecast"]["to"]) == (5, "2031-05-30")
    assert report["dry"]["useful_rain_on"] == "2031-05-12"
    assert report["credits"] == [
        "Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0."
    ]


def test_offline_shows_what_the_book_has(run: Run, service: WeatherService) -> None:
    asked = report_of(run("--json"), "weather")
    before = len(service.seen)
    offline = report_of(run("--offline", "--json"), "weather")
    assert len(service.seen) == before
    assert offline == asked | {"asked": []}


def test_a_service_that_fails_is_named_and_the_command_is_none_the_worse(
    run: Run, service: WeatherService
) -> None:
    service.fail(FORECAST)
    ran = run()
    assert (ran.status, ran.err) == (0, "")
    assert "Open-Meteo: has a fault of its own (status 408: made to fail)." in ran.words
    assert "set SOAKBOOK_CONTACT to an address or a page of yours." in ran.words


def test_whom_to_ask_is_a_setting_that_stays(
    run: Run, book: Path, service: WeatherService, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOAKBOOK_CONTACT", CONTACT)
    ran = run("--ask", "second")
    assert ran.status == 0
    assert "Asked from now on: the second service alone." in ran.words
    assert pages_of(book).garden.weather_from == "second"
    assert {one.path for one in service.seen} == {SECOND}
    later = run().words
    assert {one.path for one in service.seen} == {SECOND}
    assert "MET Norway, issued 15 May 06:13: to 24 May." in later
    assert "Data from MET Norway" in later
    assert "None yet" not in later


def test_heat_is_a_setting_that_stays(run: Run, book: Path) -> None:
    assert "Heat likely" in run().words
    assert "Heat here: days from 28 °C on." in run("--heat", "28c").words
    assert pages_of(book).garden.heat_c == 28.0
    assert "Heat here: days from 32 °C on." in (cool := run("--heat", "32c").words)
    assert "Heat likely" not in cool


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--heat", "99c"), "heat: '99c' cannot be right; from 20 to 40 °C"),
        (("--heat", "warm"), "heat: 'warm' cannot be right"),
        (("--ask", "third"), "'third'"),
    ],
)
def test_a_setting_that_cannot_be_is_refused(
    words: tuple[str, ...], said: str, run: Run, book: Path, service: WeatherService
) -> None:
    before = look_at(book)
    ran = run(*words)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1
    assert look_at(book) == before
    assert service.seen == []


def test_a_station_that_gives_nothing_is_the_stations_fault(
    run: Run, book: Path, service: WeatherService
) -> None:
    before = look_at(book)
    ran = run(service.url("/shed.csv"))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("soakbook: 127.0.0.1")
    assert "has nothing there (status 404)" in ran.err
    assert "fault of soakbook" not in ran.err
    assert look_at(book) == before


def test_the_specimens_promises_keep_to_their_schema(run: Run, service: WeatherService) -> None:
    report = report_of(run("--promises", "--json", specimen=True), "promises")
    (forecaster,) = report["services"]
    assert [lead["lead_days"] for lead in forecaster["leads"]] == [1, 2, 3]
    for lead in forecaster["leads"]:
        made = [
            one["outcome"]
            for one in report["promises"]
            if one["good"] and one["lead_days"] == lead["lead_days"]
        ]
        assert made.count("kept") == lead["kept"] > 0
        assert made.count("broken") == lead["broken"]
    text = run("--promises", specimen=True).words
    assert forecaster["say"] in text
    assert report["counted_as"] in text
    assert service.seen == []
