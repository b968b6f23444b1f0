"""The garden's weather as a series of steps: rain by the step that drinks it, ET0, warmth, leaf.

Step d holds the water that fell or was given from 17:00 of the day before to 17:00 of d; a daily total without
hours stays on its day. A morning asked for late in its day knows what came after 17:00 too, and shows it as its own.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence, Set
from datetime import date, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import RainPiece, days_without_rain, pieces
from soakbook.garden.weather import ForecastDay, WeatherDay
from soakbook.reckoning.physics.atmosphere import kc_max
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.foretold import Foretold
from soakbook.reckoning.simulation.futures import (
    Future,
    as_fallen,
    days_between,
    like_days,
    without_rain,
)

RECENT_DAYS = 10
A_DAY = timedelta(days=1)
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
    future: Future | None = None
    """What the members suppose of a day that nobody has measured: rain beside the pieces, ET0 in place of the plain."""

    @property
    def rain_mm(self) -> float:
        """Rain at the gauge."""
        return sum(piece.rain_mm for piece in self.pieces)

    def rain_hours(self, unsaid_hours: Floats) -> Floats | float:
        """How long it fell: as entered or told, else the members' own guess, never longer than its window."""
        total: Floats | float = 0.0
        for piece in self.pieces:
            said = {"gentle": GENTLE_HOURS, "burst": BURST_HOURS}.get(
                piece.kind or "", piece.lasted_h
            )
            hours = unsaid_hours if said is None else said
            limit = np.inf if piece.hours_known is None else piece.hours_known
            total = total + np.minimum(hours, limit)
        return total if self.pieces else unsaid_hours


class Skies(NamedTuple):
    """Weather of a garden, one step a day from `first` to the day before `morning`, and what is assumed ahead."""

    first: date
    steps: tuple[Step, ...]
    ahead: Step
    """The morning's step: what has fallen since 17:00 yesterday; ET0 as forecast, else as assumed."""
    assumed: Step
    """The morning's as if nobody had told of it: ET0 as in the last ten days, no more rain than has fallen."""
    coming: Mapping[date, Step]
    """The steps of the days that a forecast reaches, from the morning on, with its rain."""
    issue: str
    """Names the forecast; of none, the garden."""
    measured_to: date | None
    night_minima: Mapping[date, float]
    raining: bool = False
    """Whether the forecast's rain comes; the plain question is what happens if it does not."""

    def on(self, day: date) -> Step:
        """The step of a day; from the morning on as forecast, beyond that as the last ten, without more rain."""
        index = (day - self.first).days
        if index < len(self.steps):
            return self.steps[index]
        step = self.coming.get(day)
        if step is None:
            assumed = self.assumed
            return assumed if day == assumed.day else assumed._replace(day=day, pieces=())
        if self.raining or step.future is None:
            return step
        return step._replace(future=without_rain(step.future))

    def with_rain(self) -> "Skies":
        """The same if each member's own rain comes."""
        return self._replace(raining=True)

    def dry_from(self, day: date) -> "Skies":
        """The same as if no rain had come from a day on: what one who asked that morning had to reckon with."""
        index = max((day - self.first).days, 0)
        dry = tuple(step._replace(pieces=(), future=None) for step in self.steps[index:])
        return self._replace(
            steps=self.steps[:index] + dry,
            ahead=_rainless(self.ahead),
            assumed=_rainless(self.assumed),
            coming={when: _rainless(step) for when, step in self.coming.items()},
        )

    def rain_lately_mm(self) -> float:
        """Rain at the gauge in the morning's step and the one before."""
        return self.ahead.rain_mm + (self.steps[-1].rain_mm if self.steps else 0.0)


def _rainless(step: Step) -> Step:
    """The same day as if none of its rain had fallen yet."""
    future = step.future
    if future is not None:
        future = future._replace(fallen_mm=np.zeros_like(future.fallen_mm))
    return step._replace(pieces=(), future=future)


