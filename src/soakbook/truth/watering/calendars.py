"""Fixed schedules of a season: the printed calendars as they stand, and those whose dose is fitted in hindsight."""

import numpy as np

from soakbook.reckoning.advice.calendars import (
    Calendar,
    Gap,
    Rainfall,
    every,
    rained,
    umn_gap,
    visit_days,
)
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.watering.days import Days
from soakbook.truth.watering.trial import Trial

FITTED: tuple[tuple[str, Gap], ...] = (
    ("umn", umn_gap),
    ("daily", every(1)),
    ("every 2nd day", every(2)),
    ("every 3rd day", every(3)),
    ("weekly", every(7)),
)
"""Schedules whose dose is scaled to equal thirst."""

LEAVES_OFF: tuple[Rainfall | None, ...] = (
    None,
    Rainfall(5, 2),
    Rainfall(10, 3),
    Rainfall(25, 7),
)


def calendar_soaks(calendar: Calendar, trials: tuple[Trial, ...], days: Days) -> Floats:
    """Litres a plant that a calendar gives, shape (day, planting)."""
    skipped = rained(days.rain_mm, calendar.leaves_off)
    return np.stack(
        [
            calendar.litres(trial.planting)
            * (visit_days(calendar.gap, int(planted), len(days), calendar.ends_after) & ~skipped)
            for trial, planted in zip(trials, days.planted, strict=True)
        ],
        axis=1,
    )
