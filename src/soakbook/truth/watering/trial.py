"""The five plantings that are watered, from a shrub to a tree, each in a bed of its own."""

from datetime import date
from typing import NamedTuple

from soakbook.garden.records import Bed, Garden, Origin, Planting
from soakbook.garden.tables.balls import pot_diameter_m
from soakbook.reckoning.simulation.mulching import Laying
from soakbook.truth.watering.years import Season

MULCH = "chip"


class Kind(NamedTuple):
    """One of the five; canopy as m² when planted, m² grown, and weeks between."""

    name: str
    plant_class: str
    origin: Origin
    ball_l: float
    soil: str
    thought: str
    """The soil two classes off: sand, loamy sand, sandy loam, loam, clay loam, clay are the ladder."""
    planted: tuple[int, int]
    cell_m2: float
    canopy: tuple[float, float, float]
    chip_cm: float
    diameter_m: float | None = None


KINDS = (
    Kind("shrub 10 L, loam", "shrub", "pot", 10, "loam", "clay", (4, 1), 1.0, (0.20, 0.45, 14), 5),
    Kind("rose 5 L, clay loam", "shrub", "pot", 5, "clay loam", "sandy loam", (4, 1), 0.6, (0.10, 0.40, 12), 5),
    Kind("perennial 2 L, loamy sand", "perennial", "pot", 2, "loamy sand", "loam", (5, 1), 0.24, (0.04, 0.14, 7), 5),
    Kind("dug rose 30 L, clay", "dug_shrub", "dug", 30, "clay", "loam", (3, 20), 1.2, (0.10, 0.50, 16), 4, 0.45),
    Kind("tree 45 L, loam", "tree", "pot", 45, "loam", "loamy sand", (3, 20), 3.0, (0.6, 1.2, 26), 7.5, 0.45),
)  # fmt: skip
"""As in the table of intervals, tests/published/rhythm.py: canopies, cells and chip of its C, D, F, G and H."""


class Trial(NamedTuple):
    """One planting of a season, as a book would hold it."""

    kind: Kind
    bed: Bed
    planting: Planting
    laying: Laying


def trials(season: Season, kinds: tuple[Kind, ...] = KINDS) -> tuple[Trial, ...]:
    """The plantings of one season, watered in and mulched on the day they are planted."""
    return tuple(_trial(season, kind) for kind in kinds)


def drawn_as(trial: Trial, whose: str, soil: str | None = None) -> Trial:
    """The same planting under uids of its own, so that it draws its own multipliers; in another soil if said."""
    bed = trial.bed._replace(uid=f"{whose} {trial.bed.uid}", soil=soil or trial.bed.soil)
    planting = trial.planting._replace(uid=f"{whose} {trial.planting.uid}", bed_uid=bed.uid)
    return trial._replace(bed=bed, planting=planting)


def garden_of(season: Season) -> Garden:
    """A garden where the weather was measured, so that the product's own weather can be asked for."""
    place = season.place
    return Garden(
        place.key, place.name, place.latitude_deg, place.longitude_deg, place.elevation_m, "UTC"
    )


def _trial(season: Season, kind: Kind) -> Trial:
    planted_on = date(season.year, *kind.planted)
    start, full, weeks = kind.canopy
    uid = f"{season.key} {kind.name}"
    bed = Bed(uid, kind.name, kind.name, 10.0, soil=kind.soil)
    planting = Planting(
        uid=uid,
        bed_uid=uid,
        name=kind.name,
        plant_class=kind.plant_class,
        count=1,
        origin=kind.origin,
        planted_on=planted_on,
        ball_volume_l=kind.ball_l,
        ball_diameter_m=kind.diameter_m or pot_diameter_m(kind.ball_l),
        canopy_start_m2=start,
        canopy_full_m2=full,
        weeks_to_full=weeks,
        leaf="deciduous" if kind.plant_class != "perennial" else "dies_down",
        cell_m2=kind.cell_m2,
    )
    return Trial(kind, bed, planting, Laying(planted_on, MULCH, kind.chip_cm, 1.0))
