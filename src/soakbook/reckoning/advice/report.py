"""The records of a round: what the morning says, word for word as `--json` gives it.

`as_json` turns any of them into plain dicts; the printed round is written from those dicts alone.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from typing import Any, Literal, NamedTuple

from soakbook.garden.records import Bed, FeltClass, Uid
from soakbook.reckoning.simulation.touches import Store

ROUND_SCHEMA = "soakbook.round/1"

Verdict = Literal["soak", "leave", "rain", "held_back", "laid_by", "feel"]
DoseKind = Literal["soak", "rescue", "re_wet", "water_in"]
State = Literal["sodden", "holding", "drying", "wanting", "parched"]
Stage = Literal["settling", "knitting", "rooting_out", "own_feet"]
Aim = Literal["ball", "ball_and_ring", "bed"]
Means = Literal["hose", "drip", "cans", "barrow", "none"]


class Band(NamedTuple):
    """Where eight of ten members lie, and the middle one."""

    p10: float
    p50: float
    p90: float


class SquaredUp(NamedTuple):
    """What a feel of one store changed, by the middle member."""

    planting_uid: Uid
    store: Store
    felt: FeltClass
    expected_fraction: float
    now_fraction: float
    expected_state: State
    now_state: State


class Felt(NamedTuple):
    """The last feel of a bed, and what it changed."""

    ball: str | None
    bed: str | None
    at: str
    by: str | None
    unsure: bool
    squared: tuple[SquaredUp, ...]
    say: str


class PlantingCall(NamedTuple):
    """One planting of a bed's call."""

    planting: str
    kind: str
    count: int  # type: ignore[assignment]  # a tuple's own count is not asked here
    stage: Stage
    stage_until: date | None
    ball_fraction: Band | None
    bed_fraction: Band
    ball_state: State | None
    bed_state: State
    verdict: Verdict
    litres_each: float
    seconds_each: int | None
    while_there: bool
    dropped: bool
    usual: bool
    bare_root: bool
    share_due: float
    wanted_on: date | None
    last_safe: date | None


class Call(NamedTuple):
    """One bed's entry on the round."""

    order: int | None
    bed: str
    name: str
    verdict: Verdict
    feel_first: bool
    dose_kind: DoseKind | None
    ball_state: State | None
    bed_state: State
    ball_fraction: Band | None
    bed_fraction: Band
    felt: Felt | None
    litres: float
    given_today_l: float
    given_today_by: str | None
    given_today_at: str | None
    minutes: float | None
    minutes_on_foot: float
    cans: int | None
    tanks: int | None
    means: Means
    rose_on: bool
    plants_a_can: int | None
    pours: int
    pour_wait_min: int | None
    pour_meanwhile: str | None
    """The bed to water between two pours."""
    tap: str | None
    aim: Aim | None
    wanted_on: date | None
    last_safe: date | None
    dropped: bool
    days_since_felt: int | None
    days_since_water: int | None
    rain_reached_mm: float
    reason: str
    plantings: tuple[PlantingCall, ...]


class Gauge(NamedTuple):
    """The last reading of the gauge, when it was taken since yesterday's round."""

    rain_mm: float
    kind: str | None
    began_at: str
    read_at: str


class WeatherSeen(NamedTuple):
    """What the book knows of the weather."""

    measured_to: date | None
    forecast_to: date | None
    age_days: int | None
    sources: tuple[str, ...]
    credits: tuple[str, ...]
    """To be shown wherever the round is."""


class Totals(NamedTuple):
    """The round in sum."""

    calls: int
    litres: float
    minutes: float
    minutes_on_foot: float
    cans: int
    hours_available: float
    dropped: int


class Tomorrow(NamedTuple):
    """What the next day will likely ask for, this round done."""

    day: date
    calls: int
    litres: float


class WeekAhead(NamedTuple):
    """The coming week as the newest forecast has it."""

    last: date
    useful_rain_chance: float | None
    useful_rain_by: date | None
    """The first day by which it is likely."""
    tmax_c: float | None
    warm_from: date | None
    hot_from: date | None
    et0_factor: float | None
    """What the air asks for over what it asked for in the last ten days."""
    say: str


class Finding(NamedTuple):
    """Something the gardener should know."""

    kind: str
    bed: str | None
    say: str
    names: tuple[str, ...] = ()
    """What the beds are called that it is about; none where it is about the garden."""

    @classmethod
    def of(cls, kind: str, bed: Bed, say: str) -> "Finding":
        """One about a bed."""
        return cls(kind, bed.key, say, (bed.name,))


class Question(NamedTuple):
    """The one question of the morning."""

    about: str
    bed: str | None
    ask: str
    answer: str
    """The command that answers it."""


class Round(NamedTuple):
    """The morning's round: calls in walk order, then the rest."""

    schema: str
    garden: str
    morning: date
    people: tuple[str, ...]
    weather: WeatherSeen
    gauge: Gauge | None
    calls: tuple[Call, ...]
    totals: Totals
    tomorrow: Tomorrow | None
    week: WeekAhead | None
    findings: tuple[Finding, ...]
    question: Question | None


def field_names(record: Any) -> tuple[str, ...]:
    """The fields of a report's record; none for anything else."""
    if is_dataclass(record):
        return tuple(field.name for field in fields(record))
    return getattr(record, "_fields", ())


def as_json(record: Any) -> Any:
    """Plain dicts, lists, numbers and strings; dates as ISO text."""
    names = field_names(record)
    if names:
        return {name: as_json(getattr(record, name)) for name in names}
    if isinstance(record, tuple | list):
        return [as_json(one) for one in record]
    if isinstance(record, Mapping):
        return {key: as_json(value) for key, value in record.items()}
    if isinstance(record, date | datetime):
        return record.isoformat()
    return record
