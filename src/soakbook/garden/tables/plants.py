"""Plants by how they drink in their first season, and by what losing one costs.

Which class a gardener's words mean is in `kinds`, how large the leaves are in `canopies`.
"""

from collections.abc import Mapping
from typing import NamedTuple

from soakbook.garden.records import Leaf, Origin

# Warm days before roots grow out: pot and bare root M (first new roots of Ilex 15 days, of Kalmia
# 30, in a greenhouse, R; out of the ball within three weeks in Florida, R); dug M.
ROOT_LAG_DAYS: dict[Origin, float] = {"pot": 7, "bare": 14, "dug": 21}

WOODY_HARM = 4.0
SOFT_HARM = 3.0
PERENNIAL_HARM = 2.0
HEDGING_HARM = 1.0


class PlantClass(NamedTuple):
    """One class of plants: numbers per m² of canopy in the first season.

    `kcb` is the basal coefficient (FAO-56), `p` the part of the water a plant takes without
    stress (FAO-56 table 22), `harm_weight` what one plant lost counts in a shortage.
    """

    key: str
    name: str
    kcb: float
    p: float
    root_mm_per_warm_day: float
    harm_weight: float
    woody: bool
    leaf: Leaf
    root_lag_days_by_origin: Mapping[Origin, float] = ROOT_LAG_DAYS


def _by_key(*classes: PlantClass) -> dict[str, PlantClass]:
    return {plant.key: plant for plant in classes}


# kcb and p: shrub FAO-56 berries Kcb 1.0, p 0.5 at full cover, R, established woody 0.5-0.7, M, R;
# perennial FAO-56 mint 1.1, p 0.40, R, thinned for a first year; soft M; dug balled ash in its
# first year 0.56 of ET0 (Caron & Kjelgren 2016), R; conifer FAO-56 p 0.70, R; bare root ash 0.36,
# R, leaf area still growing; tree and dry shrub ASABE S623, humid trees 0.7, dry 0.5, R, dry
# perennials 0.5, M. Roots: spread 0.9-2.4 m a year in diameter (J. Environ. Hort. 8(4):220), R,
# over 200-250 warm days. Harm: the order of a rationing, common practice, no source.
PLANT_CLASSES: dict[str, PlantClass] = _by_key(
    PlantClass(
        "shrub", "shrub, climber or rose from a pot", 0.70, 0.50, 2.5, WOODY_HARM, True, "deciduous"
    ),
    PlantClass(
        "perennial", "perennial or grass", 0.80, 0.50, 2.5, PERENNIAL_HARM, False, "dies_down"
    ),
    PlantClass("soft", "large soft leaves", 0.85, 0.40, 2.0, SOFT_HARM, True, "deciduous"),
    PlantClass(
        "dug_shrub", "dug shrub, rose or tree", 0.50, 0.50, 2.5, WOODY_HARM, True, "deciduous"
    ),
    PlantClass(
        "conifer", "conifer, yew or box, dug", 0.50, 0.60, 2.5, WOODY_HARM, True, "evergreen"
    ),
    PlantClass(
        "potted_conifer",
        "conifer, yew or box from a pot",
        0.60,
        0.60,
        2.5,
        WOODY_HARM,
        True,
        "evergreen",
    ),
    PlantClass("whip", "bare-root hedging", 0.50, 0.50, 2.5, HEDGING_HARM, True, "deciduous"),
    PlantClass(
        "bare_shrub",
        "bare-root shrub, rose or tree",
        0.50,
        0.50,
        2.5,
        WOODY_HARM,
        True,
        "deciduous",
    ),
    PlantClass("tree", "tree from a pot", 0.60, 0.50, 2.5, WOODY_HARM, True, "deciduous"),
    PlantClass("dry_shrub", "dry-country shrub", 0.45, 0.60, 2.0, WOODY_HARM, True, "evergreen"),
)
