"""Weather from a file: read whole or not at all, and turned into daily values for the book.

Nothing is imported from a file with a fault; every fault names the day, the column, the value and
what would be right. What is blank stays unknown: no rain value is a gap, not a dry day. Columns and
units are in `columns` and `column_map`, one cell in `cells`, rows that are parts of a day in `day_parts`,
what cannot be in `sanity` and `clock`, gaps in `gaps`, reference ET in `reference_et`.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta, tzinfo
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherValue
from soakbook.weather.cells import MISSING_MARKS, is_trace, value_of
from soakbook.weather.clock import clock_finding
from soakbook.weather.column_map import (
    NOTHING_SAID,
    ColumnMap,
    date_column,
    rain_starts_h,
    understand,
)
from soakbook.weather.columns import QUANTITIES, Column
from soakbook.weather.day_parts import ReadDays, read_parts
from soakbook.weather.days import read_days, spans
from soakbook.weather.gaps import (
    FILLED,
    Days,
    Origin,
    Origins,
    every_day,
    fill_short_gaps,
    has_temperatures,
    rain_on_calendar_days,
)
from soakbook.weather.moments import has_hours
from soakbook.weather.reference_et import DayInputs, ReferenceEt, Site, reference_et
from soakbook.weather.sanity import check_days, instrument_findings
from soakbook.weather.table import Table, content_of, read_table

LASTING = timedelta(days=14)
"""So many days at a file's end tell what is wrong still: ten are needed to know of a clock."""


@dataclass(frozen=True, slots=True)
class WeatherFile:
    """What a file gave: values for the book, how it was read, and what to know of it.

    `taken` and `left_out` say what was understood, column by column; `findings` name gaps, filled
    days, substitutes in ET0 and instruments that look stuck; `lasting` what the last fortnight shows
    by itself of a clock that is wrong still. `column_map` reads the next file of this station;
    `of_hours` says whether rows were parts of a day.
    """

    values: tuple[WeatherValue, ...]
    column_map: ColumnMap
    first: date
    last: date
    taken: tuple[str, ...]
    left_out: tuple[str, ...]
    findings: tuple[str, ...]
    lasting: tuple[str, ...] = ()
    of_hours: bool = False


def read_weather_file(
    path: Path,
    site: Site,
    fetched_at: datetime,
    said: ColumnMap = NOTHING_SAID,
    *,
    gaps_allowed: bool = False,
    name: str | None = None,
) -> WeatherFile:
    """Daily values of a weather file, with reference ET for every day that has its temperatures.

    Parameters
    ----------
    path
        A table as text, one row a day or rows of parts of a day.
    site
        Where it was measured; the garden's place when the station stands in it.
    fetched_at
        Now, in the garden's zone.
    said
        What the gardener said of the columns, over what the book remembers (`ColumnMap.over`).
    gaps_allowed
        Whether days may be missing inside the span; then up to three running are filled.
    name
        What the file is called, if not as it is on disk.

    Returns
    -------
    WeatherFile
        Values by day and variable. ET0 is `measured` where that day's temperatures are, and
        `filled` where they are filled; its method names whatever else stood in for a measurement.

    Raises
    ------
    InputError
        Anything in the file that cannot be right.
    """
    name = name or path.name
    table = read_table(content_of(path), name, decimal_comma=bool(said.decimal_comma))
    return read_weather_table(table, name, site, fetched_at, said, gaps_allowed=gaps_allowed)


def read_weather_table(
    table: Table,
    name: str,
    site: Site,
    fetched_at: datetime,
    said: ColumnMap = NOTHING_SAID,
    *,
    gaps_allowed: bool = False,
) -> WeatherFile:
    """Daily values of a table of that name already read, for the rest as `read_weather_file`."""
    place = table.headers.index(date_column(table.headers, said.date_header))
    in_parts = has_hours(table.rows, place)
    understood = understand(table.headers, said, in_parts=in_parts)
    zone = fetched_at.tzinfo or UTC
    read = (
        read_parts(table, understood.column_map, name, zone)
        if in_parts
        else _read(table, understood.column_map)
    )
    days, origins, columns, column_map = read.days, read.origins, read.columns, read.column_map
    if not gaps_allowed:
        _check_no_gaps(days, columns, name)
    check_days(days, columns, site)
    findings = [
        *read.findings,
        *instrument_findings(days),
        *_clock_findings(read, site, zone),
        *_unfinished(max(days), fetched_at.date()),
    ]
    _share_rain(days, origins, column_map)
    if gaps_allowed:
        for day, variables in fill_short_gaps(days).items():
            origins |= {(day, variable): Origin("filled", FILLED) for variable in variables}
    days = dict(sorted(days.items()))
    reckoned = reference_et(list(_inputs(days)), site)
    _add_et0(days, origins, reckoned)
    return WeatherFile(
        values=tuple(_values(days, origins, column_map.source or name, fetched_at)),
        column_map=column_map,
        first=min(days),
        last=max(days),
        taken=understood.taken,
        left_out=understood.left_out,
        findings=tuple(findings + _gap_findings(days, origins, columns) + _et0_findings(reckoned)),
        lasting=tuple(_clock_findings(read, site, zone, since=max(days) - LASTING)),
        of_hours=in_parts,
    )


