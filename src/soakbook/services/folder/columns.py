"""The CSV files of the folder: their columns in order, what a cell of each is, and what it says in words.

README.txt in the folder is made from this page, and so is every reading and writing: what is not here is in no file.
"""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any, NamedTuple

from soakbook.garden.annotations import bases, hints
from soakbook.garden.entries import ENTRY_TYPES
from soakbook.services.folder.cells import (
    DAY,
    MOMENT,
    NUMBER,
    NUMBERS,
    OFTEN_EMPTY,
    TEXT,
    UTC_MOMENT,
    WHEN,
    WHOLE,
    YES_NO,
    Cell,
)
from soakbook.store.entry_rows import COLUMN_OF, COLUMNS


class Column(NamedTuple):
    """One column: its name, what a cell of it is, what it says."""

    name: str
    cell: Cell
    says: str


class Sheet(NamedTuple):
    """One CSV file: its name without ending, what a row is, and its columns."""

    name: str
    says: str
    columns: tuple[Column, ...]


RENAMED = {"by_whom": "by"}
"""Columns of the book's table of entries that have another name in the file."""

SAYS = {
    "uid": "the entry's permanent name; a later entry names by it what it corrects",
    "happened_at": "when it happened: a moment on the clock of the place, or a day where no hour was said",
    "written_at": "when it was written in the book, in UTC",
    "by": "who did it, or who said so",
    "note": "a remark",
    "supersedes": "the uid of the entry that this one stands for from then on; a void takes it back",
    "corrected_by": "who corrected it, where by is who did it",
    "bed_uid": "the uid of the bed, see garden.toml",
    "planting_uid": "the uid of the one planting it is about; empty: the whole bed",
    "typed": "the amount in the gardener's own words",
    "litres": "a soak: litres over the whole bed or planting",
    "soak_kind": "a soak: soak, rescue, re_wet or water_in",
    "method": "a soak: can, lance, spray, drip or broadcast",
    "rain_mm": "rain: what the gauge held, mm",
    "began_at": "rain: since when the gauge had caught it",
    "rain_kind": "rain: gentle or burst",
    "began_assumed": "rain: whether that beginning is a guess",
    "felt_ball": "a feel: the root ball: dust, dry, moist, wet or sour",
    "felt_bed": "a feel: the soil a hand outside it, in the same words",
    "unsure": "a feel: whether the finger was in doubt",
    "upright": "a wilt: whether the leaves stood again",
    "reason": "left: why the bed was looked at and left",
    "lost_count": "a loss: how many plants",
    "cause": "a loss: of what",
    "mulch_kind": "mulch: of which kind",
    "depth_cm": "mulch: how deep it was laid, cm",
    "cover_fraction": "mulch: how much of the ground it covers, 0 to 1",
    "on_wet_soil": "mulch: whether the soil was wet",
    "jar_mm": "a catch: what a jar in the bed caught, mm",
    "gauge_mm": "a catch: what the gauge in the open caught meanwhile, mm",
    "measured_cm": "a ruler: how deep the mulch lies, mean of the spots, cm",
    "spots": "a ruler: at how many spots",
    "wet_to_cm": "a look into a hole: how far down the soil is wet, cm",
}
"""What the columns of entries.csv say; one that is not here is said by its name alone."""


def columns_of(kind: str) -> Mapping[str, str]:
    """Field -> column of entries.csv, for entries of one kind."""
    return {field: RENAMED.get(column, column) for field, column in COLUMN_OF[kind].items()}


def _cell(hint: Any, column: str) -> Cell:
    may_be = bases(hint)
    if {date, datetime} <= may_be:
        return WHEN
    if column == "written_at":
        return UTC_MOMENT
    for base, cell in ((datetime, MOMENT), (bool, YES_NO), (float, NUMBER), (int, WHOLE)):
        if base in may_be:
            return cell
    return TEXT


