"""What was measured in the ground and above it: columns of a record that no garden has."""

from collections.abc import Mapping
from datetime import date

import numpy as np

from soakbook.quantities.saying import counted
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.columns import Columns, Measured
from soakbook.truth.faults import left_out, read_cells
from soakbook.truth.sheet import Sheet

VPD_KPA = (0.0, 12.0)
ET_MM = (-2.0, 25.0)
"""Of a day: dew and the noise of weighing may turn it round a little. common practice, no source"""
PERCOLATION_MM = (-10.0, 500.0)
"""Of a day: water may rise. common practice, no source"""


class Measures:
    """The measured columns of a sheet, each laid on the days of the record."""

    def __init__(self, sheet: Sheet, columns: Columns) -> None:
        self._sheet = sheet
        self._columns = columns
        self._first = min(sheet.days).toordinal()
        self.findings: list[str] = []

    def read(self, column: Measured | None, what: str, lowest: float, highest: float) -> Floats:
        """A column, not a number where nothing was measured or nothing can be made of it."""
        found = np.full(len(self._sheet.span()), np.nan)
        if column is None:
            return found
        cells = read_cells(
            self._sheet.column(column.header),
            lambda value: value * column.factor,
            lambda value: lowest <= value <= highest,
            f"from {lowest:g} to {highest:g}",
        )
        if cells.faults:
            hint = ": is the unit right?" if cells.faults[0].right.startswith("from") else ""
            words = left_out(what, column.header, cells.faults, cells.known, self._sheet.days, hint)
            self.findings.append(words)
        if cells.markers:
            self.findings.append(
                f"column {column.header!r}: {cells.markers} cells of -9999 or the like taken as not measured"
            )
        for day, value in zip(self._sheet.days, cells.values, strict=True):
            if value is not None:
                found[day.toordinal() - self._first] = value / 100 if column.in_percent else value
        return found

    def dryness_kpa(self) -> Mapping[date, float]:
        """Vapour pressure deficit of each day that has one."""
        found = self.read(self._columns.vpd, "vpd", *VPD_KPA)
        days = self._sheet.span()
        return {days[row]: float(found[row]) for row in np.flatnonzero(~np.isnan(found))}

    def et_mm(self, measured_share: float) -> Floats:
        """Evaporation of the days that were measured for long enough."""
        columns = self._columns
        et = self.read(columns.et, "et", *ET_MM)
        _say_below_nothing("et", et, self.findings)
        if columns.et is None or columns.et_quality is None:
            return et
        share = self.read(columns.et_quality, "et_quality", 0.0, 100.0)
        if np.nanmax(share, initial=0.0) > 1.01:
            self.findings.append("et_quality taken as per cent")
            share /= 100
        thin = ~np.isnan(et) & ~(share >= measured_share)
        self.findings.append(
            f"evaporation of {counted(int(thin.sum()), 'day')} left out: measured for less than "
            f"{100 * measured_share:.0f} % of the day"
        )
        et[thin] = np.nan
        return et

    def percolation_mm(self) -> Floats:
        """What drained, less what rose."""
        found = self.read(self._columns.percolation, "percolation", *PERCOLATION_MM)
        _say_below_nothing("percolation", found, self.findings)
        return found

    def given_mm(self) -> Floats:
        """Water given each day, 0 where none is written."""
        column = self._columns.given
        found = self.read(column, "water given", 0.0, 500.0)
        given = np.nan_to_num(found)
        if column is not None and given.any():
            self.findings.append(
                f"water given, column {column.header!r}: {given.sum():.0f} mm on "
                f"{counted(int(np.count_nonzero(given)), 'day')} counted as rain"
            )
        return given


def _say_below_nothing(what: str, values: Floats, findings: list[str]) -> None:
    """Name values below 0, which are summed as they are; more of them than of others are a sign turned round."""
    below = int((values < 0).sum())
    if not below:
        return
    turned = below > (values > 0).sum()
    doubt = "; more than above it: is the sign right?" if turned else ""
    findings.append(f"{what}: {counted(below, 'value')} below 0, left as measured{doubt}")
