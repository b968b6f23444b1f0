"""The weather beside a proof's visits: what fell, how warm it was, what the air asked for, and who says so."""

import math
from collections.abc import Iterable, Mapping
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from soakbook.account.proof_record import DayWeather, Value
from soakbook.garden.entries import Rain
from soakbook.garden.fallen_days import fallen_of
from soakbook.garden.pages import Pages
from soakbook.garden.weather import WeatherDay

MM_DECIMALS = 2
C_DECIMALS = 2
A_DAY = timedelta(days=1)
BY_HAND = "the book"
"""Whose a value is that nobody signed."""

COUNTED: Mapping[str, frozenset[str]] = {
    "rain_mm": frozenset({"gauge", "measured", "analysed"}),
    "et0_mm": frozenset({"measured", "analysed", "filled"}),
}
"""Kinds of a value that count in a total. Nobody can fill in rain; what the air asked for changes little by the day."""


def weather_by_day(pages: Pages, first: date, last: date) -> Mapping[date, DayWeather]:
    """Every day of a span with what is known of its weather.

    Rain is what is known to have fallen, by the gauge where a reading owns any of the day; else as the best source has
    it, a forecast or a guess if there is no better.

    Parameters
    ----------
    pages : Pages
        The book.
    first, last : date
        Both included.
    """
    zone = ZoneInfo(pages.garden.timezone)
    # A reading of the next morning tells of the last day, too.
    fallen = fallen_of(pages, datetime.combine(last + 2 * A_DAY, time(), zone))
    by_gauge = {
        begin + n * A_DAY
        for span in fallen.spans
        for begin in [span.begin.astimezone(zone).date()]
        for n in range((_last_instant(span.end, zone) - begin).days + 1)
    }
    kept = {one.day: one for one in pages.weather if first <= one.day <= last}
    found = {}
    for number in range((last - first).days + 1):
        day = first + number * A_DAY
        one = kept.get(day, WeatherDay(day))
        fell_mm = fallen.on(day)
        rain = _value(one, "rain_mm", MM_DECIMALS)
        if fell_mm is not None and day in by_gauge:
            rain = Value(round(fell_mm, MM_DECIMALS), "gauge", BY_HAND)
        found[day] = DayWeather(
            rain_mm=rain,
            tmin_c=_value(one, "tmin_c", C_DECIMALS),
            tmax_c=_value(one, "tmax_c", C_DECIMALS),
            et0_mm=_value(one, "et0_mm", MM_DECIMALS),
        )
    return found


def is_known(day: DayWeather, variable: str) -> bool:
    """Whether a day counts in the total of a variable: as in the account, what was only foretold did not come.

    Parameters
    ----------
    day : DayWeather
        One day.
    variable : str
        rain_mm or et0_mm.
    """
    value = getattr(day, variable)
    return value is not None and value.kind in COUNTED[variable]


def total_of(days: Iterable[DayWeather], variable: str) -> tuple[float | None, int]:
    """The sum over the days on which a variable is known, None where it is on none; and on how many it is not.

    Parameters
    ----------
    days : iterable of DayWeather
        In any order.
    variable : str
        rain_mm or et0_mm.
    """
    every = list(days)
    known = [getattr(one, variable).value for one in every if is_known(one, variable)]
    total = round(math.fsum(known), MM_DECIMALS) if known else None
    return total, len(every) - len(known)


def readings_of(pages: Pages, first: date, last: date) -> Mapping[date, list[Rain]]:
    """The gauge readings taken on each day of a span that has any.

    Parameters
    ----------
    pages : Pages
        The book.
    first, last : date
        Both included.
    """
    zone = ZoneInfo(pages.garden.timezone)
    found: dict[date, list[Rain]] = {}
    for entry in pages.entries:
        if isinstance(entry, Rain):
            when = entry.happened_at
            day = when.astimezone(zone).date() if isinstance(when, datetime) else when
            if first <= day <= last:
                found.setdefault(day, []).append(entry)
    return found


def sources_in(days: Iterable[DayWeather]) -> set[str]:
    """Everybody whose weather stands there."""
    return {value.source for day in days for value in day if value is not None}


def _last_instant(end: datetime, zone: ZoneInfo) -> date:
    """The day on which a span ends; a span that ends at midnight has nothing of the day that begins."""
    return (end - timedelta(seconds=1)).astimezone(zone).date()


def _value(day: WeatherDay, variable: str, decimals: int) -> Value | None:
    value = getattr(day, variable)
    if value is None:
        return None
    source, kind, _ = day.sources.get(variable, (BY_HAND, "measured", ""))
    return Value(round(value, decimals), kind, source)
