"""Who says that the rain of a morning fell: the gauge, a service, or only its forecast."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import STEP_ENDS_AT
from soakbook.garden.weather import WeatherDay
from soakbook.quantities.saying import names
from soakbook.reckoning.simulation.skies import Skies, Step

IN_THE_GAUGE = "in the gauge"
AS_FORECAST = "as forecast"
_SHORT = {IN_THE_GAUGE: "gauge", AS_FORECAST: "forecast"}


def whose_rain(pages: Pages, skies: Skies) -> str:
    """Words for where the rain of the morning's step and the one before is known from.

    `in the gauge`, by a reading or a station; `by Open-Meteo`; `as forecast`; where several tell a part of it each,
    `by gauge and Open-Meteo`. Empty where none fell.

    Parameters
    ----------
    pages : Pages
        As the morning knows them.
    skies : Skies
        The morning's.
    """
    days = {day.day: day for day in pages.weather}
    steps = (*skies.steps[-1:], skies.ahead)
    found = list(dict.fromkeys(one for step in steps for one in _tellers(step, days)))
    if len(found) < 2:
        return "".join(found)
    return f"by {names([_SHORT.get(one, one.removeprefix('by ')) for one in found])}"


def _tellers(step: Step, days: Mapping[date, WeatherDay]) -> Iterator[str]:
    """Of each piece of a step's rain who tells of it."""
    for piece in step.pieces:
        if piece.hours_known is not None:
            yield IN_THE_GAUGE
        elif piece.lasted_h is None:
            yield _teller(days.get(step.day))
    if any(piece.hours_known is None and piece.lasted_h is not None for piece in step.pieces):
        evening = days.get(step.day - timedelta(days=1))
        if evening and evening.rain_mm and any(evening.rain_by_hour_mm[STEP_ENDS_AT.hour :]):
            yield _teller(evening)
        today = days.get(step.day)
        if today is None or (today.rain_mm and any(today.rain_by_hour_mm[: STEP_ENDS_AT.hour])):
            yield _teller(today)


def _teller(day: WeatherDay | None) -> str:
    """Who tells of a day's total; of the morning's own day, not yet among those known, a forecast alone."""
    if day is None:
        return AS_FORECAST
    source, kind, _ = day.sources.get("rain_mm", ("", "measured", ""))
    if kind == "measured":
        return IN_THE_GAUGE
    return AS_FORECAST if kind == "forecast" else f"by {source}"