def _entries() -> Sheet:
    cells = {
        column: _cell(hints(ENTRY_TYPES[kind])[field], column)
        for kind, fields in COLUMN_OF.items()
        for field, column in fields.items()
    }
    kinds = ", ".join(ENTRY_TYPES)
    columns = [Column("kind", TEXT, f"what happened: one of {kinds}")]
    for column in COLUMNS:
        name = RENAMED.get(column, column)
        columns.append(Column(name, cells[column], SAYS.get(name, name.replace("_", " "))))
    return Sheet(
        "entries",
        "Everything that happened, a row each, in the order in which it was written; what was corrected later, too.",
        tuple(columns),
    )


ENTRIES = _entries()

_CAME = (
    Column("arrival", WHOLE, "rows with the same number came together; 1 came first"),
    Column("source", TEXT, "whose it is: a service, a file, a gauge"),
    Column(
        "kind",
        TEXT,
        "measured, analysed, forecast or filled; the first is believed before the last",
    ),
    Column("method", OFTEN_EMPTY, "how a filled or reckoned value was made"),
    Column("issued_at", UTC_MOMENT, "when its source gave it out, in UTC"),
    Column("fetched_at", UTC_MOMENT, "when it came into the book, in UTC"),
)

WEATHER = Sheet(
    "weather",
    "The weather of each day as each source said it; what was corrected later, too.",
    (
        *_CAME,
        Column("day", DAY, "the garden's day"),
        Column(
            "variable", TEXT, "what the value is of, its unit at the end: rain_mm, et0_mm, tmax_c"
        ),
        Column("value", NUMBER, "the value, in that unit"),
    ),
)

FORECASTS = Sheet(
    "forecasts",
    "Every issue of a forecast whole, a row for each of its days.",
    (
        *_CAME,
        Column("day", DAY, "the garden's day"),
        Column("rain_mm", NUMBER, "rain, mm"),
        Column("et0_mm", NUMBER, "what the air asks of a lawn (reference evapotranspiration), mm"),
        Column("tmin_c", NUMBER, "lowest temperature, degrees Celsius"),
        Column("tmax_c", NUMBER, "highest temperature, degrees Celsius"),
        Column("tmean_c", NUMBER, "mean temperature, degrees Celsius"),
        Column(
            "rain_by_hour_mm", NUMBERS, "rain of each hour from local midnight, mm, a blank between"
        ),
        Column("rain_members_mm", NUMBERS, "the day's rain in each of the forecast's futures, mm"),
        Column("et0_members_mm", NUMBERS, "the same of what the air asks, mm"),
        Column("mean_by_hour_mm", NUMBERS, "rain of each hour in the mean of the futures, mm"),
        Column("from_hour", WHOLE, "so many of its hours had gone by and are not told of"),
    ),
)

PROMISES = Sheet(
    "promises",
    "What the first issue of each day promised of useful rain; by this a service is judged.",
    (
        *_CAME,
        Column("issued_on", DAY, "the garden's day of the issue"),
        Column("lead_days", WHOLE, "how many days ahead"),
        Column("share", NUMBER, "share of its futures with useful rain, 0 to 1"),
        Column("middle_mm", NUMBER, "the middle of what fell in those, mm"),
    ),
)

RAIN_HOURS = Sheet(
    "rain_hours",
    "How the rain of a day fell, hour by hour.",
    (
        *_CAME,
        Column("day", DAY, "the garden's day"),
        Column(
            "numbers",
            NUMBERS,
            "rain of each hour from local midnight, 23 to 25 of them, mm, a blank between",
        ),
    ),
)

ASKED = Sheet(
    "asked",
    "What came of asking for weather, each time that is remembered.",
    (
        Column("service", TEXT, "who was asked"),
        Column("what", TEXT, "what for, or which address"),
        Column("at", UTC_MOMENT, "when, in UTC"),
        Column("came", TEXT, "new, same, refused, busy, down or rubbish"),
        Column("say", OFTEN_EMPTY, "what was said; nothing when all was well"),
        Column("not_before", UTC_MOMENT, "not to be asked again before, in UTC"),
    ),
)

SHEETS = (ENTRIES, WEATHER, FORECASTS, PROMISES, RAIN_HOURS, ASKED)

CAME = len(_CAME)
"""So many first columns say with what a row of weather came."""
