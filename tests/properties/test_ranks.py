"""Truths drawn from the ensemble's own prior lie anywhere among its members, and feels of them bring it nearer.

Each truth is one planting with an ensemble of its own; its multipliers, its weather and its cans err as a member's do,
under other uids. Ranks are flat by Pearson's chi-square over ten bins, at the level of 0.001: 27.88 with nine degrees
of freedom (Abramowitz and Stegun 1964, table 26.8, from memory). Draws hang on uids alone: every run gives the same
numbers, those of the assertions with room to spare.
"""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
import pytest

from soakbook.reckoning.simulation import draws
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.run import run
from tests.properties.truths import Wet, course, feels_of, laid_out, true_course, wet_on
from tests.reckoning.gardens import PLANTED

MORNING = PLANTED + timedelta(days=36)  # the second dry day after a soak
TRUTHS, MEMBERS = 400, 100
BINS = 10
CHI_SQUARE_9 = 27.88
STORES = ("ball", "reach")

FELT_TRUTHS = 100
FELT_UNTIL = PLANTED + timedelta(days=45)
SETTLED = PLANTED + timedelta(days=7)


@pytest.fixture(scope="module")
def truth() -> Wet:
    return true_course(TRUTHS, MORNING)[MORNING]


def ensemble() -> Wet:
    """All members but the plain run, which nobody drew."""
    wet = wet_on(run(laid_out("bed", TRUTHS, MORNING, MEMBERS))[-1])
    return Wet(*(field[:, 1:] for field in wet))


def unevenness(members: Floats, true: Floats) -> float:
    """Chi-square of the truths' ranks among their members against as many in every bin."""
    assert not np.any(members == true), "ranks of equals are nobody's"
    ranks = (members < true).sum(axis=1)
    counts = np.bincount(ranks * BINS // (members.shape[1] + 1), minlength=BINS)
    expected = len(true) / BINS
    return float(((counts - expected) ** 2 / expected).sum())


def test_truths_lie_anywhere_among_their_members(truth: Wet) -> None:
    members = ensemble()
    found = {name: unevenness(getattr(members, name), getattr(truth, name)) for name in STORES}
    assert max(found.values()) < CHI_SQUARE_9, found


def test_an_ensemble_of_half_the_spread_is_found_out(
    truth: Wet, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Truths at both ends: in ball and soil where every error is halved, in the ball where the multipliers are."""
    halved = {name: sd / 2 for name, sd in draws.LOG_SD.items()}
    monkeypatch.setattr(draws, "LOG_SD", halved)
    assert unevenness(ensemble().ball, truth.ball) > CHI_SQUARE_9
    for name in ("ET0_LOG_SD", "ET0_SHOCK", "RAIN_LOG_SD", "GIVEN_LOG_SD"):
        monkeypatch.setattr(draws, name, getattr(draws, name) / 2)
    members = ensemble()
    found = {name: unevenness(getattr(members, name), getattr(truth, name)) for name in STORES}
    assert min(found.values()) > 2 * CHI_SQUARE_9, found


class Score(NamedTuple):
    """Of the leading store on mornings without a feel: error of the middle member, and what the 90 % band covers."""

    rms: float
    covered: float


def score(members: Mapping[date, Wet], truth: Mapping[date, Wet], every: int) -> Score:
    days = [day for day in truth if day > SETTLED and (day - PLANTED).days % every]
    lead = np.array([members[day].lead for day in days])
    true = np.array([truth[day].lead[:, 0] for day in days])
    low, middle, high = np.quantile(lead, (0.05, 0.5, 0.95), axis=-1)
    return Score(
        float(np.sqrt(np.mean((middle - true) ** 2))),
        float(np.mean((low <= true) & (true <= high))),
    )


@pytest.fixture(scope="module")
def unfelt() -> Mapping[date, Wet]:
    return course(laid_out("bed", FELT_TRUTHS, FELT_UNTIL, MEMBERS))


@pytest.mark.parametrize(
    ("weather_errs", "every", "nearer", "covers"),
    [(True, 3, 0.75, 0.85), (True, 7, 0.85, 0.85), (False, 3, 0.70, 0.93)],
)
def test_feels_bring_the_leading_store_nearer_to_the_truth(
    unfelt: Mapping[date, Wet], weather_errs: bool, every: int, nearer: float, covers: float
) -> None:
    """A hand of noise 0.12 that says classes, every third or seventh morning, in ball and bed; the band still covers.

    Every third morning the error falls to 0.69 of what it was, and the band covers 0.86 where 0.88 without feels; where
    the truth's weather was as measured, to 0.67 and 0.96. Every seventh to 0.79, covering 0.87.
    """
    truth = true_course(FELT_TRUTHS, FELT_UNTIL, weather_errs)
    felt = course(
        laid_out("bed", FELT_TRUTHS, FELT_UNTIL, MEMBERS, feels_of(truth, "bed", every, 12))
    )
    before, after = score(unfelt, truth, every), score(felt, truth, every)
    assert after.rms < nearer * before.rms
    assert after.covered > covers
