"""Heat: the published thresholds, and the next run of hot days among those known and forecast.

The words are in `heat_words`; what to do before it and in it is `reckoning.advice.in_heat`. A day whose
highest temperature is not known ends a run.

References
----------
Summer day, Tmax above 25 °C, and tropical night, Tmin above 20 °C: ETCCDI's list of 27 indices. Heatwave, United
Kingdom: at least three days running at or above the county's threshold of 25, 26, 27 or 28 °C (BBC, 2022).
Heatwave, Netherlands: at De Bilt at least five days of 25 °C or more, three of them of 30 °C or more (nos.nl, 2018).
"""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from soakbook.garden.runs import ONE_DAY, Run, runs
from soakbook.garden.weather import ForecastDay, WeatherDay
from soakbook.quantities.names import check

SUMMER_DAY_ABOVE_C = 25.0
TROPICAL_NIGHT_ABOVE_C = 20.0
HEATWAVE_DAYS = 3

HEAT_C = 27.0
"""Where nobody has said otherwise: within the British 25 to 28, which of them is ours to choose. At De Bilt it gave
ten spells in 2014-2019, where 25 gave 22 and 28 eight: rare enough to be heeded. C."""

DUTCH_SUMMER_C = 25.0
DUTCH_TROPICAL_C = 30.0
DUTCH_DAYS = 5
DUTCH_TROPICAL_DAYS = 3

Extremes = Mapping[date, tuple[float | None, float | None]]
"""Day -> lowest and highest temperature [°C], None where not known."""


class HeatSpell(NamedTuple):
    """A run of days at or above the garden's heat that has not ended yet."""

    first: date
    last: date
    peak_c: float
    """Highest of today and the days to come; of yesterday where nothing is known of them."""
    tropical_nights: int
    """Of today and the days to come."""
    eve: bool
    """Whether it begins tomorrow."""
    open_ended: bool
    """Whether nothing is known of the day after the last: it may go on. The last may be yesterday then."""


def heat_ahead(days: Extremes, today: date, heat_c: float = HEAT_C) -> HeatSpell | None:
    """The run of three days or more at or above `heat_c` that today is in or may be, else the next one to come.

    Where nothing is known of today, as with a thermometer alone, a run that lasted to yesterday is taken to go on.

    Parameters
    ----------
    days
        Known and forecast days: those before today tell whether heat has begun.
    today
        The garden's day.
    heat_c
        What this garden calls heat [°C, 20-40].

    Raises
    ------
    InputError
        `heat_c` outside its span.
    """
    check("heat_c", heat_c)
    high_today = days.get(today, (None, None))[1]
    not_over = today if high_today is not None else today - ONE_DAY
    run = next((run for run in heatwaves(_highest(days), heat_c) if run.last >= not_over), None)
    if run is None:
        return None
    start = max(run.first, min(today, run.last))
    ahead = [days[day] for day in days if start <= day <= run.last]
    return HeatSpell(
        first=run.first,
        last=run.last,
        peak_c=max(high for _, high in ahead if high is not None),
        tropical_nights=sum(is_tropical_night(low) for low, _ in ahead if low is not None),
        eve=run.first == today + ONE_DAY,
        open_ended=days.get(run.last + ONE_DAY, (None, None))[1] is None,
    )


def heatwaves(tmax_by_day: Mapping[date, float | None], heat_c: float = HEAT_C) -> tuple[Run, ...]:
    """Runs of three days or more at or above a threshold, oldest first."""
    found = runs(day for day, high in tmax_by_day.items() if high is not None and high >= heat_c)
    return tuple(run for run in found if run.days >= HEATWAVE_DAYS)


def dutch_heatwaves(tmax_by_day: Mapping[date, float | None]) -> tuple[Run, ...]:
    """Runs of five days or more of 25 °C or more with three or more of 30 °C or more, oldest first."""
    tropical = {
        day for day, high in tmax_by_day.items() if high is not None and high >= DUTCH_TROPICAL_C
    }
    return tuple(
        run
        for run in heatwaves(tmax_by_day, DUTCH_SUMMER_C)
        if run.days >= DUTCH_DAYS
        and sum(run.first <= day <= run.last for day in tropical) >= DUTCH_TROPICAL_DAYS
    )


def is_summer_day(tmax_c: float) -> bool:
    """Whether a day's highest temperature is above 25 °C."""
    return tmax_c > SUMMER_DAY_ABOVE_C


def is_tropical_night(tmin_c: float) -> bool:
    """Whether a day's lowest temperature is above 20 °C."""
    return tmin_c > TROPICAL_NIGHT_ABOVE_C


def extremes_of(
    days: Iterable[WeatherDay | ForecastDay],
) -> dict[date, tuple[float | None, float | None]]:
    """Lowest and highest temperature of known or forecast days."""
    return {day.day: (day.tmin_c, day.tmax_c) for day in days}


def _highest(days: Extremes) -> dict[date, float | None]:
    return {day: high for day, (_, high) in days.items()}
