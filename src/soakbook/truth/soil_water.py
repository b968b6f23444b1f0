"""Water in the root zone judged: with nothing fitted, after one look, and squared up by feels."""

from collections.abc import Mapping, Sequence

import numpy as np

from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.feels import Ensemble, Feels, run_ensemble
from soakbook.truth.report import Felt, SoakedLook, SoilWater
from soakbook.truth.runs import Run, compared_days
from soakbook.truth.scores import Mask, covered, score
from soakbook.truth.sensors import Profile
from soakbook.truth.targets import EVERY_DAYS
from soakbook.truth.wetness import (
    Look,
    Scale,
    felt_class,
    hand_errors,
    scale_of,
    soaked_look,
)

HANDS = 4
"""Runs of each rhythm, each with a hand's errors of its own."""

Rhythms = Mapping[int, Sequence[Feels]]
"""Every so many days -> the feels of each hand."""


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
    look = soaked_look(run.forcing, run.course, run.series.days, theta, compared)
    scale = scale_of(theta[compared], look, run.course.wetness[0][compared])
    if look is None:
        findings.append("no soaked look: no reading two to four days after a soaking")
    elif scale is None:
        findings.append("no feels: the record never dries enough to say what dry is")
    rhythms = _rhythms(run, theta, scale)
    runs: list[Feels] = [{}, *(feels for hands in rhythms.values() for feels in hands)]
    ensemble = run_ensemble(run.record.key, run.series.days, run.forcing, run.zone, runs)
    plain, other = run.course.theta
    low, high = ensemble.theta_low[compared], ensemble.theta_high[compared]
    return SoilWater(
        days_measured=int((measured & run.series.in_span).sum()),
        days_compared=int(compared.sum()),
        fitted_nothing=score(plain[compared], theta[compared]),
        coverage=covered(low, high, theta[compared]),
        other_texture=run.other_texture,
        other_score=score(other[compared], theta[compared]),
        look=_looked(run, look, theta, compared, ensemble),
    ), _felt(rhythms, ensemble, scale, theta, compared)


def _looked(
    run: Run, look: Look | None, theta: Floats, compared: Mask, ensemble: Ensemble
) -> SoakedLook | None:
    """Errors with the reckoned level moved by what the look says of full."""
    if look is None:
        return None
    shift = look.full - run.course.capacity_theta
    low, high = ensemble.theta_low + shift, ensemble.theta_high + shift
    return SoakedLook(
        day=look.day,
        measured=look.theta,
        full=look.full,
        shift=shift,
        score=score(run.course.theta[0][compared] + shift, theta[compared]),
        coverage=covered(low[compared], high[compared], theta[compared]),
    )


def _rhythms(run: Run, theta: Floats, scale: Scale | None) -> Rhythms:
    """Feels made of the readings of the compared months, a hand's error on each."""
    if scale is None:
        return {}
    days = run.series.days
    wetness = scale.wetness(theta)
    there = np.flatnonzero(~np.isnan(theta) & run.series.in_span & ~run.series.frozen)
    hands = [
        wetness + hand_errors(f"truth {run.record.key} hand {hand}", days) for hand in range(HANDS)
    ]
    return {
        every: [
            {
                int(row): felt_class(float(felt[row]))
                for row in there
                if days[row].toordinal() % every == 0
            }
            for felt in hands
        ]
        for every in EVERY_DAYS
    }


def _felt(
    rhythms: Rhythms, ensemble: Ensemble, scale: Scale | None, theta: Floats, compared: Mask
) -> tuple[Felt, ...]:
    if scale is None:
        return ()
    found = []
    for place, (every, hands) in enumerate(rhythms.items()):
        unfelt = compared.copy()
        unfelt[list(hands[0])] = False
        first = 1 + place * HANDS
        runs = range(first, first + HANDS)
        found.append(_of_rhythm(every, runs, len(hands[0]), ensemble, scale, (theta, unfelt)))
    return tuple(found)


def _of_rhythm(
    every: int,
    runs: range,
    feels: int,
    ensemble: Ensemble,
    scale: Scale,
    measured: tuple[Floats, Mask],
) -> Felt:
    """Errors of all hands of one rhythm together, and of the open run on the same days."""
    theta, unfelt = measured
    wetness = scale.wetness(theta[unfelt])
    middles = np.concatenate([ensemble.middle[run][unfelt] for run in runs])
    lows = np.concatenate([ensemble.low[run][unfelt] for run in runs])
    highs = np.concatenate([ensemble.high[run][unfelt] for run in runs])
    often = np.tile(wetness, len(runs))
    hands = score(middles, often)
    return Felt(
        every_days=every,
        feels=feels,
        score=hands and hands._replace(n=int(unfelt.sum())),
        vwc_rmse=hands and hands.rmse * (scale.soaked - scale.driest),
        coverage=covered(lows, highs, often),
        open_score=score(ensemble.middle[0][unfelt], wetness),
        open_coverage=covered(ensemble.low[0][unfelt], ensemble.high[0][unfelt], wetness),
    )
