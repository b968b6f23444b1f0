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
from datetime import date
from itertools import pairwise
from pathlib import Path
from statistics import mean
from typing import NamedTuple

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from soakbook.garden.records import Planting
from soakbook.reckoning.advice.report import Stage
from tests.properties.followed import Soaked, first_day, followed, last_day, undone_specimen

MEMBERS = 20
MONTHS = range(3, 11)
STAGES: tuple[Stage, ...] = ("settling", "knitting", "rooting_out")
TRADE_DAYS: dict[Stage, str] = {"settling": "1-2", "knitting": "2-4", "rooting_out": "about 7"}
DRY_SPELL_MM = 10.0
"""A gap over which more rain fell than this is no gap of a dry spell."""


class Rhythm(NamedTuple):
    """How one planting was watered."""

    planting: Planting
    soaks: dict[int, int]
    """By month."""
    gaps_days: dict[Stage, list[int]]
    """Days between two soaks of a dry spell, by the stage at the later one."""


def rhythms() -> tuple[Rhythm, ...]:
    """The specimen's season, planting by planting, in the order of the book."""
    book = undone_specimen()
    season = followed(book, first_day(book), last_day(book), MEMBERS)
    rain = {day.day: day.rain_mm or 0.0 for day in book.weather}
    return tuple(_rhythm(one, season.soaks.get(one.uid, []), rain) for one in book.plantings)


def _rhythm(planting: Planting, soaks: list[Soaked], rain: dict[date, float]) -> Rhythm:
    months: dict[int, int] = defaultdict(int)
    gaps: dict[Stage, list[int]] = defaultdict(list)
    for one in soaks:
        months[one.day.month] += 1
    for before, after in pairwise(soaks):
        if sum(mm for day, mm in rain.items() if before.day <= day < after.day) <= DRY_SPELL_MM:
            gaps[after.stage].append((after.day - before.day).days)
    return Rhythm(planting, dict(months), dict(gaps))


def mean_gap(found: tuple[Rhythm, ...], stage: Stage) -> float:
    """The mean gap of all plantings at a stage [days]."""
    return mean(gap for one in found for gap in one.gaps_days.get(stage, []))


def table(found: tuple[Rhythm, ...]) -> str:
    """Soaks a month and the mean gap by stage, beside the trade's."""
    heading = f"{'soaks a month':34}" + "".join(
        f"{date(2031, month, 1):%b}".rjust(5) for month in MONTHS
    )
    heading += "  all  days between:" + "".join(
        stage.replace("_", " ").rjust(13) for stage in STAGES
    )
    lines = [heading]
    for one in found:
        counts = [one.soaks.get(month, 0) for month in MONTHS]
        line = f"{one.planting.name[:33]:34}" + "".join(f"{count or '-':>5}" for count in counts)
        line += f"{sum(one.soaks.values()):5}" + " " * 15
        lines.append(
            line + "".join(_gap(one.gaps_days.get(stage, [])).rjust(13) for stage in STAGES)
        )
    trade = f"{'the trade, in a dry spell':34}" + " " * (5 * len(MONTHS) + 20)
    lines.append(trade + "".join(TRADE_DAYS[stage].rjust(13) for stage in STAGES))
    middles = f"{'all plantings, mean gap':34}" + " " * (5 * len(MONTHS) + 20)
    lines.append(middles + "".join(f"{mean_gap(found, stage):.1f}".rjust(13) for stage in STAGES))
    return "\n".join(lines)


def _gap(gaps: list[int]) -> str:
    """The mean gap and how many there are."""
    return f"{mean(gaps):.1f} ({len(gaps)})" if gaps else "-"


if __name__ == "__main__":
    print(table(rhythms()))
