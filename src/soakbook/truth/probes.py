"""Where soil water was measured: at a depth, or as the mean of a layer; and the share of the roots each stands for."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from soakbook.errors import InputError


class Probe(NamedTuple):
    """A sensor, or the mean of a layer from its top down to its bottom."""

    bottom_cm: float
    top_cm: float
    """A sensor's is its bottom: it stands at one depth."""

    @property
    def layer(self) -> bool:
        """Whether it is the mean of a layer."""
        return self.top_cm < self.bottom_cm

    @property
    def depths(self) -> str:
        """Its depth, or from where to where it reaches [cm]."""
        return f"{self.top_cm:g}-{self.bottom_cm:g}" if self.layer else f"{self.bottom_cm:g}"

    @property
    def words(self) -> str:
        """How a finding names it."""
        if self.layer:
            return f"the mean of {self.top_cm:g} to {self.bottom_cm:g} cm"
        return f"sensor at {self.bottom_cm:g} cm"

    def inside(self, root_depth_cm: float) -> bool:
        """Whether it tells of the root zone."""
        if self.layer:
            return self.top_cm < root_depth_cm
        return self.bottom_cm <= root_depth_cm + 1e-9


ROOT_ZONE = Probe(math.inf, 0.0)
"""The mean of the root zone, however deep that is."""


def at(depth_cm: float) -> Probe:
    """A sensor at a depth."""
    return Probe(depth_cm, depth_cm)


def probe_weights(probes: Sequence[Probe], root_depth_cm: float) -> tuple[float, ...]:
    """Share of the root zone each probe stands for, depths in order: half-way to the next."""
    between = [(upper.bottom_cm + lower.top_cm) / 2 for upper, lower in pairwise(probes)]
    edges = [0.0, *(min(edge, root_depth_cm) for edge in between), root_depth_cm]
    return tuple((low - high) / root_depth_cm for high, low in pairwise(edges))


def of_one_kind(probes: Sequence[Probe], findings: list[str]) -> list[Probe]:
    """Layers where there are any, else sensors, in order.

    Raises
    ------
    InputError
        Layers that tell of the same ground.
    """
    layers = sorted(probe for probe in probes if probe.layer)
    if not layers:
        return sorted(probes)
    points = [probe.depths for probe in sorted(probes) if not probe.layer]
    if points:
        findings.append(
            f"means of layers go before sensors, which are left out: {', '.join(points)} cm"
        )
    for upper, lower in pairwise(layers):
        if lower.top_cm < upper.bottom_cm:
            both = f"{upper.depths} and {lower.depths} cm"
            right = 'layers one below the other; leave one out: vwc_0_60 = "-" under [columns]'
            raise InputError("layers of soil water", both, right)
    return layers
