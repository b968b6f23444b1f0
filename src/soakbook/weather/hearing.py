"""What was heard of a weather service when it was asked: what goes into the book, and what went wrong.

Each service's own file puts the questions and reads the answers; this is the shape in which all of them tell it.
"""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, datetime
from math import fsum
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.errors import WeatherError
from soakbook.garden.weather import Forecast, ForecastDay, WeatherSeries, WeatherValue
from soakbook.weather.answers import Told
from soakbook.weather.hours import BegunDay
from soakbook.weather.keeping import DECIMALS, HOUR_DECIMALS
from soakbook.weather.reference_et import Site


class Spot(NamedTuple):
    """The garden as a service needs to know it."""

    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    zone: ZoneInfo

    @property
    def site(self) -> Site:
        """The same for the sums of reference evaporation."""
        return Site(self.latitude_deg, self.elevation_m, longitude_deg=self.longitude_deg)


class Question(NamedTuple):
    """One thing that was asked for, and what went wrong if anything did."""

    what: str
    trouble: WeatherError | None = None


class Heard(NamedTuple):
    """Days that are over, a forecast of those that come, and how each question fared."""

    service: str
    values: tuple[WeatherValue, ...]
    rain_hours: tuple[WeatherSeries, ...]
    forecast: Forecast | None
    questions: tuple[Question, ...]
    findings: tuple[str, ...] = ()


def heard_of(
    service: str,
    told: Told,
    *,
    members: Iterable[WeatherSeries] = (),
    issued_at: datetime,
    questions: tuple[Question, ...],
    begun: BegunDay | None = None,
) -> Heard:
    """What a service told in days, parted into what is over and what is to come.

    `begun` is the day of which only the rest is told.
    """
    over = [value for value in told.values if value.kind != "forecast"]
    behind = [one for one in told.series if one.kind != "forecast"]
    return Heard(
        service,
        tuple(over),
        tuple(behind),
        _forecast(service, told, members, issued_at, begun),
        questions,
        told.findings,
    )


_PLAIN = frozenset(("rain_mm", "et0_mm", "tmin_c", "tmax_c", "tmean_c"))


def _forecast(
    service: str,
    told: Told,
    members: Iterable[WeatherSeries],
    issued_at: datetime,
    begun: BegunDay | None,
) -> Forecast | None:
    days: defaultdict[date, dict[str, Any]] = defaultdict(dict)
    for value in told.values:
        if value.kind == "forecast" and value.variable in _PLAIN:
            days[value.day][value.variable] = value.value
    lists: defaultdict[date, dict[str, Any]] = defaultdict(dict)
    for one in told.series:
        if one.kind == "forecast":
            lists[one.day]["rain_by_hour_mm"] = one.numbers
    for one in members:
        name = (
            one.variable.replace("_mm", "_members_mm") if one.of == "members" else "mean_by_hour_mm"
        )
        lists[one.day][name] = one.numbers
    found = [
        ForecastDay(day, **days[day], **_with_both(lists.get(day, {}))) for day in sorted(days)
    ]
    rest = begun and _rest(begun)
    return Forecast(service, issued_at, tuple(found), rest) if found else None


def _rest(begun: BegunDay) -> ForecastDay:
    by_hour_mm = tuple(round(mm, HOUR_DECIMALS) for mm in begun.rain_by_hour_mm)
    rain_mm = round(fsum(begun.rain_by_hour_mm), DECIMALS["rain_mm"])
    return ForecastDay(begun.day, rain_mm, rain_by_hour_mm=by_hour_mm, from_hour=begun.from_hour)


def _with_both(lists: dict[str, Any]) -> dict[str, Any]:
    """The lists of a day; members' rain without their evaporation, or the other way about, is no future."""
    both = {"rain_members_mm", "et0_members_mm"}
    if both <= set(lists):
        return lists
    return {name: numbers for name, numbers in lists.items() if name not in both}
