"""The frame of beds: what each was given and what that cost, how long it stood dry, what was lost."""

from collections import Counter
from collections.abc import Mapping
from datetime import timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd

from soakbook.account.season import Span
from soakbook.account.standing import most_by_bed
from soakbook.garden.entries import Loss
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.garden.tables.causes import ELSEWHERE
from soakbook.reckoning.advice.course import Course
from soakbook.reckoning.simulation.bands import ranks
from soakbook.reckoning.simulation.watering import local_day

HELD_FOR_DAYS = 3
"""A watering within so many days of a morning too wet for water is one that was given all the same."""

BED_COLUMNS: Mapping[str, str] = {
    "bed": "key of the bed",
    "bed_uid": "permanent name of the bed",
    "name": "its name",
    "area_m2": "its area [m2]",
    "plants": "most plants that stood in it on one morning",
    "visits": "visits on which it was watered: one a day and person, however many soaks were entered",
    "left": "visits on which it was looked at and left",
    "litres": "given by hand, as entered [L]",
    "litres_per_m2": "the same over its area [L/m2, which is mm]",
    "litres_per_plant": "the same over its plants [L]",
    "minutes": "the tap open; nothing where a flow is not known [min]",
    "hours": "on foot, as reckoned from flow, stops and walk [h]",
    "water_cost": "of mains water, by the price of each day; nothing without a price, or with two currencies",
    "currency": "of the water's cost",
    "work_cost": "of those hours, by the price of each day; nothing without a price, or with two currencies",
    "work_currency": "of the work's cost",
    "dry_days": "days on which any planting's leading store was wanting or parched: half of the sums have more",
    "dry_days_p10": "the same: a tenth of the sums have fewer",
    "dry_days_p90": "the same: a tenth of the sums have more",
    "held_days": "mornings on which any planting's ground was too wet for water",
    "held_visits": "waterings on such a morning or within three days after it",
    "lost": "plants lost",
    "lost_to": "causes of the losses, the commonest first",
    "rain_gauge_mm": "rain in the open since something was reckoned in it [mm]",
    "rain_into_soil_mm": "rain that reached the soil, over the plants' ground [mm]",
    "rain_l": "rain on the plants' ground [L]",
    "drunk_l": "drunk by the plants [L]",
    "drained_l": "drained past the roots [L]",
    "run_off_l": "run off [L]",
}
"""Columns of the frame. A bed in which nothing was reckoned has no dry or held days."""


class Lost(NamedTuple):
    """Plants of one planting lost at one time."""

    day: pd.Timestamp
    bed_uid: Uid
    planting_uid: Uid
    count: int  # type: ignore[assignment]  # hides the tuple's own
    cause: str


def losses_in(pages: Pages, span: Span) -> tuple[Lost, ...]:
    """Losses entered for the days of a span, oldest first; plants that were moved or parted are none."""
    zone = ZoneInfo(pages.garden.timezone)
    bed_of = {one.uid: one.bed_uid for one in pages.plantings}
    found = []
    for one in pages.entries:
        if isinstance(one, Loss) and one.cause not in ELSEWHERE and one.planting_uid in bed_of:
            day = local_day(one.happened_at, zone)
            if span.first <= day <= span.until:
                uid = one.planting_uid
                found.append(Lost(pd.Timestamp(day), bed_of[uid], uid, one.count, one.cause))
    return tuple(found)


