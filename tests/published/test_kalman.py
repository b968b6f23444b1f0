"""The update by a feel against the filter it stands for.

Kalman (1960), "A new approach to linear filtering and prediction problems", Journal of Basic Engineering 82:35-45: for
a state x ~ N(m, P) and a reading y = h x + noise of variance R, gain K = P h / (h P h + R), mean m + K (y - h m),
variance P - K h P. The formula is quoted in its textbook form, from memory; that an ensemble with perturbed readings
tends to it is Burgers, van Leeuwen and Evensen (1998), Monthly Weather Review 126:1719-1724, from memory.

Tolerances are Monte-Carlo standard errors of 100,000 members, four of them: a right update passes with any seed but
one in some ten thousand a check.
"""

from typing import NamedTuple

import numpy as np
import pytest

from soakbook.garden.records import FeltClass
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.squaring import MODEL_FLOOR_SD, Reading, reading_of, squared_up

MEMBERS = 100_000
ERRORS = 4
MEAN = np.array([0.70, 0.60, 0.10, -0.20])
SDS = np.array([0.12, 0.15, 0.20, 0.35])
CORRELATION = np.array(
    [[1.0, 0.5, 0.4, 0.0], [0.5, 1.0, -0.3, 0.2], [0.4, -0.3, 1.0, 0.0], [0.0, 0.2, 0.0, 1.0]]
)
P = CORRELATION * np.outer(SDS, SDS)
"""Wetness of ball and reach, and two log multipliers, before anybody felt anything."""

FELT = np.array([0.0, 1.0, 0.0, 0.0])
MIXED = np.array([0.3, 0.7, 0.0, 0.0])
NO_FLOOR = np.zeros(4, np.bool_)


class Posterior(NamedTuple):
    """Mean and covariance after the reading."""

    mean: Floats
    covariance: Floats


def kalman(
    h: Floats, reading: float, heard_variance: float, gain_variance: float | None = None
) -> Posterior:
    """The textbook step; with a gain made for another variance, (I - K h) P (I - K h)' + K K' R."""
    total = h @ P @ h + (heard_variance if gain_variance is None else gain_variance)
    gain = P @ h / total
    kept = np.eye(4) - np.outer(gain, h)
    covariance = kept @ P @ kept.T + heard_variance * np.outer(gain, gain)
    return Posterior(MEAN + gain * (reading - h @ MEAN), covariance)


def by_members(h: Floats, reading: Reading, seed: int, floor_sd: float = 0.0) -> Floats:
    """The members after a reading of h x, (quantity, member)."""
    rng = np.random.default_rng(seed)
    members = MEAN[:, np.newaxis] + np.linalg.cholesky(P) @ rng.standard_normal((4, MEMBERS))
    return squared_up(
        members, h @ members, reading, rng.standard_normal(MEMBERS), NO_FLOOR, floor_sd
    )


def mean_error(after: Posterior) -> Floats:
    """Standard error of the members' mean: as many draws of the posterior, and of the prior through the gain."""
    error: Floats = np.sqrt((np.diag(P) + np.diag(after.covariance)) / MEMBERS)
    return error


@pytest.mark.parametrize("h", [FELT, MIXED], ids=["felt itself", "a mixture"])
@pytest.mark.parametrize(
    ("reading", "noise_sd"), [(0.35, 0.20), (0.97, 0.20), (0.10, 0.35), (0.68, 0.05)]
)
def test_mean_and_variance_of_a_kalman_step(h: Floats, reading: float, noise_sd: float) -> None:
    """Kalman (1960) eqs 28-30 in their textbook form (from memory): noise and R matched, no floor."""
    members = by_members(h, Reading(reading, noise_sd, noise_sd**2), seed=60)
    expected = kalman(h, reading, noise_sd**2)
    assert np.all(np.abs(members.mean(axis=1) - expected.mean) < ERRORS * mean_error(expected))
    variance = np.diag(expected.covariance)
    # The variance of a normal sample is known to sqrt(2 / N) of itself; the sampled gain adds no more than that again.
    assert members.var(axis=1, ddof=1) == pytest.approx(
        variance, rel=2 * ERRORS * np.sqrt(2 / MEMBERS)
    )


def test_a_right_step_is_told_from_a_wrong_one() -> None:
    """Kalman (1960), textbook form, from memory: with half the noise, or a floor of 0.10, the same check fails."""
    expected = kalman(FELT, 0.35, 0.20**2)
    half = by_members(FELT, Reading(0.35, 0.10, 0.10**2), seed=60)
    floored = by_members(FELT, Reading(0.35, 0.20, 0.20**2), seed=60, floor_sd=MODEL_FLOOR_SD)
    for wrong in (half, floored):
        assert np.any(np.abs(wrong.mean(axis=1) - expected.mean) > ERRORS * mean_error(expected))


@pytest.mark.parametrize("felt", ["dust", "dry", "moist", "wet", "sour"])
def test_a_class_as_a_reading(felt: FeltClass) -> None:
    """Kalman (1960), textbook form, from memory: the mean is that of the step with all of R, class width and hand.

    The members hear the hand's error alone, so their spread is that of a reading of variance 0.20² taken with the gain
    for R: short of the step's by less than a twentieth, said exactly by Joseph's form (from memory).
    """
    reading = reading_of(felt)
    members = by_members(MIXED, reading, seed=61)
    step = kalman(MIXED, float(reading.wetness), float(reading.variance))
    heard = kalman(MIXED, float(reading.wetness), 0.20**2, float(reading.variance))
    assert np.all(np.abs(members.mean(axis=1) - step.mean) < ERRORS * mean_error(step))
    found = members.var(axis=1, ddof=1)
    assert found == pytest.approx(np.diag(heard.covariance), rel=2 * ERRORS * np.sqrt(2 / MEMBERS))
    short = np.diag(step.covariance) - np.diag(heard.covariance)
    assert np.all(short >= 0)
    assert np.all(short < 0.05 * np.diag(step.covariance))


def test_two_readings_one_after_the_other_are_one_of_both() -> None:
    """Kalman (1960), textbook form, from memory: equal readings of variance R in turn equal one of variance R / 2."""
    rng = np.random.default_rng(62)
    members = MEAN[:, np.newaxis] + np.linalg.cholesky(P) @ rng.standard_normal((4, MEMBERS))
    for _ in range(2):
        reading = Reading(0.35, 0.20, 0.20**2)
        members = squared_up(
            members, FELT @ members, reading, rng.standard_normal(MEMBERS), NO_FLOOR, 0.0
        )
    expected = kalman(FELT, 0.35, 0.20**2 / 2)
    assert np.all(np.abs(members.mean(axis=1) - expected.mean) < 2 * ERRORS * mean_error(expected))
    assert members.var(axis=1, ddof=1) == pytest.approx(
        np.diag(expected.covariance), rel=3 * ERRORS * np.sqrt(2 / MEMBERS)
    )
