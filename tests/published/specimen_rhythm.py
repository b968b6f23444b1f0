"""How often the specimen's plantings ask to be soaked, month by month and stage by stage, beside the trade's rhythm.

`python tests/published/specimen_rhythm.py` prints the table. Every call of the round is given in full, somebody comes
every day, nothing is barred; readiness is the garden's own, fair.

The trade's rhythm in a dry spell, by stage:
- settling, daily to every 2nd day: daily in weeks 1-2, University of Minnesota Extension, "Watering newly planted
  trees and shrubs"; "every day to start with", Royal Horticultural Society adviser, by a newspaper.
- knitting, every 2-4 days: every 2-3 days (Minnesota); 2-4 days under a rain shelter, 7 too long (University of
  Florida IFAS trials of shrubs from 3-gallon pots).
- rooting out, weekly: weekly (Minnesota); twice a week on clay or in heat (a landscaper's card).
All read at second hand in the project's notes, not in the originals.
"""

import sys
from collections import defaultdict
from collections.abc import Callable
from datetime import date
from itertools import pairwise
from pathlib import Path
from statistics import mean
from typing import NamedTuple

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from soakbook.garden.records import Planting
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.advice.report import Stage
from tests.properties.followed import Soaked, first_day, followed, last_day, undone_specimen

MEMBERS = 20
MONTHS = range(3, 11)
STAGES: tuple[Stage, ...] = ("settling", "knitting", "rooting_out")
TRADE_DAYS: dict[Stage, str] = {"settling": "1-2", "knitting": "2-4", "rooting_out": "about 7"}
DRY_SPELL_MM = 10.0
"""A gap over which more rain fell than this is no gap of a dry spell."""


class Gap(NamedTuple):
    """Between two soaks of a dry spell."""

    days: int
    et0_mm: float
    """What the air asked for meanwhile: a gap of April and one of July are alike by it."""


class Rhythm(NamedTuple):
    """How one planting was watered."""

    planting: Planting
    soaks: dict[int, int]
    """By month."""
    gaps: dict[Stage, list[Gap]]
    """By the stage at the later soak."""


def rhythms() -> tuple[Rhythm, ...]:
    """The specimen's season, planting by planting, in the order of the book."""
    book = undone_specimen()
    season = followed(book, first_day(book), last_day(book), MEMBERS)
    return tuple(
        _rhythm(one, season.soaks.get(one.uid, []), book.weather) for one in book.plantings
    )


def _rhythm(planting: Planting, soaks: list[Soaked], weather: tuple[WeatherDay, ...]) -> Rhythm:
    months: dict[int, int] = defaultdict(int)
    gaps: dict[Stage, list[Gap]] = defaultdict(list)
    for one in soaks:
        months[one.day.month] += 1
    for before, after in pairwise(soaks):
        between = [day for day in weather if before.day <= day.day < after.day]
        if sum(day.rain_mm or 0.0 for day in between) <= DRY_SPELL_MM:
            thirst_mm = sum(day.et0_mm or 0.0 for day in between)
            gaps[after.stage].append(Gap(len(between), thirst_mm))
    return Rhythm(planting, dict(months), dict(gaps))


def thirst_between_mm(found: tuple[Rhythm, ...], stage: Stage) -> float:
    """ET0 between two soaks of a plant from a pot, mean over all of them at a stage [mm]."""
    pots = [one for one in found if one.planting.origin == "pot"]
    return mean(gap.et0_mm for one in pots for gap in one.gaps.get(stage, []))


def table(found: tuple[Rhythm, ...]) -> str:
    """Soaks a month and the mean gap by stage, beside the trade's."""
    heading = f"{'soaks a month':34}" + "".join(
        f"{date(2031, month, 1):%b}".rjust(5) for month in MONTHS
    )
    heading += "  all  days between:" + _by_stage(lambda stage: stage.replace("_", " "))
    lines = [heading]
    for one in found:
        counts = [one.soaks.get(month, 0) for month in MONTHS]
        line = f"{one.planting.name[:33]:34}" + "".join(f"{count or '-':>5}" for count in counts)
        line += f"{sum(one.soaks.values()):5}" + " " * 15
        lines.append(line + "".join(_mean_days(one.gaps.get(stage, [])) for stage in STAGES))
    lines.append(_foot("the trade, in a dry spell, days") + _by_stage(TRADE_DAYS.__getitem__))
    thirst = _by_stage(lambda stage: f"{thirst_between_mm(found, stage):.1f}")
    lines.append(_foot("from pots: mm of ET0 between two soaks") + thirst)
    return "\n".join(lines)


def _by_stage(said: Callable[[Stage], str]) -> str:
    return "".join(said(stage).rjust(13) for stage in STAGES)


def _foot(said: str) -> str:
    return said.ljust(34 + 5 * len(MONTHS) + 20)


def _mean_days(gaps: list[Gap]) -> str:
    """The mean gap and how many there are."""
    return (f"{mean(gap.days for gap in gaps):.1f} ({len(gaps)})" if gaps else "-").rjust(13)


if __name__ == "__main__":
    print(table(rhythms()))
