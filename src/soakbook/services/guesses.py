"""What in the book is a guess of the tables, and the command that settles it.

A bed's unknown is empty in its record. A planting's record is whole: what in it equals the table's value
for such a plant counts as a guess until somebody has said it. Either may be said to be right as it is: then its
field is kept as said, and it is a guess no longer.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from soakbook.errors import InputError
from soakbook.garden.records import Bed, Origin, Planting
from soakbook.garden.tables.balls import dug_ball, pot_diameter_m
from soakbook.garden.tables.canopies import Canopy, default_canopy
from soakbook.garden.tables.kinds import row_of
from soakbook.garden.tables.places import PLACES
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.garden.tables.soils import UNKNOWN_IS
from soakbook.quantities import saying
from soakbook.reckoning.simulation.plots import bed_depth_m, ground_of

BED_RIGHT = ("rain_share", "exposure_factor")
"""What of a bed is said to be right in one word: what its place was taken for. A jam jar still corrects the share."""
PLANTING_RIGHT = ("ball_volume_l", "canopy_start_m2", "canopy_full_m2")
"""What of a planting is said to be right in one word: its ball and its leaves."""

NEAR = 1e-6
USUAL_WALK_M = 20.0


@dataclass(frozen=True, slots=True)
class Guess:
    """Something derived: of a bed, or of one of its plantings; its value in words; how to settle it."""

    planting: str | None
    what: str
    value: str
    answer: str


def of_bed(bed: Bed, by_jars: bool = False) -> Iterator[Guess]:
    """The guesses about a bed itself; its share of the rain is none where jars have it."""
    command = f"soakbook bed {saying.quoted(bed.key)}"
    ground, place = ground_of(bed), PLACES[bed.place]
    if ground.guessed:
        value = f"{UNKNOWN_IS}, with twice the usual doubt"
        yield Guess(None, "soil", value, f'{command} --squeeze "short ribbon"')
    if bed.hole is None and bed.hole_mm_h is None and (ground.soil.heavy or ground.guessed):
        days = saying.days(ground.drain_days)
        value = f"about {days} for what is too much"
        yield Guess(None, "drainage", value, f"{command} --hole standing | gone | 20mm/h")
    of_place = [name for name in BED_RIGHT if name not in bed.said and bed.place != "open"]
    if bed.rain_share is None and "rain_share" in of_place and not by_jars:
        share = f"{place.rain_share:g}"
        yield Guess(None, "share of the rain", share, f"{command} --jam-jar 6mm --gauge 14mm")
    if bed.exposure_factor is None and "exposure_factor" in of_place:
        times = f"{place.exposure_factor:g}"
        value = f"{times} times as fast as open ground"
        yield Guess(None, "drying", value, f"{command} --exposure {times}")
    if bed.intake_mm_h is None:
        value = f"{ground.intake_mm_h:g} mm an hour"
        yield Guess(None, "intake", value, f"{command} --intake {ground.intake_mm_h:g}mm/h")
    if bed.bed_depth_m is None:
        depth_cm = 100 * bed_depth_m(bed, PLANT_CLASSES["shrub"])
        yield Guess(None, "made soil", f"{depth_cm:.0f} cm", f"{command} --depth {depth_cm:.0f}cm")
    if bed.walk_m == USUAL_WALK_M and "walk_m" not in bed.said:
        yield Guess(None, "walk", f"{bed.walk_m:g} m", f"{command} --walk {bed.walk_m:g}m")


def of_planting(bed: Bed, planting: Planting) -> Iterator[Guess]:
    """The guesses about one planting of a bed."""
    command = (
        f"soakbook plant {saying.quoted(bed.key)} {saying.quoted(planting.name)} {planting.count}"
    )
    ball_said = "ball_volume_l" in planting.said
    if (
        planting.origin == "pot"
        and not ball_said
        and _near(planting.ball_diameter_m, pot_diameter_m(planting.ball_volume_l))
    ):
        pot = f"{planting.ball_volume_l:g}l"
        across = f"{100 * planting.ball_diameter_m:.0f} cm across"
        yield Guess(planting.name, "ball", across, f"{command} --pot {pot}")
    if (
        planting.origin == "dug"
        and not ball_said
        and _near(planting.ball_volume_l, dug_ball(planting.ball_diameter_m))
    ):
        value = f"{planting.ball_volume_l:.0f} L, dug a spade deep"
        width = f"{100 * planting.ball_diameter_m:.0f}cm"
        yield Guess(planting.name, "ball", value, f"{command} --ball {width} --deep")
    usual = canopy_of(planting, bed)
    if "canopy_start_m2" not in planting.said and _near(planting.canopy_start_m2, usual.start_m2):
        across = f"{across_cm(planting.canopy_start_m2)} cm across when planted"
        answer = f"{command} --leaves {across_cm(planting.canopy_start_m2)}cm"
        yield Guess(planting.name, "leaves", across, answer)
    if "canopy_full_m2" not in planting.said and _near(planting.canopy_full_m2, usual.full_m2):
        value = (
            f"{across_cm(planting.canopy_full_m2)} cm across in {planting.weeks_to_full:g} weeks"
        )
        answer = f"{command} --leaves-full {across_cm(planting.canopy_full_m2)}cm"
        yield Guess(planting.name, "grown", value, answer)
    if planting.cell_m2 is None and planting.replaces is None:
        ground_m2 = 2 * planting.canopy_full_m2
        value = f"{ground_m2:.2g} m² each"
        yield Guess(planting.name, "ground", value, f"{command} --spacing {ground_m2:.2g}m2")


def canopy_of(planting: Planting, bed: Bed) -> Canopy:
    """The leaves that the tables give such a plant, never more than its share of the bed.

    Its name speaks for it where the tables know it, else its class.
    """
    words = planting.name if is_known(planting.name) else planting.plant_class
    return usual_canopy(
        words, planting.origin, planting.ball_volume_l, bed.area_m2 / planting.count
    )


def usual_canopy(words: str, origin: Origin, ball_volume_l: float, share_m2: float) -> Canopy:
    """The leaves that the tables give a plant, never more than its share of the bed."""
    usual = default_canopy(words, origin, ball_volume_l or None)
    return Canopy(min(usual.start_m2, share_m2), min(usual.full_m2, share_m2), usual.weeks_to_full)


def across_cm(area_m2: float) -> int:
    """Width of a round canopy, to the centimetre."""
    return round(100 * math.sqrt(4 * area_m2 / math.pi))


def is_known(words: str) -> bool:
    """Whether the tables know a plant by these words."""
    try:
        row_of(words)
    except InputError:
        return False
    return True


def _near(value: float, usual: float) -> bool:
    return abs(value - usual) <= NEAR
