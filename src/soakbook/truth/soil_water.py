"""Water in the root zone judged: with nothing fitted, after one look, and squared up by feels."""

from typing import NamedTuple

import numpy as np

from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.feels import Ensemble, run_ensemble
from soakbook.truth.hands import HANDS, Rhythm, open_runs, rhythm
from soakbook.truth.looking import look_of
from soakbook.truth.report import Felt, SoakedLook, SoilWater
from soakbook.truth.runs import Run, compared_days
from soakbook.truth.scores import Mask, Score, covered, score
from soakbook.truth.sensors import Profile
from soakbook.truth.targets import EVERY_DAYS
from soakbook.truth.wetness import Look, Scales, scales_of

LITERAL = "of the driest reading"


class _Judged(NamedTuple):
    """What a record's ensemble is held against."""

    ensemble: Ensemble
    theta: Floats
    compared: Mask


def soil_water(
    run: Run, profile: Profile, findings: list[str]
) -> tuple[SoilWater, tuple[Felt, ...]]:
    """A profile's water reckoned against measured, and what feels make of it.

    Parameters
    ----------
    run : Run
        The plain run of a record.
    profile : Profile
        Its sensors.
    findings : list of str
        What should be known of the comparison is added.
    """
    theta = profile.theta
    measured = ~np.isnan(theta)
    compared = compared_days(run, measured, "soil water", findings)
    look = look_of(run, theta, compared, findings)
    scales = None
    if look is not None and compared.any():
        scales = scales_of(theta[compared], look, run.course.wetness[0][compared])
        if scales.taken is None:
            findings.append("no feels: the record never dries enough to say what dry is")
    rhythms = _rhythms(run, theta, scales)
    runs = [*open_runs(), *(one for its in rhythms for one in its.runs())]
    ensemble = run_ensemble(run.series.days, run.forcing, run.zone, runs)
    judged = _Judged(ensemble, theta, compared)
    felt = [_felt(its, 1 + place, judged) for place, its in enumerate(rhythms)]
    if scales is not None and scales.literal is not None and scales.taken is not None:
        findings.append(_moved_words(scales, felt.pop()))
    plain, other = run.course.theta
    return SoilWater(
        days_measured=int((measured & run.series.in_span).sum()),
        days_compared=int(compared.sum()),
        fitted_nothing=score(plain[compared], theta[compared]),
        coverage=_open_coverage(judged, 0.0),
        other_texture=run.other_texture,
        other_score=score(other[compared], theta[compared]),
        look=_looked(run, look, judged),
    ), tuple(felt)


def _open_coverage(judged: _Judged, shift: float) -> float | None:
    """Share of days inside the open bands of all hands, moved by so much."""
    ensemble, theta, compared = judged
    low, high = ensemble.theta_low[:HANDS, compared], ensemble.theta_high[:HANDS, compared]
    measured = np.tile(theta[compared], HANDS)
    return covered(low.ravel() + shift, high.ravel() + shift, measured)


def _looked(run: Run, look: Look | None, judged: _Judged) -> SoakedLook | None:
    """Errors with the reckoned level moved by what the look says of full."""
    if look is None:
        return None
    shift = look.full - run.course.capacity_theta
    theta, compared = judged.theta, judged.compared
    return SoakedLook(
        day=look.day,
        measured=look.theta,
        full=look.full,
        shift=shift,
        score=score(run.course.theta[0][compared] + shift, theta[compared]),
        coverage=_open_coverage(judged, shift),
    )


def _rhythms(run: Run, theta: Floats, scales: Scales | None) -> list[Rhythm]:
    """Feels of every rhythm; last those of the literal scale, where another is taken."""
    if scales is None or scales.taken is None:
        return []
    days = run.series.days
    there = ~np.isnan(theta) & run.series.in_span & ~run.series.frozen
    found = [rhythm(every, scales.taken, days, theta, there) for every in EVERY_DAYS]
    if scales.literal is not None:
        found.append(rhythm(EVERY_DAYS[0], scales.literal, days, theta, there, LITERAL))
    return found


def _felt(rhythm: Rhythm, place: int, judged: _Judged) -> Felt:
    """Errors of all hands of a rhythm together, and of their open runs on the same days."""
    unfelt = judged.compared.copy()
    unfelt[list(rhythm.feels[0])] = False
    measured = np.tile(rhythm.scale.wetness(judged.theta[unfelt]), HANDS)
    days = int(unfelt.sum())
    squared, coverage = _of_hands(judged.ensemble, place, unfelt, measured)
    opened, open_coverage = _of_hands(judged.ensemble, 0, unfelt, measured)
    return Felt(
        every_days=rhythm.every_days,
        feels=len(rhythm.feels[0]),
        score=squared and squared._replace(n=days),
        vwc_rmse=squared and squared.rmse * (rhythm.scale.soaked - rhythm.scale.driest),
        coverage=coverage,
        open_score=opened and opened._replace(n=days),
        open_coverage=open_coverage,
    )


def _of_hands(
    ensemble: Ensemble, place: int, unfelt: Mask, measured: Floats
) -> tuple[Score | None, float | None]:
    """Errors and coverage of the runs that stand together at a place, a run for each hand."""
    rows = slice(place * HANDS, (place + 1) * HANDS)
    low, middle, high = (
        band[rows, unfelt].ravel() for band in (ensemble.low, ensemble.middle, ensemble.high)
    )
    return score(middle, measured), covered(low, high, measured)


def _moved_words(scales: Scales, literal: Felt) -> str:
    rmse = "-" if literal.score is None else f"{literal.score.rmse:.3f}"
    inside = "-" if literal.coverage is None else f"{literal.coverage:.2f}"
    assert scales.taken is not None
    assert scales.literal is not None
    return (
        f"on its driest days the record was reckoned at wetness {scales.driest_days:.2f}, so zero is put below "
        f"them, at {scales.taken.driest:.3f} instead of {scales.literal.driest:.3f}; with zero at the driest "
        f"readings a feel every {literal.every_days}rd day gives RMSE {rmse}, {inside} in the band"
    )
