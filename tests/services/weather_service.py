"""A made weather service on this machine: both services in their documented shape, for any place and day.

Nothing here was ever measured or forecast. `MadeWeather` says what the weather is; `WeatherService` answers out of it
whatever is asked, as of its own `now`, and badly where its `script` says so. Its answers outlive nothing, so that each
asking of a test reaches it, whatever the clock on the wall says; they do stand in for it once it fails.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, date, datetime, time, timedelta
from email.utils import format_datetime
from math import cos, pi, radians, sin
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.services import setup
from soakbook.services.weather_asking import Places, places_of
from soakbook.services.weather_told import Refreshed
from soakbook.store.book import open_book
from soakbook.store.weather_asked import Asked, last_asked
from soakbook.weather.open_meteo.asking import ENSEMBLE_MODEL, UNITS
from tests.services.looking import NOW
from tests.weather.faults import no_proxies
from tests.weather.server import Reply, Seen, Server, reply_json

FORECAST, ARCHIVE, ENSEMBLE = "/v1/forecast", "/v1/archive", "/v1/ensemble"
SECOND = "/second/complete"
CONTACT = "garden@example.org"

HOUR, A_DAY = timedelta(hours=1), timedelta(days=1)
HOURLY_STEPS, SIX_HOUR_STEPS = 55, 30
"""Of the second service: as recorded in London in July 2020."""

LONDON = ZoneInfo("Europe/London")
Rain = Mapping[date, list[tuple[int, float]]]
Body = dict[str, Any]


class MadeWeather(NamedTuple):
    """Every day alike but for what is said here. `rain` is a day's hours, on the garden's clock, and their mm."""

    rain: Rain = MappingProxyType({})
    tmax_c: Mapping[date, float] = MappingProxyType({})
    usual_tmax_c: float = 20.0
    members: int = 5
    """Futures, the control among them: they have from none to twice the rain of the control."""
    latitude_deg: float = 52.3
    zone: ZoneInfo = LONDON

    def rain_mm(self, begins: datetime) -> float:
        """Rain of the hour that begins then."""
        local = begins.astimezone(self.zone)
        return sum(mm for hour, mm in self.rain.get(local.date(), ()) if hour == local.hour)

    def temperature_c(self, at: datetime) -> float:
        """Warmest at 15:00, twelve degrees colder at 03:00."""
        tmax_c = self.tmax_c.get(at.astimezone(self.zone).date(), self.usual_tmax_c)
        return round(tmax_c - 6 * (1 - cos((at.hour - 15) / 12 * pi)), 1)

    def radiation_w_m2(self, at: datetime) -> float:
        """700 W/m² under a sun overhead, in proportion to the sine of its height."""
        tilt = radians(-23.44) * cos(2 * pi * (at.timetuple().tm_yday + 10) / 365)
        north = radians(self.latitude_deg)
        height = sin(north) * sin(tilt) + cos(north) * cos(tilt) * cos((at.hour - 12) / 12 * pi)
        return round(700 * max(0.0, height), 1)

    def share(self, member: int) -> float:
        """How much of the control's rain a future has."""
        return 1.0 if member == 0 else 2 * (member - 1) / max(1, self.members - 2)


def hourly_body(sky: MadeWeather, first: datetime, hours: int, names: str) -> Body:
    """An answer of service one with these columns; sums are labelled with the end of their hour."""
    labels = [first + n * HOUR for n in range(hours)]
    of: dict[str, Callable[[datetime], float]] = {
        "temperature_2m": sky.temperature_c,
        "dew_point_2m": lambda at: (
            min(sky.temperature_c(at.replace(hour=3)), sky.temperature_c(at)) - 1
        ),
        "wind_speed_10m": lambda at: 2.0 + 1.5 * sin(pi * at.hour / 24),
        "cloud_cover": lambda _: 40.0,
        "shortwave_radiation": lambda at: sky.radiation_w_m2(at - HOUR / 2),
        "precipitation": lambda at: sky.rain_mm(at - HOUR),
        "et0_fao_evapotranspiration": lambda at: 0.00075 * sky.radiation_w_m2(at - HOUR / 2),
    }
    columns = {name: [round(of[name](at), 3) for at in labels] for name in names.split(",")}
    return _body(labels, columns, {name: UNITS[name] for name in columns})


def ensemble_body(sky: MadeWeather, first: datetime, hours: int, names: str) -> Body:
    """The same in every future, the control under the plain names."""
    plain = hourly_body(sky, first, hours, names)
    columns, units = {}, {}
    for name in names.split(","):
        for member in range(sky.members):
            column = f"{name}_member{member:02}" if member else name
            share = sky.share(member) if name == "precipitation" else 1.0
            columns[column] = [round(share * value, 3) for value in plain["hourly"][name]]
            units[column] = UNITS[name]
    labels = [first + n * HOUR for n in range(hours)]
    return _body(labels, columns, units) | {"model": ENSEMBLE_MODEL}


def second_body(sky: MadeWeather, now: datetime) -> Body:
    """An answer of service two: from this hour on by the hour, then each six, nothing of what is past."""
    begins = now.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
    steps = []
    for _ in range(HOURLY_STEPS):
        steps.append(_step(sky, begins, 1))
        begins += HOUR
    while begins.hour % 6:
        steps.append(_step(sky, begins, 1))
        begins += HOUR
    for _ in range(SIX_HOUR_STEPS):
        steps.append(_step(sky, begins, 6))
        begins += 6 * HOUR
    steps.append(_step(sky, begins, 0))
    units = {
        "air_temperature": "celsius",
        "air_temperature_min": "celsius",
        "air_temperature_max": "celsius",
        "cloud_area_fraction": "%",
        "dew_point_temperature": "celsius",
        "precipitation_amount": "mm",
        "wind_speed": "m/s",
    }
    meta = {"updated_at": f"{now.astimezone(UTC) - 17 * timedelta(minutes=1):%Y-%m-%dT%H:%M:%SZ}"}
    return {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": [-0.4, 52.3, 62]},
        "properties": {"meta": meta | {"units": units}, "timeseries": steps},
    }


