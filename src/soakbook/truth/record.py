"""A measured record as its RECORD.toml describes it; what was measured is read by `series`."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, cast, get_args

from soakbook.errors import InputError
from soakbook.quantities import names
from soakbook.quantities.places import parse_latitude, parse_longitude
from soakbook.truth.cover import Cover, read_cover
from soakbook.truth.months import months_of
from soakbook.truth.said import Said, read_toml
from soakbook.truth.soil_said import Soil, read_soil
from soakbook.truth.targets import Targets, read_targets
from soakbook.weather.column_map import DateOrder
from soakbook.weather.reference_et import Site

DEPLETION_P = 0.5  # FAO-56 table 22: turf 0.4 to 0.5
NORTHERN_MONTHS = (4, 5, 6, 7, 8, 9, 10)
SOUTHERN_MONTHS = (10, 11, 12, 1, 2, 3, 4)
DEEPEST_ROOTS_M = 3.0
LEAST_ROOTS_M = 0.05
MEASURED_SHARE = 0.75
_LAYER = re.compile(r"\s*[\d.]+\s*-\s*(?P<bottom>\d+(?:\.\d+)?)\s*(?:cm)?\s*")


@dataclass(frozen=True, slots=True)
class Record:
    """One place where others measured, and how its balance is to be reckoned."""

    key: str
    """The file's name without its ending."""
    name: str
    table: Path
    site: Site
    wind_height_m: float | None
    soil: Soil
    root_depth_m: float | None
    sensor_depths_cm: tuple[float, ...] | None
    cover: Cover | None
    """None where none is said."""
    depletion_p: float
    columns: Mapping[str, str]
    measured_share: float
    date_order: DateOrder | None
    rain_day: str | None
    """When the gauge was read and whose day it was booked to, as for a garden's weather file."""
    first: date | None
    last: date | None
    months: tuple[int, ...]
    source: str | None
    licence: str | None
    targets: Targets
    findings: tuple[str, ...]

    @property
    def southern(self) -> bool:
        """Whether its summer is in January."""
        return self.site.latitude_deg < 0


def read_record(path: Path) -> Record:
    """A record's description; its CSV is not opened yet.

    Parameters
    ----------
    path : Path
        A TOML file in the form of DEVELOPERS.md, Truth on measured records.

    Raises
    ------
    InputError
        Not such a file, or something in it that cannot be right.
    """
    said = read_toml(path)
    findings: list[str] = []
    latitude = _degrees(said, "latitude_deg", ("latitude_deg", "latitude", "lat"))
    if latitude is None:
        raise InputError("latitude_deg", None, "degrees north, below 0 in the south")
    _degrees(said, "longitude_deg", ("longitude_deg", "longitude", "lon"))
    site = Site(latitude, _elevation_m(said, findings), _coastal(said))
    first, last = said.day("from", "start"), said.day("to", "until", "end")
    if first is not None and last is not None and last < first:
        raise InputError("to", last, f"not before from, {first}")
    record = Record(
        key=path.stem,
        name=said.text("name", "title") or path.stem,
        table=_table(said, path),
        site=site,
        wind_height_m=said.number(
            ("wind_height_m", "wind_height"), 0.5, 100, "metres from 0.5 to 100"
        ),
        soil=read_soil(said, findings),
        root_depth_m=_root_depth_m(said),
        sensor_depths_cm=_sensor_depths_cm(said),
        cover=read_cover(said, latitude < 0, findings),
        depletion_p=said.number(("p", "depletion_p"), 0.1, 0.8, "a fraction from 0.1 to 0.8")
        or DEPLETION_P,
        columns=_columns(said),
        measured_share=said.number(("measured_share",), 0, 1, "a fraction from 0 to 1")
        or MEASURED_SHARE,
        date_order=_date_order(said),
        rain_day=said.text("rain_day"),
        first=first,
        last=last,
        months=_months(said, latitude < 0),
        source=said.text("source", "credit"),
        licence=said.text("licence", "license"),
        targets=read_targets(said),
        findings=(),
    )
    for ignored in ("note", "notes", "texture_note", "description", "sensors", "country"):
        said.take(ignored)
    if said.left():
        findings.append(f"not understood, and left out: {', '.join(said.left())}")
    return replace(record, findings=tuple(findings))


