"""Evaporation and drainage judged, where a record has them."""

from collections import defaultdict

import numpy as np

from soakbook.truth.report import Evaporation, Percolation, Season
from soakbook.truth.runs import Run, compared_days
from soakbook.truth.scores import WEEK_DAYS, score, weekly

HALF_YEAR_MONTH = 7


def evaporation(run: Run, findings: list[str]) -> Evaporation | None:
    """What left soil and leaves together, by day and by week; None where it was not measured.

    A week counts from the first day of the record, and with four measured days at least.
    """
    measured = run.series.et_mm
    if np.isnan(measured).all():
        return None
    compared = compared_days(run, ~np.isnan(measured), "evaporation", findings)
    weeks = np.arange(measured.size) // WEEK_DAYS
    reckoned = run.course.et_mm[0]
    return Evaporation(
        daily=score(reckoned[compared], measured[compared]),
        weekly=score(weekly(reckoned, weeks, compared), weekly(measured, weeks, compared)),
    )


def percolation(run: Run, findings: list[str]) -> Percolation | None:
    """What drained below the roots, season by season; None where it was not measured.

    A season of the south bears the year in which it began.
    """
    measured = run.series.percolation_mm
    known = ~np.isnan(measured)
    if not known.any():
        return None
    span = np.flatnonzero(known)
    if known.sum() < (span[-1] - span[0] + 1) / 2:
        findings.append(
            "percolation: measured on fewer than half of the days; each figure is taken for its own day"
        )
    compared = compared_days(run, known, "percolation", findings)
    rows: dict[int, list[int]] = defaultdict(list)
    for row in np.flatnonzero(compared):
        day = run.series.days[row]
        rows[day.year - (run.record.southern and day.month < HALF_YEAR_MONTH)].append(int(row))
    drained = run.course.drained_mm[0]
    seasons = tuple(
        _season(year, len(its), float(drained[its].sum()), float(measured[its].sum()))
        for year, its in sorted(rows.items())
    )
    total = _season(
        0, 0, sum(one.reckoned_mm for one in seasons), sum(one.measured_mm for one in seasons)
    )
    return Percolation(seasons, total.ratio)


def _season(year: int, days: int, reckoned_mm: float, measured_mm: float) -> Season:
    ratio = reckoned_mm / measured_mm if measured_mm > 0 else None
    return Season(year, days, reckoned_mm, measured_mm, ratio)
