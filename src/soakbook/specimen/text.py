"""The specimen's text read into the records of a garden."""

import csv
from collections.abc import Iterator
from datetime import date, datetime, time
from hashlib import blake2b
from importlib.resources import files
from itertools import groupby
from statistics import fmean
from typing import cast
from zoneinfo import ZoneInfo

from soakbook.garden.door import admit
from soakbook.garden.entries import ENTRY_TYPES, AnyEntry, MulchLaid
from soakbook.garden.records import (
    Absence,
    Bed,
    Flow,
    Garden,
    Person,
    Planting,
    Rate,
    Restriction,
    Tap,
    Uid,
)
from soakbook.garden.tables.balls import mix_key
from soakbook.garden.tables.mulches import mulch_key
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.quantities.spans import weekdays

ZONE = ZoneInfo("Europe/London")
NOON = time(12)
ISSUED_AT = time(5)
"""Local time at which the invented forecasts come."""

FORECASTER = "specimen forecast"

CLASSES = {
    "shrub, climber, rose from a pot": "shrub",
    "large soft leaves": "soft",
    "perennial, grass": "perennial",
    "dug shrub or rose": "dug_shrub",
    "conifer, yew, box, dug": "conifer",
    "bare-root whip, rose": "whip",
}
LEAVES = {"deciduous": "deciduous", "evergreen": "evergreen", "dies down": "dies_down"}

Row = dict[str, str]


def rows(name: str) -> Iterator[Row]:
    """The rows of one of the source's tables."""
    yield from csv.DictReader(_source(name).splitlines())


def uid(*parts: str) -> Uid:
    """A permanent uid made from what a thing is called in the text."""
    return blake2b(" ".join(("corrody", *parts)).encode(), digest_size=16).hexdigest()


def garden() -> Garden:
    """The garden itself."""
    return admit(
        Garden,
        uid=uid("garden"),
        name="The Corrody, Marl Hatherby",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )


def taps() -> tuple[Tap, ...]:
    """Taps with their hose tests."""
    tested = list(rows("flows"))
    return tuple(
        admit(
            Tap,
            uid=uid("tap", row["key"]),
            key=row["key"],
            source=row["source"],
            method=row["method"],
            tank_l=number(row["tank_l"]),
            flows=tuple(
                admit(Flow, flow_l_per_min=float(one["flow_l_per_min"]), tested_on=one["tested_on"])
                for one in tested
                if one["tap"] == row["key"]
            ),
        )
        for row in rows("taps")
    )


def beds() -> tuple[Bed, ...]:
    """The eight beds; a bed without a tap is watered from the barrow."""
    return tuple(
        admit(
            Bed,
            uid=uid("bed", row["key"]),
            key=row["key"],
            name=row["name"],
            area_m2=float(row["area_m2"]),
            soil=row["texture_topsoil"],
            place=row["place"],
            stone_fraction=float(row["stone_fraction"]),
            slope_fraction=float(row["slope"]),
            bed_depth_m=float(row["bed_depth_m"]),
            intake_mm_h=float(row["infiltration_mm_h"]),
            exposure_factor=float(row["et_factor"]),
            tap="barrow" if row["tap"].startswith("none") else row["tap"],
            walk_m=float(row["walk_m"]),
        )
        for row in rows("beds")
    )


def plantings() -> tuple[Planting, ...]:
    """The eleven plantings."""
    return tuple(_planting(row) for row in rows("plantings"))


def people() -> tuple[Person, ...]:
    """Who waters, and when they are away."""
    return tuple(
        admit(
            Person,
            uid=uid("person", row["name"]),
            name=row["name"],
            weekdays=weekdays(row["days"]),
            hours=float(row["hours"]),
            absences=(
                (admit(Absence, first=row["away_from"], last=row["away_until"]),)
                if row["away_from"]
                else ()
            ),
            first=row["first"] or None,
            last=row["last"] or None,
        )
        for row in rows("people")
    )


def restrictions() -> tuple[Restriction, ...]:
    """The summer's hosepipe rule, as it was typed."""
    return tuple(
        admit(Restriction, uid=uid("rule", row["first"]), **row) for row in rows("restrictions")
    )


def rates() -> tuple[Rate, ...]:
    """Prices of water and of an hour."""
    return tuple(
        admit(Rate, uid=uid("rate", row["what"]), **(row | {"price": float(row["price"])}))
        for row in rows("rates")
    )


