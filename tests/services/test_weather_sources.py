"""Kinds of weather in the report: measured, analysed, only forecast, filled, each by itself."""

from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.garden.weather import Forecast, ForecastDay, WeatherKind, WeatherValue
from soakbook.services.books import where
from soakbook.services.entries import rain
from soakbook.services.weather_report import promises_report, weather_report
from soakbook.store.book import open_book
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.weather_rows import add_weather
from soakbook.weather import gaps, hours
from tests.services.looking import NOW, at
from tests.services.weather_service import planted

RAIN, AIR = "rain", "reference evaporation"


def add(
    path: Path,
    days: dict[int, tuple[str, float]],
    source: str = "Open-Meteo",
    kind: WeatherKind = "analysed",
    method: str = "",
    issued_at: datetime | None = None,
) -> None:
    """Values of days of May: day of the month -> one variable and its value."""
    values = [
        WeatherValue(date(2031, 5, day), name, value, source, kind, NOW, issued_at, method)
        for day, (name, value) in days.items()
    ]
    with open_book(path) as book:
        add_weather(book, values)


def known(path: Path, *days: int, **how: Any) -> None:
    """Rain and evaporation of these days of May."""
    for variable in ("rain_mm", "et0_mm"):
        add(path, dict.fromkeys(days, (variable, 3.0)), **how)


def forecast(path: Path, source: str, issued_at: datetime, *days: int) -> None:
    """What was said of these days of May."""
    told = tuple(ForecastDay(date(2031, 5, day), rain_mm=1.0, et0_mm=3.0) for day in days)
    with open_book(path) as book:
        add_forecasts(book, [Forecast(source, issued_at, told)], fetched_at=issued_at)


def lines(report: dict[str, Any]) -> list[tuple[str, str, list[str]]]:
    """Days known as forecast alone: from and to, whose, and what."""
    return [
        (f"{one['first'][8:]}-{one['last'][8:]}", one["say"], one["variables"])
        for one in report["as_forecast"]
    ]


def test_each_kind_of_a_source_has_its_days_and_its_age(new_book: Path) -> None:
    known(new_book, 10, 11, 12)
    known(new_book, 12, 13, source="Open-Meteo", kind="measured")
    report = weather_report(new_book, now=NOW)
    assert [
        (one["kind"], one["first"][8:], one["last"][8:], one["days"], one["age_days"])
        for one in report["sources"]
    ] == [("measured", "12", "13", 2, 2), ("analysed", "10", "11", 2, 4)]
    assert {one["source"] for one in report["sources"]} == {"Open-Meteo"}
    assert all(one["variables"] == [RAIN] for one in report["sources"])


def test_days_that_only_a_forecast_tells_are_listed_by_the_newest_that_does(new_book: Path) -> None:
    """Known to the 10th; a forecast of the 11th, one of the 13th that begins on the 14th, as the second's do."""
    planted(new_book, "9may")
    known(new_book, 9, 10)
    forecast(new_book, "Open-Meteo", at(5, 11, 6, 30), 11, 12, 13, 14, 15)
    forecast(new_book, "MET Norway", at(5, 13, 6, 13), 14, 15, 16)
    report = weather_report(new_book, now=NOW)
    assert (report["first"], report["last"], report["days"]) == ("2031-05-09", "2031-05-10", 2)
    assert lines(report) == [
        ("11-13", "Open-Meteo, issued 11 May 06:30", [RAIN, AIR]),
        ("14-14", "MET Norway, issued 13 May 06:13", [RAIN, AIR]),
    ]
    assert report["missing"] == []
    assert report["findings"] == [
        {
            "kind": "weather_old",
            "bed": None,
            "say": "The book has seen no weather since 10 May 2031, 5 days ago.",
        }
    ]


def test_what_an_older_book_kept_of_a_forecast_is_no_better(new_book: Path) -> None:
    known(new_book, 9, 10)
    known(
        new_book,
        11,
        12,
        source="MET Norway",
        kind="forecast",
        method="as forecast; nothing better came",
        issued_at=at(5, 10, 6, 13),
    )
    report = weather_report(new_book, now=NOW)
    assert lines(report) == [("11-12", "MET Norway, issued 10 May 06:13", [RAIN, AIR])]
    assert [one["source"] for one in report["sources"]] == ["Open-Meteo"]
    assert (report["filled"], report["last"]) == ([], "2031-05-10")
    assert "since 10 May" in report["findings"][0]["say"]


