"""How many plants of each planting stand on each morning of a season, as an array."""

from collections import defaultdict
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.entries import Loss
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.watering import living_count, local_day

Counts = NDArray[np.int64]


def living_by_day(season: Season, first: date, mornings: int) -> Counts:
    """Living plants on each morning from `first` on, (morning, planting); none before a planting is reckoned."""
    zone = ZoneInfo(season.pages.garden.timezone)
    losses: dict[str, list[Loss]] = defaultdict(list)
    for one in season.pages.entries:
        if isinstance(one, Loss):
            losses[one.planting_uid].append(one)
    found = np.zeros((mornings, len(season.plantings)), np.int64)
    for row, (planting, start) in enumerate(zip(season.plantings, season.starts, strict=True)):
        mine = losses.get(planting.uid, [])
        lost_on = {local_day(one.happened_at, zone) for one in mine}
        changes = {start, *lost_on, *(day + timedelta(days=1) for day in lost_on)}
        for day in sorted(one for one in changes if one >= start):
            since = (day - first).days
            if since < mornings:
                found[max(0, since) :, row] = living_count(planting, mine, day, zone)
    return found
