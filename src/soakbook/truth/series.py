"""What was measured at a place, day by day, beside the weather the balance is run on."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from soakbook.errors import InputError
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.columns import Columns, Measured, columns_of
from soakbook.truth.record import Record
from soakbook.truth.scores import Mask
from soakbook.truth.sensors import Profile, profile_of
from soakbook.truth.sky import Sky, read_sky
from soakbook.weather.days import read_days
from soakbook.weather.files import MISSING_MARKS, MISSING_NUMBERS
from soakbook.weather.table import Row, Table, read_table

FROZEN_BELOW_C = 1.0
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?", re.IGNORECASE)
MOST_ET_MM = 25.0
MOST_PERCOLATION_MM = 500.0


@dataclass(frozen=True, slots=True)
class Series:
    """A record read: weather without gaps of days, and what was measured, not a number where nothing was."""

    sky: Sky
    profile: Profile | None
    root_depth_m: float
    et_mm: Floats
    percolation_mm: Floats
    frozen: Mask
    in_span: Mask
    """Days of the months and years that are compared."""
    findings: tuple[str, ...]

    @property
    def days(self) -> tuple[date, ...]:
        """From the first to the last, none missing."""
        return self.sky.days


def read_series(record: Record) -> Series:
    """All that a record's CSV holds.

    Raises
    ------
    InputError
        Anything in the file that cannot be right, or nothing in it to compare with.
    """
    table = read_table(record.table.read_bytes(), record.table.name)
    columns = columns_of(table.headers, record.columns, record.wind_height_m)
    if not columns.vwc and columns.et is None and columns.percolation is None:
        right = "one at least of vwc_<cm>, et_mm, percolation_mm"
        raise InputError("measured columns", ", ".join(table.headers), right)
    file = _File(table, columns, record)
    sky = read_sky(record, columns, file.dryness_kpa())
    file.lay_on(sky.days)
    findings = [*columns.findings, *sky.findings, *file.findings]
    profile = None
    if columns.vwc:
        profile = profile_of(
            {
                depth: file.read(column, f"vwc_{depth:g}", -1e4, 1e4)
                for depth, column in columns.vwc.items()
            },
            record.root_depth_m,
            record.sensor_depths_cm,
            float(record.soil.water.saturation),
        )
        findings += profile.findings
    elif record.root_depth_m is None:
        raise InputError("root_depth_m", None, "metres of soil that the roots drink from")
    et = _of_enough_measured(file, columns, record, findings)
    percolation = file.read(columns.percolation, "percolation", 0.0, MOST_PERCOLATION_MM)
    frozen = file.read(columns.soil_warmth, "soil temperature", -60.0, 60.0) < FROZEN_BELOW_C
    return Series(
        sky=sky,
        profile=profile,
        root_depth_m=profile.root_depth_m if profile else float(record.root_depth_m or 0.0),
        et_mm=et,
        percolation_mm=percolation,
        frozen=frozen,
        in_span=_in_span(record, sky.days),
        findings=tuple(findings),
    )


class _File:
    """A table's measured columns, laid on the days of the weather."""

    def __init__(self, table: Table, columns: Columns, record: Record) -> None:
        self._place = {header: n for n, header in reversed(list(enumerate(table.headers)))}
        self._rows = table.rows
        self._columns = columns
        header = columns.weather.date_header or next(
            (one for one in table.headers if one.casefold() in ("date", "day")), None
        )
        if header is None:
            raise InputError(
                "column of days",
                ", ".join(table.headers),
                "a column called date, or date = its name under columns",
            )
        self._days, _ = read_days(table.rows, self._place[header], None)
        self.findings: list[str] = []
        if self._days != sorted(self._days):
            self.findings.append("days out of order in the file: put in order")
        self._on: Sequence[date] = ()

    def lay_on(self, days: Sequence[date]) -> None:
        """Say which days the columns are read for."""
        self._on = days
        missing = len(days) - len(set(self._days))
        if missing:
            self.findings.append(f"{missing} days have no row")

    def dryness_kpa(self) -> dict[date, float]:
        """Measured vapour pressure deficit of each day that has one."""
        column = self._columns.vpd
        if column is None:
            return {}
        found = {day: self._value(row.cells, column, day, "vpd") for day, row in self._dated()}
        high = [value for value in found.values() if value is not None and not 0 <= value <= 12]
        if high:
            raise InputError(
                f"vpd, column {column.header!r}", high[0], "from 0 to 12 kPa: is the unit right?"
            )
        return {day: value for day, value in found.items() if value is not None}

    def read(self, column: Measured | None, what: str, lowest: float, highest: float) -> Floats:
        """A column on the days laid on, not a number where nothing was measured."""
        found = np.full(len(self._on), np.nan)
        if column is None:
            return found
        first = self._on[0].toordinal()
        for day, row in self._dated():
            value = self._value(row.cells, column, day, what)
            if value is None:
                continue
            if not lowest <= value <= highest:
                raise InputError(
                    f"{what} on {day}, column {column.header!r}",
                    value,
                    f"from {lowest:g} to {highest:g}",
                )
            found[day.toordinal() - first] = value / 100 if column.in_percent else value
        return found

    def _dated(self) -> Iterator[tuple[date, Row]]:
        return zip(self._days, self._rows, strict=True)

    def _value(self, cells: Sequence[str], column: Measured, day: date, what: str) -> float | None:
        cell = cells[self._place[column.header]]
        if cell.casefold() in MISSING_MARKS:
            return None
        if not _NUMBER.fullmatch(cell):
            raise InputError(
                f"{what} on {day}, column {column.header!r}",
                cell,
                "a number with a point, or nothing",
            )
        value = float(cell)
        return None if value in MISSING_NUMBERS else value * column.factor


def _of_enough_measured(
    file: _File, columns: Columns, record: Record, findings: list[str]
) -> Floats:
    """Measured evaporation of the days that were measured for long enough."""
    et = file.read(columns.et, "et", -5.0, MOST_ET_MM)
    if columns.et is None or columns.et_quality is None:
        return et
    share = file.read(columns.et_quality, "et_quality", 0.0, 100.0)
    if np.nanmax(share, initial=0.0) > 1.01:
        findings.append("et_quality taken as per cent")
        share /= 100
    thin = ~np.isnan(et) & ~(share >= record.measured_share)
    findings.append(
        f"evaporation of {int(thin.sum())} days left out: measured for less than "
        f"{100 * record.measured_share:.0f} % of the day"
    )
    et[thin] = np.nan
    return et


def _in_span(record: Record, days: Sequence[date]) -> Mask:
    first = record.first or days[0]
    last = record.last or days[-1]
    inside = np.array([first <= day <= last and day.month in record.months for day in days])
    if not inside.any():
        said = f"{first} to {last}, months {', '.join(map(str, record.months))}"
        raise InputError("from, to and months", said, f"days of the file, {days[0]} to {days[-1]}")
    return inside