def _check_no_gaps(days: Days, columns: Mapping[str, Column], name: str) -> None:
    """Refuse days that have no row, or no temperatures in a file that has them on either side."""
    missing = [day for day in every_day(min(days), max(days)) if day not in days]
    if missing:
        right = "a row for every day, or --gaps: up to three days running are then filled"
        raise InputError(f"days of {name}", f"without {spans(missing)}", right)
    known = [day for day in days if has_temperatures(days[day])]
    if not known or not {"tmin_c", "tmax_c"} <= columns.keys():
        return
    blank = [day for day in every_day(known[0], known[-1]) if not has_temperatures(days[day])]
    if blank:
        right = (
            "both temperatures of every day, or --gaps: up to three days running are then filled"
        )
        raise InputError(f"temperatures of {name}", f"without {spans(blank)}", right)


def _read(table: Table, column_map: ColumnMap) -> ReadDays:
    """Values of every row by day, in our units and as the book keeps them."""
    place = {header: number for number, header in reversed(list(enumerate(table.headers)))}
    read, order = read_days(table.rows, place[str(column_map.date_header)], column_map.date_order)
    marks = MISSING_MARKS | {mark.casefold() for mark in column_map.missing}
    comma = bool(column_map.decimal_comma)
    _check_each_day_once(read, table)
    days: Days = {day: {} for day in sorted(read)}
    origins: Origins = {}
    for day, row in zip(read, table.rows, strict=True):
        for column in column_map.columns:
            variable = QUANTITIES[column.quantity].variable
            cell = row.cells[place[column.header]]
            value = value_of(cell, column, day.isoformat(), marks, decimal_comma=comma)
            if value is not None:
                days[day][variable] = value
                if is_trace(cell, column):
                    origins[day, variable] = Origin("measured", "trace")
                elif column.method:
                    origins[day, variable] = Origin("measured", column.method)
    columns = {QUANTITIES[column.quantity].variable: column for column in column_map.columns}
    return ReadDays(days, origins, columns, replace(column_map, date_order=order))


def _check_each_day_once(read: list[date], table: Table) -> None:
    lines: dict[date, int] = {}
    for day, row in zip(read, table.rows, strict=True):
        if day in lines:
            once = f"a day once; it is on line {lines[day]} too"
            raise InputError(f"day on line {row.line}", day.isoformat(), once)
        lines[day] = row.line


def _share_rain(days: Days, origins: Origins, column_map: ColumnMap) -> None:
    starts_h = rain_starts_h(column_map.rain_day)
    rain_on_calendar_days(days, starts_h)
    if starts_h:
        method = f"shared by hours from the reading, booked {column_map.rain_day}"
        origins |= {(day, "rain_mm"): Origin("measured", method) for day in days}


def _inputs(days: Mapping[date, Mapping[str, float]]) -> Iterator[DayInputs]:
    for day, values in days.items():
        yield DayInputs(day, **{name: value for name, value in values.items() if name != "rain_mm"})


def _add_et0(days: Days, origins: Origins, reckoned: tuple[ReferenceEt, ...]) -> None:
    for result in reckoned:
        if result.et0_mm is None:
            continue
        days[result.day]["et0_mm"] = result.et0_mm
        filled = any(
            origins.get((result.day, name), _MEASURED).kind == "filled"
            for name in ("tmin_c", "tmax_c")
        )
        method = f"{result.method}; from the {FILLED}" if filled else result.method
        origins[result.day, "et0_mm"] = Origin("filled" if filled else "measured", method)


_MEASURED = Origin("measured", "")
_ORDER = {quantity.variable: n for n, quantity in enumerate(QUANTITIES.values())} | {"et0_mm": 99}


def _values(
    days: Days, origins: Origins, source: str, fetched_at: datetime
) -> Iterator[WeatherValue]:
    for day, values in days.items():
        for variable in sorted(values, key=_ORDER.__getitem__):
            origin = origins.get((day, variable), _MEASURED)
            yield WeatherValue(
                day,
                variable,
                values[variable],
                source,
                origin.kind,
                fetched_at,
                method=origin.method,
            )


def _clock_findings(read: ReadDays, site: Site, zone: tzinfo, since: date = date.min) -> list[str]:
    """What the sun says of the clock of a file of hours that measured it."""
    if site.longitude_deg is None or not read.radiation:
        return []
    found = clock_finding(read.moments, read.radiation, site.longitude_deg, zone, since=since)
    return [] if found is None else [found]


def _unfinished(last: date, today: date) -> list[str]:
    if last < today:
        return []
    return [f"{last} was not over when the file was read: read it again another day"]


def _gap_findings(days: Days, origins: Origins, columns: Mapping[str, Column]) -> list[str]:
    span = every_day(min(days), max(days))
    findings = []
    filled = {day for (day, _), origin in origins.items() if origin.kind == "filled"}
    if filled:
        findings.append(f"filled with the {FILLED}, all but rain: {spans(filled)}")
    without_rain = [day for day in span if "rain_mm" not in days.get(day, {})]
    if "rain_mm" in columns and without_rain:
        findings.append(f"no rain value, which is not the same as dry: {spans(without_rain)}")
    without_et0 = [day for day in span if "et0_mm" not in days.get(day, {})]
    if without_et0:
        findings.append(f"no ET0, for want of lowest and highest temperature: {spans(without_et0)}")
    return findings


def _et0_findings(reckoned: tuple[ReferenceEt, ...]) -> list[str]:
    reached = [result for result in reckoned if result.et0_mm is not None]
    counted = Counter(gap for result in reached for gap in result.gaps)
    return [f"ET0 with {gap} on {count} of {len(reached)} days" for gap, count in counted.items()]
