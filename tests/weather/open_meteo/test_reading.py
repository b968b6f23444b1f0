"""Open-Meteo asked on this machine and understood. Answers are made, of one sky (`made_answers`).

What may be wrong with them is in `tests/weather/reading_faults.py`.
"""

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import WeatherError
from soakbook.weather.hearing import Heard, Question
from soakbook.weather.open_meteo.asking import ENSEMBLE_MODEL, NAMES
from soakbook.weather.open_meteo.reading import (
    USUAL,
    read_archive,
    read_open_meteo,
    read_place,
)
from soakbook.weather.session import Answer, Outside, Request, Said
from tests.weather.faults import AGENT, NOW, no_proxies
from tests.weather.made_answers import GLOUCESTER, ensemble, forecast
from tests.weather.open_meteo.made import Made, body_of, recorded
from tests.weather.server import Reply, Server, reply_json

ET0 = "et0_fao_evapotranspiration"
FIRST_DAY, TODAY, LAST_DAY = date(2031, 5, 13), date(2031, 5, 15), date(2031, 5, 18)


@pytest.fixture
def server() -> Iterator[Server]:
    with no_proxies(), Server() as found:
        found.script["/forecast"] = reply_json(forecast(NOW))
        found.script["/ensemble"] = reply_json(ensemble(NOW))
        yield found


@pytest.fixture
def outside(tmp_path: Path) -> Iterator[Outside]:
    with Outside(tmp_path, AGENT, patience_s=5.0) as found:
        yield found


def urls(server: Server) -> dict[str, str]:
    return {what: server.url(f"/{what}") for what in USUAL}


def read(outside: Outside, server: Server, now: datetime = NOW, **more: Any) -> Heard:
    return read_open_meteo(outside, GLOUCESTER, now, urls=urls(server), **more)


def of_day(heard: Heard, day: date) -> dict[str, float]:
    return {value.variable: value.value for value in heard.values if value.day == day}


def test_days_over_and_days_to_come(outside: Outside, server: Server) -> None:
    """Whole days by the clock of the garden: the first of UTC is cut, and so is the hour behind the last."""
    heard = read(outside, server)
    assert heard.service == "Open-Meteo"
    assert sorted({value.day for value in heard.values}) == [FIRST_DAY, FIRST_DAY.replace(day=14)]
    assert {value.kind for value in heard.values} == {"analysed"}
    assert {value.issued_at for value in heard.values} == {None}
    assert {(one.day, one.kind, len(one.numbers)) for one in heard.rain_hours} == {
        (FIRST_DAY, "analysed", 24),
        (FIRST_DAY.replace(day=14), "analysed", 24),
    }
    assert of_day(heard, FIRST_DAY)["rain_mm"] == 2.4
    assert (of_day(heard, FIRST_DAY)["tmin_c"], of_day(heard, FIRST_DAY)["tmax_c"]) == (5.0, 15.0)
    assert heard.forecast is not None
    assert [day.day for day in heard.forecast.days] == [
        TODAY + timedelta(days=n) for n in range((LAST_DAY - TODAY).days + 1)
    ]
    assert {day.rain_mm for day in heard.forecast.days} == {2.4}
    assert heard.questions == (Question("forecast"), Question("ensemble"))


def test_a_forecast_is_as_old_as_its_answer(outside: Outside, server: Server) -> None:
    """The service names no hour of issue; an answer that is kept and read again is of the same moment."""
    first, again = read(outside, server), read(outside, server, NOW + timedelta(minutes=50))
    for heard in (first, again):
        assert heard.forecast is not None
        assert (heard.forecast.source, heard.forecast.issued_at) == ("Open-Meteo", NOW)
    assert again == first
    assert [seen.path for seen in server.seen] == ["/forecast", "/ensemble"]


def test_an_answer_kept_over_midnight_knows_no_more_of_its_day(
    outside: Outside, server: Server
) -> None:
    """Come at 23:40 of the 15th by the garden's clock and read at 00:20: the evening of the 15th is forecast still."""
    late = datetime(2031, 5, 15, 22, 40, tzinfo=UTC)
    before, after = read(outside, server, late), read(outside, server, late + timedelta(minutes=40))
    assert after.values == before.values
    assert max(value.day for value in after.values) < TODAY
    assert after.forecast is not None
    assert after.forecast.days[0].day == TODAY
    assert all(day.rain_members_mm for day in after.forecast.days)


