"""What jars under walls and trees tell of a bed's share of the rain.

A jar beside the gauge catches what comes to the bed. Over several showers it is the sums that are compared:
a ratio of single readings would let the smallest shower speak as loud as the greatest.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from math import sqrt
from typing import NamedTuple

from soakbook.garden.entries import Catch, Entry
from soakbook.garden.records import Bed, Uid

LEAST_GAUGE_MM = 2.0
"""Of less a jar shows the wetting of its own wall. common practice, no source."""

LEAST_SHARE = 0.05
"""A bed is reckoned with at least so much, even where a jar stayed dry. common practice, no source."""

ONE_SHOWER_LOG_SD = 0.10
LEAST_LOG_SD = 0.05
"""Showers differ by wind; no number of them makes the place of the jar speak for the bed. common practice,
no source."""


class Share(NamedTuple):
    """A bed's share of the rain as jars have it: of the gauge, with the sd of its log, from so many showers."""

    fraction: float
    log_sd: float
    showers: int


def shares_caught(entries: Iterable[Entry]) -> Mapping[Uid, Share]:
    """Shares of the rain by bed uid, of the beds where a jar stood in a shower that tells."""
    found: dict[Uid, list[Catch]] = defaultdict(list)
    for entry in entries:
        if isinstance(entry, Catch) and tells(entry):
            found[entry.bed_uid].append(entry)
    return {uid: _share(catches) for uid, catches in found.items()}


def measured_share(bed: Bed, caught: Mapping[Uid, Share]) -> Share | None:
    """The share by which a bed is reckoned because jars have it; None where the gardener has said another.

    What was said last holds: a jar entered takes a share said before it out of the book.
    """
    return caught.get(bed.uid) if bed.rain_share is None else None


def measured_shares(beds: Sequence[Bed], entries: Iterable[Entry]) -> tuple[Share | None, ...]:
    """Those of some beds, in their order."""
    caught = shares_caught(entries)
    return tuple(measured_share(bed, caught) for bed in beds)


def tells(catch: Catch) -> bool:
    """Whether it rained enough for a jar to tell."""
    return catch.gauge_mm >= LEAST_GAUGE_MM


def _share(catches: list[Catch]) -> Share:
    jars_mm = sum(one.jar_mm for one in catches)
    gauges_mm = sum(one.gauge_mm for one in catches)
    log_sd = max(LEAST_LOG_SD, ONE_SHOWER_LOG_SD / sqrt(len(catches)))
    return Share(max(LEAST_SHARE, jars_mm / gauges_mm), log_sd, len(catches))
