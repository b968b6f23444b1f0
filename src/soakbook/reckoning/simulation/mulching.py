"""A bed's dressing as it stands on a day: depth settles, each laying on a clock of its own, until a ruler tells."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, MulchLaid, Ruler
from soakbook.garden.records import Uid
from soakbook.garden.tables.mulches import MULCHES, MulchKind
from soakbook.reckoning.simulation.watering import local_day

SETTLING_DAYS = 180
SHEET_EVAPORATION_CUT = 0.65  # woven sheet or plastic: FAO-56, evaporation cut by 50 to 80 %


class Scaled(NamedTuple):
    """From a day on a ruler has so much of a laying for each centimetre reckoned."""

    day: date
    factor: float


class Laying(NamedTuple):
    """One dressing, laid on a day, and what rulers said of it since."""

    laid_on: date
    kind: str
    depth_cm: float
    cover_fraction: float
    scaled: tuple[Scaled, ...] = ()


class Mulch(NamedTuple):
    """What one day's step needs to know of the mulch."""

    capacity_mm: float
    cover_fraction: float
    evaporation_factor: float
    depth_cm: float


BARE = Mulch(0.0, 0.0, 1.0, 0.0)


def mulch_on(day: date, layings: Iterable[Laying]) -> Mulch:
    """The mulch of a bed on `day`, layings of that day included.

    Notes
    -----
    (9) factor = 1 - cover (1 - 2^(-depth / half)); depth falls linearly to the kind's share of it over 180 days;
    depth and depth x take are sums over layings, half their mean weighted by depth. A sheet: 1 - 0.65 cover.
    """
    depth = take = half_weight = cover = sheet_cover = 0.0
    for laying in layings:
        if laying.laid_on > day:
            continue
        kind = MULCHES[laying.kind]
        cover = max(cover, laying.cover_fraction)
        if kind.sheet:
            sheet_cover = max(sheet_cover, laying.cover_fraction)
            continue
        left = settled_depth_cm(day, laying, kind)
        depth += left
        take += left * kind.take_mm_per_cm
        half_weight += left * kind.half_cm
    if cover == 0.0:
        return BARE
    factor = 1 - SHEET_EVAPORATION_CUT * sheet_cover
    if depth > 0.0:
        factor *= 1 - cover * (1 - 2 ** (-depth * depth / half_weight))  # (9)
    return Mulch(cover * take, cover, factor, depth)


def settled_depth_cm(day: date, laying: Laying, kind: MulchKind) -> float:
    """What is left of one laying's depth: it settles on from what a ruler found."""
    age = min(1.0, (day - laying.laid_on).days / SETTLING_DAYS)
    depth_cm = laying.depth_cm * (1 - (1 - kind.settles_to) * age)
    for scaled in laying.scaled:
        if scaled.day <= day:
            depth_cm *= scaled.factor
    return depth_cm


def layings_by_bed(entries: Iterable[AnyEntry], zone: ZoneInfo) -> Mapping[Uid, tuple[Laying, ...]]:
    """All dressings by bed uid, as rulers have them.

    Parameters
    ----------
    entries : iterable
        In the order in which they happened.
    zone : ZoneInfo
        Of the garden's clock.

    Notes
    -----
    A ruler scales all that lies there alike, so that the depth reckoned for its day is the mean it measured; the
    cover stays. One in a bed where nothing deep lies changes nothing. common practice, no source.
    """
    found: dict[Uid, list[Laying]] = defaultdict(list)
    for entry in entries:
        if isinstance(entry, MulchLaid):
            day = local_day(entry.happened_at, zone)
            laying = Laying(day, entry.kind, entry.depth_cm, entry.cover_fraction)
            found[entry.bed_uid].append(laying)
        elif isinstance(entry, Ruler) and entry.bed_uid in found:
            day = local_day(entry.happened_at, zone)
            found[entry.bed_uid] = _measured(found[entry.bed_uid], day, entry.measured_cm)
    return {uid: tuple(layings) for uid, layings in found.items()}


def _measured(layings: list[Laying], day: date, measured_cm: float) -> list[Laying]:
    reckoned_cm = mulch_on(day, layings).depth_cm
    if reckoned_cm == 0.0:
        return layings
    told = Scaled(day, measured_cm / reckoned_cm)
    return [one._replace(scaled=(*one.scaled, told)) for one in layings]
