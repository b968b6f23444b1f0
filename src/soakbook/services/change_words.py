"""A change of a lasting thing in a gardener's words: what was set up, or what of it was before and is now."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from soakbook.garden.records import Bed, Planting
from soakbook.quantities import saying
from soakbook.quantities.dates import WEEKDAYS
from soakbook.services.field_words import PHRASES
from soakbook.services.reminder_words import reminder_words
from soakbook.store.changes import Change

UNSAID = ("uid", "bed_uid", "said", "replaces", "came_from", "parted_from")
NOT_KNOWN = "none"


def change_words(change: Change, names: Mapping[str, str], today: date) -> str:
    """`Bed Chapel Wall: from area 18 m² to area 22 m²`; `names` are those of beds and people by uid."""
    thing = _thing(change, names)
    if change.what == "reminder":
        return f"{thing}: {reminder_words(change.before, change.after, names)}"
    if change.before is None:
        return f"{thing} {_set_up(change, names, today)}"
    parts = [
        _from_to(change.what, name, change.before.get(name), value, today)
        for name, value in change.after.items()
        if name not in UNSAID and change.before.get(name) != value
    ]
    moved = change.after.get("bed_uid")
    if change.what == "planting" and moved != change.before.get("bed_uid"):
        was = change.before.get("bed_uid", "")
        parts.append(f"from {names.get(was, was)} to {names.get(moved or '', moved)}")
    return f"{thing}: {'; '.join(parts) if parts else 'what was guessed stands'}"


def _set_up(change: Change, beds: Mapping[str, str], today: date) -> str:
    """How a thing came to be."""
    after = change.after
    if after.get("parted_from"):
        return f"parted from {beds.get(after['parted_from'], after['parted_from'])}"
    if after.get("parted_on"):
        since = saying.date_of(date.fromisoformat(after["parted_on"]), today)
        return f"in this bed from {since}, where they stood before"
    if after.get("came_from"):
        return "moved here from another bed"
    return _SET_UP.get(change.what, "set up")


def _thing(change: Change, beds: Mapping[str, str]) -> str:
    after = change.after
    if change.what == "planting":
        bed = beds.get(after["bed_uid"], after["bed_uid"])
        count = int(after["count"])
        return f"{bed}: {saying.plants_of(after['name'], count)}"
    named: Mapping[str, Callable[[], str]] = {
        "garden": lambda: f"Garden {after['name']}",
        "bed": lambda: f"Bed {after['name']}",
        "tap": lambda: f"Tap {after['key']}",
        "person": lambda: str(after["name"]),
        "restriction": lambda: f"Rule from {after['first']} to {after['last']}",
        "rate": lambda: f"Price of {after['what']} from {after['from_day']}, {after['price']:g}",
        "reminder": lambda: f"{after['uid'].capitalize()} reminders",
        "weather_mapping": lambda: f"Columns of the weather file {change.uid}",
    }
    return named[change.what]() if change.what in named else f"{change.what} {change.uid}"


def _from_to(what: str, name: str, was: Any, now: Any, today: date) -> str:
    kind: type[Bed | Planting] | None = {"bed": Bed, "planting": Planting}.get(what)
    if kind is not None and name in PHRASES[kind]:
        say = PHRASES[kind][name]
        return f"from {say(was, today)} to {say(now, today)}"
    label = _LABELS.get(name, name.replace("_", " "))
    return f"{label} from {_value(name, was)} to {_value(name, now)}"


def _value(name: str, value: Any) -> str:
    if value in (None, [], ""):
        return NOT_KNOWN
    if name == "weekdays":
        return saying.names([WEEKDAYS[int(digit)][:3] for digit in value])
    if name == "flows":
        return f"{value[-1]['flow_l_per_min']:.3g} L/min"
    if name == "absences":
        return saying.names([f"{one['first']} to {one['last']}" for one in value])
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)


_SET_UP = {
    "planting": "planted",
    "person": "joined",
    "rate": "entered",
    "restriction": "entered",
    "weather_mapping": "remembered",
}

_LABELS = {
    "latitude_deg": "degrees north",
    "longitude_deg": "degrees east",
    "elevation_m": "metres above the sea",
    "timezone": "clock",
    "can_l": "litres of a can",
    "hours_by_default": "hours for the round",
    "heat_c": "degrees that count as heat",
    "weather_from": "weather service asked",
    "key": "letter",
    "flows": "flow",
    "tank_l": "litres of the tank",
    "reach_m": "metres of hose",
    "weekdays": "days",
    "absences": "away",
    "first": "from",
    "last": "until",
}
"""Fields of other things than beds and plantings, where a field's own name is no plain English."""
