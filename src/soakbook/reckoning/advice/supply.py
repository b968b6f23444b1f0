"""How a bed can be watered on a day, as the restrictions in the book allow, and how long it takes."""

import math
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, HandMethod, Restriction, Tap
from soakbook.garden.tables.work import (
    BARROW_FILL_MIN,
    MINUTES_A_BED,
    SECONDS_A_CAN,
    SECONDS_A_PLANT,
    WALK_M_PER_S,
)
from soakbook.reckoning.advice.report import Means

CAN = ("can",)


class Supply(NamedTuple):
    """How one bed gets its water today."""

    means: Means
    method: HandMethod
    tap: str | None
    flow_l_per_min: float | None
    walk_m: float
    can_l: float
    tank_l: float | None
    barred: Restriction | None
    """The restriction that keeps the usual way from being used."""


class Work(NamedTuple):
    """What a number of litres costs in time."""

    minutes: float | None
    minutes_on_foot: float
    cans: int | None
    tanks: int | None


def supply_of(pages: Pages, bed: Bed, day: date) -> Supply:
    """The bed's usual way, else cans from its tap, else cans from any water that may be drawn, else none."""
    tap = next((one for one in pages.taps if one.key == bed.tap), None)
    if tap is None:
        return _without_tap(pages, bed, day)
    barred = barring(pages, _tools(tap), tap.source, day)
    if barred is None:
        return _supply(pages, bed, tap, day, means_of(tap))
    others = [tap, *(one for one in pages.taps if one.key != tap.key)]
    for other in others:
        if barring(pages, CAN, other.source, day) is None:
            return _cans(pages, bed, other, day, barred)
    return _cans(pages, bed, None, day, barred)._replace(means="none")


def means_of(tap: Tap) -> Means:
    """The means a tap is used by when nothing bars it."""
    if tap.source == "barrow":
        return "barrow"
    if tap.method == "can":
        return "cans"
    return "drip" if tap.method == "drip" else "hose"


def barring(pages: Pages, tools: Sequence[str], source: str, day: date) -> Restriction | None:
    """The restriction that bars a thing of these names from this source on a day, if any."""
    for rule in pages.restrictions:
        if (
            rule.first <= day <= rule.last
            and rule.tool in (*tools, "all")
            and rule.source in (source, "all")
        ):
            return rule
    return None


def flow_on(tap: Tap, day: date) -> float | None:
    """What the tap gave in its last test by a day, else in its first one [L/min]."""
    if not tap.flows:
        return None
    tested = sorted(tap.flows, key=lambda flow: flow.tested_on)
    past = [flow for flow in tested if flow.tested_on <= day]
    return (past[-1] if past else tested[0]).flow_l_per_min


def work_of(supply: Supply, litres: float, plants: int) -> Work:
    """Time and trips for a bed's litres.

    Parameters
    ----------
    supply : Supply
    litres : float
        The bed's total [L, >= 0].
    plants : int
        Plants to stop at.

    Notes
    -----
    Minutes is the tap open, to the half minute; on foot adds 4 s a plant (none by drip), 3 min a bed and the walk
    there and back; a can takes 27 s and its walk, a barrow tank its filling and its walk. common practice, no source.
    """
    if litres <= 0:
        return Work(None, 0.0, None, None)
    flow = supply.flow_l_per_min
    minutes = None if flow is None else math.ceil(2 * litres / flow - 1e-9) / 2
    walk_min = 2 * supply.walk_m / WALK_M_PER_S / 60
    stops_min = 0.0 if supply.means == "drip" else plants * SECONDS_A_PLANT / 60
    if supply.means in ("cans", "none"):
        cans = math.ceil(litres / supply.can_l - 1e-9)
        return Work(minutes, MINUTES_A_BED + cans * (SECONDS_A_CAN / 60 + walk_min), cans, None)
    open_min = minutes or 0.0
    if supply.means == "barrow" and supply.tank_l:
        tanks = math.ceil(litres / supply.tank_l - 1e-9)
        return Work(
            minutes,
            open_min + MINUTES_A_BED + stops_min + tanks * (BARROW_FILL_MIN + walk_min),
            None,
            tanks,
        )
    return Work(minutes, open_min + MINUTES_A_BED + stops_min + walk_min, None, None)


def with_cans(supply: Supply) -> Supply:
    """The same water carried in cans."""
    return supply._replace(means="cans", method="can")


def _supply(pages: Pages, bed: Bed, tap: Tap, day: date, means: Means) -> Supply:
    return Supply(
        means,
        tap.method,
        tap.key,
        flow_on(tap, day),
        bed.walk_m,
        pages.garden.can_l,
        tap.tank_l,
        None,
    )


def _cans(pages: Pages, bed: Bed, tap: Tap | None, day: date, barred: Restriction | None) -> Supply:
    flow = flow_on(tap, day) if tap else None
    key = tap.key if tap else None
    return Supply("cans", "can", key, flow, bed.walk_m, pages.garden.can_l, None, barred)


def _without_tap(pages: Pages, bed: Bed, day: date) -> Supply:
    """Cans from wherever the book knows water that may be carried; none where all of it is barred."""
    rules = [barring(pages, CAN, tap.source, day) for tap in pages.taps]
    barred = (rules or [barring(pages, CAN, "all", day)])[0]
    if barred is None or not all(rules):
        return _cans(pages, bed, None, day, None)
    return _cans(pages, bed, None, day, barred)._replace(means="none")


def _tools(tap: Tap) -> tuple[str, ...]:
    """What rules may call the way a tap is used; a spray is a hose as well."""
    return {"can": CAN, "drip": ("drip",), "spray": ("hose", "spray")}.get(tap.method, ("hose",))
