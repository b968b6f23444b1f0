"""The longest time of a season without useful rain."""

from datetime import date
from typing import NamedTuple

import pandas as pd

from soakbook.garden.spells import is_useful

WORTH_SAYING_DAYS = 10
"""Less without useful rain is nothing out of the way. common practice, no source."""


class DryTime(NamedTuple):
    """Days without useful rain, both included, and what fell on them all the same."""

    first: date
    last: date
    rain_mm: float


def driest(weather: pd.DataFrame) -> DryTime | None:
    """The longest run of days without useful rain; None where none is worth saying.

    A day whose rain is not known ends a run: it is not taken for dry.

    Parameters
    ----------
    weather : DataFrame
        As `weather_frame` gives it.
    """
    runs: list[list[tuple[date, float]]] = [[]]
    before = 0.0
    for day, rain in zip(weather["day"].dt.date, weather["rain_mm"], strict=True):
        if pd.isna(rain) or is_useful(before, rain):
            runs.append([])
        else:
            runs[-1].append((day, float(rain)))
        before = 0.0 if pd.isna(rain) else float(rain)
    longest = max(runs, key=len)
    if len(longest) < WORTH_SAYING_DAYS:
        return None
    return DryTime(longest[0][0], longest[-1][0], sum(rain for _, rain in longest))
