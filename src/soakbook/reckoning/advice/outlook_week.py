"""What the days ahead will likely ask for: useful rain, warmth, how drying the air; the words of the round's foot.

Read off one forecast; which bed is due when is `due` and `visits`, a promise kept or broken is the weather's own
account. Rain that has fallen is `garden.spells`, heat by the garden's own setting `garden.heat`.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from itertools import takewhile
from math import fsum
from typing import Literal, NamedTuple

from soakbook.garden.heat import DUTCH_TROPICAL_C, is_summer_day
from soakbook.garden.promise_words import tenths_of
from soakbook.garden.promises import DOUBTFUL_SHARE, GOOD_SHARE, PLAIN_FUTURES
from soakbook.garden.runs import ONE_DAY, Run, runs
from soakbook.garden.spells import is_useful
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.quantities.dates import WEEKDAYS, short_day

WEEK_DAYS = 7

MORE_DRYING_FROM = 1.2
LESS_DRYING_TO = 0.8
"""Against the last ten days: what is worth a word. common practice, no source."""

Promise = Literal["good", "doubtful", "not counted"]


class Week(NamedTuple):
    """What a forecast says of the days from a morning on, both ends included."""

    morning: date
    last: date
    members: int
    """Futures that were counted; 0 where the forecast has none and three were weighed."""
    useful_rain_chance: float | None
    """Share of futures with 5 mm in two days yet to come [0-1]; None where nothing is said of rain."""
    promise: Promise | None
    useful_rain_by: date | None
    """First day by which so many of the futures have had it that the service is believed."""
    bar: float
    """The share from which it is [0-1]."""
    tmax_c: float | None
    warm: Run | None
    """First days running above 25 °C."""
    hot: Run | None
    """First days running of 30 °C or more."""
    et0_mm: float | None
    """Mean of the days [mm a day]."""
    et0_factor: float | None
    """The same over the mean of the last ten days, by which doses of a like bed grow."""


def week_of(
    forecast: Forecast,
    morning: date,
    *,
    days: int = WEEK_DAYS,
    usual_et0_mm: float | None = None,
    bar: float = GOOD_SHARE,
) -> Week | None:
    """The days from a morning on by one forecast; None where it has none of them.

    Parameters
    ----------
    forecast
        Of the morning's own day the rest, as `told_days.still_to_come` has it. Members may be empty. A missing day ends
        the week, and so does one without rain after one with it.
    morning
        The day whose round is asked for.
    days
        How many at most.
    usual_et0_mm
        Mean of the last ten days [mm a day], None where not known.
    bar
        Share of the futures from which its service is believed, as `promises.bar_of` has it [0-1].

    Notes
    -----
    A future has had useful rain from the first day that brings, with the day before it, 5 mm. Members are used where
    they last for half as many days as the forecast's own rain, and the week ends with them; else the three futures of
    `promises`, by which no rain is likely enough.
    Tmax and ET0 are the forecast's own, ET0 the mean of the members on a day for which it has none.
    """
    ahead = _following([day for day in forecast.days if day.day >= morning][:days])
    if not ahead:
        return None
    futures = _futures_of(ahead)
    window = ahead[: futures.days] if futures.days else ahead
    firsts = [(one.weight, _first_useful(one.rain_mm)) for one in futures.told]
    shares = [_share_by(firsts, place) for place in range(futures.days)]
    good = (day.day for day, share in zip(window, shares, strict=False) if share >= bar)
    et0_mm = _mean([mm for day in window if (mm := _et0_mm(day)) is not None])
    high_c = {day.day: day.tmax_c for day in window if day.tmax_c is not None}
    return Week(
        morning=morning,
        last=window[-1].day,
        members=futures.members,
        useful_rain_chance=shares[-1] if shares else None,
        promise=_promise(shares[-1], bar) if shares else None,
        useful_rain_by=next(good, None),
        bar=bar,
        tmax_c=max(high_c.values(), default=None),
        warm=_first_run(day for day, tmax_c in high_c.items() if is_summer_day(tmax_c)),
        hot=_first_run(day for day, tmax_c in high_c.items() if tmax_c >= DUTCH_TROPICAL_C),
        et0_mm=et0_mm,
        et0_factor=et0_mm / usual_et0_mm if et0_mm is not None and usual_et0_mm else None,
    )


def week_words(week: Week) -> str:
    """One or two short sentences: `To Wed 21 no useful rain likely; warm from Sun.`; empty where nothing is known."""
    rain, warmth = _rain_words(week), _warmth_words(week)
    if warmth and not rain:
        warmth = f"{_to_the_last(week)} likely {warmth}"
    said = "; ".join(part for part in (rain, warmth) if part)
    return " ".join(part for part in (f"{said}." if said else "", _drying_words(week)) if part)


class _Future(NamedTuple):
    """One way it may come, the rain of each day from the first on."""

    weight: float
    rain_mm: tuple[float, ...]


class _Futures(NamedTuple):
    """What may come on the first `days` of a week; no members where three futures are weighed."""

    days: int
    members: int
    told: tuple[_Future, ...]


def _futures_of(ahead: Sequence[ForecastDay]) -> _Futures:
    count = len(ahead[0].rain_members_mm)
    forecast = [
        day.rain_mm
        for day in takewhile(lambda day: day.rain_mm is not None, ahead)
        if day.rain_mm is not None
    ]
    lasting = list(takewhile(lambda day: len(day.rain_members_mm) == count, ahead))
    if count and 2 * len(lasting) >= len(forecast):
        by_member = zip(*(day.rain_members_mm for day in lasting), strict=True)
        return _Futures(len(lasting), count, tuple(_Future(1.0, rain) for rain in by_member))
    told = tuple(
        _Future(weight, tuple(mm * times for mm in forecast)) for times, weight in PLAIN_FUTURES
    )
    return _Futures(len(forecast), 0, told)


def _first_useful(rain_mm: Sequence[float]) -> int | None:
    """Place of the first day that comes to useful rain."""
    before_mm = 0.0
    for place, day_mm in enumerate(rain_mm):
        if is_useful(before_mm, day_mm):
            return place
        before_mm = day_mm
    return None


def _share_by(firsts: Sequence[tuple[float, int | None]], last: int) -> float:
    """Share of the futures that have had useful rain by the day at place `last`."""
    had = fsum(weight for weight, first in firsts if first is not None and first <= last)
    return had / fsum(weight for weight, _ in firsts)


def _promise(chance: float, bar: float) -> Promise:
    if chance >= bar:
        return "good"
    return "doubtful" if chance >= DOUBTFUL_SHARE else "not counted"


def _following(days: Sequence[ForecastDay]) -> list[ForecastDay]:
    """The first days, up to one that is missing."""
    return [day for place, day in enumerate(days) if day.day == days[0].day + place * ONE_DAY]


def _first_run(days: Iterable[date]) -> Run | None:
    return next(iter(runs(days)), None)


def _et0_mm(day: ForecastDay) -> float | None:
    return day.et0_mm if day.et0_mm is not None else _mean(day.et0_members_mm)


def _mean(values: Sequence[float]) -> float | None:
    return fsum(values) / len(values) if values else None


def _rain_words(week: Week) -> str:
    if week.useful_rain_chance is None:
        return ""
    if week.useful_rain_by is not None:
        by = week.useful_rain_by
        return f"Useful rain likely {'today' if by == week.morning else f'by {short_day(by)}'}"
    if week.promise == "doubtful":
        tenths = tenths_of(week.useful_rain_chance, week.bar)
        return f"{_to_the_last(week)} useful rain is doubtful, about {tenths} chances in 10"
    return f"{_to_the_last(week)} no useful rain likely"


def _warmth_words(week: Week) -> str:
    hot = _stretch("hot", week.hot, week)
    warm = _stretch("warm", week.warm, week) if week.warm and week.warm != week.hot else ""
    return ", ".join(part for part in (warm, hot) if part)


def _stretch(word: str, run: Run | None, week: Week) -> str:
    """`warm from Sun`, `warm Sun to Tue`, `warm on Sun`, `warm to Sat`, `warm today`, `warm throughout`."""
    if run is None:
        return ""
    begins, lasts = run.first <= week.morning, run.last == week.last
    if begins and lasts:
        return f"{word} throughout" if week.last > week.morning else f"{word} today"
    if lasts and run.days > 1:
        return f"{word} from {_weekday(run.first, week)}"
    if run.days == 1:
        return f"{word} today" if begins else f"{word} on {_weekday(run.first, week)}"
    first = "" if begins else f"{_weekday(run.first, week)} "
    return f"{word} {first}to {_weekday(run.last, week)}"


def _drying_words(week: Week) -> str:
    factor = week.et0_factor
    if factor is None or LESS_DRYING_TO < factor < MORE_DRYING_FROM:
        return ""
    if factor >= MORE_DRYING_FROM:
        return f"The air will likely ask for about {factor:.1f} times what it took in the last ten days."
    return "The air will likely ask for less than in the last ten days."


def _to_the_last(week: Week) -> str:
    return "Today" if week.last == week.morning else f"To {short_day(week.last)}"


def _weekday(day: date, week: Week) -> str:
    """The weekday alone where there is only one of it."""
    one_of_each = (week.last - week.morning).days < len(WEEKDAYS)
    return WEEKDAYS[day.weekday()][:3] if one_of_each else short_day(day)
