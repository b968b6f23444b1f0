"""The records of the truth report, word for word as `--json` gives them."""

from datetime import date
from typing import NamedTuple

from soakbook.truth.scores import Score
from soakbook.truth.targets import Judged

TRUTH_SCHEMA = "soakbook.truth/1"


class SoakedLook(NamedTuple):
    """What one look after a soaking says of the level, and the errors with the level so pinned."""

    day: date
    measured: float
    full: float
    shift: float
    score: Score | None
    coverage: float | None


class SoilWater(NamedTuple):
    """Mean water of the root zone, m3/m3: reckoned against measured."""

    days_measured: int
    days_compared: int
    fitted_nothing: Score | None
    coverage: float | None
    other_texture: str
    other_score: Score | None
    look: SoakedLook | None


class Felt(NamedTuple):
    """Squared up by feels of one rhythm, on the days without a feel; wetness from 0 to 1."""

    every_days: int
    feels: int
    score: Score | None
    vwc_rmse: float | None
    coverage: float | None
    open_score: Score | None
    open_coverage: float | None


class Evaporation(NamedTuple):
    """Evaporation and drinking together, mm a day: reckoned against measured."""

    daily: Score | None
    weekly: Score | None


class Season(NamedTuple):
    """What drained in one season, on the days measured."""

    year: int
    days: int
    reckoned_mm: float
    measured_mm: float
    ratio: float | None


class Percolation(NamedTuple):
    """What drained below the roots."""

    seasons: tuple[Season, ...]
    ratio: float | None


class RecordReport(NamedTuple):
    """One measured record."""

    record: str
    name: str
    soil: str
    root_depth_m: float
    sensor_depths_cm: tuple[float, ...]
    layer_tops_cm: tuple[float, ...]
    """Where the layers begin whose means were measured; empty for sensors."""
    sensor_weights: tuple[float, ...]
    months: tuple[int, ...]
    first: date
    last: date
    source: str | None
    licence: str | None
    soil_water: SoilWater | None
    felt: tuple[Felt, ...]
    evaporation: Evaporation | None
    percolation: Percolation | None
    targets: tuple[Judged, ...]
    judged: int
    """Targets of which the record gives the number."""
    met: bool | None
    findings: tuple[str, ...]


class Refused(NamedTuple):
    """A record that could not be read."""

    record: str
    why: str


class TruthReport(NamedTuple):
    """The balance against measured records."""

    schema: str
    members: int
    hands: int
    records: tuple[RecordReport, ...]
    refused: tuple[Refused, ...]
    weather_alone: tuple[str, ...]
    """Tables of the folder without a description."""
    asked: int
    judged: int
    met: bool | None
