"""The records of `why`: the sums behind one bed's call, as `--json` gives them."""

from dataclasses import dataclass
from datetime import date

from soakbook.reckoning.advice.report import Band, Felt, Stage, Verdict

WHY_SCHEMA = "soakbook.why/1"


@dataclass(frozen=True, slots=True)
class BallSums:
    """Litres of the plain run in one plant's ball, from yesterday's dawn to tonight. They add up.

    `felt_l` is what this morning's feels moved.
    """

    holds_at_most_l: float
    yesterday_l: float
    given_l: float
    rain_l: float
    gone_l: float
    from_bed_l: float
    felt_l: float
    morning_l: float
    tonight_l: float
    water_below_l: float


@dataclass(frozen=True, slots=True)
class BedSums:
    """Litres of the plain run in the soil round one plant (reach and beyond), yesterday's dawn to tonight.

    The reach is the part of it that roots have got to: where the bed leads, the verdict is about that.
    """

    holds_at_most_l: float
    yesterday_l: float
    gained_l: float
    gone_l: float
    felt_l: float
    morning_l: float
    tonight_l: float
    reach_holds_at_most_l: float
    reach_morning_l: float
    reach_water_below_l: float


@dataclass(frozen=True, slots=True)
class DoseSums:
    """How a plant's litres came about: what is lacking by the plain run, then the need by all sums."""

    ball_lacks_l: float
    ring_lacks_l: float
    needed_at_nozzle_l: Band
    """Before any floor, usual dose or rounding."""
    least_l: float | None
    usual_l: float | None
    usual_last_on: date | None
    said_l: float
    pours: int


@dataclass(frozen=True, slots=True)
class RootSums:
    """Where the roots are reckoned to stand."""

    stage: Stage
    root_reach_cm: float
    next_stage: Stage | None
    next_stage_on: date | None
    ball_share_fraction: float


@dataclass(frozen=True, slots=True)
class Symbol:
    """One quantity in FAO-56 terms."""

    symbol: str
    name: str
    value: float
    unit: str
    equation: str


@dataclass(frozen=True, slots=True)
class PlantingWhy:
    """The sums of one planting."""

    planting: str
    kind: str
    count: int
    verdict: Verdict
    share_due: float
    ball: BallSums | None
    bed: BedSums
    dose: DoseSums
    roots: RootSums
    symbols: tuple[Symbol, ...]


@dataclass(frozen=True, slots=True)
class RainSums:
    """Where the last rain went, millimetres over the bed."""

    gauge_mm: float
    """In the open, whoever tells of it."""
    told: str
    """Who does: `in the gauge`, `by` a service, `as forecast`, or several together."""
    kind: str | None
    share_fraction: float
    came_mm: float
    mulch_drank_mm: float
    ran_off_mm: float
    soil_mm: float
    balls_caught_l: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """Why a bed is called or left this morning."""

    schema: str
    garden: str
    morning: date
    bed: str
    name: str
    verdict: Verdict
    litres: float
    rain: RainSums | None
    plantings: tuple[PlantingWhy, ...]
    felt: Felt | None
    least_known: str | None
    say: tuple[str, ...]
    """The same in sentences, paragraph by paragraph."""
    credits: tuple[str, ...]
    """Lines to be shown wherever this is."""
