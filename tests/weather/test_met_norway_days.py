"""MET Norway asked on this machine, and the days that come of it: the recorded answer, and made ones.

Single columns are in `test_met_norway`, what may be wrong with an answer in `reading_faults`.
"""

import json
from collections.abc import Callable, Iterator
from copy import deepcopy
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import WeatherError
from soakbook.garden.weather import ForecastDay
from soakbook.weather.hearing import Heard, Question, Spot
from soakbook.weather.met_norway import read_met_norway
from soakbook.weather.session import Outside
from tests.weather.faults import AGENT, NOW, no_proxies
from tests.weather.made_answers import GLOUCESTER, locationforecast
from tests.weather.server import Server, reply_json

RECORDED = Path(__file__).parent / "answers" / "metno_complete_london_2020-07-20.json"
LONDON = Spot(51.5, -0.1, 20.0, ZoneInfo("Europe/London"))
ASKED_AT = datetime(2020, 7, 20, 11, 20, tzinfo=UTC)

Body = dict[str, Any]
Ask = Callable[..., Heard]


@pytest.fixture
def recorded() -> Body:
    """The recorded body, without the status and headers it was kept with."""
    body: Body = json.loads(RECORDED.read_text(encoding="utf-8"))["data"]
    return body


@pytest.fixture
def ask(tmp_path: Path) -> Iterator[Ask]:
    """Ask a service that answers with a body, about a place that was not asked for before."""
    with no_proxies(), Server() as server, Outside(tmp_path, AGENT, patience_s=5.0) as outside:

        def asked(body: Body, now: datetime = ASKED_AT, spot: Spot = LONDON) -> Heard:
            server.script["/complete"] = reply_json(body)
            higher = spot._replace(elevation_m=spot.elevation_m + len(server.seen))
            heard = read_met_norway(outside, higher, now, base_url=server.url(""))
            assert dict(server.seen[-1].params) == {
                "lat": f"{spot.latitude_deg:.2f}",
                "lon": f"{spot.longitude_deg:.2f}",
                "altitude": f"{higher.elevation_m:.0f}",
            }
            return heard

        yield asked


def days_of(heard: Heard) -> dict[date, ForecastDay]:
    assert heard.forecast is not None
    return {day.day: day for day in heard.forecast.days}


def steps_of(body: Body) -> list[Body]:
    steps: list[Body] = body["properties"]["timeseries"]
    return steps


def test_the_recorded_answer_the_whole_way(recorded: Body, ask: Ask) -> None:
    """From the day after it was asked to the last whole one, by London's clock, an hour ahead of UTC.

    Read off the file: the 21st has an instant in each of its hours, from 2020-07-20T23:00Z on. Rain comes in six hours
    each, from 25T06Z on 0.2, 0.9, 0.0, 0.2, 0.5, 0.1 mm; from 28T00Z 0.1, 0.0, 0.0 and 0.2, the last hour of which is
    the 29th's.
    """
    heard = ask(recorded)
    assert (heard.values, heard.rain_hours) == ((), ())
    assert heard.questions == (Question("forecast"),)
    days = days_of(heard)
    assert list(days) == [date(2020, 7, day) for day in range(21, 29)]
    instants = [
        step["data"]["instant"]["details"]["air_temperature"]
        for step in steps_of(recorded)
        if "2020-07-20T23" <= step["time"] < "2020-07-21T23"
    ]
    assert len(instants) == 24
    first = days[date(2020, 7, 21)]
    assert (first.tmin_c, first.tmax_c) == (min(instants), max(instants))
    assert [days[date(2020, 7, day)].rain_mm for day in range(21, 29)] == pytest.approx(
        [0.0, 0.0, 0.0, 0.0, 0.2 + 0.9, 0.2 + 0.5 + 0.1, 0.0, 0.1 + 0.2 * 5 / 6], abs=0.006
    )
    # July in London; the sun is guessed from cloud
    assert all(day.et0_mm is not None and 2.0 < day.et0_mm < 6.5 for day in days.values())
    assert all(day.rain_members_mm == () for day in days.values())


