"""What the comparison found, word for word as `--json` gives it, made from the seasons compared."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.advice.calendars import PUBLISHED, UMN
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.watering.compared import Compared, Opponents, Size
from soakbook.truth.watering.equal import Thriftiest
from soakbook.truth.watering.years import LeftOut

WATER_SCHEMA = "soakbook.water/1"
TARGET_ROW = "feel_7"
TARGETS = (
    ("median saving", 0.30),
    ("lower quartile", 0.25),
    ("worst case", 0.10),
)


class SeasonRow(NamedTuple):
    """One season that was watered through; rain and ET0 from 1 April."""

    key: str
    place: str
    year: int
    rain_mm: float
    et0_mm: float


class LeftOutRow(NamedTuple):
    """A year that was not, and why."""

    key: str
    why: str


class OutcomeRow(NamedTuple):
    """One way of watering, the mean of all cases; litres against the Minnesota calendar's in the same case."""

    key: str
    words: str
    litres_ratio: float
    litres_ratio_least_season: float
    litres_ratio_most_season: float
    visits: float
    short_days: float
    parched_days: float
    drunk_share: float


class Saving(NamedTuple):
    """What the rule saves against the thriftiest schedule of each case, over the cases in which one reaches it."""

    reached: int
    median_fraction: float | None
    lower_quartile_fraction: float | None
    upper_quartile_fraction: float | None
    worst_fraction: float | None
    visits_more: float | None
    """The rule's visits less the schedule's."""


class EqualRow(NamedTuple):
    """The rule in one form beside fixed schedules at equal thirst."""

    key: str
    words: str
    fixed: Saving
    after_rain: Saving
    by_planting: tuple[float | None, ...]
    """Median saving against the thriftiest fixed schedule, planting by planting."""


class TargetRow(NamedTuple):
    """What was set out to be held, and what was reached."""

    what: str
    at_least_fraction: float
    reached_fraction: float | None
    holds: bool


class CaseRow(NamedTuple):
    """One planting in one season, watered one way; the mean over its truths."""

    season: str
    planting: str
    row: str
    litres: float
    visits: float
    short_days: float
    parched_days: float
    drunk_share: float
    fixed_litres: float | None
    """Litres of the thriftiest fixed schedule at this thirst; null where none reaches it, or none was sought."""


@dataclass(frozen=True, slots=True)
class Water:
    """The whole comparison."""

    schema: str
    seasons: tuple[SeasonRow, ...]
    left_out: tuple[LeftOutRow, ...]
    plantings: tuple[str, ...]
    truths: int
    members: int
    calendars: tuple[OutcomeRow, ...]
    rules: tuple[OutcomeRow, ...]
    equal_thirst: tuple[EqualRow, ...]
    targets: tuple[TargetRow, ...]
    cases: tuple[CaseRow, ...]


def water_of(found: Sequence[Compared], left_out: Sequence[LeftOut], size: Size) -> Water:
    """The report of some seasons."""
    equal = tuple(
        _equal_row(found, rule.key, rule.words)
        for rule in size.rules
        if rule.key in found[0].opponents
    )
    return Water(
        schema=WATER_SCHEMA,
        seasons=tuple(_season_row(one) for one in found),
        left_out=tuple(LeftOutRow(*one) for one in left_out),
        plantings=tuple(kind.name for kind in size.kinds),
        truths=size.truths,
        members=size.members,
        calendars=tuple(_outcome_row(found, one.key, one.words) for one in PUBLISHED),
        rules=tuple(_outcome_row(found, one.key, one.words) for one in size.rules),
        equal_thirst=equal,
        targets=_targets(equal),
        cases=tuple(row for one in found for row in _case_rows(one, size)),
    )


def _season_row(one: Compared) -> SeasonRow:
    season = one.season
    rain, et0 = round(season.total("rain_mm"), 1), round(season.total("et0_mm"), 1)
    return SeasonRow(season.key, season.place.name, season.year, rain, et0)


def _outcome_row(found: Sequence[Compared], key: str, words: str) -> OutcomeRow:
    ratios = np.array([one.rows[key].litres / one.rows[UMN.key].litres for one in found])
    by_season = ratios.mean(axis=1)
    means = {
        name: float(np.mean([getattr(one.rows[key], name) for one in found]))
        for name in ("visits", "short_days", "parched_days", "drunk_share")
    }
    least, most = float(by_season.min()), float(by_season.max())
    return OutcomeRow(key, words, float(ratios.mean()), least, most, **means)


def _equal_row(found: Sequence[Compared], key: str, words: str) -> EqualRow:
    fixed = [one.opponents[key].fixed for one in found]
    saved = _saved(found, key, fixed)
    return EqualRow(
        key,
        words,
        _saving(found, key, fixed),
        _saving(found, key, [one.opponents[key].after_rain for one in found]),
        tuple(_median(saved[:, planting]) for planting in range(saved.shape[1])),
    )


def _saved(found: Sequence[Compared], key: str, against: Sequence[Thriftiest]) -> Floats:
    """Saving by case, (season, planting), nan where no schedule reaches."""
    litres = np.array([one.rows[key].litres for one in found])
    return np.asarray(1 - litres / np.array([one.litres for one in against]))


def _saving(found: Sequence[Compared], key: str, against: Sequence[Thriftiest]) -> Saving:
    saved = _saved(found, key, against)
    reached = ~np.isnan(saved)
    if not reached.any():
        return Saving(0, None, None, None, None, None)
    visits = np.array([one.rows[key].visits for one in found])
    more = visits - np.array([one.visits for one in against])
    lower, median, upper = np.quantile(saved[reached], (0.25, 0.5, 0.75))
    return Saving(
        int(reached.sum()),
        float(median),
        float(lower),
        float(upper),
        float(saved[reached].min()),
        float(more[reached].mean()),
    )


def _median(values: Floats) -> float | None:
    known = values[~np.isnan(values)]
    return float(np.median(known)) if known.size else None


def _targets(equal: Sequence[EqualRow]) -> tuple[TargetRow, ...]:
    row = next((one for one in equal if one.key == TARGET_ROW), None)
    if row is None:
        return ()
    reached = (
        row.fixed.median_fraction,
        row.fixed.lower_quartile_fraction,
        row.fixed.worst_fraction,
    )
    return tuple(
        TargetRow(what, least, value, value is not None and value >= least)
        for (what, least), value in zip(TARGETS, reached, strict=True)
    )


def _case_rows(one: Compared, size: Size) -> list[CaseRow]:
    return [
        CaseRow(
            season=one.season.key,
            planting=kind.name,
            row=key,
            litres=_rounded(outcome.litres[index]),
            visits=_rounded(outcome.visits[index]),
            short_days=_rounded(outcome.short_days[index]),
            parched_days=_rounded(outcome.parched_days[index]),
            drunk_share=_rounded(outcome.drunk_share[index]),
            fixed_litres=_fixed_litres(one.opponents.get(key), index),
        )
        for key, outcome in one.rows.items()
        for index, kind in enumerate(size.kinds)
    ]


def _rounded(value: float) -> float:
    return round(float(value), 4)


def _fixed_litres(opponents: Opponents | None, index: int) -> float | None:
    if opponents is None or np.isnan(opponents.fixed.litres[index]):
        return None
    return _rounded(opponents.fixed.litres[index])
