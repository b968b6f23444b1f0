"""Days as forecasts tell them: which issue tells of each, and how a day's rain lies in its hours.

What members make of them is the reckoning's; what has fallen is `garden.rainfall` and `garden.fallen_days`. What has
fallen is no promise: `still_to_come` is the one rule by which a day that has begun counts.
"""

from collections.abc import Iterable
from datetime import date, datetime, time, tzinfo
from math import fsum

from soakbook.garden.hours import HOUR
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.garden.windows import local_moment


def stitched(forecasts: Iterable[Forecast]) -> Forecast | None:
    """Each day as the first forecast tells it that has it; source and issue are the first one's.

    Parameters
    ----------
    forecasts
        Newest first: a newer one may begin later or end sooner than an older. Of a day of which it tells the rest
        alone, an older one tells what that leaves out.
    """
    newest: Forecast | None = None
    days: dict[date, ForecastDay] = {}
    for forecast in forecasts:
        newest = newest or forecast
        begun = [forecast.begun] if forecast.begun else []
        for day in (*begun, *forecast.days):
            rest = days.get(day.day)
            if rest is None:
                days[day.day] = day
            elif rest.from_hour:
                days[day.day] = _completed(rest, day)
    whole = tuple(days[day] for day in sorted(days) if not days[day].from_hour)
    return newest and newest._replace(days=whole, begun=None)


def hours_gone(day: date, at: datetime, zone: tzinfo) -> int:
    """Whole hours of a local day that lie behind a moment; 0 before the day begins."""
    return max(0, (at - local_moment(day, time(0), zone)) // HOUR)


def hour_shares(day: ForecastDay, hours: int = 24) -> tuple[float, ...]:
    """The share of a day's rain that each of its hours has, together 1.

    By the mean of its futures; where these are dry or there are none by the day's own hours; where no hour is told,
    by time. Every future is taken to have its rain in the same hours.

    Parameters
    ----------
    day
        As one issue tells it.
    hours
        How many the day has where no hour of it is told [23-25].
    """
    told = day.mean_by_hour_mm if any(day.rain_members_mm) else day.rain_by_hour_mm
    total_mm = fsum(told)
    if total_mm <= 0:
        return (1 / hours,) * hours
    return tuple(rain_mm / total_mm for rain_mm in told)


def rest_of(day: ForecastDay, from_hour: int) -> ForecastDay:
    """A day with what of its rain is still to come at an hour of it, by `hour_shares`.

    Parameters
    ----------
    day
        As one issue tells it.
    from_hour
        Hours of it that have gone by [0-25].
    """
    if from_hour <= 0:
        return day
    left = fsum(hour_shares(day)[from_hour:])
    return day._replace(
        rain_mm=None if day.rain_mm is None else left * day.rain_mm,
        rain_members_mm=tuple(left * rain_mm for rain_mm in day.rain_members_mm),
        rain_by_hour_mm=_without(day.rain_by_hour_mm, from_hour),
        mean_by_hour_mm=_without(day.mean_by_hour_mm, from_hour),
    )


def still_to_come(forecast: Forecast, at: datetime, zone: tzinfo) -> Forecast:
    """A forecast from a moment on: days before it left out, of its own day the rest.

    Parameters
    ----------
    forecast
        One issue, or several as `stitched`.
    at
        Zone-aware.
    zone
        The garden's.
    """
    today = at.astimezone(zone).date()
    ahead = (day for day in forecast.days if day.day >= today)
    return forecast._replace(
        days=tuple(rest_of(day, hours_gone(day.day, at, zone)) for day in ahead)
    )


def _completed(rest: ForecastDay, older: ForecastDay) -> ForecastDay:
    """The rest of a day with what an older issue told of it; futures of the older one have had their day."""
    hours = len(rest.rain_by_hour_mm)
    before_mm = older.rain_by_hour_mm or ((older.rain_mm or 0.0) / hours,) * hours
    by_hour_mm = before_mm[: rest.from_hour] + rest.rain_by_hour_mm[rest.from_hour :]
    return older._replace(
        rain_mm=fsum(by_hour_mm),
        rain_by_hour_mm=by_hour_mm,
        rain_members_mm=(),
        et0_members_mm=(),
        mean_by_hour_mm=(),
    )


def _without(by_hour_mm: tuple[float, ...], from_hour: int) -> tuple[float, ...]:
    return (0.0,) * min(from_hour, len(by_hour_mm)) + by_hour_mm[from_hour:]
