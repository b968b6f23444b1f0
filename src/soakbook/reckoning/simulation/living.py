"""How many plants of each planting stand on each morning of a season, as an array."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.entries import Loss
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting
from soakbook.garden.tables.causes import ELSEWHERE
from soakbook.reckoning.simulation.watering import local_day

Counts = NDArray[np.int64]
A_DAY = timedelta(days=1)


def living_by_day(
    pages: Pages,
    plantings: Sequence[Planting],
    starts: Sequence[date],
    first: date,
    mornings: int,
) -> Counts:
    """Living plants on each morning from `first` on, (morning, planting); none before a planting's start.

    They are those of `watering.living_count`, except that plants moved to another bed are counted there on the day of
    the move, and no more where they stood: each stands once.
    """
    zone = ZoneInfo(pages.garden.timezone)
    gone: dict[str, list[tuple[date, int]]] = defaultdict(list)
    for one in pages.entries:
        if isinstance(one, Loss):
            gone[one.planting_uid].append((first_without(one, zone), one.count))
    found = np.zeros((mornings, len(plantings)), np.int64)
    for row, (planting, start) in enumerate(zip(plantings, starts, strict=True)):
        found[max(0, (start - first).days) :, row] = planting.count
        for day, count in gone.get(planting.uid, ()):
            found[max(0, (day - first).days) :, row] -= count
    return np.maximum(found, 0)


def gone_from(planting: Planting, losses: Iterable[Loss], zone: ZoneInfo) -> date:
    """The first morning on which no plant of a planting stands any more; far ahead where some stand to the end."""
    own = sorted(
        (first_without(one, zone), one.count) for one in losses if one.planting_uid == planting.uid
    )
    left = planting.count
    for morning, count in own:
        left -= count
        if left <= 0:
            return max(morning, planting.planted_on)
    return date.max


def first_without(loss: Loss, zone: ZoneInfo) -> date:
    """The first morning without the plants: what died in the course of a day stood in its morning still."""
    day = local_day(loss.happened_at, zone)
    return day if loss.cause in ELSEWHERE else day + A_DAY
