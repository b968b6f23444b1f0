"""Days of weather that contradict themselves or lack what the reckoning needs."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from soakbook.quantities.saying import counted, date_of
from soakbook.services.check_findings import Finding, Looked, spans
from soakbook.store.soundness import RainTwice

HOURS_APART_MM, HOURS_APART_SHARE = 0.5, 0.1
"""By how much the hours of a day's rain may differ from its sum: hours are printed to a tenth. common practice, no
source."""


def of_weather(looked: Looked, twice: Iterable[RainTwice]) -> Iterator[Finding]:
    """All that is found in the weather.

    Parameters
    ----------
    looked : Looked
    twice : iterable of RainTwice
        Days whose rain one source told both in a sum and by the hour.
    """
    for day in looked.pages.weather:
        if day.tmin_c is not None and day.tmax_c is not None and day.tmin_c > day.tmax_c:
            sources = {day.sources[name][0] for name in ("tmin_c", "tmax_c") if name in day.sources}
            yield Finding(
                "night_warmer_than_day",
                "look",
                f"The lowest temperature {looked.on(day.day)}, {day.tmin_c:.1f} °C, is above the highest, "
                f"{day.tmax_c:.1f} °C ({' and '.join(sorted(sources))}).",
                "Read a better file for that day: soakbook weather FILE.",
                None,
                day.day,
            )
    yield from _without_et0(looked)
    yield from _apart(looked, list(twice))


def _without_et0(looked: Looked) -> Iterator[Finding]:
    bare = [
        day.day for day in looked.pages.weather if day.rain_mm is not None and day.et0_mm is None
    ]
    for first, last in spans(bare):
        when = looked.on(first) if first == last else f"from {_span(looked, first, last)}"
        days = counted((last - first).days + 1, "day")
        yield Finding(
            "rain_alone",
            "look",
            f"There is rain {when}, and nothing that tells what the air asked for ({days}): the reckoning takes "
            "the mean of the ten days before.",
            "Read temperatures of those days: soakbook weather FILE, or let soakbook weather ask.",
            None,
            first,
        )


def _apart(looked: Looked, twice: Sequence[RainTwice]) -> Iterator[Finding]:
    for one in twice:
        apart_mm = abs(one.total_mm - one.by_hour_mm)
        if apart_mm > max(HOURS_APART_MM, HOURS_APART_SHARE * one.total_mm):
            yield Finding(
                "hours_apart",
                "look",
                f"{one.source} says {one.total_mm:.1f} mm of rain {looked.on(one.day)}, and hour by hour "
                f"{one.by_hour_mm:.1f} mm.",
                "The sum counts; the hours only say when it fell.",
                None,
                one.day,
            )


def _span(looked: Looked, first: date, last: date) -> str:
    return f"{date_of(first, looked.today)} to {date_of(last, looked.today)}"
