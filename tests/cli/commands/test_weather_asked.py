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
from tests.weather.server import Reply

EXPIRED = {"Expires": "Thu, 01 Jan 2015 00:00:00 GMT"}


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
    assert offline == asked | {"asked": ["Not asked while offline: Open-Meteo."]}


def test_offline_takes_answers_and_files_that_are_kept_and_names_the_rest_once(
    run: Run, book: Path, service: WeatherService, tmp_path: Path
) -> None:
    """A file on this machine has a new day; an address and the service are left alone. None of it is a failure."""
    file = tmp_path / "shed.csv"
    header = "date,tmin_c,tmax_c,rain_mm\n2031-05-12,6,19,0\n"
    file.write_text(header, encoding="utf-8")
    run(str(file), "--keep")
    service.script["/barn.csv"] = Reply(200, header.encode(), "text/csv", EXPIRED)
    run(service.url("/barn.csv"))
    before = len(service.seen)
    file.write_text(f"{header}2031-05-13,7,20,4.5\n", encoding="utf-8")
    ran = run("--offline")
    assert (ran.status, ran.err) == (0, "")
    assert "shed.csv: 2 days from 12 May 2031 to 13 May 2031" in ran.words
    assert ran.words.count("offline") == 1
    assert "Not asked while offline: Open-Meteo and barn.csv." in ran.words
    assert len(service.seen) == before
    assert pages_of(book).weather[-1].rain_mm == 4.5


def test_offline_a_book_that_lacks_what_was_kept_gets_it(
    run: Run, book: Path, service: WeatherService
) -> None:
    """The same garden's answers, kept for another copy of its book."""
    copy = book.read_bytes()
    run()
    book.write_bytes(copy)
    before = len(service.seen)
    ran = run("--offline")
    assert "Open-Meteo, as it said on 15 May at 06:30: 10 days analysed" in ran.words
    assert "Not asked while offline: Open-Meteo." in ran.words
    assert (ran.status, len(service.seen)) == (0, before)
    assert pages_of(book).forecasts


def test_a_service_that_fails_is_named_and_the_page_is_shown(
    run: Run, service: WeatherService
) -> None:
    service.fail(FORECAST)
    ran = run()
    assert (ran.status, ran.err) == (3, "")
    assert "Open-Meteo: has a fault of its own (status 408: made to fail)." in ran.words
    assert "What the book has stays" not in ran.words  # it has nothing
    assert "if SOAKBOOK_CONTACT named an address or a page of yours." in ran.words
    assert run("--ask", "none").status == 0


def test_what_came_from_one_is_enough(run: Run, service: WeatherService, tmp_path: Path) -> None:
    """A kept file that is read, beside a service that fails; then neither; then the service alone."""
    file = tmp_path / "shed.csv"
    file.write_text("date,rain_mm\n2031-05-12,0\n", encoding="utf-8")
    run(str(file), "--keep")
    service.fail(FORECAST)
    assert run().status == 0
    file.unlink()
    failed = run()
    assert failed.status == 3
    assert "shed.csv: not read again." in failed.words
    service.mend()
    assert run().status == 0


def test_an_older_answer_that_stands_in_is_nothing_new(run: Run, service: WeatherService) -> None:
    assert run().status == 0
    assert run().status == 0  # asks for a week, as on the days after
    service.fail(FORECAST, ENSEMBLE)
    ran = run()
    assert (ran.status, ran.err) == (3, "")
    assert "An older answer stands in." in ran.words
    assert "From where" in ran.words


@pytest.mark.parametrize("name", ["SOAKBOOK_OPEN_METEO", "SOAKBOOK_MET_NORWAY"])
@pytest.mark.parametrize("value", ["http://[x", "http:///v1", "weather.example", "ftp://a.org"])
def test_an_address_in_the_environment_that_cannot_be_is_refused(
    name: str, value: str, run: Run, service: WeatherService, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(name, value)
    monkeypatch.setenv("SOAKBOOK_CONTACT", CONTACT)
    ran = run()
    assert (ran.status, ran.out) == (2, "")
    assert f"{name}: {value!r} cannot be right; an address like https://" in ran.err
    assert service.seen == []


@pytest.mark.parametrize("value", ["http://[x", "http:///v1", "weather.example", "ftp://a.org"])
@pytest.mark.parametrize("words", ["--offline", "--ask none", "--ask second"])
def test_an_address_of_a_service_that_is_not_asked_need_not_be_right(
    words: str, value: str, run: Run, service: WeatherService, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOAKBOOK_OPEN_METEO", value)
    monkeypatch.setenv("SOAKBOOK_CONTACT", CONTACT)
    ran = run(*words.split())
    assert (ran.status, ran.err) == (0, "")
    assert "New Ground: weather" in ran.out


@pytest.mark.parametrize("address", ["http://[x", "http:///a.csv", "http://", "https://a b/c"])
def test_an_address_of_a_file_that_cannot_be_is_refused(address: str, run: Run) -> None:
    ran = run(address)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"soakbook: file: {address!r} cannot be right; a path, or an address")


def test_each_kind_of_weather_stands_by_itself(
    run: Run, service: WeatherService, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Analysed to the 14th, then nothing for three mornings but the forecast of the 15th; a gauge's file beside it."""
    run()
    file = tmp_path / "shed.csv"
    file.write_text("date,rain_mm\n2031-05-12,7.5\n2031-05-15,0\n", encoding="utf-8")
    service.fail(FORECAST, ENSEMBLE)
    monkeypatch.setattr(options, "now", lambda: NOW + timedelta(days=3))
    run(str(file), "--gaps")
    report = report_of(run("--offline", "--json"), "weather")
    kinds = [
        (one["source"], one["kind"], one["last"], one["age_days"]) for one in report["sources"]
    ]
    assert kinds == [
        ("Open-Meteo", "analysed", "2031-05-14", 4),
        ("shed.csv", "measured", "2031-05-15", 3),
    ]
    rain, air = "rain", "reference evaporation"
    assert [(one["variables"], one["first"], one["last"]) for one in report["as_forecast"]] == [
        ([air], "2031-05-15", "2031-05-15"),
        ([rain, air], "2031-05-16", "2031-05-17"),
    ]
    assert (report["filled"], report["missing"]) == ([], [])
    assert "since 14 May 2031, 4 days ago" in report["findings"][0]["say"]
    text = run("--offline").words
    assert "Open-Meteo, analysed: rain, lowest temperature" in text
    assert "As forecast, nothing better came" in text
    assert f"{rain}, {air}: 16 May 2031 to 17 May 2031, Open-Meteo, issued 15 May 06:30" in text


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
    assert "MET Norway, issued 15 May 06:13: to 24 May" in later
    assert "Data from MET Norway" in later
    assert "None yet" not in later


def test_heat_is_a_setting_that_stays(run: Run, book: Path) -> None:
    assert "Heat likely" in run().words
    assert "Heat here: days from 28 °C on." in run("--heat", "28c").words
    assert pages_of(book).garden.heat_c == 28.0
    assert "Heat here: days from 26.7 °C on." in run("--heat", "80f").words
    assert "Heat here: days from 32 °C on." in (cool := run("--heat", "32c").words)
    assert "Heat likely" not in cool


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--heat", "99c"), "heat: '99c' cannot be right; from 20 to 40 °C"),
        (("--heat", "warm"), "heat: 'warm' cannot be right"),
        (("--heat", ""), "heat is missing: write 27c or 80f"),
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
    assert (ran.status, ran.out) == (3, "")
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
