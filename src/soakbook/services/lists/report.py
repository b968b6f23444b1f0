"""What a list came to, for people and for machines: the record behind `--from`."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from soakbook.garden.records import Bed, Origin, Planting
from soakbook.services import guesses
from soakbook.services.bed_words import soil_of
from soakbook.services.lists.columns import Column

LIST_SCHEMA = "soakbook.list/1"


@dataclass(frozen=True, slots=True)
class ColumnTaken:
    """What a column was taken for, by its header."""

    what: str
    header: str
    unit: str | None


@dataclass(frozen=True, slots=True)
class BedLine:
    """One new bed, with the first line of the list that names it."""

    line: int
    bed: str
    name: str
    area_m2: float
    soil: str
    place: str
    tap: str | None


@dataclass(frozen=True, slots=True)
class PlantingLine:
    """One new planting, with its line in the list."""

    line: int
    bed: str
    planting: str
    kind: str
    count: int
    origin: Origin
    ball_l: float
    planted_on: str
    say: str


@dataclass(frozen=True, slots=True)
class ListReport:
    """A list as it was understood; `written` tells whether it is in the book."""

    schema: str
    what: Literal["plantings", "beds"]
    name: str
    written: bool
    columns: tuple[ColumnTaken, ...]
    beds: tuple[BedLine, ...]
    plantings: tuple[PlantingLine, ...]
    plants: int
    guesses: int
    say: tuple[str, ...]


class Entered(NamedTuple):
    """New records, each with its line."""

    beds: tuple[tuple[int, Bed], ...]
    plantings: tuple[tuple[int, Planting], ...]


def columns_taken(columns: tuple[Column, ...]) -> tuple[ColumnTaken, ...]:
    """The columns of a list as its report has them."""
    return tuple(ColumnTaken(one.what, one.header, one.unit or None) for one in columns)


def bed_line(line: int, bed: Bed) -> BedLine:
    """A new bed as the report has it."""
    return BedLine(line, bed.key, bed.name, bed.area_m2, soil_of(bed), bed.place, bed.tap)


def guesses_in(entered: Entered, beds: Mapping[str, Bed]) -> int:
    """How many guesses are in new records; `beds` are all, by uid."""
    of_beds = sum(len(list(guesses.of_bed(bed))) for _, bed in entered.beds)
    return of_beds + sum(
        len(list(guesses.of_planting(beds[one.bed_uid], one))) for _, one in entered.plantings
    )