def test_futures_stand_beside_the_plain_day(outside: Outside, server: Server) -> None:
    """Member m has m/10 mm in every hour; its evaporation, 2.4 mm a day, is brought to ours over theirs."""
    heard = read(outside, server)
    assert heard.forecast is not None
    theirs_by_label = forecast(NOW)["hourly"][ET0]
    for day in heard.forecast.days:
        assert day.rain_members_mm == pytest.approx([2.4 * member for member in range(51)])
        # the hours that end from 00:00 UTC to 23:00 UTC: 23:00 to 23:00, a day of British summer time
        first = 24 * (day.day - FIRST_DAY.replace(day=12)).days
        theirs = sum(theirs_by_label[first : first + 24])
        assert day.et0_mm is not None
        expected = 2.4 * min(max(day.et0_mm / theirs, 0.7), 1.2)
        assert day.et0_members_mm == pytest.approx([expected] * 51, abs=6e-4)
        assert expected != pytest.approx(2.4, abs=0.01)


def test_futures_without_evaporation_have_ours(outside: Outside, server: Server) -> None:
    body = ensemble(NOW, 3)
    for name in [one for one in body["hourly"] if one.startswith(ET0)]:
        body["hourly"][name] = [None] * len(body["hourly"]["time"])
    server.script["/ensemble"] = reply_json(body)
    heard = read(outside, server)
    assert heard.forecast is not None
    for day in heard.forecast.days:
        assert len(day.rain_members_mm) == 3
        assert day.et0_members_mm == (day.et0_mm,) * 3


def test_without_futures_the_forecast_stands(outside: Outside, server: Server) -> None:
    whole = read(outside, server)
    server.script["/ensemble"] = Reply(403)
    with_trouble = read_open_meteo(
        outside, GLOUCESTER._replace(elevation_m=43.0), NOW, urls=urls(server)
    )
    trouble = with_trouble.questions[1].trouble
    assert trouble is not None
    assert trouble.kind == "refused"
    assert with_trouble.questions[0].trouble is None
    assert whole.forecast is not None
    assert with_trouble.forecast is not None
    assert len(with_trouble.forecast.days) == len(whole.forecast.days)
    assert not any(day.rain_members_mm for day in with_trouble.forecast.days)


def test_without_a_forecast_nothing_is_asked_further(outside: Outside, server: Server) -> None:
    server.script["/forecast"] = reply_json({"error": True, "reason": "Invalid timezone"}, 400)
    with pytest.raises(WeatherError, match="Invalid timezone") as error:
        read(outside, server)
    assert error.value.kind == "refused"
    assert [seen.path for seen in server.seen] == ["/forecast"]


def test_what_is_asked(outside: Outside, server: Server) -> None:
    read(outside, server, past_days=92)
    forecast_asked, ensemble_asked = (dict(seen.params) for seen in server.seen)
    place = {"latitude": "51.88", "longitude": "-2.26", "elevation": "42"}
    how = {"timezone": "GMT", "wind_speed_unit": "ms", "forecast_days": "16"}
    assert forecast_asked == {**place, **how, "hourly": ",".join(NAMES), "past_days": "92"}
    assert ensemble_asked == {
        **place,
        **how,
        "hourly": f"precipitation,{ET0}",
        "past_days": "1",
        "models": ENSEMBLE_MODEL,
    }


def windy(body: Made) -> Made:
    """A server that gives km/h and says m/s."""
    body["hourly"]["wind_speed_10m"] = [3.6 * wind for wind in body["hourly"]["wind_speed_10m"]]
    return body


def test_their_evaporation_tells_of_a_slipped_unit(outside: Outside, server: Server) -> None:
    """Over the 22 whole days of a usual answer theirs, FAO-56 by the hour, is near ours; not if the wind is amiss."""
    usual = forecast(NOW, past=7, ahead=16)
    server.script["/forecast"] = reply_json(usual)
    heard = read(outside, server)
    assert len({value.day for value in heard.values}) == 6
    assert heard.forecast is not None
    assert len(heard.forecast.days) == 16
    assert [finding for finding in heard.findings if "unit" in finding] == []
    server.script["/forecast"] = reply_json(windy(usual))
    slipped = read(outside, server, past_days=8)
    (finding,) = [finding for finding in slipped.findings if "unit" in finding]
    assert "mm in 22 days, is far from ours" in finding


def archive_of(first: date, days: int) -> Made:
    """Hours of days long past."""
    noon = datetime(first.year, first.month, first.day, 12, tzinfo=UTC)
    return forecast(noon, past=0, ahead=days)


def test_days_long_past_are_analysed(outside: Outside, server: Server) -> None:
    """A day more at either end is asked for, because local days reach into it; here one of three is whole."""
    server.script["/archive"] = reply_json(archive_of(date(2030, 6, 9), 3))
    days = (date(2030, 6, 10), date(2030, 6, 10))
    heard = read_archive(outside, GLOUCESTER, days, NOW, urls=urls(server))
    assert {value.day.day for value in heard.values} == {10, 11}
    assert {(value.kind, value.source) for value in heard.values} == {("analysed", "Open-Meteo")}
    assert heard.forecast is None
    assert heard.questions == (Question("archive"),)
    asked = dict(server.seen[0].params)
    assert (asked["start_date"], asked["end_date"]) == ("2030-06-09", "2030-06-11")
    assert asked["hourly"] == ",".join(NAMES)


