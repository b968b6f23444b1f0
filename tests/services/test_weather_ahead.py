"""How dry it has been and what is likely, as `weather` shows it; the pages are made."""

from datetime import date, timedelta
from typing import Any

from soakbook.garden.pages import Pages
from soakbook.garden.weather import Forecast, WeatherDay, WeatherKind
from soakbook.services.weather_ahead import dry_and_ahead
from tests.reckoning.forecasts import foretold, in_members, issued, promising, wet_in
from tests.reckoning.gardens import PLANTED, at, pages, rain, weather

TODAY = date(2031, 5, 15)
YESTERDAY, TOMORROW = TODAY - timedelta(days=1), TODAY + timedelta(days=1)
NOW = at(TODAY, 8)
DAYS = weather(PLANTED, 14, et0_mm=2.0)


def book(*forecasts: Forecast, **fields: Any) -> Pages:
    return pages(**{"days": DAYS, "forecasts": forecasts} | fields)


def ahead(of: Pages, hour: int = 8) -> dict[str, Any]:
    return dry_and_ahead(of, TODAY, at(TODAY, hour))


def test_rain_of_yesterday_evening_fell_yesterday() -> None:
    """15.6 mm from 18:00 to 22:30, which the reckoning takes up today."""
    evening = rain(at(YESTERDAY, 22, 30), 15.6, at(YESTERDAY, 18))
    dry = ahead(book(entries=[evening]))["dry"]
    assert dry["useful_rain_on"] == YESTERDAY
    assert dry["say"][0] == "Useful rain fell yesterday."


def test_rain_since_midnight_fell_today_and_later_rain_is_not_known() -> None:
    night = rain(at(TODAY, 6), 6.0, at(TODAY, 1))
    assert ahead(book(entries=[night]))["dry"]["say"][0] == "Useful rain fell today."
    assert ahead(book(entries=[night]), hour=5)["dry"]["say"][0].startswith("No useful rain")


def test_a_dry_day_that_was_only_forecast_is_not_known_to_be_dry() -> None:
    """By rain's own source; ET0's says nothing of it."""
    whose: dict[str, tuple[str, WeatherKind, str]] = {
        "rain_mm": ("x", "forecast", ""),
        "et0_mm": ("x", "measured", ""),
    }
    foreseen = WeatherDay(YESTERDAY, 0.0, 4.0, 11, 21, 16, sources=whose)
    dry = ahead(book(days=(*DAYS[:-1], foreseen)))["dry"]
    assert dry["say"][0] == "Yesterday's rain is not known, so dry days are not counted."
    swapped = {"rain_mm": whose["et0_mm"], "et0_mm": whose["rain_mm"]}
    measured = foreseen._replace(sources=swapped)
    assert ahead(book(days=(*DAYS[:-1], measured)))["dry"]["dry_days"] == 14


def test_today_is_told_by_the_issue_before_where_the_newest_begins_tomorrow() -> None:
    older = promising(YESTERDAY, {}, hour=7, source="Open-Meteo")
    newest = issued(TODAY, *(foretold(TODAY + timedelta(days=n)) for n in range(1, 4)), hour=7)
    assert ahead(book(newest))["week"] == ""
    assert ahead(book(newest, older))["week"] == "To Wed 21 no useful rain likely."


def test_the_forecasts_line_says_which_issue_tells_of_which_day() -> None:
    older = promising(YESTERDAY, {}, hour=7, source="Open-Meteo")
    newest = issued(TODAY, *(foretold(TODAY + timedelta(days=n)) for n in range(1, 4)), hour=7)
    line = ahead(book(newest, older))["forecast"]
    assert line["say"] == (
        "a service, issued 15 May 07:00: to 18 May. "
        "15 May and 19 May to 21 May by Open-Meteo, issued 14 May 07:00, in 10 futures."
    )
    assert (line["source"], line["to"], line["futures"]) == ("a service", date(2031, 5, 21), 0)
    rest = foretold(TODAY, 12.0, et0_mm=None, from_hour=7)
    begun = ahead(book(newest._replace(begun=rest), older))["forecast"]
    assert begun["say"].startswith(
        "a service, issued 15 May 07:00: to 18 May, and today's rain from 07:00 on. 15 May and 19"
    )
    alone = ahead(book(older))["forecast"]
    assert alone["say"] == "Open-Meteo, issued 14 May 07:00: to 21 May, in 10 futures."


def test_what_is_over_of_today_is_not_likely_any_more() -> None:
    """12 mm in all futures at nine: likely at eight, over at ten."""
    hours = tuple(12.0 if hour == 9 else 0.0 for hour in range(24))
    told = issued(TODAY, in_members(TODAY, wet_in(10, 12.0), mean_by_hour_mm=hours), hour=7)
    assert ahead(book(told))["week"] == "Useful rain likely today."
    assert ahead(book(told), hour=10)["week"] == "Today no useful rain likely."


def test_heat_is_known_by_what_was_measured_and_told_by_every_issue() -> None:
    """Two hot days measured, which an older issue had cool; today and tomorrow by the issue that has them."""
    hot = [one._replace(tmax_c=30.0) for one in DAYS[-2:]]
    days = [TODAY + timedelta(days=n) for n in range(-2, 4)]
    older = issued(days[0], *(foretold(day, tmax_c=20.0) for day in days), hour=7)
    newest = issued(TODAY, foretold(TOMORROW, tmax_c=31.0), foretold(days[-2], tmax_c=31.0), hour=7)
    warm_today = older._replace(
        days=tuple(one._replace(tmax_c=29.0) if one.day == TODAY else one for one in older.days)
    )
    assert ahead(book(newest, warm_today, days=(*DAYS[:-2], *hot)))["heat"] != ""
    assert ahead(book(newest, older, days=DAYS))["heat"] == ""


def test_a_forecast_that_has_run_out_is_not_the_forecast() -> None:
    """Of several the one that went furthest is the last."""
    days = [TODAY - timedelta(days=n) for n in range(8, 0, -1)]
    far = issued(days[0], *(foretold(day) for day in days[:6]), hour=7, source="Open-Meteo")
    near = issued(days[1], *(foretold(day) for day in days[1:4]), hour=7)
    line = ahead(book(near, far))["forecast"]
    assert line["say"] == (
        "None reaches today. The last, by Open-Meteo, issued 7 May 07:00, went to 12 May."
    )
    assert line["to"] == date(2031, 5, 12)
    reaches = issued(days[0], *(foretold(day) for day in (*days, TODAY)), hour=7)
    assert ahead(book(reaches))["forecast"]["say"] == "a service, issued 7 May 07:00: to 15 May."
