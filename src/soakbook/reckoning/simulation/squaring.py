"""Squaring up: what a member thinks after a finger was in the soil, (44) and (45).

Arrays in, arrays out: an ensemble Kalman update with a floor under the reckoning's own error, so that a hand is
always heard. Whose arrays they are, and when a feel counts, is in `fingers`.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.records import FeltClass
from soakbook.reckoning.physics.records import Number
from soakbook.reckoning.simulation.bands import mean_of
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.looking import looked_wetness
from soakbook.reckoning.simulation.start import CLASS_MIDS

HAND_SD = 0.20
UNSURE_SD = 0.35
FINGER_SD = 0.12
"""How far a finger errs in wetness where feels are made up out of a known wetness; a reading's own sd is larger,
for a class is not a number. common practice, no source."""

MODEL_FLOOR_SD = 0.10
"""Real soils err in ways no parameter spans: without this a reckoning goes deaf to the hand."""

CLASS_CUTS: dict[FeltClass, tuple[float, float]] = {
    "dust": (0.0, 0.20),
    "dry": (0.20, 0.50),
    "moist": (0.50, 0.85),
    "wet": (0.85, 1.10),
    "sour": (1.10, 1.20),
}
"""From which wetness to which a class goes; common practice, no source."""


class Reading(NamedTuple):
    """A feel as a measurement of wetness; numbers, or arrays of as many feels as are taken at once."""

    wetness: Number  # the middle of its class
    noise_sd: Number  # of the hand
    variance: Number  # R of (44)


def reading_of(felt: FeltClass, unsure: bool = False) -> Reading:
    """A class of wetness as a measurement.

    References
    ----------
    Trained hands judge available water to about 5 per cent (USDA-NRCS, "Estimating Soil Moisture by Feel
    and Appearance", at second hand); gardeners worse: common practice, no source.
    """
    sd = UNSURE_SD if unsure else HAND_SD
    low, high = CLASS_CUTS[felt]
    return Reading(CLASS_MIDS[felt], sd, sd**2 + (high - low) ** 2 / 12)  # (44)


def reading_of_look(wet_to_cm: float, depth_cm: float) -> Reading:
    """A hole wet down to a depth as a measurement of the soil the roots have, no surer than a finger's moist."""
    return reading_of("moist")._replace(wetness=looked_wetness(wet_to_cm, depth_cm))


def class_of(wetness: float) -> FeltClass:
    """The class a finger would find."""
    return next((felt for felt, (_, high) in CLASS_CUTS.items() if wetness < high), "sour")


def squared_up(
    quantities: Floats,
    felt: Floats,
    reading: Reading,
    normals: Floats,
    floored: NDArray[np.bool_],
    floor_sd: float = MODEL_FLOOR_SD,
) -> Floats:
    """What the members think of some quantities after a feel.

    Parameters
    ----------
    quantities : ndarray, shape (..., quantity, member)
        Log multipliers, errors, wetnesses: whatever may go with what was felt.
    felt : ndarray, shape (..., member)
        The wetness each member expected the finger to find.
    reading : Reading
        What it found; numbers, or arrays of shape (...).
    normals : ndarray, shape (..., member)
        Standard normals: each member hears the hand with an error of its own. Member 0 hears the class itself.
    floored : ndarray of bool, shape (quantity,) or (..., quantity)
        Which quantities are the felt wetness itself.
    floor_sd : float
        Standard deviation of the reckoning's own error of wetness [-, >= 0].

    Returns
    -------
    ndarray, shape (..., quantity, member)
        Not yet held within any bounds.

    Notes
    -----
    K = (cov(X, x) + floor² on the felt wetness) / (var(x) + floor² + R); X + K (y - x), (45); covariances over all
    members, with N - 1. With a floor of 0 and a linear Gaussian case its mean is that of the Kalman filter.

    References
    ----------
    Burgers, van Leeuwen and Evensen (1998), Monthly Weather Review 126:1719-1724, for measurements perturbed
    member by member (from memory).
    """
    others = max(felt.shape[-1] - 1, 1)
    felt_off = felt - mean_of(felt)[..., np.newaxis]
    off = quantities - mean_of(quantities)[..., np.newaxis]
    # Summed row by row: a matrix product's last digits hang on how many quantities there are.
    covariance = (off * felt_off[..., np.newaxis, :]).sum(axis=-1) / others
    variance = (felt_off * felt_off).sum(axis=-1) / others
    heard = np.asarray(reading.noise_sd)[..., np.newaxis] * normals
    heard[..., 0] = 0.0
    heard += np.asarray(reading.wetness)[..., np.newaxis]  # (44)
    gain = covariance + floor_sd**2 * floored
    gain = gain / np.asarray(variance + floor_sd**2 + reading.variance)[..., np.newaxis]  # (45)
    moved: Floats = quantities + gain[..., np.newaxis] * (heard - felt)[..., np.newaxis, :]
    return moved


def innovation(felt: Floats, reading: Reading) -> float:
    """How far a feel lies from what was expected, in standard deviations: above 0 it was found wetter.

    Parameters
    ----------
    felt : ndarray, shape (member,)
    reading : Reading
        Of one feel.
    """
    mean = mean_of(felt)
    off = felt - mean
    variance = (off * off).sum() / max(felt.size - 1, 1)
    return float(
        (reading.wetness - mean) / math.sqrt(variance + MODEL_FLOOR_SD**2 + reading.variance)
    )