def test_of_its_own_day_the_rest_is_told(recorded: Body, ask: Ask) -> None:
    """Read off the file: the first step is 2020-07-20T11Z, noon in London, and every hour to midnight is dry."""
    forecast = ask(recorded).forecast
    assert forecast is not None
    assert forecast.begun == ForecastDay(
        date(2020, 7, 20), 0.0, rain_by_hour_mm=(0.0,) * 24, from_hour=12
    )
    steps_of(recorded)[7]["data"]["next_1_hours"]["details"]["precipitation_amount"] = 1.5
    wetter = ask(recorded).forecast
    assert wetter is not None
    assert wetter.begun is not None
    assert wetter.begun.rain_by_hour_mm == (0.0,) * 19 + (1.5,) + (0.0,) * 4
    del steps_of(recorded)[7]["data"]["next_1_hours"]
    holed = ask(recorded).forecast
    assert holed is not None
    assert holed.begun is None


def test_a_forecast_is_as_old_as_it_says_or_else_as_its_answer(recorded: Body, ask: Ask) -> None:
    told, untold = deepcopy(recorded), recorded
    del untold["properties"]["meta"]["updated_at"]
    issued = [heard.forecast.issued_at for body in (told, untold) if (heard := ask(body)).forecast]
    assert issued == [datetime(2020, 7, 20, 1, 30, 57, tzinfo=UTC), ASKED_AT]


def test_no_day_of_it_is_ever_over(recorded: Body, ask: Ask) -> None:
    """Read five days late, as an older answer that stands in is: its days stay forecast."""
    heard = ask(recorded, ASKED_AT + timedelta(days=5))
    assert heard.values == ()
    assert min(days_of(heard)) == date(2020, 7, 21)


def test_six_hours_of_rain_fall_evenly(ask: Ask) -> None:
    """6 mm in the six hours from 17T18Z on, 19:00 to 01:00 by the garden's clock; else 0.1 mm an hour."""
    body = locationforecast(NOW)
    (wet,) = [step for step in steps_of(body) if step["time"] == "2031-05-17T18:00:00Z"]
    wet["data"]["next_6_hours"]["details"]["precipitation_amount"] = 6.0
    days = days_of(ask(body, NOW, GLOUCESTER))
    assert days[date(2031, 5, 17)].rain_by_hour_mm == (0.1,) * 19 + (1.0,) * 5
    assert days[date(2031, 5, 17)].rain_mm == 6.9
    assert days[date(2031, 5, 18)].rain_by_hour_mm == (1.0,) + (0.1,) * 23
    assert days[date(2031, 5, 18)].rain_mm == 3.3


def test_highest_and_lowest_between_the_instants_count(ask: Ask) -> None:
    """Six hours whose extremes lie beyond their instants."""
    body = locationforecast(NOW)
    (warm,) = [step for step in steps_of(body) if step["time"] == "2031-05-18T12:00:00Z"]
    warm["data"]["next_6_hours"]["details"] |= {"air_temperature_max": 21.5}
    days = days_of(ask(body, NOW, GLOUCESTER))
    assert [days[date(2031, 5, day)].tmax_c for day in (17, 18, 19)] == [15.0, 21.5, 15.0]


def test_the_sun_is_guessed_from_cloud(recorded: Body, ask: Ask) -> None:
    """The same days under a clear and under an overcast sky: the air asks for far less under the second."""
    sums = []
    for cloud_percent in (0.0, 100.0):
        for step in steps_of(recorded):
            step["data"]["instant"]["details"]["cloud_area_fraction"] = cloud_percent
        sums.append(sum(day.et0_mm or 0.0 for day in days_of(ask(recorded)).values()))
    assert sums[1] < 0.85 * sums[0]


def test_what_is_no_forecast_is_refused(ask: Ask) -> None:
    with pytest.raises(WeatherError, match=r"^MET Norway: .*no forecast") as error:
        ask({})
    assert error.value.kind == "rubbish"