def test_a_gauge_covers_the_rain_and_not_the_air(new_book: Path) -> None:
    known(new_book, 12, 13)
    forecast(new_book, "Open-Meteo", at(5, 14, 5), 14, 15)
    rain(new_book, "4mm", from_="13may 23:00", to="now", now=NOW)
    assert lines(weather_report(new_book, now=NOW)) == [
        ("14-14", "Open-Meteo, issued 14 May 05:00", [AIR])
    ]


def test_what_nobody_tells_is_missing(new_book: Path) -> None:
    known(new_book, 9, 13)
    forecast(new_book, "Open-Meteo", at(5, 12, 5), 12, 13)
    report = weather_report(new_book, now=NOW)
    assert [(one["first"][8:], one["last"][8:], one["days"]) for one in report["missing"]] == [
        ("10", "14", 3)
    ] * 2
    assert lines(report) == [("12-12", "Open-Meteo, issued 12 May 05:00", [RAIN, AIR])]


@pytest.mark.parametrize(
    ("kind", "method"),
    [
        ("filled", gaps.FILLED),
        ("analysed", f"mean of the day's hours; {hours.FILLED}"),
    ],
)
def test_filled_is_what_nobody_measured(new_book: Path, kind: WeatherKind, method: str) -> None:
    known(new_book, 12, 14)
    add(new_book, {13: ("tmin_c", 6.0)}, kind=kind, method=method)
    report = weather_report(new_book, now=NOW)
    assert [(one["variable"], one["method"]) for one in report["filled"]] == [
        ("lowest temperature", method)
    ]
    assert report["read"] == []


def test_days_running_of_one_service_are_one_line_whatever_issue_tells_of_them(
    new_book: Path,
) -> None:
    """As of the second service, each of whose issues begins on the morrow; none was asked for on the 11th."""
    planted(new_book, "8may")
    known(new_book, 8)
    for day in (8, 9, 11, 12, 13):
        forecast(new_book, "MET Norway", at(5, day, 6, 13), day + 1)
    report = weather_report(new_book, now=NOW)
    assert lines(report) == [
        ("09-10", "MET Norway, issued 8 May 06:13 to 9 May 06:13", [RAIN, AIR]),
        ("12-14", "MET Norway, issued 11 May 06:13 to 13 May 06:13", [RAIN, AIR]),
    ]
    assert [one["days"] for one in report["as_forecast"]] == [2, 3]
    assert report["as_forecast"][1]["issued_at"].startswith("2031-05-13T06:13")


def test_days_that_no_forecast_reached_are_not_known_to_yesterday(new_book: Path) -> None:
    known(new_book, 9)
    forecast(new_book, "Open-Meteo", at(5, 10, 5), 10, 11)
    report = weather_report(new_book, now=NOW)
    assert report["forecast"]["say"] == (
        "None reaches today. The last, by Open-Meteo, issued 10 May 05:00, went to 11 May."
    )
    assert report["missing"] == [
        {"variable": of, "days": 3, "first": "2031-05-12", "last": "2031-05-14"}
        for of in (RAIN, AIR)
    ]


def test_the_specimens_page_knows_what_its_morning_knew() -> None:
    """Its book goes on to October; the gauge was read on the evening before and on the 11th of August."""
    report = weather_report(where(None, specimen=True), now=NOW, specimen=True)
    assert (report["last"], report["days"]) == ("2031-05-14", 226)
    spans = {one["source"]: (one["first"], one["last"]) for one in report["sources"]}
    assert spans == {
        "weather.csv": ("2030-10-01", "2031-05-14"),
        "rain gauge": ("2031-05-14", "2031-05-14"),
    }
    assert {one["last"] for one in report["read"]} == {"2031-05-14"}
    assert report["dry"]["say"][0] == "Useful rain fell yesterday."
    promises = promises_report(where(None, specimen=True), now=NOW, specimen=True)
    assert [lead["made"] for lead in promises["services"][0]["leads"]] == [8, 13, 20]
