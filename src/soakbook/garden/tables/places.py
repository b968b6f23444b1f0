"""Places of a bed: how fast it dries against the open, and its share of the rain in the gauge."""

from typing import NamedTuple

from soakbook.garden import nearest


class Place(NamedTuple):
    """One kind of place.

    `exposure_sd_factor` widens the doubt about its drying (tree roots drink there too); at a
    `wall_foot` winter rain does not reach, so it stays on watch when other beds are laid by.
    """

    name: str
    exposure_factor: float
    rain_share: float
    exposure_sd_factor: float = 1.0
    wall_foot: bool = False
    tree: bool = False


def _by_name(*places: Place) -> dict[str, Place]:
    return {place.name: place for place in places}


# All common practice, no source; a jam jar beside the gauge and the finger correct them.
PLACES: dict[str, Place] = _by_name(
    Place("open", 1.0, 1.0),
    Place("south wall foot", 1.2, 0.45, wall_foot=True),
    Place("north wall foot", 0.7, 0.6, wall_foot=True),
    Place("windy bank", 1.15, 0.8),
    Place("half shade", 0.8, 0.9),
    Place("under a tree canopy", 0.55, 0.4, exposure_sd_factor=2.0, tree=True),
    Place("sheltered court", 0.8, 0.7),
    Place("under eaves", 0.9, 0.1, wall_foot=True),
)

PLACE_WORDS: dict[str, str] = {
    "?": "open",
    "unknown": "open",
    "full sun": "open",
    "sun": "open",
    "south wall": "south wall foot",
    "north wall": "north wall foot",
    "bank": "windy bank",
    "slope": "windy bank",
    "part shade": "half shade",
    "shade": "half shade",
    "tree": "under a tree canopy",
    "under tree": "under a tree canopy",
    "under trees": "under a tree canopy",
    "dry shade": "under a tree canopy",
    "court": "sheltered court",
    "courtyard": "sheltered court",
    "sheltered": "sheltered court",
    "eaves": "under eaves",
}


def place_key(word: str) -> str:
    """The place a word means: a key of `PLACES`."""
    return nearest.find(word, PLACES, "place", PLACE_WORDS)