class Recorder:
    """Stands for the way out: answers from here, and keeps for how long each answer is to hold."""

    def __init__(self, **bodies: Made) -> None:
        self.bodies = bodies
        self.lifetimes_h: dict[str, float] = {}

    def get_json(
        self, request: Request, made_of: Callable[[Any], Said], now: datetime
    ) -> Answer[Said]:
        what = request.url.rpartition("/")[2]
        self.lifetimes_h[what] = request.lifetime_s / 3600
        return Answer(made_of(self.bodies[what]), now, False, None, 200, None)


def test_for_how_long_answers_hold() -> None:
    """An hour; six, as the futures are made; a day, or ten years for what is settled after ten days; a month."""
    recorder: Any = Recorder(
        forecast=forecast(NOW), ensemble=ensemble(NOW, 2), archive=archive_of(date(2031, 5, 3), 3)
    )
    read_open_meteo(recorder, GLOUCESTER, NOW)
    for day, hours in ((date(2031, 5, 5), 24), (date(2031, 5, 4), 10 * 365 * 24)):
        read_archive(recorder, GLOUCESTER, (day, day), NOW)
        assert recorder.lifetimes_h == {"forecast": 1, "ensemble": 6, "archive": hours}
    read_place(recorder, 51.88, -2.26, NOW)
    assert recorder.lifetimes_h["forecast"] == 30 * 24


@pytest.mark.parametrize(
    ("name", "change", "say"),
    [
        ("openmeteo_forecast_2026-10-03.json", {}, "times 7200 s off UTC"),
        ("openmeteo_archive_1953.json", {}, "times 7200 s off UTC"),
        ("openmeteo_forecast_2026-10-03.json", {"utc_offset_seconds": 0}, "in km/h, not in m/s"),
        ("openmeteo_archive_1953.json", {"utc_offset_seconds": 0}, "no column dew_point_2m"),
    ],
)
def test_recorded_answers_to_other_questions_are_refused(
    outside: Outside, server: Server, name: str, change: Made, say: str
) -> None:
    """Asked for in local time, without a unit of wind, without our columns: none is taken for an answer to ours."""
    server.script["/archive"] = reply_json(recorded(name) | change)
    day = date(1953, 1, 31)
    with pytest.raises(WeatherError, match=say) as error:
        read_archive(outside, GLOUCESTER, (day, day), NOW, urls=urls(server))
    assert error.value.kind == "rubbish"


def test_the_place_of_a_recorded_answer(outside: Outside, server: Server) -> None:
    server.script["/forecast"] = reply_json(recorded("openmeteo_forecast_2026-10-03.json"))
    found = read_place(outside, 52.28, 6.87, NOW, urls=urls(server))
    assert found == (29.0, "Europe/Amsterdam")


def test_an_archive_that_is_down_is_said(outside: Outside, server: Server) -> None:
    server.script["/archive"] = Reply(503)
    with pytest.raises(WeatherError) as error:
        read_archive(outside, GLOUCESTER, (FIRST_DAY, FIRST_DAY), NOW, urls=urls(server))
    assert error.value.kind == "down"


def test_height_and_clock_of_a_place(outside: Outside, server: Server) -> None:
    body = body_of(NOW, {"temperature_2m": [9.0]}, {"temperature_2m": "°C"})
    body |= {"elevation": 38.0, "timezone": "Europe/London", "utc_offset_seconds": 3600}
    server.script["/forecast"] = reply_json(body)
    found = read_place(outside, 51.876, -2.264, NOW, urls=urls(server))
    assert found == (38.0, "Europe/London")
    assert ZoneInfo(found[1]) == GLOUCESTER.zone
    assert dict(server.seen[0].params)["timezone"] == "auto"
    assert "elevation" not in dict(server.seen[0].params)


def test_a_place_that_the_service_does_not_know(outside: Outside, server: Server) -> None:
    server.script["/forecast"] = reply_json({"timezone": "GMT"})
    with pytest.raises(WeatherError, match="no height of the place") as error:
        read_place(outside, 51.88, -2.26, NOW, urls=urls(server))
    assert error.value.kind == "rubbish"


def test_the_services_own_addresses() -> None:
    assert set(USUAL) == {"forecast", "archive", "ensemble"}
    assert all(url.startswith("https://") and "open-meteo.com/v1/" in url for url in USUAL.values())
