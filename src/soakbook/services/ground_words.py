"""What a squeeze, a jar of soil or a drain hole taught of a bed: what it holds, how deep, and how it drains."""

from typing import NamedTuple

from soakbook.garden.records import Bed
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.quantities import saying
from soakbook.reckoning.simulation.plots import (
    available_fraction,
    bed_depth_m,
    drains_slowly,
    ground_of,
)
from soakbook.services.subjects import Subject

MM_PER_M = 1000.0

GUARD_ON = "It drains slowly: a third soak in a week asks for a finger first."
GUARD_OFF = "It drains well enough: a third soak in a week asks for no finger any more."


class Holds(NamedTuple):
    """What the soil of a bed holds for plants, the days in which the rest drains, and whether clay's guard is on."""

    holds_mm: float
    drain_days: float
    guarded: bool
    guessed: bool


def holds_of(bed: Bed) -> Holds:
    """A bed's soil as it is reckoned."""
    ground = ground_of(bed)
    depth_mm = MM_PER_M * bed_depth_m(bed, PLANT_CLASSES["shrub"])
    return Holds(
        depth_mm * available_fraction(ground.water),
        ground.drain_days,
        drains_slowly(bed),
        ground.guessed,
    )


def made_soil_cm(about: Subject) -> float:
    """Depth of the soil that roots can use round the plants that are meant."""
    kind = PLANT_CLASSES[about.meant.plant_class if about.meant else "shrub"]
    return 100 * bed_depth_m(about.bed, kind)


def taught(old: Bed, new: Bed) -> str:
    """What is reckoned otherwise now, in sentences; empty where nothing is."""
    was, now = holds_of(old), holds_of(new)
    depth_cm = 100 * bed_depth_m(new, PLANT_CLASSES["shrub"])
    sentences = []
    if now.holds_mm != was.holds_mm:
        sentences.append(
            f"Reckoned to hold {now.holds_mm:.0f} L for plants under each m², {depth_cm:.0f} cm deep; "
            f"before {was.holds_mm:.0f}."
        )
    if was.guessed and not now.guessed:
        sentences.append("It was a guess with twice the usual doubt.")
    if now.drain_days != was.drain_days:
        sentences.append(
            f"What it cannot keep drains away in about {saying.days(now.drain_days)}; before in "
            f"{saying.days(was.drain_days)}."
        )
    elif (old.hole, old.hole_mm_h) != (new.hole, new.hole_mm_h):
        sentences.append(f"That is as reckoned: it drains in about {saying.days(now.drain_days)}.")
    if now.guarded != was.guarded:
        sentences.append(GUARD_ON if now.guarded else GUARD_OFF)
    return " ".join(sentences)
