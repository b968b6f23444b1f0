"""What forecasts say of the days that nobody has measured, and what of a morning's own rain is still to come."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from math import fsum
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages, asked_at
from soakbook.garden.told_days import hour_shares, hours_gone, stitched
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.garden.windows import unowned_hours
from soakbook.reckoning.simulation.futures import Future, futures_of, parted


class Foretold(NamedTuple):
    """What forecasts say of the days that nobody has measured, each by the newest that speaks of it."""

    issue: str
    morning: date
    today: date
    days: Mapping[date, ForecastDay]
    futures: Mapping[date, Future]
    unowned: Mapping[date, float]
    """Of the days behind: the share of the rain in hours that no gauge owns."""
    fallen: tuple[float, ...]
    """Rain of the morning's own hours before the issue: it has fallen, and is no promise."""

    @classmethod
    def of(cls, pages: Pages, readings: tuple[Rain, ...], morning: date, today: date) -> "Foretold":
        """What the forecasts of a book say on a morning.

        Parameters
        ----------
        pages : Pages
        readings : tuple of Rain
            Of the gauges: what they own, no forecast tells.
        morning, today : date
            The morning asked for; the real one, if that one is asked for as if it were.
        """
        forecast = stitched(pages.forecasts)
        if forecast is None:
            return cls("", morning, today, {}, {}, {}, ())
        zone, hour = ZoneInfo(pages.garden.timezone), pages.garden.round_hour
        days, futures = {day.day: day for day in forecast.days}, futures_of(forecast)
        unowned: dict[date, float] = {}
        fallen: tuple[float, ...] = ()
        for when in [day for day in futures if day <= morning]:
            hours = unowned_hours(readings, when, zone, hour)
            shares = [
                share * part
                for share, part in zip(hour_shares(days[when], len(hours)), hours, strict=False)
            ]
            unowned[when] = fsum(shares)
            if when == morning:
                issued = hours_gone(when, _issue_of(when, pages.forecasts), zone)
                asked = max(issued, hours_gone(when, asked_at(pages, morning), zone))
                fallen = days[when].rain_by_hour_mm[:issued]
                supposed = fsum(shares[len(fallen) : asked])
                futures[when] = parted(futures[when], supposed, fsum(shares[asked:]))
        issue = f"{forecast.source} {forecast.issued_at}"
        return cls(issue, morning, today, days, futures, unowned, fallen)


def _issue_of(day: date, forecasts: Sequence[Forecast]) -> datetime:
    """When the newest forecast was made that speaks of a day."""
    return next(
        one.issued_at
        for one in forecasts
        if (one.begun and one.begun.day == day) or any(each.day == day for each in one.days)
    )
