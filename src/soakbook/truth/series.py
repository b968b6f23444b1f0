"""What was measured at a place, day by day, beside the weather the balance is run on."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from soakbook.errors import InputError
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.columns import Columns, columns_of
from soakbook.truth.cover import Cover
from soakbook.truth.cover_days import cover_of
from soakbook.truth.measured import Measures
from soakbook.truth.record import Record
from soakbook.truth.scores import Mask
from soakbook.truth.sensors import Profile, profile_of
from soakbook.truth.sheet import read_sheet
from soakbook.truth.sky import Sky, read_sky

FROZEN_BELOW_C = 1.0
FROST_BELOW_C = 0.0
FROST_DAYS = 10
"""Days of a mean so low freeze the ground, where its own warmth is not measured. common practice, no source"""


@dataclass(frozen=True, slots=True)
class Series:
    """A record read: weather without gaps of days, and what was measured, not a number where nothing was."""

    sky: Sky
    cover: Cover
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
    said_header = record.columns.get("date")
    sheet = read_sheet(record.table.read_bytes(), record.table.name, said_header, record.date_order)
    columns = columns_of(sheet.table.headers, record.columns, record.wind_height_m)
    if not columns.vwc and columns.et is None and columns.percolation is None:
        right = "one at least of vwc_<cm>, et_mm, percolation_mm"
        raise InputError("measured columns", ", ".join(sheet.table.headers), right)
    measures = Measures(sheet, columns)
    sky = read_sky(record, columns, sheet, measures.dryness_kpa())
    sky = sky._replace(rain_mm=sky.rain_mm + measures.given_mm())
    cover, cover_findings = cover_of(record, columns, measures, sky.days)
    profile = _profile(record, columns, measures)
    root_depth_m = profile.root_depth_m if profile else record.root_depth_m
    if root_depth_m is None:
        raise InputError("root_depth_m", None, "metres of soil that the roots drink from")
    et, percolation = measures.et_mm(record.measured_share), measures.percolation_mm()
    in_span = _in_span(record, sky.days)
    frozen, frost = _frozen(measures, columns, sky.tmean_c, in_span)
    return Series(
        sky=sky,
        cover=cover,
        profile=profile,
        root_depth_m=root_depth_m,
        et_mm=et,
        percolation_mm=percolation,
        frozen=frozen,
        in_span=in_span,
        findings=(
            *columns.findings,
            *sky.findings,
            *sheet.findings,
            *cover_findings,
            *measures.findings,
            *(profile.findings if profile else ()),
            *frost,
        ),
    )


def _profile(record: Record, columns: Columns, measures: Measures) -> Profile | None:
    if not columns.vwc:
        return None
    readings = {
        probe: measures.read(column, column.header, -1e4, 1e4)
        for probe, column in columns.vwc.items()
    }
    return profile_of(
        readings,
        record.root_depth_m,
        record.sensor_depths_cm,
        float(record.soil.water.saturation),
    )


def _frozen(
    measures: Measures, columns: Columns, tmean_c: Floats, in_span: Mask
) -> tuple[Mask, list[str]]:
    """Days of frozen ground: by its own warmth, and where that is not known by ten days' frost."""
    warmth = measures.read(columns.soil_warmth, "soil temperature", -60.0, 60.0)
    likely = np.isnan(warmth) & (_mean_of_days(tmean_c, FROST_DAYS) < FROST_BELOW_C)
    left_out = int((likely & in_span).sum())
    findings = []
    if left_out:
        findings.append(
            f"{left_out} days taken as likely frozen, and not compared: the mean of {FROST_DAYS} days was below "
            f"{FROST_BELOW_C:g} °C"
        )
    return (warmth < FROZEN_BELOW_C) | likely, findings


def _mean_of_days(values: Floats, days: int) -> Floats:
    """Mean of the known values of so many days up to each; not a number where there are none."""
    known = ~np.isnan(values)
    sums = np.cumsum(np.concatenate([[0.0], np.where(known, values, 0.0)]))
    counts = np.cumsum(np.concatenate([[0], known]))
    first = np.maximum(np.arange(values.size) + 1 - days, 0)
    count = counts[1:] - counts[first]
    mean: Floats = np.full(values.size, np.nan)
    np.divide(sums[1:] - sums[first], count, out=mean, where=count > 0)
    return mean


def _in_span(record: Record, days: Sequence[date]) -> Mask:
    first = record.first or days[0]
    last = record.last or days[-1]
    inside = np.array([first <= day <= last and day.month in record.months for day in days])
    if not inside.any():
        said = f"{first} to {last}, months {', '.join(map(str, record.months))}"
        there = sorted({day.month for day in days if first <= day <= last})
        right = f"days of the file, {days[0]} to {days[-1]}"
        if there:
            right += f"; to compare those it has, write months = {there}"
        raise InputError("from, to and months", said, right)
    return inside