def mulch_laid() -> tuple[MulchLaid, ...]:
    """The dressings of the beds' table, one a bed."""
    return tuple(
        admit(
            MulchLaid,
            uid=uid("mulch", row["key"]),
            happened_at=date.fromisoformat(row["mulch_date"]),
            written_at=datetime.combine(date.fromisoformat(row["mulch_date"]), NOON, ZONE),
            by="Ann",
            bed_uid=uid("bed", row["key"]),
            kind=mulch_key(row["mulch_kind"].split(",")[0]),
            depth_cm=float(row["mulch_mm"]) / 10,
            typed=f"{float(row['mulch_mm']) / 10:g}cm",
        )
        for row in rows("beds")
        if row["mulch_date"]
    )


def forecasts() -> tuple[Forecast, ...]:
    """Every morning's forecast, as `sky_ahead` wrote them; a day's plain values are its members' means."""
    lines = csv.reader(_source("forecasts").splitlines()[1:])
    return tuple(
        Forecast(
            FORECASTER,
            datetime.combine(date.fromisoformat(issued_on), ISSUED_AT, ZONE),
            tuple(
                _forecast_day(day, list(members))
                for day, members in groupby(issue, key=lambda line: line[1])
            ),
        )
        for issued_on, issue in groupby(lines, key=lambda line: line[0])
    )


def entries() -> tuple[AnyEntry, ...]:
    """The season's entries, as `season` wrote them."""
    return tuple(entry(number, row) for number, row in enumerate(rows("entries")))


def entry(line: int, row: Row) -> AnyEntry:
    """One line of entries.csv: the columns that its kind has."""
    kind = row["what"]
    given: dict[str, object] = {
        "uid": uid("entry", str(line), row["happened"], kind),
        "happened_at": moment(row["happened"]),
        "written_at": moment(row["written"]),
        "by": row["by"] or None,
        "note": row["note"] or None,
    }
    if row["bed"]:
        given["bed_uid"] = uid("bed", row["bed"])
    if row["planting"]:
        given["planting_uid"] = uid("planting", row["bed"], row["planting"])
    given |= {name: value for name, value in _detail(kind, row).items() if value not in ("", None)}
    return cast("AnyEntry", admit(ENTRY_TYPES[kind], **given))


def number(text: str) -> float | None:
    """A number, or None for an empty cell."""
    return float(text) if text else None


def moment(text: str) -> datetime | date:
    """A moment in the garden's zone, or a day."""
    if len(text) == len("2031-05-15"):
        return date.fromisoformat(text)
    return datetime.fromisoformat(text).replace(tzinfo=ZONE)


def _source(name: str) -> str:
    return (files("soakbook.specimen") / "source" / f"{name}.csv").read_text(encoding="utf-8")


def _forecast_day(day: str, members: list[list[str]]) -> ForecastDay:
    """One day of an issue out of its lines, a member each."""
    rain_mm = tuple(float(line[3]) for line in members)
    et0_mm = tuple(float(line[4]) for line in members)
    return ForecastDay(
        date.fromisoformat(day),
        fmean(rain_mm),
        fmean(et0_mm),
        rain_members_mm=rain_mm,
        et0_members_mm=et0_mm,
    )


def _planting(row: Row) -> Planting:
    bare = row["origin"] == "bare-root"
    given: dict[str, object] = {
        "uid": uid("planting", row["bed"], row["what"]),
        "bed_uid": uid("bed", row["bed"]),
        "name": row["what"],
        "plant_class": CLASSES[row["kind"]],
        "count": int(row["count"]),
        "origin": "bare" if bare else row["origin"],
        "planted_on": row["planted"],
        "ball_volume_l": 0.0 if bare else float(row["ball_litres"]),
        "ball_diameter_m": 0.0 if bare else float(row["ball_diam_cm"]) / 100,
        "canopy_start_m2": float(row["canopy_m2_start"]),
        "canopy_full_m2": float(row["canopy_m2_full"]),
        "weeks_to_full": float(row["speed_weeks"]),
        "leaf": LEAVES[row["leaf"]],
        "cell_m2": number(row["spacing_m2"]),
    }
    if row["origin"] == "pot":
        given["mix"] = mix_key(row["mix"])
    return admit(Planting, **given)


def _detail(kind: str, row: Row) -> dict[str, object]:
    if kind == "soak":
        return {
            "litres": float(row["number"]),
            "typed": row["typed"],
            "kind": row["kind"],
            "method": row["method"],
        }
    if kind == "rain":
        return {
            "rain_mm": float(row["number"]),
            "typed": row["typed"],
            "kind": row["kind"],
            "began_at": moment(row["began"]),
        }
    if kind == "feel":
        return {"ball": row["ball"], "bed": row["felt_bed"], "unsure": row["kind"] == "unsure"}
    if kind == "loss":
        return {"count": int(row["number"]), "cause": row["kind"]}
    return {"reason": row["typed"]} if kind == "left" else {}
