"""Small gardens made by hand: the pages of a book that was never written."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.garden.entries import (
    AnyEntry,
    Catch,
    Feel,
    Left,
    Loss,
    MulchLaid,
    Rain,
    Ruler,
    Soak,
    When,
    Wilt,
)
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Garden, Planting
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.advice.judging import Judged
from soakbook.reckoning.advice.report import Call, Finding, PlantingCall, Round
from soakbook.reckoning.advice.rounds import Morning
from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.simulation.beliefs import believed
from soakbook.reckoning.simulation.plots import drawn_of_bed, drawn_of_planting, plain_of
from soakbook.reckoning.simulation.season import Season, season_of

ZONE = ZoneInfo("Europe/London")
PLANTED = date(2031, 5, 1)
WRITTEN = datetime(2031, 1, 1, 12, tzinfo=ZONE)


def at(day: date, hour: int, minute: int = 0) -> datetime:
    """A moment on the garden's clock."""
    return datetime.combine(day, time(hour, minute), ZONE)


def garden(**fields: Any) -> Garden:
    """A garden in the middle of England."""
    given: dict[str, Any] = {
        "uid": "garden",
        "name": "The garden",
        "latitude_deg": 52.3,
        "longitude_deg": -0.4,
        "elevation_m": 62.0,
        "timezone": "Europe/London",
    }
    return Garden(**given | fields)


def bed(key: str = "bed", **fields: Any) -> Bed:
    """A bed of loam in the open, its uid its key."""
    given: dict[str, Any] = {
        "uid": key,
        "key": key,
        "name": key.title(),
        "area_m2": 50.0,
        "soil": "loam",
    }
    return Bed(**given | fields)


def roses(bed_key: str = "bed", **fields: Any) -> Planting:
    """Ten roses from 5 litre pots, 22 cm across, on a square metre each."""
    given: dict[str, Any] = {
        "uid": f"{bed_key}/{fields.get('name', 'roses')}",
        "bed_uid": bed_key,
        "name": "roses",
        "plant_class": "shrub",
        "count": 10,
        "origin": "pot",
        "planted_on": PLANTED,
        "ball_volume_l": 5.0,
        "ball_diameter_m": 0.22,
        "canopy_start_m2": 0.10,
        "canopy_full_m2": 0.40,
        "cell_m2": 1.0,
    }
    return Planting(**given | fields)


def weather(
    first: date = PLANTED,
    days: int = 60,
    *,
    rain: Mapping[date, float] | None = None,
    et0_mm: float = 4.0,
    tmean_c: float = 16.0,
) -> tuple[WeatherDay, ...]:
    """Days alike, dry but where rain is given."""
    fallen = rain or {}
    every = (first + timedelta(days=n) for n in range(days))
    return tuple(
        WeatherDay(day, fallen.get(day, 0.0), et0_mm, tmean_c - 5, tmean_c + 5, tmean_c)
        for day in every
    )


def pages(
    plantings: Sequence[Planting] = (),
    entries: Sequence[AnyEntry] = (),
    *,
    beds: Sequence[Bed] = (),
    days: Sequence[WeatherDay] = (),
    **fields: Any,
) -> Pages:
    """A book: the beds that are not given are loam in the open, the weather not given is dry."""
    known = {one.uid for one in beds}
    missing = dict.fromkeys(one.bed_uid for one in plantings if one.bed_uid not in known)
    return Pages(
        garden=fields.pop("garden", garden()),
        beds=(*beds, *(bed(key) for key in missing)),
        plantings=tuple(plantings),
        entries=tuple(sorted(entries, key=lambda one: as_moment(one.happened_at))),
        weather=tuple(days) or weather(),
        **fields,
    )


def as_moment(when: When) -> datetime:
    """A day without a time counts at seven."""
    return when if isinstance(when, datetime) else at(when, 7)


def soak(when: When, litres: float, bed_key: str = "bed", **fields: Any) -> Soak:
    """A watering with the lance."""
    given = _entry("soak", when) | {"bed_uid": bed_key, "litres": litres, "typed": f"{litres:g}l"}
    return Soak(**given | fields)