def skies_of(pages: Pages, morning: date, today: date | None = None) -> Skies | None:
    """The weather up to a morning, or None when the book has none before it, not even forecast.

    Nor is there any to reckon with where nothing at all tells what the air asked for.

    Parameters
    ----------
    pages : Pages
    morning : date
    today : date, optional
        The real morning, when a later one is asked for as if it were: of days from it on nothing is behind.
    """
    zone, hour = ZoneInfo(pages.garden.timezone), pages.garden.round_hour
    known = [day for day in pages.weather if day.day < morning]
    readings = tuple(entry for entry in pages.entries if isinstance(entry, Rain))
    told = Foretold.of(pages, readings, morning, min(morning, today or morning))
    begins = [day.day for day in known[:1]] + [day for day in told.futures if day < morning]
    thirst = [day.et0_mm for day in known if day.et0_mm is not None]
    thirst = thirst or [float(future.et0_mm[0]) for future in told.futures.values()]
    if not begins or not thirst:
        return None
    first = min(begins)
    totals: dict[date, float | None] = {day.day: day.rain_mm for day in known}
    shapes = {day.day: day.rain_by_hour_mm for day in known if day.rain_by_hour_mm}
    if told.fallen:
        shapes[morning], totals[morning] = told.fallen, sum(told.fallen)
    found = pieces(readings, totals, zone, hour, shapes)
    fallen: dict[date, tuple[RainPiece, ...]] = defaultdict(tuple)
    for piece in found:
        fallen[min(piece.step_day, morning)] += (piece,)
    days = days_between(first, morning)
    rainless = set(days_without_rain(readings, {day: totals.get(day) for day in days}, zone, hour))
    measured_to = max((d.day for d in known if d.et0_mm is not None), default=None)
    series = _Series({day.day: day for day in known}, fallen, rainless, thirst[:RECENT_DAYS])
    steps = tuple(series.behind(days, told, measured_to or first - A_DAY))
    assumed = series.assumed(morning)
    coming = series.coming(told)
    return Skies(
        first=first,
        steps=steps,
        ahead=coming.get(morning, assumed),
        coming=coming,
        assumed=assumed,
        issue=told.issue or pages.garden.uid,
        measured_to=measured_to,
        night_minima={d.day: d.tmin_c for d in known if d.tmin_c is not None},
    )


class _Series:
    """Walks the days and remembers the last ten."""

    def __init__(
        self,
        seen: Mapping[date, WeatherDay],
        fallen: Mapping[date, tuple[RainPiece, ...]],
        rainless: Set[date],
        first_et0_mm: Sequence[float],
    ) -> None:
        self._seen, self._fallen, self._rainless = seen, fallen, rainless
        self._at_first = sum(first_et0_mm) / len(first_et0_mm)  # before the first that is known
        self._et0: list[float] = []
        self._means: list[float] = []

    def step(self, day: date, said: ForecastDay | None = None) -> Step:
        """The step of a day, as seen, else as a forecast said it, else as the last ten."""
        seen = self._seen.get(day)
        filled = []
        et0 = seen.et0_mm if seen else None
        if et0 is None and said is not None:
            et0 = said.et0_mm
        if et0 is None:
            filled.append("et0")
            et0 = self._recent(self._et0, self._at_first)
        mean = mean_temperature_c(seen)
        if mean is None:
            mean = mean_temperature_c(said)
        if mean is None:
            filled.append("temperature")
            mean = self._recent(self._means, 10.0)
        if day in self._rainless:
            filled.append("rain")
        self._et0.append(et0)
        self._means.append(mean)
        warmth = self._recent(self._means, mean)
        return Step(day, self._fallen[day], et0, warmth, kc_max_of(seen), tuple(filled))

    def behind(self, days: Sequence[date], told: Foretold, measured_to: date) -> Iterator[Step]:
        """Steps up to the morning: as measured; where nobody has, as was forecast; at the end like days of the book."""
        measured = [day for day in days if day <= measured_to]
        for day in measured:
            step = self.step(day, told.days.get(day))
            if day in self._rainless and day in told.futures:
                seen = self._seen.get(day)
                step = self._supposed(step, told.futures[day], told, seen and seen.et0_mm)
            yield step
        unseen = days[len(measured) :]
        untold = [day for day in unseen if day not in told.futures and day < told.today]
        known = list(self._seen.values())
        like = like_days(known, untold, self._recent(self._et0, self._at_first))
        for day in unseen:
            step = self.step(day, told.days.get(day))
            future = told.futures.get(day, like.get(day))
            yield step if future is None else self._supposed(step, future, told)

    def _supposed(
        self, step: Step, future: Future, told: Foretold, et0_mm: float | None = None
    ) -> Step:
        """A day gone by with what is supposed of it: rain in the hours of no gauge, ET0 unless it is known."""
        share = told.unowned.get(step.day, 1.0) if step.day in self._rainless else 0.0
        supposed = as_fallen(future, share)
        if et0_mm is not None:
            supposed = supposed._replace(et0_mm=np.full_like(supposed.et0_mm, et0_mm))
        filled = tuple(what for what in step.filled if what != "rain")
        return step._replace(future=supposed, filled=filled)

    def assumed(self, day: date) -> Step:
        """What is supposed of a day that nobody has told of."""
        warmth, thirst = self._recent(self._means, 10.0), self._recent(self._et0, self._at_first)
        return Step(day, self._fallen[day], thirst, warmth, KC_MAX_UNKNOWN, ())

    def coming(self, told: Foretold) -> Mapping[date, Step]:
        """The morning's step and those ahead, as far as the forecasts go."""
        return {
            day: self.step(day, told.days[day])._replace(future=future, filled=())
            for day, future in sorted(told.futures.items())
            if day >= told.morning
        }

    @staticmethod
    def _recent(values: Sequence[float], default: float) -> float:
        last = values[-RECENT_DAYS:]
        return sum(last) / len(last) if last else default


def mean_temperature_c(seen: WeatherDay | ForecastDay | None) -> float | None:
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
