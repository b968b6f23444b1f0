"""One record judged: its numbers, each beside its target."""

from collections.abc import Sequence

import numpy as np

from soakbook.truth.fluxes import evaporation, percolation
from soakbook.truth.looking import OVERFULL, overfull
from soakbook.truth.record import Record
from soakbook.truth.report import Evaporation, Felt, Percolation, RecordReport, SoilWater
from soakbook.truth.runs import Run, run_of
from soakbook.truth.sensors import Profile
from soakbook.truth.series import Series
from soakbook.truth.soil_water import soil_water
from soakbook.truth.targets import (
    EVERY_DAYS,
    UNSEEN,
    Judged,
    Targets,
    at_least,
    at_most,
    tally,
)


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
    note = _overfull(run, water, findings)
    targets = (
        *_of_soil_water(record.targets, water, felt, note),
        *_of_fluxes(record.targets, evaporated, drained),
    )
    come_of = tally(targets)
    span = np.flatnonzero(series.in_span)
    return RecordReport(
        record=record.key,
        name=record.name,
        soil=record.soil.words,
        root_depth_m=series.root_depth_m,
        sensor_depths_cm=tuple(probe.bottom_cm for probe in profile.probes) if profile else (),
        layer_tops_cm=_tops(profile),
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
        judged=come_of.judged,
        met=come_of.met,
        findings=tuple(dict.fromkeys(findings)),
    )


def _tops(profile: Profile | None) -> tuple[float, ...]:
    """Where layers begin; nothing for sensors."""
    return tuple(probe.top_cm for probe in profile.probes if probe.layer) if profile else ()


def _overfull(run: Run, water: SoilWater | None, findings: list[str]) -> str | None:
    """What is to be said of a look that reads more than the soil can hold; None of any other."""
    if water is None or water.look is None or not overfull(run, water.look.measured):
        return None
    findings.append(f"after the soaking the sensors read {water.look.measured:.2f}: {OVERFULL}")
    return OVERFULL


def _of_soil_water(
    asked: Targets, water: SoilWater | None, felt: Sequence[Felt], note: str | None
) -> tuple[Judged, ...]:
    if water is None and asked == UNSEEN:
        return ()
    plain = water.fitted_nothing if water else None
    look = water.look.score if water and water.look else None
    often = next((one for one in felt if one.every_days == EVERY_DAYS[0]), None)
    wet = often.score if often else None
    return (
        *at_most("nothing fitted: ub", plain and plain.ub, asked.ub),
        *at_least("nothing fitted: R2", plain and plain.r2, asked.r2),
        *at_most("after one soaked look: RMSE", look and look.rmse, asked.look_rmse, note),
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
    found += at_least("percolation over measured", ratio, asked.percolation_least)
    found += at_most("percolation over measured", ratio, asked.percolation_most)
    return tuple(found)
