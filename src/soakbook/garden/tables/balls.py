"""What a plant brings with it: the mix in its pot, how wide a pot is, how much a dug ball holds."""

from typing import NamedTuple

from soakbook.garden import nearest
from soakbook.garden.tables.lines import between

POT_DEFAULT_MIX = "peat-free"

SPADE_BLADE_M = 0.20
DEEP_FACTOR = 40 / 30
"""A ball dug deep over one dug a spade's depth, at 45 cm. common practice, no source."""


class Mix(NamedTuple):
    """A potting mix: available water in the pot, and the part of it kept once planted."""

    name: str
    in_pot_fraction: float
    kept_fraction: float

    @property
    def in_ground_fraction(self) -> float:
        """Available water of a ball of this mix in the ground."""
        return self.in_pot_fraction * self.kept_fraction


# In the pot 0.25-0.35, nursery guides, M; water after drainage 0.43-0.59 of a bark mix, R. Kept:
# 0.30-0.85 of it is lost to finer soil within hours, Nelms & Spomer 1983 (HortScience 18:863-866),
# R: the doubt is downward. Loam-based, M.
MIXES: dict[str, Mix] = {
    "peat-based": Mix("peat-based", 0.32, 0.55),
    "peat-free": Mix("peat-free", 0.30, 0.55),
    "loam-based": Mix("loam-based", 0.22, 0.80),
}

MIX_WORDS: dict[str, str] = {
    "peat": "peat-based",
    "bark-based": "peat-free",
    "bark": "peat-free",
    "multipurpose": "peat-free",
    "coir": "peat-free",
    "loam": "loam-based",
}

# Pots are wider than deep. common practice, no source.
POT_WIDTHS_M: tuple[tuple[float, float], ...] = (
    (0.5, 0.09),
    (1, 0.12),
    (2, 0.15),
    (3, 0.18),
    (4, 0.20),
    (5, 0.22),
    (7.5, 0.25),
    (10, 0.28),
    (12, 0.29),
    (20, 0.35),
    (45, 0.45),
)

# By spades across, a blade being 20 cm: 1, 1 1/2, 2, and 45 cm. common practice, no source.
DUG_BALLS_L: tuple[tuple[float, float], ...] = (
    (SPADE_BLADE_M, 5),
    (1.5 * SPADE_BLADE_M, 12),
    (2 * SPADE_BLADE_M, 20),
    (0.45, 30),
)

# The pot where none is said, by the rows of `kinds`; a hedge comes bare-rooted. Conifers and
# dry-country shrubs as shrubs. common practice, no source.
DEFAULT_POTS_L: dict[str, float] = {
    "perennial": 2,
    "shrub": 4,
    "climber": 3,
    "dry_shrub": 4,
    "soft": 5,
    "conifer": 4,
    "tree": 20,
}


def mix_key(word: str) -> str:
    """The mix a word means: a key of `MIXES`."""
    return nearest.find(word, MIXES, "mix", MIX_WORDS)


def pot_diameter_m(pot_l: float) -> float:
    """Width of a ball out of a pot of so many litres [L, > 0].

    Straight lines between the rows of `POT_WIDTHS_M`; beyond them a pot of the same shape.
    """
    return between(POT_WIDTHS_M, pot_l, power=1 / 3)


def dug_ball(width_m: float, deep: bool = False) -> float:
    """Litres of a dug ball by its width [m, > 0], a spade's depth or `deep`.

    Straight lines between the rows of `DUG_BALLS_L`; beyond them a ball of the same shape.
    """
    return between(DUG_BALLS_L, width_m, power=3) * (DEEP_FACTOR if deep else 1.0)