def _degrees(said: Said, quantity: str, keys: tuple[str, ...]) -> float | None:
    found = said.take(*keys)
    if found is None:
        return None
    name, value = found
    if isinstance(value, str):
        return (parse_latitude if quantity == "latitude_deg" else parse_longitude)(value)
    return names.check(quantity, value, field=name)


def _elevation_m(said: Said, findings: list[str]) -> float:
    found = said.take("elevation_m", "elevation", "elev_m", "elev", "altitude_m", "altitude")
    if found is None:
        findings.append("no elevation_m said: taken as sea level")
        return 0.0
    return names.check("elevation_m", found[1], field=found[0])


def _coastal(said: Said) -> bool:
    found = said.take("coastal")
    if found is None or isinstance(found[1], bool):
        return bool(found and found[1])
    raise InputError(found[0], found[1], "true or false")


def _table(said: Said, path: Path) -> Path:
    """The CSV: the one named, else the TOML's own name with the other ending."""
    named = said.text("csv", "file", "table", "data")
    table = path.parent / named if named else path.with_suffix(".csv")
    if not table.is_file():
        raise InputError(
            "csv", table.name, f"a file beside {path.name}, or csv = its name in {path.name}"
        )
    return table


def _root_depth_m(said: Said) -> float | None:
    right = f"metres from {LEAST_ROOTS_M:g} to {DEEPEST_ROOTS_M:g}; 0.6 for 60 cm"
    in_m = said.number(("root_depth_m", "root_zone_m"), LEAST_ROOTS_M, DEEPEST_ROOTS_M, right)
    least_cm, most_cm = 100 * LEAST_ROOTS_M, 100 * DEEPEST_ROOTS_M
    right = f"centimetres from {least_cm:g} to {most_cm:g}"
    in_cm = said.number(("root_depth_cm", "root_zone_cm"), least_cm, most_cm, right)
    if in_m is not None and in_cm is not None:
        raise InputError("root_depth_cm", in_cm, "left out: root_depth_m says it")
    return in_m if in_cm is None else in_cm / 100


def _date_order(said: Said) -> DateOrder | None:
    found = said.take("dates", "date_order")
    if found is None:
        return None
    name, value = found
    if value not in get_args(DateOrder):
        raise InputError(name, value, f"one of {', '.join(get_args(DateOrder))}")
    return cast("DateOrder", value)


def _sensor_depths_cm(said: Said) -> tuple[float, ...] | None:
    found = said.take("sensor_depths_cm", "sensor_depth_cm")
    if found is None:
        return None
    name, value = found
    listed: list[Any] = value if isinstance(value, list) else [value]
    depths = [_bottom(depth) for depth in listed]
    for depth in depths:
        if isinstance(depth, bool) or not isinstance(depth, int | float) or not 0 < depth <= 500:
            raise InputError(name, depth, "centimetres, each above 0 and at most 500")
    if any(0 < depth < 1 for depth in depths):
        raise InputError(name, depths, "centimetres; these look like metres")
    if len(set(depths)) < len(depths):
        raise InputError(name, depths, "each depth once")
    return tuple(sorted(float(depth) for depth in depths)) or None


def _bottom(depth: Any) -> Any:
    """A depth, or the bottom of a layer written like "0-65"."""
    layer = _LAYER.fullmatch(depth) if isinstance(depth, str) else None
    return depth if layer is None else float(layer["bottom"])


def _columns(said: Said) -> dict[str, str]:
    found = said.take("columns")
    if found is None:
        return {}
    name, value = found
    if not isinstance(value, Mapping):
        raise InputError(name, value, "a table: our name = the file's column name")
    for key, header in value.items():
        if not isinstance(header, str) or not header.strip():
            raise InputError(f"{name}: {key}", header, "the file's column name in quotation marks")
    return {str(key): str(header).strip() for key, header in value.items()}


def _months(said: Said, southern: bool) -> tuple[int, ...]:
    found = said.take("months", "compared_months")
    if found is None:
        return SOUTHERN_MONTHS if southern else NORTHERN_MONTHS
    return months_of(*found)
