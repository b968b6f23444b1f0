"""Roses and asters in one bed, roses in another, and a finger in the first."""

from collections.abc import Mapping
from datetime import date, timedelta

import numpy as np

from soakbook.garden.entries import AnyEntry, Feel
from soakbook.garden.records import FeltClass
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.gardens import PLANTED, at, feel, pages, roses, row_of, season, soak, weather

DAY = PLANTED + timedelta(days=17)
MEMBERS = 40
ROSE, ASTER, ELSEWHERE = "bed/roses", "bed/asters", "other/roses"
PLANTINGS = (
    roses(),
    roses(
        name="asters",
        plant_class="perennial",
        count=4,
        ball_volume_l=2.0,
        ball_diameter_m=0.15,
        cell_m2=0.3,
    ),
    roses("other"),
)
SOAKS = tuple(
    soak(at(PLANTED + timedelta(days=n), 8), 30.0, key, uid=f"{key} {n}")
    for n in range(0, 60, 4) for key in ("bed", "other")
)  # fmt: skip
RAIN = {PLANTED + timedelta(days=n): 14.0 for n in (5, 21)}
CLASSES: tuple[FeltClass, ...] = ("dust", "dry", "moist", "wet", "sour")
STORES = ("ball_store_l", "reach_store_l", "beyond_store_l")


def dawn_of(*entries: AnyEntry, day: date = DAY, members: int = MEMBERS) -> Dawn:
    """A dawn of three plantings in two beds, soaked every fourth day."""
    book = pages(PLANTINGS, [*SOAKS, *entries], days=weather(rain=RAIN))
    return run(season(book, day, members))[-1]


def finger(
    ball: FeltClass | None = None, bed: FeltClass | None = None, unsure: bool = False
) -> Feel:
    """A feel of the roses at 7:00 on the day."""
    return feel(at(DAY, 7), ball=ball, bed=bed, unsure=unsure, planting_uid=ROSE)


def roots_of(dawn: Dawn) -> Geometry:
    return geometry(*dawn.season.parameters(slice(0, dawn.size)), dawn.stores.warm_days)


def wet(dawn: Dawn, uid: str = ROSE) -> dict[str, Floats]:
    """Wetness of ball, reach and beyond of one planting, (member,)."""
    row, roots = row_of(dawn.season, uid), roots_of(dawn)
    held = {
        "ball": (dawn.stores.ball_store_l, roots.ball_capacity_l),
        "reach": (dawn.stores.reach_store_l, roots.reach_capacity_l),
        "beyond": (dawn.stores.beyond_store_l, roots.beyond_capacity_l),
    }
    return {name: (np.asarray(s) / np.maximum(c, 1e-12))[row] for name, (s, c) in held.items()}


def logs(of: Season, uid: str) -> Mapping[str, Floats]:
    row = row_of(of, uid)
    beliefs = of.beliefs.logs(of.bed_index[[row]], np.array([row]))
    return {name: one[0] for name, one in beliefs.items()}


def same(a: Dawn, b: Dawn, uid: str) -> bool:
    """Whether a planting has the same stores, parameters and beliefs in two dawns, to the last bit."""
    one, other = row_of(a.season, uid), row_of(b.season, uid)
    pairs = [*zip(a.stores, b.stores, strict=True), *zip(a.season.plot, b.season.plot, strict=True)]
    alike = all(np.array_equal(np.asarray(x)[one], np.asarray(y)[other]) for x, y in pairs)
    left, right = logs(a.season, uid), logs(b.season, uid)
    return alike and all(np.array_equal(left[name], right[name]) for name in left)