def rain(read_at: When, rain_mm: float, began_at: datetime, **fields: Any) -> Rain:
    """A gauge reading."""
    given = _entry("rain", read_at) | {"rain_mm": rain_mm, "typed": f"{rain_mm:g}mm"}
    return Rain(**given | {"began_at": began_at} | fields)


def feel(when: When, bed_key: str = "bed", **fields: Any) -> Feel:
    """A finger test: `ball=`, `bed=` or both."""
    return Feel(**_entry("feel", when) | {"bed_uid": bed_key} | fields)


def left(when: When, bed_key: str = "bed", reason: str = "no time") -> Left:
    """A visit without water."""
    return Left(**_entry("left", when), bed_uid=bed_key, reason=reason)


def wilt(when: When, bed_key: str = "bed", **fields: Any) -> Wilt:
    """Limp leaves, or upright again."""
    return Wilt(**_entry("wilt", when) | {"bed_uid": bed_key} | fields)


def loss(when: When, count: int, bed_key: str = "bed", planting_uid: str = "bed/roses") -> Loss:
    """Plants lost."""
    more = {"planting_uid": planting_uid, "count": count, "cause": "drought"}
    return Loss(**_entry("loss", when) | {"bed_uid": bed_key} | more)


def mulch(when: When, depth_cm: float = 5.0, bed_key: str = "bed", **fields: Any) -> MulchLaid:
    """A dressing of chip."""
    more = {"bed_uid": bed_key, "kind": "chip", "depth_cm": depth_cm, "typed": f"{depth_cm:g}cm"}
    return MulchLaid(**_entry("mulch", when) | more | fields)


def catch(when: When, jar_mm: float, gauge_mm: float, bed_key: str = "bed") -> Catch:
    """A jar beside the gauge."""
    more = {"jar_mm": jar_mm, "gauge_mm": gauge_mm, "typed": f"{jar_mm:g}mm"}
    return Catch(**_entry("catch", when) | {"bed_uid": bed_key} | more)


def ruler(when: When, measured_cm: float, bed_key: str = "bed") -> Ruler:
    """A ruler in the mulch, in five spots."""
    more = {"measured_cm": measured_cm, "spots": 5, "typed": f"{measured_cm:g}cm"}
    return Ruler(**_entry("ruler", when) | {"bed_uid": bed_key} | more)


def _entry(what: str, when: When) -> dict[str, Any]:
    return {"uid": f"{what} {when}", "happened_at": when, "written_at": WRITTEN}


def with_entries(book: Pages, *entries: AnyEntry) -> Pages:
    """The book with more in it."""
    every = sorted((*book.entries, *entries), key=lambda one: as_moment(one.happened_at))
    return book._replace(entries=tuple(every))


def season(book: Pages, morning: date, members: int = 1) -> Season:
    """The season of a book that has one."""
    found = season_of(book, morning, members)
    assert found is not None
    return found


def row_of(of: Season, uid: str) -> int:
    """The row of a planting."""
    return [one.uid for one in of.plantings].index(uid)


def judged_of(morning: Morning, uid: str = "bed/roses") -> Judged:
    """One planting as it was judged."""
    assert morning.judgement is not None
    return next(one for one in morning.judgement.judged if one.planting.uid == uid)


def call_of(of: Round, key: str = "bed") -> Call:
    """One bed's call."""
    return next(one for one in of.calls if one.bed == key)


def planting_of(of: Round, name: str = "roses", key: str = "bed") -> PlantingCall:
    """One planting of a bed's call."""
    return next(one for one in call_of(of, key).plantings if one.planting == name)


def finding_of(of: Round, kind: str) -> Finding | None:
    """The first finding of a kind."""
    return next((one for one in of.findings if one.kind == kind), None)


def plot_of(of_bed: Bed, planting: Planting, cell_m2: float, members: int) -> Plot:
    """The parameters of one planting as drawn; what is uncertain has shape (member,)."""
    logs = drawn_of_bed(of_bed, members) | drawn_of_planting(planting, members)
    return believed(plain_of(of_bed, planting, cell_m2), logs)


def stacked(plots: Sequence[Plot], members: int) -> Plot:
    """Plots side by side, every field (planting, member)."""
    shape = (len(plots), members)
    fields = zip(*plots, strict=True)
    return Plot(
        *(
            np.stack([np.broadcast_to(one, members) for one in field]).reshape(shape)
            for field in fields
        )
    )
