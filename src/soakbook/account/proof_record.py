"""The proof as a record: what was done in a garden in a span of days, the weather beside it, and a digest of it all.

`as_json` of a `Proof` is what is printed, embedded in the page, attached to the PDF and digested. Moments are ISO
texts with the garden's own distance from UTC. How it is made of a book stands in `proof`.
"""

from datetime import date
from typing import Literal, NamedTuple

from soakbook.garden.entries import SoakKind
from soakbook.garden.records import FeltClass, HandMethod, RestrictedSource, Source, Tool

PROOF_SCHEMA = "soakbook.proof/1"
DIGEST = "sha256"
"""The key that the digest is kept under, and which it does not cover."""

WeatherFrom = Literal["gauge", "measured", "analysed", "forecast", "filled"]


class ProofGarden(NamedTuple):
    """Which garden it is."""

    uid: str
    name: str
    latitude_deg: float
    longitude_deg: float
    timezone: str


class ProofSpan(NamedTuple):
    """The days it is about, both included."""

    first: date
    last: date
    days: int


class Value(NamedTuple):
    """One number of a day's weather and where it is from."""

    value: float
    kind: WeatherFrom
    source: str


class DayWeather(NamedTuple):
    """What is known of a day's weather."""

    rain_mm: Value | None
    tmin_c: Value | None
    tmax_c: Value | None
    et0_mm: Value | None


class Reading(NamedTuple):
    """One reading of the rain gauge."""

    at: str
    began_at: str
    rain_mm: float
    by: str | None


class Felt(NamedTuple):
    """One test by finger."""

    planting: str | None
    ball: FeltClass | None
    bed: FeltClass | None
    unsure: bool


class ProofVisit(NamedTuple):
    """One visit to one bed by one person."""

    bed: str
    name: str
    what: Literal["watered", "left", "looked"]
    at: str | None
    by: str | None
    plantings: tuple[str, ...]
    plants: int | None
    litres: float
    soaks: int
    kinds: tuple[SoakKind, ...]
    methods: tuple[HandMethod, ...]
    tap: str | None
    source: Source | None
    source_guessed: bool
    minutes: float | None
    minutes_on_foot: float | None
    reason: str | None
    felt: tuple[Felt, ...]
    leaves: Literal["limp", "upright"] | None
    wet_to_cm: float | None
    note: str | None
    written_at: str
    corrected: bool


class ProofDay(NamedTuple):
    """One day on which something was entered."""

    day: date
    weather: DayWeather
    gauge: tuple[Reading, ...]
    visits: tuple[ProofVisit, ...]


class Rest(NamedTuple):
    """Days in a row on which nothing was entered."""

    first: date
    last: date
    days: int
    rain_mm: float | None
    et0_mm: float | None


class BedTotal(NamedTuple):
    """One bed over the whole span."""

    bed: str
    name: str
    watered: int
    left: int
    looked: int
    litres: float
    minutes: float


class SourceTotal(NamedTuple):
    """Water of one source over the whole span."""

    source: Source
    litres: float
    watered: int


class PersonTotal(NamedTuple):
    """One person over the whole span; None: nobody was named."""

    by: str | None
    visits: int
    litres: float
    minutes_on_foot: float


class Totals(NamedTuple):
    """The whole span."""

    visit_days: int
    visits: int
    watered: int
    left: int
    looked: int
    soaks: int
    litres: float
    minutes: float
    minutes_on_foot: float
    rain_mm: float | None
    rain_days_unknown: int
    et0_mm: float | None
    et0_days_unknown: int
    by_bed: tuple[BedTotal, ...]
    by_source: tuple[SourceTotal, ...]
    by_person: tuple[PersonTotal, ...]


class Rule(NamedTuple):
    """A rule on watering that held on some day of the span, as it was typed."""

    first: date
    last: date
    tool: Tool
    source: RestrictedSource
    text: str


class ProofFinding(NamedTuple):
    """What a reader should know of it."""

    kind: Literal[
        "no_rain_known", "no_et0_known", "not_measured", "no_name", "no_hour", "no_hose_test", "source_guessed",
        "written_late", "corrected", "hose_barred", "nothing_stood",
    ]  # fmt: skip
    say: str


class Proof(NamedTuple):
    """The proof of a span of days."""

    schema: str
    made_with: str
    garden: ProofGarden
    span: ProofSpan
    totals: Totals
    days: tuple[ProofDay, ...]
    rests: tuple[Rest, ...]
    rules: tuple[Rule, ...]
    findings: tuple[ProofFinding, ...]
    cautions: tuple[str, ...]
    credits: tuple[str, ...]
    sha256: str
