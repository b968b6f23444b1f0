"""From where the weather is, of what kind, how it was read, how filled, and what is no better than forecast."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date, datetime, tzinfo
from typing import Any

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.garden.runs import runs
from soakbook.garden.weather import WEATHER_KINDS, WeatherDay, WeatherValue
from soakbook.quantities import names
from soakbook.quantities.dates import month_day
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.told import Report
from soakbook.store.texts import garden_zone
from soakbook.weather.columns import QUANTITIES
from soakbook.weather.hours import FILLED as HOUR_FILLED

GAUGE = "rain gauge"
REFERENCE_ET = "et0_mm"
NEEDED = ("rain_mm", REFERENCE_ET)
"""What a day is reckoned by."""

Told = Mapping[tuple[date, str], tuple[str, datetime]]
"""(Day, variable) -> whose forecast tells of it, and when that was made."""

WORDS = {
    **{one.variable: one.words for one in QUANTITIES.values()},
    REFERENCE_ET: names.QUANTITIES[REFERENCE_ET].words,
}
"""Variable as the book keeps it -> what a gardener calls it."""


def told_better(day: WeatherDay) -> set[str]:
    """Variables of a day that are better known than as they were forecast."""
    return {name for name, (_, kind, _) in day.sources.items() if kind != "forecast"}


def sources(values: Iterable[WeatherValue], pages: Pages, today: date) -> Iterator[Report]:
    """Where what was measured or analysed came from, each kind of a source by itself, and how old it is.

    Reference evaporation is reckoned here, from nowhere else.
    """
    found: defaultdict[tuple[str, str], list[WeatherValue]] = defaultdict(list)
    for value in values:
        if value.kind in ("measured", "analysed") and value.variable != REFERENCE_ET:
            found[value.source, value.kind].append(value)
    for (source, kind), told in sorted(
        found.items(), key=lambda one: (one[0][0], WEATHER_KINDS.index(one[1][0].kind))
    ):
        known = {value.variable for value in told}
        variables = [words for variable, words in WORDS.items() if variable in known]
        yield _source(source, kind, variables, {value.day for value in told}, today)
    zone = garden_zone(pages.garden)
    read = {local_day(one.happened_at, zone) for one in pages.entries if isinstance(one, Rain)}
    if read:
        yield _source(GAUGE, "measured", [WORDS["rain_mm"]], read, today)


def how_read(values: Iterable[WeatherValue]) -> Iterator[Report]:
    """How measured values were read that do not stand in a file as they are, and how ET0 was reckoned.

    How a service's days are made of its hours is the same for all of them, and not listed.
    """
    return _ways(
        value
        for value in values
        if not _is_filled(value)
        and (value.kind == "measured" or (value.kind, value.variable) == ("analysed", REFERENCE_ET))
    )


def filled(values: Iterable[WeatherValue]) -> Iterator[Report]:
    """What nobody measured or analysed and was put in between what they did."""
    return _ways(value for value in values if _is_filled(value))


def told_by_forecast(values: Iterable[WeatherValue], pages: Pages, today: date) -> Told:
    """The forecast that tells of a variable of a day gone by, the newest that does.

    Parameters
    ----------
    values
        The best known of each day; in older books forecasts of days gone by are among them.
    pages
        With its forecasts, newest first.
    today
        The garden's.
    """
    return dict(_told(pages, today)) | {
        (value.day, value.variable): (value.source, value.issued_at or value.fetched_at)
        for value in values
        if value.kind == "forecast" and value.day < today
    }


def as_forecast(
    told: Told, lacking: Mapping[str, Collection[date]], zone: tzinfo
) -> Iterator[Report]:
    """Days behind today of which no more than a forecast tells, in runs, by the service whose it is.

    Parameters
    ----------
    told
        By `told_by_forecast`.
    lacking
        Variable -> days on which nothing better is known of it.
    zone
        The garden's.
    """
    by_day: defaultdict[tuple[str, datetime, date], list[str]] = defaultdict(list)
    for variable in NEEDED:
        for day in lacking[variable]:
            if (day, variable) in told:
                by_day[*told[day, variable], day].append(WORDS[variable])
    alike: defaultdict[tuple[str, tuple[str, ...]], dict[date, datetime]] = defaultdict(dict)
    for (source, issued_at, day), variables in by_day.items():
        alike[source, tuple(variables)][day] = issued_at.astimezone(zone)
    found = [(run, of, issued) for of, issued in alike.items() for run in runs(issued)]
    for run, (source, of), issued in sorted(found, key=lambda one: one[0]):
        oldest, newest = (
            pick(at for day, at in issued.items() if run.first <= day <= run.last)
            for pick in (min, max)
        )
        yield {
            "source": source,
            "issued_at": newest,
            "variables": list(of),
            "first": run.first,
            "last": run.last,
            "days": run.days,
            "say": f"{source}, issued {_moment(oldest)}"
            + (f" to {_moment(newest)}" if newest > oldest else ""),
        }


def span(days: Iterable[date]) -> dict[str, Any]:
    """The first and the last of some days."""
    listed = list(days)
    return {"first": min(listed), "last": max(listed)}


def _moment(at: datetime) -> str:
    return f"{month_day(at.date())} {at:%H:%M}"


def _source(
    source: str, kind: str, variables: list[str], days: Collection[date], today: date
) -> Report:
    age_days = max(0, (today - max(days)).days)
    about = {"source": source, "kind": kind, "variables": variables}
    return {**about, **span(days), "days": len(days), "age_days": age_days}


def _told(pages: Pages, today: date) -> Iterator[tuple[tuple[date, str], tuple[str, datetime]]]:
    """(Day gone by, variable) -> the newest forecast that tells of it; the newest comes last."""
    for forecast in reversed(pages.forecasts):
        for day in forecast.days:
            for variable in NEEDED:
                if day.day < today and getattr(day, variable) is not None:
                    yield (day.day, variable), (forecast.source, forecast.issued_at)


def _is_filled(value: WeatherValue) -> bool:
    return value.kind == "filled" or (
        value.kind == "analysed" and value.method.endswith(HOUR_FILLED)
    )


def _ways(values: Iterable[WeatherValue]) -> Iterator[Report]:
    by_way: defaultdict[tuple[str, str], list[date]] = defaultdict(list)
    for value in values:
        if value.method:
            by_way[value.variable, value.method].append(value.day)
    for (variable, method), days in sorted(by_way.items()):
        words = WORDS.get(variable, variable)
        yield {"variable": words, "method": method, "days": len(days), **span(days)}
