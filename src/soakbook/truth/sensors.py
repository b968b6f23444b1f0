"""Soil water sensors: what cannot be is named, and the rest becomes the mean of a profile.

A reading that is left out is counted in a finding; none is mended.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from soakbook.errors import InputError
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.probes import ROOT_ZONE, Probe, of_one_kind, probe_weights
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
    probes: tuple[Probe, ...]
    """Sensors or layers that make it."""
    weights: tuple[float, ...]
    findings: tuple[str, ...]


def profile_of(
    readings: Mapping[Probe, Floats],
    root_depth_m: float | None,
    wanted_cm: Sequence[float] | None,
    saturation: float,
) -> Profile:
    """The mean of sensors or layers, each weighted by the ground it stands for.

    That reaches half-way to the next; the first begins at the surface, the last ends where the roots do.

    Parameters
    ----------
    readings : mapping of Probe to ndarray, shape (day,)
        Readings as fractions, not a number where there is none.
    root_depth_m : float or None
        Depth of the root zone; None takes the deepest sensor's.
    wanted_cm : sequence of float, optional
        The depths the record names; all when None.
    saturation : float
        What the soil holds when full [m3/m3], for what is said of readings.

    Raises
    ------
    InputError
        No sensor of the depths named, none within the roots, or none that reads.
    """
    findings: list[str] = []
    chosen = of_one_kind(_wanted(readings, wanted_cm, findings), findings)
    placed = {_bounded(probe, root_depth_m): readings[probe] for probe in chosen}
    kept = _living({probe: _possible(probe, placed[probe], findings) for probe in placed}, findings)
    depth_m = _zone_depth_m(kept, root_depth_m, findings)
    inside = {probe: kept[probe] for probe in kept if probe.inside(100 * depth_m)}
    if len(inside) < len(kept):
        below = ", ".join(probe.depths for probe in kept if probe not in inside)
        findings.append(f"below the roots, and left out: the sensor at {below} cm")
    if not inside:
        right = f"at least as deep as a sensor, {min(kept).depths} cm"
        raise InputError("root_depth_m", root_depth_m, right)
    weights = probe_weights(tuple(inside), 100 * depth_m)
    _name_far_ends(max(inside), 100 * depth_m, findings)
    theta = np.array(weights) @ np.array(list(inside.values()))
    _name_overfull(theta, saturation, findings)
    return Profile(theta, depth_m, tuple(inside), weights, tuple(findings))


def _wanted(
    readings: Mapping[Probe, Floats], wanted_cm: Sequence[float] | None, findings: list[str]
) -> list[Probe]:
    """The probes of the depths named; a layer's depth is its bottom."""
    if ROOT_ZONE in readings:
        if len(readings) == 1:
            return [ROOT_ZONE]
        findings.append("sensors and layers go before the mean of all, which is left out")
        readings = {probe: readings[probe] for probe in readings if probe != ROOT_ZONE}
    if wanted_cm is None:
        return list(readings)
    there = [probe for probe in readings if probe.bottom_cm in wanted_cm]
    bottoms = {probe.bottom_cm for probe in there}
    missing = ", ".join(f"{depth:g}" for depth in wanted_cm if depth not in bottoms)
    if not there:
        has = ", ".join(f"vwc_{probe.depths.replace('-', '_')}" for probe in sorted(readings))
        raise InputError("sensor_depths_cm", missing, f"depths of columns; the file has {has}")
    if missing:
        findings.append(f"of sensor_depths_cm no column, and done without: {missing} cm")
    others = ", ".join(probe.depths for probe in sorted(readings) if probe not in there)
    if others:
        findings.append(f"not among sensor_depths_cm, and left out: {others} cm")
    return there


def _bounded(probe: Probe, root_depth_m: float | None) -> Probe:
    """A mean of the root zone with its bottom said."""
    if probe != ROOT_ZONE:
        return probe
    if root_depth_m is None:
        raise InputError("root_depth_m", None, "metres down to which the mean of vwc reaches")
    return Probe(100 * root_depth_m, 0.0)


def _name_far_ends(lowest: Probe, root_depth_cm: float, findings: list[str]) -> None:
    """Say where the lowest probe stands for more, or much less, than it measured."""
    if lowest.bottom_cm < FAR_BELOW * root_depth_cm:
        what = "layer, down to" if lowest.layer else "sensor, at"
        findings.append(
            f"the lowest {what} {lowest.bottom_cm:g} cm, stands for all down to {root_depth_cm:g} cm"
        )
    elif lowest.layer and lowest.bottom_cm > root_depth_cm + 1e-9:
        findings.append(f"{lowest.words} is taken for that down to {root_depth_cm:g} cm")


def _possible(probe: Probe, values: Floats, findings: list[str]) -> Floats:
    """Readings of one sensor that can be: per cent brought to fractions, the impossible and the flat gone."""
    values = values.copy()
    known = values[~np.isnan(values)]
    if known.size and np.median(known) > PERCENT_FROM:
        findings.append(f"{probe.words} taken as per cent")
        values /= 100
    wrong = (values < 0) | (values > MOST_FRACTION)
    if wrong.any():
        findings.append(f"{probe.words}: {int(wrong.sum())} readings below 0 or above 1 left out")
        values[wrong] = np.nan
    flat = _flat(values)
    if flat.any():
        findings.append(
            f"{probe.words}: {int(flat.sum())} readings left out, unchanged for {FLAT_DAYS} days and more"
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


def _living(readings: Mapping[Probe, Floats], findings: list[str]) -> dict[Probe, Floats]:
    """Sensors that read on enough days to be worth their silence on the others."""
    counts = {probe: int((~np.isnan(values)).sum()) for probe, values in readings.items()}
    most = max(counts.values(), default=0)
    if most == 0:
        right = "; ".join(("soil water on some days at least", *findings))
        raise InputError("columns vwc_<cm>", None, right)
    for probe, count in counts.items():
        if count == 0:
            findings.append(f"{probe.words}: empty throughout, left out")
        elif count < LEAST_SHARE * most:
            findings.append(f"{probe.words}: {count} readings of {most}, left out")
    return {
        probe: readings[probe] for probe, count in counts.items() if count >= LEAST_SHARE * most
    }


def _zone_depth_m(
    readings: Mapping[Probe, Floats], root_depth_m: float | None, findings: list[str]
) -> float:
    if root_depth_m is not None:
        return root_depth_m
    deepest = max(readings).bottom_cm / 100
    findings.append(f"no root_depth_m said: taken as the lowest sensor's, {deepest:g} m")
    return deepest


def _name_overfull(theta: Floats, saturation: float, findings: list[str]) -> None:
    over = int((theta > saturation + OVER_FULL).sum())
    if over:
        findings.append(
            f"on {over} days the sensors read more than this soil holds when full ({saturation:.2f}): "
            "trust how they change, not how high they stand"
        )
