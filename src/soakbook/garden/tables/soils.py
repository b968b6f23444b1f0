"""The twelve texture classes, and the words by which a hand tells them.

Water contents follow from sand and clay and are reckoned, not kept here. A soil nobody has felt is
`unknown`: it is reckoned as loam, with more doubt.
"""

from typing import Literal, NamedTuple

from soakbook.garden import nearest

UNKNOWN = "unknown"
UNKNOWN_IS = "loam"

HEAVY_DRAIN_DAYS = 3.0

Grain = Literal["gritty", "silky"]


class SoilClass(NamedTuple):
    """One texture class at the middle of its field in the triangle."""

    name: str
    sand_fraction: float
    clay_fraction: float
    rew_mm: float
    intake_mm_h: float
    drain_days: float

    @property
    def heavy(self) -> bool:
        """Whether it drains so slowly that plants are easily drowned in it."""
        return self.drain_days >= HEAVY_DRAIN_DAYS


class Squeeze(NamedTuple):
    """What a wetted pinch does between thumb and finger, and the soil that does it."""

    words: str
    soil: str
    gritty_soil: str
    silky_soil: str


def _by_name(*classes: SoilClass) -> dict[str, SoilClass]:
    return {soil.name: soil for soil in classes}


# sand, clay: Saxton & Rawls 2006 (Soil Sci. Soc. Am. J. 70:1569-1578), table 3's class points, R.
# rew_mm: FAO-56 table 19, R. intake_mm_h: FAO annex at second hand and common practice, R, CP.
# drain_days: time in which water above field capacity falls to 1/e; unit-gradient drainage of
# 0.35 m by Saxton & Rawls' conductivity, C, leaned slower for fine soils (new topsoil over an
# unbroken bottom), CP.
SOILS: dict[str, SoilClass] = _by_name(
    SoilClass("sand", 0.88, 0.05, 5, 50, 0.3),
    SoilClass("loamy sand", 0.80, 0.05, 6, 40, 0.4),
    SoilClass("sandy loam", 0.65, 0.10, 8, 25, 0.6),
    SoilClass("loam", 0.40, 0.20, 9, 15, 1.0),
    SoilClass("silt loam", 0.20, 0.15, 9.5, 10, 1.2),
    SoilClass("silt", 0.10, 0.05, 9.5, 10, 1.2),
    SoilClass("sandy clay loam", 0.60, 0.25, 9, 12, 1.5),
    SoilClass("clay loam", 0.30, 0.35, 9.5, 8, 2.0),
    SoilClass("silty clay loam", 0.10, 0.35, 9.5, 6, 2.5),
    SoilClass("sandy clay", 0.50, 0.40, 10, 5, 3.0),
    SoilClass("silty clay", 0.10, 0.45, 10, 4, 4.0),
    SoilClass("clay", 0.25, 0.50, 10, 4, 4.0),
)

SOIL_WORDS: dict[str, str] = {
    "?": UNKNOWN,
    "not known": UNKNOWN,
    "no idea": UNKNOWN,
    "heavy clay": "clay",
    "heavy": "clay",
    "silty loam": "silt loam",
}

# The feel method, after Thien 1979 (J. Agron. Educ. 8:54-55), R, shortened for a garden: soil that
# falls apart is taken for loamy sand, and one that balls without a ribbon for sandy loam, CP.
SQUEEZES: dict[str, Squeeze] = {
    "falls apart": Squeeze("falls apart", "loamy sand", "loamy sand", "loamy sand"),
    "ball": Squeeze("a ball, no ribbon", "sandy loam", "sandy loam", "sandy loam"),
    "short ribbon": Squeeze("a ribbon under 25 mm", "loam", "sandy loam", "silt loam"),
    "ribbon": Squeeze("a ribbon of 25 to 50 mm", "clay loam", "sandy clay loam", "silty clay loam"),
    "long ribbon": Squeeze("a ribbon over 50 mm", "clay", "sandy clay", "silty clay"),
}


def soil_key(word: str) -> str:
    """The soil a word means: a key of `SOILS`, or `unknown`."""
    return nearest.find(word, (*SOILS, UNKNOWN), "soil", SOIL_WORDS)


def soil_class(key: str) -> SoilClass:
    """The class a soil is reckoned by: its own, or loam's when nobody has felt it."""
    return SOILS[UNKNOWN_IS if key == UNKNOWN else key]


def squeezed_soil(word: str, grain: Grain | None = None) -> str:
    """The soil that a squeeze tells, a key of `SQUEEZES`; very gritty or silky turns it."""
    squeeze = SQUEEZES[nearest.find(word, SQUEEZES, "squeeze")]
    if grain is None:
        return squeeze.soil
    return squeeze.gritty_soil if grain == "gritty" else squeeze.silky_soil
