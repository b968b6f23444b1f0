"""The garden's weather as a series of steps: rain by the step that drinks it, ET0, warmth, leaf.

Step d holds the water that fell or was given from 17:00 of the day before to 17:00 of d; a daily total without
hours stays on its day. A morning asked for late in its day knows what came after 17:00 too, and shows it as its own.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import RainPiece, days_without_rain, pieces
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.physics.atmosphere import kc_max
from soakbook.reckoning.simulation.draws import Floats

RECENT_DAYS = 10
GENTLE_HOURS = 8.0
BURST_HOURS = 0.7
KC_MAX_UNKNOWN = 1.20


class Step(NamedTuple):
    """One day's weather at the gauge."""

    day: date
    pieces: tuple[RainPiece, ...]
    et0_mm: float
    soil_warmth_c: float
    kc_max: float
    filled: tuple[str, ...]
    """What was not known of this day: 'rain', 'et0', 'temperature'."""

    @property
    def rain_mm(self) -> float:
        """Rain at the gauge."""
        return sum(piece.rain_mm for piece in self.pieces)

    def rain_hours(self, unsaid_hours: Floats) -> Floats | float:
        """How long it fell: as entered, else the members' own guess, never longer than its window."""
        total: Floats | float = 0.0
        for piece in self.pieces:
            said = {"gentle": GENTLE_HOURS, "burst": BURST_HOURS}.get(piece.kind or "")
            hours = unsaid_hours if said is None else said
            limit = np.inf if piece.hours_known is None else piece.hours_known
            total = total + np.minimum(hours, limit)
        return total


class Skies(NamedTuple):
    """Weather of a garden, one step a day from `first` to the day before `morning`, and what is assumed ahead."""

    first: date
    steps: tuple[Step, ...]
    ahead: Step
    """The morning's step: what has fallen since 17:00 yesterday, ET0 as in the last ten days, no more rain."""
    rain_days: frozenset[date]
    """Days whose steps may have rain, on this morning or asked on the next."""
    measured_to: date | None
    night_minima: Mapping[date, float]

    def on(self, day: date) -> Step:
        """The step of a day; every day from the morning on is as the last ten, the rain only the morning's own."""
        index = (day - self.first).days
        if index < len(self.steps):
            return self.steps[index]
        if day == self.ahead.day:
            return self.ahead
        return self.ahead._replace(day=day, pieces=())

    def rain_lately_mm(self) -> float:
        """Rain at the gauge in the morning's step and the one before."""
        return self.ahead.rain_mm + (self.steps[-1].rain_mm if self.steps else 0.0)


def skies_of(pages: Pages, morning: date) -> Skies | None:
    """The weather up to a morning, or None when the book has none before it."""
    known = [day for day in pages.weather if day.day < morning]
    if not known:
        return None
    first = known[0].day
    by_day = {day.day: day for day in known}
    totals = {day.day: day.rain_mm for day in known}
    readings = tuple(entry for entry in pages.entries if isinstance(entry, Rain))
    fallen: dict[date, list[RainPiece]] = defaultdict(list)
    zone, hour = ZoneInfo(pages.garden.timezone), pages.garden.round_hour
    found = pieces(readings, totals, zone, hour)
    for piece in found:
        fallen[min(piece.step_day, morning)].append(piece)
    days = [first + timedelta(days=n) for n in range((morning - first).days)]
    rainless = set(days_without_rain(readings, {day: totals.get(day) for day in days}, zone, hour))
    series = _Series()
    steps = tuple(
        series.step(day, by_day.get(day), tuple(fallen[day]), day in rainless) for day in days
    )
    return Skies(
        first=first,
        steps=steps,
        ahead=series.assumed(morning, tuple(fallen[morning])),
        rain_days=frozenset(piece.step_day for piece in found) | {morning},
        measured_to=max((d.day for d in known if d.et0_mm is not None), default=None),
        night_minima={d.day: d.tmin_c for d in known if d.tmin_c is not None},
    )


class _Series:
    """Walks the days and remembers the last ten."""

    def __init__(self) -> None:
        self._et0: list[float] = []
        self._means: list[float] = []

    def step(
        self, day: date, seen: WeatherDay | None, fallen: tuple[RainPiece, ...], rainless: bool
    ) -> Step:
        filled = []
        et0 = seen.et0_mm if seen else None
        if et0 is None:
            filled.append("et0")
            et0 = self._recent(self._et0, 0.0)
        mean = mean_temperature_c(seen)
        if mean is None:
            filled.append("temperature")
            mean = self._recent(self._means, 10.0)
        if rainless:
            filled.append("rain")
        self._et0.append(et0)
        self._means.append(mean)
        return Step(
            day, fallen, et0, self._recent(self._means, mean), kc_max_of(seen), tuple(filled)
        )

    def assumed(self, day: date, fallen: tuple[RainPiece, ...]) -> Step:
        warmth = self._recent(self._means, 10.0)
        return Step(day, fallen, self._recent(self._et0, 0.0), warmth, KC_MAX_UNKNOWN, ())

    @staticmethod
    def _recent(values: Sequence[float], default: float) -> float:
        last = values[-RECENT_DAYS:]
        return sum(last) / len(last) if last else default


def mean_temperature_c(seen: WeatherDay | None) -> float | None:
    """A day's mean air temperature, else the middle of its extremes."""
    if seen is None:
        return None
    if seen.tmean_c is not None:
        return seen.tmean_c
    if seen.tmin_c is None or seen.tmax_c is None:
        return None
    return (seen.tmin_c + seen.tmax_c) / 2


def kc_max_of(seen: WeatherDay | None) -> float:
    """FAO-56 eq 72 where wind and the lowest humidity are known, else 1.20."""
    if seen is None or seen.wind_2m_m_per_s is None or seen.rhmin_percent is None:
        return KC_MAX_UNKNOWN
    return float(kc_max(seen.wind_2m_m_per_s, seen.rhmin_percent))