class WeatherService(Server):
    """Both services at one address. `script` says which path answers badly; all else is answered out of `sky`."""

    def __init__(self, now: datetime, sky: MadeWeather) -> None:
        super().__init__()
        self.now, self.sky = now, sky

    def told(self, seen: Seen) -> Reply:
        """What to answer now, the question noted."""
        scripted = super().told(seen)  # notes it
        if seen.path in self.script:
            return scripted
        found = self._body(seen.path, dict(seen.params))
        expires = format_datetime(datetime.now(UTC) - HOUR, usegmt=True)
        return reply_json(found, expires=expires) if found else Reply(404, b"{}")

    def _body(self, path: str, params: dict[str, str]) -> Body | None:
        if path in (FORECAST, ENSEMBLE):
            body_of = hourly_body if path == FORECAST else ensemble_body
            behind, ahead = (int(params.get(f"{word}_days", 0)) for word in ("past", "forecast"))
            today = self.now.astimezone(UTC).date()
            first = datetime.combine(today - behind * A_DAY, time(0), UTC)
            return body_of(self.sky, first, 24 * (behind + ahead), params["hourly"])
        if path == ARCHIVE:
            first, last = (
                datetime.combine(date.fromisoformat(params[f"{word}_date"]), time(0), UTC)
                for word in ("start", "end")
            )
            hours = 24 * ((last - first).days + 1)
            return hourly_body(self.sky, first, hours, params["hourly"])
        if path == SECOND:
            return second_body(self.sky, self.now)
        return None

    def places(self, contact: str = "") -> Places:
        """Both services here, asked by somebody or by nobody in particular."""
        return places_of(self.environment() | {"SOAKBOOK_CONTACT": contact})

    def environment(self) -> dict[str, str]:
        """The environment in which both services are here."""
        second = self.url(SECOND.rpartition("/")[0])
        return {"SOAKBOOK_OPEN_METEO": self.url(""), "SOAKBOOK_MET_NORWAY": second}

    def asked(self, path: str) -> list[dict[str, str]]:
        """What was asked there, in turn."""
        return [dict(one.params) for one in self.seen if one.path == path]

    def fail(self, *paths: str) -> None:
        """From now on these have a fault of their own, of a kind that is not tried again at once."""
        for path in paths:
            self.script[path] = reply_json({"error": True, "reason": "made to fail"}, 408)

    def mend(self) -> None:
        """From now on everything is answered."""
        self.script.clear()


TODAY = NOW.date()
WET = TODAY - timedelta(days=3)
SKY = MadeWeather(rain={WET: [(20, 6.0), (21, 3.0)]}, usual_tmax_c=24.0)
"""A warm week with one wet evening, of a garden looked at on `NOW`."""

Ask = Callable[..., Refreshed]


@contextmanager
def weather_service(now: datetime = NOW, sky: MadeWeather = SKY) -> Iterator[WeatherService]:
    """A made service that answers until it is left, asked without a proxy."""
    with no_proxies(), WeatherService(now, sky) as service:
        yield service


def planted(path: Path, on: str, now: datetime = NOW) -> None:
    """Give a book one bed of clematis."""
    setup.bed(path, "wall", now=now, name="Wall", area="6m2", soil="sandy loam")
    setup.plant(path, "wall", "clematis", "5", now=now, pot="3l", on=on)


def said_of(path: Path, service: str) -> dict[str, Asked]:
    """What came of asking a service last, by what it was asked for."""
    with open_book(path, read_only=True) as found:
        return {what: one for (whom, what), one in last_asked(found).items() if whom == service}


def days(first: date, count: int) -> list[date]:
    """Days running."""
    return [first + timedelta(days=n) for n in range(count)]


def _body(labels: list[datetime], columns: dict[str, list[float]], units: dict[str, str]) -> Body:
    return {
        "latitude": 52.3,
        "longitude": -0.4,
        "generationtime_ms": 0.91,
        "utc_offset_seconds": 0,
        "timezone": "GMT",
        "timezone_abbreviation": "GMT",
        "elevation": 62.0,
        "hourly_units": {"time": "iso8601", **units},
        "hourly": {"time": [f"{at:%Y-%m-%dT%H:%M}" for at in labels], **columns},
    }


def _step(sky: MadeWeather, begins: datetime, lasts_h: int) -> Body:
    """One step of service two and what follows it; the last says nothing of what follows."""
    hours = [begins + n * HOUR for n in range(6)]
    warmth = [sky.temperature_c(at) for at in hours]
    data: Body = {
        "instant": {
            "details": {
                "air_temperature": warmth[0],
                "cloud_area_fraction": 40.0,
                "dew_point_temperature": sky.temperature_c(begins.replace(hour=3)) - 1.0,
                "wind_speed": 3.0,
            }
        }
    }
    if lasts_h == 1:
        data["next_1_hours"] = {"details": {"precipitation_amount": sky.rain_mm(begins)}}
    if lasts_h:
        data["next_6_hours"] = {
            "details": {
                "air_temperature_min": min(warmth),
                "air_temperature_max": max(warmth),
                "precipitation_amount": round(sum(map(sky.rain_mm, hours)), 3),
            }
        }
    return {"time": f"{begins:%Y-%m-%dT%H:%M:%SZ}", "data": data}
