"""How dry it has been: days since useful rain, the published words for dry runs, evaporation against rain.

Rain that has fallen, never forecast rain: that is `reckoning.advice.outlook_week`. Days are the garden's calendar
days, midnight to midnight, as `fallen_days` has them, and a day whose rain is not known ends every count: it is not
taken for dry. What rain is useful is said in `promises`, and comes here in two days. What the soil has left is the
reckoning's; nothing here knows a bed. The words are in `spell_words`.

References
----------
Meteorological Glossary (1963), as quoted at xmetman.com/dry-last-fortnight-in-uk: absolute drought, at least 15 days,
none with 0.2 mm or more; partial drought, at least 29 days whose mean does not exceed 0.2 mm; dry spell, at least 15
days, none with 1.0 mm or more (the quotation misprints 0.04 in as 0.4 in). Out of official use since 1961: P. Eden,
weather-banter.co.uk, 2007, where the first limit is 0.01 in, which is 0.254 mm. CDD, consecutive days under 1 mm:
ETCCDI's list of 27 indices.
"""

from collections.abc import Mapping
from datetime import date
from math import fsum
from typing import Literal, NamedTuple

from soakbook.garden.promises import USEFUL_RAIN_MM
from soakbook.garden.runs import ONE_DAY, Run, runs

DRY_DAY_BELOW_MM = 1.0
RAINLESS_DAY_BELOW_MM = 0.2
SPELL_DAYS = 15
PARTIAL_DROUGHT_DAYS = 29
PARTIAL_DROUGHT_MEAN_MM = 0.2

NORTHERN_COUNT_BEGINS = 3
SOUTHERN_COUNT_BEGINS = 9
"""Month from whose first day evaporation and rain are set against each other: a choice of ours, spring's first."""

ROUNDING_MM = 1e-9
"""Sums of tenths miss the tenth by less."""

DryWord = Literal["absolute drought", "partial drought", "dry spell"]
RainByDay = Mapping[date, float | None]
"""Day -> what fell on it [mm, >= 0]; None, or no such day, where it is not known."""


class Holding(NamedTuple):
    """A published word that holds for the days up to the last one known."""

    word: DryWord
    since: date
    days: int


class Balance(NamedTuple):
    """ET0 less rain over the days on which both are known; below 0 more rain came than the air asked for."""

    since: date
    deficit_mm: float
    days: int
    days_missing: int


class Spell(NamedTuple):
    """How dry it is on a morning, by the rain up to it."""

    morning: date
    known_from: date | None
    """First of the unbroken days up to yesterday whose rain is known; None where yesterday's is not."""
    useful_rain_on: date | None
    """Last day of useful rain since then; None where there was none."""
    no_useful_rain_days: int
    """Whole days gone by without it since then; from `known_from` on where there was none, so at least so many."""
    dry_from: date | None
    """First day of the run under 1 mm that lasts yet; where it is `known_from` the run may be longer."""
    dry_days: int
    holds: tuple[Holding, ...]
    deficit_since: date | None
    deficit_mm: float | None
    """ET0 less rain since 1 March (1 September in the south) or the first day known after it; below 0 is wet."""
    deficit_days_missing: int


def spell_of(
    rain_by_day: RainByDay,
    et0_by_day: Mapping[date, float | None],
    morning: date,
    *,
    fallen_today_mm: float = 0.0,
    southern: bool = False,
) -> Spell:
    """How dry it is on a morning.

    Parameters
    ----------
    rain_by_day
        Rain that fell on each local calendar day [mm]; the morning and later days are not looked at.
    et0_by_day
        Reference evaporation of the same days [mm].
    morning
        The day whose round is asked for.
    fallen_today_mm
        Known to have fallen since local midnight [mm]: it can end a run, never lengthen one.
    southern
        Whether the garden lies south of the equator.
    """
    yesterday = morning - ONE_DAY
    known_from = _known_from(rain_by_day, yesterday)
    useful_on = last_useful_rain(rain_by_day, yesterday)
    if is_useful(rain_by_day.get(yesterday) or 0.0, fallen_today_mm):
        useful_on = morning
    run = None if _reaches(fallen_today_mm, DRY_DAY_BELOW_MM) else dry_run(rain_by_day, yesterday)
    balance = water_balance(rain_by_day, et0_by_day, morning, southern=southern)
    return Spell(
        morning=morning,
        known_from=known_from,
        useful_rain_on=useful_on,
        no_useful_rain_days=_whole_days(useful_on, known_from, morning),
        dry_from=run.first if run else None,
        dry_days=run.days if run else 0,
        holds=published_words(rain_by_day, yesterday, fallen_today_mm),
        deficit_since=balance.since if balance else None,
        deficit_mm=balance.deficit_mm - fallen_today_mm if balance else None,
        deficit_days_missing=balance.days_missing if balance else 0,
    )