def beds_frame(
    pages: Pages, span: Span, course: Course | None, days: pd.DataFrame, visits: pd.DataFrame
) -> pd.DataFrame:
    """One row per bed that had plants, a visit or a loss in the span, in the book's order.

    Parameters
    ----------
    pages : Pages
    span : Span
    course : Course or None
        None where nothing is reckoned.
    days, visits : DataFrame
        As `days_frame` and `visits_frame` give them.
    """
    losses, most = losses_in(pages, span), most_by_bed(pages, span)
    rows = []
    for bed in pages.beds:
        mine, went = days[days["bed_uid"] == bed.uid], visits[visits["bed_uid"] == bed.uid]
        lost = [one for one in losses if one.bed_uid == bed.uid]
        plants = most[bed.uid]
        if not plants and went.empty and not lost:
            continue
        watered = went[went["what"] == "watered"]
        litres = float(watered["litres"].sum())
        wet = mine.groupby("day")["held"].any()
        rows.append(
            {
                "bed": bed.key,
                "bed_uid": bed.uid,
                "name": bed.name,
                "area_m2": bed.area_m2,
                "plants": plants,
                "visits": len(watered),
                "left": int((went["what"] == "left").sum()),
                "litres": litres,
                "litres_per_m2": litres / bed.area_m2,
                "litres_per_plant": litres / plants if plants else np.nan,
                "minutes": watered["minutes"].sum(min_count=len(watered)),
                "hours": float(watered["minutes_on_foot"].sum()) / 60,
                **_costs(watered),
                **_dry(course, bed.uid, mine),
                "held_days": int(wet.sum()),
                "held_visits": _soaked_all_the_same(wet, watered),
                "lost": sum(one.count for one in lost),
                "lost_to": _causes(lost),
                **_water(mine),
            }
        )
    return pd.DataFrame(rows, columns=list(BED_COLUMNS))


def _costs(watered: pd.DataFrame) -> dict[str, object]:
    """Sums of what has a price; not a number where nothing has one, or where two currencies would be added."""
    found: dict[str, object] = {}
    for cost, currency in (("water_cost", "currency"), ("work_cost", "work_currency")):
        priced = watered[watered[cost].notna()]
        paid = sorted(set(priced[currency]) - {""})
        found[cost] = float(priced[cost].sum()) if len(paid) < 2 and len(priced) else np.nan
        found[currency] = "".join(paid) if len(paid) < 2 else ""
    return found


def _dry(course: Course | None, bed_uid: Uid, mine: pd.DataFrame) -> dict[str, object]:
    """Days on which any planting of the bed was dry, as the members have it."""
    if course is None or mine.empty:
        return dict.fromkeys(("dry_days", "dry_days_p10", "dry_days_p90"), np.nan)
    bed = [one.uid for one in course.season.beds].index(bed_uid)
    low, middle, high = ranks(course.dry_bed_days[bed], (0.1, 0.5, 0.9))
    return {"dry_days": float(middle), "dry_days_p10": float(low), "dry_days_p90": float(high)}


def _soaked_all_the_same(wet: "pd.Series[bool]", watered: pd.DataFrame) -> int:
    """Waterings on a morning too wet for water, or within the days after it."""
    mornings = wet.index[wet]
    near = {
        morning + timedelta(days=number)
        for morning in mornings
        for number in range(HELD_FOR_DAYS + 1)
    }
    return int(watered["day"].isin(near).sum())


def _causes(lost: list[Lost]) -> str:
    """`9 drought, 1 drowned`; empty where nothing was lost."""
    causes: Counter[str] = Counter()
    for one in lost:
        causes[one.cause] += one.count
    return ", ".join(f"{count} {cause}" for cause, count in causes.most_common())


def _water(mine: pd.DataFrame) -> dict[str, float]:
    ground = mine["count"] * mine["cell_m2"]
    weighed = (mine["into_soil_mm"] * ground).groupby(mine["day"]).sum()
    over = ground.groupby(mine["day"]).sum()
    sums = {
        name: float(mine[name].sum()) for name in ("rain_l", "drunk_l", "drained_l", "run_off_l")
    }
    gauge_mm = mine.groupby("day")["rain_gauge_mm"].first().sum()
    into_mm = float((weighed / over).sum())
    return {"rain_gauge_mm": float(gauge_mm), "rain_into_soil_mm": into_mm, **sums}
