"""What happened in the garden: one tagged union, append-only.

`happened_at` is a zone-aware moment, or a bare date where no time was said; a later entry supersedes an
earlier one by uid. Amounts are kept as typed beside their litres or millimetres.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Literal

from soakbook.garden.bounds import Bounds, NotEmpty
from soakbook.garden.records import FeltClass, Fraction, HandMethod, Uid, strict

When = datetime | date
SoakKind = Literal["soak", "rescue", "re_wet", "water_in"]
RainKind = Literal["gentle", "burst"]

ADVISED = "advised"
ADVISED_SHARES = {ADVISED: 1.0, "half advised": 0.5}
"""What is typed of a soak that was given as the round had it -> how much of the round's dose it was."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Entry:
    """What every entry says: who, when it happened, when it was written."""

    __pydantic_config__ = strict

    uid: Uid
    happened_at: When
    written_at: datetime
    by: str | None = None
    note: str | None = None
    supersedes: Uid | None = None
    corrected_by: str | None = None
    """Of an entry that supersedes another: who says so, where that was said."""

    # Written once for all kinds: compiled anew for each of a dozen they take a hundredth of a morning.
    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return self._said() == other._said()

    def __hash__(self) -> int:
        return hash(self._said())

    def __repr__(self) -> str:
        told = zip(self.__dataclass_fields__, self._said(), strict=True)
        return f"{type(self).__qualname__}({', '.join(f'{name}={one!r}' for name, one in told)})"

    def _said(self) -> tuple[object, ...]:
        return tuple([getattr(self, name) for name in self.__dataclass_fields__])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class BedEntry(Entry):
    """An entry about a bed, or about one planting of it."""

    bed_uid: Uid
    planting_uid: Uid | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Soak(BedEntry):
    """A watering: litres over the whole bed, or over the named planting."""

    litres: Annotated[float, Bounds(gt=0, le=100000)]
    typed: str
    kind: SoakKind = "soak"
    method: HandMethod = "lance"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Rain(Entry):
    """A gauge reading: so much fell in the open between two moments. `happened_at` is the later one."""

    rain_mm: Annotated[float, Bounds(ge=0, le=500)]
    typed: str
    began_at: datetime
    kind: RainKind | None = None
    began_assumed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Feel(BedEntry):
    """A finger in the ball, in the bed a hand's breadth outside it, or in both."""

    ball: FeltClass | None = None
    bed: FeltClass | None = None
    unsure: bool = False


CONTRADICTING: Mapping[tuple[FeltClass | None, FeltClass | None], str] = {
    ("sour", "dust"): "the soil round a drowned ball is hardly dust-dry",
}
"""A ball and the bed round it, felt so that one is likely a slip, and why. common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Wilt(BedEntry):
    """Leaves looked at for limpness, with the hour: limp, or upright again."""

    upright: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Left(BedEntry):
    """Looked at and left, with the reason."""

    reason: Annotated[str, NotEmpty()]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Loss(BedEntry):
    """Plants lost."""

    planting_uid: Uid
    count: Annotated[int, Bounds(ge=1, le=100000)]
    cause: Annotated[str, NotEmpty()]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class MulchLaid(BedEntry):
    """A dressing laid on a bed."""

    kind: Annotated[str, NotEmpty()]
    depth_cm: Annotated[float, Bounds(gt=0, le=30)]
    typed: str
    cover_fraction: Fraction = 1.0
    on_wet_soil: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Catch(BedEntry):
    """A jar in the bed beside the gauge: what it caught of so much rain in the open."""

    jar_mm: Annotated[float, Bounds(ge=0, le=500)]
    gauge_mm: Annotated[float, Bounds(gt=0, le=500)]
    typed: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Ruler(BedEntry):
    """How deep the mulch of a bed lies: the mean of some spots."""

    measured_cm: Annotated[float, Bounds(ge=0, le=30)]
    spots: Annotated[int, Bounds(ge=1, le=100)]
    typed: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Look(BedEntry):
    """A hole dug a hand's breadth from a plant: how far down the soil is wet."""

    wet_to_cm: Annotated[float, Bounds(ge=0, le=150)]
    typed: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Void(Entry):
    """The entry that it supersedes is taken back; `happened_at` is when, `by` who did. It is never in force."""

    supersedes: Uid


OfBed = Soak | Feel | Wilt | Left | Loss | MulchLaid | Catch | Ruler | Look
AnyEntry = Rain | OfBed
"""What can be in force."""

Kept = AnyEntry | Void
"""What can be written."""

ENTRY_TYPES: dict[str, type[Kept]] = {
    "soak": Soak,
    "rain": Rain,
    "feel": Feel,
    "wilt": Wilt,
    "left": Left,
    "loss": Loss,
    "mulch": MulchLaid,
    "catch": Catch,
    "ruler": Ruler,
    "look": Look,
    "void": Void,
}
