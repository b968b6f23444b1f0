"""Roses in one bed on a dry morning of May, judged."""

from datetime import timedelta
from typing import Any

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Planting
from soakbook.reckoning.advice.judging import Judged
from soakbook.reckoning.advice.rounds import Morning, morning_on
from tests.reckoning.gardens import PLANTED, at, bed, judged_of, pages, roses, soak, weather

DAY = PLANTED + timedelta(days=10)
BEFORE = DAY - timedelta(days=1)
WET = soak(at(BEFORE, 8), 300.0)
"""Thirty litres a rose the day before: nothing is due."""

DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)


def morning(
    *entries: AnyEntry, plantings: tuple[Planting, ...] = (roses(),), **more: Any
) -> Morning:
    """The morning of that garden with these entries; `of_bed`, `day`, `days`, `members` and pages may be others."""
    given: dict[str, Any] = {
        "beds": (more.pop("of_bed", bed()),),
        "days": more.pop("days", weather(PLANTED - timedelta(days=5), 90, et0_mm=2.0)),
    }
    day = more.pop("day", DAY)
    members = more.pop("members", 20)
    return morning_on(pages(plantings, entries, **given | more), day, members)


def judged(*entries: AnyEntry, uid: str = "bed/roses", **more: Any) -> Judged:
    """One planting of it, judged."""
    return judged_of(morning(*entries, **more), uid)