def is_useful(before_mm: float, rain_mm: float) -> bool:
    """Whether a day's rain, with that of the day before, comes to a useful one that the day before was not yet."""
    return _reaches(rain_mm, USEFUL_RAIN_MM) or (
        not _reaches(before_mm, USEFUL_RAIN_MM) and _reaches(before_mm + rain_mm, USEFUL_RAIN_MM)
    )


def last_useful_rain(rain_by_day: RainByDay, last_day: date) -> date | None:
    """The last day up to `last_day` that brought useful rain; None where none did since the last day not known."""
    day = last_day
    while (rain := rain_by_day.get(day)) is not None:
        if is_useful(rain_by_day.get(day - ONE_DAY) or 0.0, rain):
            return day
        day -= ONE_DAY
    return None


def dry_run(
    rain_by_day: RainByDay, last_day: date, below_mm: float = DRY_DAY_BELOW_MM
) -> Run | None:
    """The days up to `last_day` with less rain each; None where it had more, or is not known."""
    first = None
    day = last_day
    while (rain := rain_by_day.get(day)) is not None and not _reaches(rain, below_mm):
        first = day
        day -= ONE_DAY
    return Run(first, last_day) if first else None


def dry_runs(rain_by_day: RainByDay, below_mm: float = DRY_DAY_BELOW_MM) -> tuple[Run, ...]:
    """Every run of days with less rain each, oldest first."""
    return runs(
        day
        for day, rain in rain_by_day.items()
        if rain is not None and not _reaches(rain, below_mm)
    )


def consecutive_dry_days(rain_by_day: RainByDay) -> int:
    """The longest run of days under 1 mm among the days given: ETCCDI's CDD when they are a year's."""
    return max((run.days for run in dry_runs(rain_by_day)), default=0)


def published_words(
    rain_by_day: RainByDay, last_day: date, fallen_since_mm: float = 0.0
) -> tuple[Holding, ...]:
    """Which of the three old words hold on `last_day`, and since when; rain since then can end them."""
    below: tuple[tuple[DryWord, float], ...] = (
        ("absolute drought", RAINLESS_DAY_BELOW_MM),
        ("dry spell", DRY_DAY_BELOW_MM),
    )
    found = [
        Holding(word, run.first, run.days)
        for word, below_mm in below
        if not _reaches(fallen_since_mm, below_mm)
        and (run := dry_run(rain_by_day, last_day, below_mm))
        and run.days >= SPELL_DAYS
    ]
    partial = partial_drought(rain_by_day, last_day, fallen_since_mm)
    if partial:
        found.append(Holding("partial drought", partial.first, partial.days))
    return tuple(found)


def partial_drought(
    rain_by_day: RainByDay, last_day: date, fallen_since_mm: float = 0.0
) -> Run | None:
    """The longest stretch of 29 days or more up to `last_day` with a mean of 0.2 mm at most, if there is one."""
    first = None
    day, fallen, days = last_day, fallen_since_mm, 0
    while (rain := rain_by_day.get(day)) is not None:
        fallen, days = fallen + rain, days + 1
        if days >= PARTIAL_DROUGHT_DAYS and fallen <= PARTIAL_DROUGHT_MEAN_MM * days + ROUNDING_MM:
            first = day
        day -= ONE_DAY
    return Run(first, last_day) if first else None


def water_balance(
    rain_by_day: RainByDay,
    et0_by_day: Mapping[date, float | None],
    morning: date,
    *,
    southern: bool = False,
) -> Balance | None:
    """ET0 less rain from 1 March (1 September in the south) to the evening before a morning.

    It counts from the first of these days on which both are known. A later day on which one is not is left out
    and counted as missing. None where no day is known, as on 1 March itself.
    """
    begins = _count_begins(morning, southern)
    asked = {
        day: et0 - rain
        for day, et0 in et0_by_day.items()
        if begins <= day < morning
        and et0 is not None
        and (rain := rain_by_day.get(day)) is not None
    }
    if not asked:
        return None
    since = min(asked)
    return Balance(since, fsum(asked.values()), len(asked), (morning - since).days - len(asked))


def _count_begins(morning: date, southern: bool) -> date:
    month = SOUTHERN_COUNT_BEGINS if southern else NORTHERN_COUNT_BEGINS
    return date(morning.year if morning.month >= month else morning.year - 1, month, 1)


def _known_from(rain_by_day: RainByDay, last_day: date) -> date | None:
    first, day = None, last_day
    while rain_by_day.get(day) is not None:
        first = day
        day -= ONE_DAY
    return first


def _whole_days(useful_on: date | None, known_from: date | None, morning: date) -> int:
    """Days after the rain, and before the morning; a day that ended in useful rain is none of them."""
    if useful_on is not None:
        return max(0, (morning - useful_on).days - 1)
    return (morning - known_from).days if known_from else 0


def _reaches(rain_mm: float, at_mm: float) -> bool:
    return rain_mm > at_mm - ROUNDING_MM
