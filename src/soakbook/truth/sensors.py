"""Soil water sensors: what cannot be is named, and the rest becomes the mean of a profile.

A reading that is left out is counted in a finding; none is mended.
"""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from soakbook.errors import InputError
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.scores import Mask

MOST_FRACTION = 1.0
PERCENT_FROM = 1.5
"""A middle reading above this can only be per cent."""
FLAT_DAYS = 30
"""Unchanged to the last digit for so long a sensor has stopped. common practice, no source"""
LEAST_SHARE = 0.5
"""A sensor with fewer readings than this share of the best one's is left out: it would take their days away."""
FAR_BELOW = 0.5
OVER_FULL = 0.03
"""So much more water than the soil can hold is said, m3/m3."""


class Profile(NamedTuple):
    """Mean water of the root zone, day by day."""

    theta: Floats
    """m3/m3; not a number where a sensor was silent."""
    root_depth_m: float
    depths_cm: tuple[float, ...]
    """Of the sensors that make it."""
    weights: tuple[float, ...]
    findings: tuple[str, ...]


def profile_of(
    readings: Mapping[float, Floats],
    root_depth_m: float | None,
    wanted_cm: Sequence[float] | None,
    saturation: float,
) -> Profile:
    """The mean of sensors, each weighted by the layer it stands for.

    A layer reaches half-way to the next sensor; the first begins at the surface, the last ends where the
    roots do.

    Parameters
    ----------
    readings : mapping of float to ndarray, shape (day,)
        Depth in cm -> readings as fractions, not a number where there is none.
    root_depth_m : float or None
        Depth of the root zone; None takes the deepest sensor's.
    wanted_cm : sequence of float, optional
        The depths the record names; all when None.
    saturation : float
        What the soil holds when full [m3/m3], for what is said of readings.

    Raises
    ------
    InputError
        A depth without its column, no sensor within the roots, or none that reads.
    """
    findings: list[str] = []
    chosen = _wanted(readings, wanted_cm, findings)
    kept = _living({depth: _possible(depth, chosen[depth], findings) for depth in chosen}, findings)
    depth_m = _zone_depth_m(kept, root_depth_m, findings)
    inside = {depth: kept[depth] for depth in kept if depth <= 100 * depth_m + 1e-9}
    if len(inside) < len(kept):
        below = ", ".join(f"{depth:g}" for depth in kept if depth not in inside)
        findings.append(f"below the roots, and left out: the sensor at {below} cm")
    if not inside:
        right = f"at least as deep as a sensor, {min(kept):g} cm"
        raise InputError("root_depth_m", root_depth_m, right)
    weights = layer_weights(tuple(inside), 100 * depth_m)
    if max(inside) < FAR_BELOW * 100 * depth_m:
        findings.append(
            f"the lowest sensor, at {max(inside):g} cm, stands for all down to {100 * depth_m:g} cm"
        )
    theta = np.array(weights) @ np.array(list(inside.values()))
    _name_overfull(theta, saturation, findings)
    return Profile(theta, depth_m, tuple(inside), weights, tuple(findings))


def layer_weights(depths_cm: Sequence[float], root_depth_cm: float) -> tuple[float, ...]:
    """Share of the root zone each sensor stands for, depths in order."""
    between = [(upper + lower) / 2 for upper, lower in pairwise(depths_cm)]
    edges = [0.0, *(min(edge, root_depth_cm) for edge in between), root_depth_cm]
    return tuple((low - high) / root_depth_cm for high, low in pairwise(edges))


def _wanted(
    readings: Mapping[float, Floats], wanted_cm: Sequence[float] | None, findings: list[str]
) -> dict[float, Floats]:
    if wanted_cm is None:
        return dict(sorted(readings.items()))
    missing = [depth for depth in wanted_cm if depth not in readings]
    if missing:
        has = ", ".join(f"vwc_{depth:g}" for depth in sorted(readings)) or "no such column"
        raise InputError(
            "sensor_depths_cm", missing[0], f"a column vwc_{missing[0]:g}; the file has {has}"
        )
    others = [depth for depth in sorted(readings) if depth not in wanted_cm]
    if others:
        named = ", ".join(f"{depth:g}" for depth in others)
        findings.append(f"not among sensor_depths_cm, and left out: {named} cm")
    return {depth: readings[depth] for depth in sorted(wanted_cm)}


def _possible(depth: float, values: Floats, findings: list[str]) -> Floats:
    """Readings of one sensor that can be: per cent brought to fractions, the impossible and the flat gone."""
    values = values.copy()
    known = values[~np.isnan(values)]
    if known.size and np.median(known) > PERCENT_FROM:
        findings.append(f"sensor at {depth:g} cm taken as per cent")
        values /= 100
    wrong = (values < 0) | (values > MOST_FRACTION)
    if wrong.any():
        findings.append(
            f"sensor at {depth:g} cm: {int(wrong.sum())} readings below 0 or above 1 left out"
        )
        values[wrong] = np.nan
    flat = _flat(values)
    if flat.any():
        findings.append(
            f"sensor at {depth:g} cm: {int(flat.sum())} readings left out, unchanged for {FLAT_DAYS} days and more"
        )
        values[flat] = np.nan
    return values


def _flat(values: Floats) -> Mask:
    """Days on which a sensor stands at one reading for long; days without a reading do not break a run."""
    flat = np.zeros(values.size, np.bool_)
    known = np.flatnonzero(~np.isnan(values))
    if known.size == 0:
        return flat
    changes = np.flatnonzero(np.diff(values[known]) != 0) + 1
    for run in np.split(known, changes):
        if run.size >= FLAT_DAYS:
            flat[run] = True
    return flat


def _living(readings: Mapping[float, Floats], findings: list[str]) -> dict[float, Floats]:
    """Sensors that read on enough days to be worth their silence on the others."""
    counts = {depth: int((~np.isnan(values)).sum()) for depth, values in readings.items()}
    most = max(counts.values(), default=0)
    if most == 0:
        right = "; ".join(("soil water on some days at least", *findings))
        raise InputError("columns vwc_<cm>", None, right)
    for depth, count in counts.items():
        if count == 0:
            findings.append(f"sensor at {depth:g} cm: empty throughout, left out")
        elif count < LEAST_SHARE * most:
            findings.append(f"sensor at {depth:g} cm: {count} readings of {most}, left out")
    return {
        depth: readings[depth] for depth, count in counts.items() if count >= LEAST_SHARE * most
    }


def _zone_depth_m(
    readings: Mapping[float, Floats], root_depth_m: float | None, findings: list[str]
) -> float:
    if root_depth_m is not None:
        return root_depth_m
    deepest = max(readings) / 100
    findings.append(f"no root_depth_m said: taken as the lowest sensor's, {deepest:g} m")
    return deepest


def _name_overfull(theta: Floats, saturation: float, findings: list[str]) -> None:
    over = int((theta > saturation + OVER_FULL).sum())
    if over:
        findings.append(
            f"on {over} days the sensors read more than this soil holds when full ({saturation:.2f}): "
            "trust how they change, not how high they stand"
        )
