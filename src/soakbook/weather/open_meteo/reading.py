"""Open-Meteo asked and understood: the days behind and ahead, and the futures of its ensemble."""

from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from soakbook.errors import WeatherError
from soakbook.garden.weather import WeatherSeries
from soakbook.weather.hearing import Heard, Question, Spot, heard_of
from soakbook.weather.open_meteo import asking

if TYPE_CHECKING:
    from soakbook.weather.hour_rows import Rows
    from soakbook.weather.session import Answer, Outside

USUAL = {
    "forecast": asking.FORECAST_URL,
    "archive": asking.ARCHIVE_URL,
    "ensemble": asking.ENSEMBLE_URL,
}
"""What is asked for -> where."""

LEAST_PAST_DAYS = 7
ARCHIVE_BEHIND_DAYS = 92
"""The forecast's own past reaches so far back; what is older comes from the archive."""

_Said = TypeVar("_Said")


def read_open_meteo(
    outside: "Outside",
    spot: Spot,
    now: datetime,
    *,
    past_days: int = LEAST_PAST_DAYS,
    urls: Mapping[str, str] = USUAL,
    waits: WeatherError | None = None,
) -> Heard:
    """The last days as analysed and the next sixteen as forecast, with the ensemble's futures.

    Parameters
    ----------
    outside : Outside
        The way out.
    spot : Spot
        Where.
    now : datetime
        Zone-aware.
    past_days : int
        How far back [1-92].
    urls : mapping
        Where each thing is asked for.
    waits : WeatherError, optional
        That the ensemble is not to be asked yet: what is kept of it stands in.

    Raises
    ------
    WeatherError
        No forecast came. Where only the ensemble fails, the forecast stands without futures.
    """
    from soakbook.weather.hours import days_of
    from soakbook.weather.keeping import told_of

    place = (spot.latitude_deg, spot.longitude_deg, spot.elevation_m)
    url, params = asking.forecast_request(*place, past_days=past_days, base_url=urls["forecast"])
    answer = _ask(outside, url, params, asking.FORECAST_LIFETIME_S, _rows_of, now)
    found = days_of(answer.said, spot.zone, spot.site)
    # Days of an older answer that have gone by since were never more than forecast.
    today = min(now, answer.fetched_at).astimezone(spot.zone).date()
    told = told_of(
        found,
        spot.site,
        today=today,
        source=asking.SERVICE,
        fetched_at=answer.fetched_at,
        issued_at=answer.fetched_at,
    )
    ours = {one.day: one.value for one in told.values if one.variable == "et0_mm"}
    theirs = {one.day: one.own_et0_mm for one in found.days if one.own_et0_mm is not None}
    if waits is not None:
        outside.wait(waits)
    ensemble = _ensemble(outside, spot, now, answer.fetched_at, (ours, theirs), urls)
    return heard_of(
        asking.SERVICE,
        told._replace(findings=(*told.findings, *ensemble.findings)),
        members=ensemble.series,
        issued_at=answer.fetched_at,
        questions=(Question("forecast", answer.trouble), Question("ensemble", ensemble.trouble)),
    )


def read_archive(
    outside: "Outside",
    spot: Spot,
    days: tuple[date, date],
    now: datetime,
    *,
    urls: Mapping[str, str] = USUAL,
) -> Heard:
    """Days long past, as analysed.

    Raises
    ------
    WeatherError
        Nothing came.
    """
    from soakbook.weather.hours import days_of
    from soakbook.weather.keeping import told_of

    place = (spot.latitude_deg, spot.longitude_deg, spot.elevation_m)
    today = now.astimezone(spot.zone).date()
    url, params = asking.archive_request(*place, days, base_url=urls["archive"])
    lifetime_s = asking.archive_lifetime_s(days[1], today)
    answer = _ask(outside, url, params, lifetime_s, _rows_of, now)
    found = days_of(answer.said, spot.zone, spot.site)
    told = told_of(
        found,
        spot.site,
        today=today,
        source=asking.SERVICE,
        fetched_at=answer.fetched_at,
        issued_at=answer.fetched_at,
    )
    return heard_of(
        asking.SERVICE,
        told,
        issued_at=answer.fetched_at,
        questions=(Question("archive", answer.trouble),),
    )


def read_place(
    outside: "Outside",
    latitude_deg: float,
    longitude_deg: float,
    now: datetime,
    *,
    urls: Mapping[str, str] = USUAL,
) -> tuple[float, str]:
    """Height in metres and time zone of a place, as the service knows them.

    Raises
    ------
    WeatherError
        Nothing came.
    """
    from soakbook.weather.open_meteo.hourly import place_of

    url, params = asking.place_request(latitude_deg, longitude_deg, base_url=urls["forecast"])
    lifetime_s = int(timedelta(days=30).total_seconds())
    return _ask(outside, url, params, lifetime_s, place_of, now).said


def _rows_of(body: Any) -> "Rows":
    """Also held to what only the hours together show: before the answer is kept, or it would push out a good one."""
    from soakbook.weather.hour_rows import sound_rows
    from soakbook.weather.open_meteo.hourly import hour_table

    return sound_rows(hour_table(body), asking.SERVICE)


class _Ensemble(NamedTuple):
    """The futures of the days, what went wrong with them, and what was found."""

    series: tuple[WeatherSeries, ...] = ()
    trouble: WeatherError | None = None
    findings: tuple[str, ...] = ()


def _ensemble(
    outside: "Outside",
    spot: Spot,
    now: datetime,
    issued_at: datetime,
    et0_mm: tuple[Mapping[date, float], Mapping[date, float]],
    urls: Mapping[str, str],
) -> _Ensemble:
    from soakbook.weather.open_meteo.members import (
        Issue,
        futures_of,
        mean_hours,
        members,
        scaled_members,
    )

    place = (spot.latitude_deg, spot.longitude_deg, spot.elevation_m)
    url, params = asking.ensemble_request(*place, base_url=urls["ensemble"])
    try:
        answer = _ask(outside, url, params, asking.ENSEMBLE_LIFETIME_S, futures_of, now)
    except WeatherError as trouble:
        return _Ensemble(trouble=trouble)
    today = min(now, issued_at).astimezone(spot.zone).date()
    which = (answer.said, spot.zone, today, Issue(answer.fetched_at, issued_at))
    series = (*scaled_members(members(*which), *et0_mm), *mean_hours(*which))
    silent = answer.said.silent
    findings = (f"futures that said nothing were left out: {silent}",) if silent else ()
    return _Ensemble(series, answer.trouble, findings)


def _ask(
    outside: "Outside",
    url: str,
    params: Mapping[str, str],
    lifetime_s: int,
    made_of: Callable[[Any], _Said],
    now: datetime,
) -> "Answer[_Said]":
    from soakbook.weather.session import Request

    return outside.get_json(Request(asking.SERVICE, url, params, lifetime_s), made_of, now)
