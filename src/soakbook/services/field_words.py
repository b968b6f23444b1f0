"""The fields of a bed and of a planting as a gardener says them: said back when new, and when changed."""

from collections.abc import Callable, Collection, Mapping
from datetime import date
from typing import Any

from soakbook.garden.records import Bed, Planting
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.quantities import saying
from soakbook.services.guesses import across_cm
from soakbook.services.settings import Changes
from soakbook.store.sheets import plain_record

Phrase = Callable[[Any, date], str]
"""What is said of a field: of its value as JSON has it, None for not known, and of today."""


def said_back(record: Bed | Planting, today: date, leave_out: Collection[str]) -> str:
    """What was said of a new record, but for what its answer tells in other words."""
    phrases = PHRASES[type(record)]
    said = [
        phrases[name](value, today)
        for name, value in plain_record(record).items()
        if name in record.said and name in phrases and name not in leave_out and value is not None
    ]
    return f"As you said: {'; '.join(said)}." if said else ""


def changed(record: Bed | Planting, changes: Changes, today: date) -> str:
    """What is changed: `Not watered in; it said watered in`, a sentence a field."""
    phrases = PHRASES[type(record)]
    parts = []
    for name, (was, now) in changes.items():
        if name in phrases:
            before = "" if was is None else f"; it said {phrases[name](was, today)}"
            parts.append(saying.sentence(f"{phrases[name](now, today)}{before}"))
    return " ".join(parts)


def _of(unknown: str, phrase: Callable[[Any], str]) -> Phrase:
    return lambda value, _: f"{unknown} not known" if value is None else phrase(value)


def _day(what: str) -> Phrase:
    def say(value: str | None, today: date) -> str:
        if value is None:
            return f"{what} not known"
        return f"{what} {saying.date_of(date.fromisoformat(value), today)}"

    return say


def _rain_share(part: float | None, _: date) -> str:
    return "share of the rain left to jam jars" if part is None else f"share of the rain {part:.0%}"


def _rests(since: str | None, today: date) -> str:
    if since is None:
        return "not at rest"
    return f"at rest from {saying.date_of(date.fromisoformat(since), today)}"


def _slope(fraction: float) -> str:
    return f"slope 1 in {1 / fraction:.3g}" if fraction else "level"


_HOLES = {
    "standing": "water still stands in the hole after a day",
    "gone": "the hole is empty after a day",
}
_ORIGINS = {"pot": "from pots", "dug": "dug with a ball", "bare": "bare root"}
_SOILS = {"unknown": "soil not known"}

_OF_A_BED: Mapping[str, Phrase] = {
    "name": _of("name", lambda name: f"called {name}"),
    "area_m2": _of("area", lambda area_m2: f"area {saying.area(area_m2)}"),
    "soil": _of("soil", lambda soil: _SOILS.get(soil, f"soil {soil}")),
    "place": _of("place", lambda place: f"place {place}"),
    "sand_fraction": _of("sand", lambda part: f"{part:.0%} sand"),
    "clay_fraction": _of("clay", lambda part: f"{part:.0%} clay"),
    "organic_percent": _of("organic matter", lambda percent: f"organic matter {percent:.2g}%"),
    "stone_fraction": _of("stones", lambda part: f"stones {part:.0%}" if part else "no stones"),
    "slope_fraction": _of("slope", _slope),
    "bed_depth_m": _of("depth", lambda depth_m: f"{100 * depth_m:.0f} cm of soil for roots"),
    "intake_mm_h": _of("intake", lambda mm_h: f"intake {mm_h:.3g} mm an hour"),
    "hole": _of("what stands in the hole", lambda found: _HOLES[found]),
    "hole_mm_h": _of(
        "fall in the hole", lambda mm_h: f"a fall of {mm_h:.3g} mm an hour in the hole"
    ),
    "exposure_factor": _of("drying", lambda times: f"drying {times:.3g} times as fast as the open"),
    "rain_share": _rain_share,
    "tap": lambda key, _: f"tap {key}" if key else "no tap",
    "walk_m": _of("walk", lambda walk_m: f"walk {walk_m:.3g} m"),
    "keeper": lambda who, _: f"kept by {who}" if who else "kept by nobody",
    "key": _of("key", lambda key: f"known as {key}"),
    "rests_from": _rests,
}
_OF_A_PLANTING: Mapping[str, Phrase] = {
    "name": _of("name", lambda name: f"called {name}"),
    "plant_class": _of("class", lambda key: f"reckoned as {PLANT_CLASSES[key].name}"),
    "count": _of("count", lambda count: saying.counted(count, "plant")),
    "planted_on": _day("planted"),
    "origin": _of("how they came", lambda origin: _ORIGINS[origin]),
    "ball_volume_l": _of("ball", lambda ball_l: f"ball {saying.litres(ball_l)}"),
    "ball_diameter_m": _of("ball", lambda across_m: f"ball {100 * across_m:.0f} cm across"),
    "mix": _of("mix", lambda mix: f"mix {mix}"),
    "dug_from_soil": _of("soil of the ball", lambda soil: f"dug from {soil}"),
    "canopy_start_m2": _of("leaves", lambda m2: f"leaves {across_cm(m2)} cm across when planted"),
    "canopy_full_m2": _of("leaves", lambda m2: f"leaves {across_cm(m2)} cm across when grown"),
    "weeks_to_full": _of("growth", lambda weeks: f"full leaf in {weeks:.3g} weeks"),
    "leaf": _of("leaf", lambda leaf: leaf.replace("_", " ")),
    "leaf_out_on": _day("leaf out"),
    "leaf_fall_on": _day("leaf off"),
    "cell_m2": _of("spacing", lambda cell_m2: f"{saying.area(cell_m2)} of ground each"),
    "usual_dose_l": _of("usual dose", lambda dose_l: f"usual dose {saying.litres(dose_l)}"),
    "watered_in": lambda yes, _: "watered in" if yes else "not watered in",
    "bowl_m2": lambda bowl_m2, _: f"a bowl of {saying.area(bowl_m2)}" if bowl_m2 else "no bowl",
    "ball_felt": _of("feel of the ball", lambda felt: f"ball felt {felt}"),
    "bed_felt": _of("feel of the bed", lambda felt: f"bed felt {felt}"),
}

PHRASES: Mapping[type[Bed | Planting], Mapping[str, Phrase]] = {
    Bed: _OF_A_BED,
    Planting: _OF_A_PLANTING,
}
