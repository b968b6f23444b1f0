"""One record judged: its numbers, each beside its target."""

import numpy as np

from soakbook.truth.fluxes import evaporation, percolation
from soakbook.truth.record import Record
from soakbook.truth.report import Evaporation, Felt, Percolation, RecordReport, SoilWater
from soakbook.truth.runs import run_of
from soakbook.truth.series import Series
from soakbook.truth.soil_water import soil_water
from soakbook.truth.targets import EVERY_DAYS, Judged, Targets, at_least, at_most


def judged(record: Record, series: Series) -> RecordReport:
    """A record's numbers and what came of its targets.

    Parameters
    ----------
    record, series : Record, Series
        As read.
    """
    findings = [*record.findings, *series.findings]
    run = run_of(record, series)
    water: SoilWater | None = None
    felt: tuple[Felt, ...] = ()
    profile = series.profile
    if profile is not None:
        water, felt = soil_water(run, profile, findings)
    evaporated = evaporation(run, findings)
    drained = percolation(run, findings)
    targets = (
        *_of_soil_water(record.targets, water, felt),
        *_of_fluxes(record.targets, evaporated, drained),
    )
    reached = [one.met for one in targets if one.met is not None]
    span = np.flatnonzero(series.in_span)
    return RecordReport(
        record=record.key,
        name=record.name,
        soil=record.soil.words,
        root_depth_m=series.root_depth_m,
        sensor_depths_cm=profile.depths_cm if profile else (),
        sensor_weights=profile.weights if profile else (),
        months=record.months,
        first=series.days[span[0]],
        last=series.days[span[-1]],
        source=record.source,
        licence=record.licence,
        soil_water=water,
        felt=felt,
        evaporation=evaporated,
        percolation=drained,
        targets=targets,
        met=all(reached) if reached else None,
        findings=tuple(dict.fromkeys(findings)),
    )


def _of_soil_water(
    asked: Targets, water: SoilWater | None, felt: tuple[Felt, ...]
) -> tuple[Judged, ...]:
    if water is None:
        return ()
    plain = water.fitted_nothing
    look = water.look.score if water.look else None
    often = next((one for one in felt if one.every_days == EVERY_DAYS[0]), None)
    wet = often.score if often else None
    return (
        *at_most("nothing fitted: ub", plain and plain.ub, asked.ub),
        *at_least("nothing fitted: R2", plain and plain.r2, asked.r2),
        *at_most("after one soaked look: RMSE", look and look.rmse, asked.look_rmse),
        *at_most("felt every 3rd day: RMSE of wetness", wet and wet.rmse, asked.wetness_rmse),
        *at_least("felt every 3rd day: inside the band", often and often.coverage, asked.coverage),
    )


def _of_fluxes(
    asked: Targets, evaporated: Evaporation | None, drained: Percolation | None
) -> tuple[Judged, ...]:
    daily = evaporated.daily if evaporated else None
    weekly = evaporated.weekly if evaporated else None
    ratio = drained.ratio if drained else None
    found = [
        *at_most("evaporation by day: RMSE", daily and daily.rmse, asked.et_rmse_mm),
        *at_most(
            "evaporation by day: bias either way", daily and abs(daily.bias), asked.et_bias_mm
        ),
        *at_least("evaporation by week: R2", weekly and weekly.r2, asked.et_weekly_r2),
    ]
    found = found if evaporated else []
    if drained:
        found += at_least("percolation over measured", ratio, asked.percolation_least)
        found += at_most("percolation over measured", ratio, asked.percolation_most)
    return tuple(found)
