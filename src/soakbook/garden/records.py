"""The lasting things of a garden: beds, plantings, taps, people, rules and prices.

Each record is frozen; bounds stand in the annotations and are checked at the door (`garden.door`).
What happened is in `garden.entries`; the weather is in `garden.weather`.
"""

from datetime import date, time
from typing import Annotated, Literal, NamedTuple

from soakbook.garden.bounds import Bounds, NotEmpty

Uid = str
Fraction = Annotated[float, Bounds(ge=0, le=1)]
Name = Annotated[str, NotEmpty()]
Said = frozenset[str]
"""Fields that somebody has said: what they hold is no guess, though it be the table's own value."""

Readiness = Literal["keen", "fair", "lean"]
WeatherFrom = Literal["first", "second", "none"]
"""Which weather service is asked; the second also when the first gives nothing."""

Gallon = Literal["uk", "us"]
Origin = Literal["pot", "dug", "bare"]
Leaf = Literal["deciduous", "evergreen", "dies_down"]
Source = Literal["mains", "butt", "tank", "barrow"]
HandMethod = Literal["can", "lance", "spray", "drip", "broadcast"]
FeltClass = Literal["dust", "dry", "moist", "wet", "sour"]
Tool = Literal["hose", "can", "drip", "spray", "all"]
RestrictedSource = Literal["mains", "butt", "tank", "barrow", "all"]
Drain = Literal["standing", "gone"]

strict: dict[str, object] = {"extra": "forbid", "allow_inf_nan": False}


class Garden(NamedTuple):
    """One garden: where it is and how its gardener wants to be advised."""

    uid: Uid
    name: Name
    latitude_deg: Annotated[float, Bounds(ge=-90, le=90)]
    longitude_deg: Annotated[float, Bounds(ge=-180, le=180)]
    elevation_m: Annotated[float, Bounds(ge=-430, le=5000)]
    timezone: Name
    round_hour: time = time(7)
    readiness: Readiness = "fair"
    can_l: Annotated[float, Bounds(ge=1, le=30)] = 10.0
    gallon: Gallon = "uk"
    hours_by_default: Annotated[float, Bounds(gt=0, le=24)] = 2.0
    heat_c: Annotated[float, Bounds(ge=20, le=40)] = 27.0
    """From which highest temperature a day counts towards a spell of heat."""
    weather_from: WeatherFrom = "first"
    head: str | None = None
    """Who is told what concerns the whole garden; None: the first person entered."""


class Bed(NamedTuple):
    """One bed. `None` means not known: the tables of the trade fill it, shown as a guess."""

    uid: Uid
    key: Annotated[str, NotEmpty()]
    name: Name
    area_m2: Annotated[float, Bounds(gt=0, le=10000)]
    soil: Name = "unknown"
    place: Name = "open"
    sand_fraction: Fraction | None = None
    clay_fraction: Fraction | None = None
    organic_percent: Annotated[float, Bounds(ge=0, le=8)] = 2.5
    stone_fraction: Annotated[float, Bounds(ge=0, lt=0.9)] = 0.0
    slope_fraction: Annotated[float, Bounds(ge=0, le=1)] = 0.0
    bed_depth_m: Annotated[float, Bounds(ge=0.1, le=1.5)] | None = None
    intake_mm_h: Annotated[float, Bounds(ge=0.5, le=500)] | None = None
    hole: Drain | None = None
    hole_mm_h: Annotated[float, Bounds(ge=0, le=2000)] | None = None
    exposure_factor: Annotated[float, Bounds(ge=0.2, le=2)] | None = None
    rain_share: Annotated[float, Bounds(ge=0, le=1.3)] | None = None
    tap: str | None = None
    walk_m: Annotated[float, Bounds(ge=0, le=2000)] = 20.0
    keeper: str | None = None
    said: Said = frozenset()
    parted_from: Uid | None = None
    """The bed of which it was a part until `parted_on`; both are said, or neither."""
    parted_on: date | None = None
    rests_from: date | None = None
    """Laid to rest: from this day on it is in no round."""

    def rests_on(self, day: date) -> bool:
        """Whether it is laid to rest on a day."""
        return self.rests_from is not None and self.rests_from <= day


class Planting(NamedTuple):
    """A number of like plants put into one bed on one day."""

    uid: Uid
    bed_uid: Uid
    name: Name
    plant_class: Name
    count: Annotated[int, Bounds(ge=1, le=100000)]  # type: ignore[assignment]  # hides the tuple's own
    origin: Origin
    planted_on: date
    ball_volume_l: Annotated[float, Bounds(ge=0, le=2000)]
    ball_diameter_m: Annotated[float, Bounds(ge=0, le=2)]
    mix: Name = "peat-free"
    dug_from_soil: str | None = None
    canopy_start_m2: Annotated[float, Bounds(gt=0, le=50)] = 0.1
    canopy_full_m2: Annotated[float, Bounds(gt=0, le=50)] = 0.4
    weeks_to_full: Annotated[float, Bounds(gt=0, le=104)] = 12.0
    leaf: Leaf = "deciduous"
    leaf_out_on: date | None = None
    leaf_fall_on: date | None = None
    cell_m2: Annotated[float, Bounds(gt=0, le=200)] | None = None
    usual_dose_l: Annotated[float, Bounds(gt=0, le=500)] | None = None
    watered_in: bool = True
    bowl_m2: Annotated[float, Bounds(gt=0, le=20)] | None = None
    bowl_depth_m: Annotated[float, Bounds(gt=0, le=0.3)] | None = None
    ball_felt: FeltClass | None = None
    bed_felt: FeltClass | None = None
    replaces: Uid | None = None
    said: Said = frozenset()
    came_from: Uid | None = None
    """The planting from which these plants were taken."""
    parted_on: date | None = None
    """Since when they are in this bed, if they stand where they stood before; None: they were planted into it."""

    @property
    def here_from(self) -> date:
        """The first day in this bed."""
        return self.parted_on or self.planted_on


class Flow(NamedTuple):
    """What a tap gave on the day it was tested, with the lance that is used."""

    flow_l_per_min: Annotated[float, Bounds(gt=0, le=200)]
    tested_on: date


class Tap(NamedTuple):
    """Where water is drawn and how it is given from there."""

    uid: Uid
    key: Annotated[str, NotEmpty()]
    source: Source = "mains"
    method: HandMethod = "lance"
    flows: tuple[Flow, ...] = ()
    tank_l: Annotated[float, Bounds(gt=0, le=100000)] | None = None
    reach_m: Annotated[float, Bounds(ge=0, le=500)] | None = None


class Absence(NamedTuple):
    """Days on which a person cannot come, both ends included."""

    first: date
    last: date


class Person(NamedTuple):
    """Somebody who waters. `weekdays` counts Monday as 0. With `first` and `last` they come only then."""

    uid: Uid
    name: Name
    weekdays: frozenset[Annotated[int, Bounds(ge=0, le=6)]] = frozenset(range(7))
    hours: Annotated[float, Bounds(gt=0, le=24)] = 2.0
    absences: tuple[Absence, ...] = ()
    first: date | None = None
    last: date | None = None


class Restriction(NamedTuple):
    """A rule on watering, kept as it was typed; both days included."""

    uid: Uid
    first: date
    last: date
    tool: Tool
    source: RestrictedSource
    text: str


class Rate(NamedTuple):
    """A price from a day on: of a cubic metre of water, or of an hour's work."""

    uid: Uid
    from_day: date
    what: Literal["water", "hour"]
    price: Annotated[float, Bounds(ge=0, le=10000)]
    currency: str = "GBP"
