"""What can be wrong in a good answer of a weather service, as changes that `reading_faults` plays."""

from collections.abc import Callable
from typing import Any

from tests.weather.open_meteo.made import Made
from tests.weather.server import Reply, reply_json

Change = Callable[[Made], Any]
"""Spoils a good body in place, or gives another."""

RAIN, ET0 = "precipitation", "et0_fao_evapotranspiration"
NOON_OF_16 = 4 * 24 + 12
"""Place of an hour among those of the made forecast of NOW: a day to come, with others behind it."""


def changed(body: Made, change: Change) -> Reply:
    """The body with the change, as an answer."""
    other = change(body)
    return reply_json(body if other is None else other)


def hour(name: str, value: object, place: int = NOON_OF_16) -> Change:
    """One hour of a column is another."""

    def change(body: Made) -> None:
        body["hourly"][name][place] = value

    return change


def column(name: str, value: object) -> Change:
    """All hours of a column are another, of as many as there are."""

    def change(body: Made) -> None:
        body["hourly"][name] = [value] * len(body["hourly"]["time"])

    return change


def unit(name: str, said: str, value: Any = 0) -> Change:
    """A column in another unit; with None for its values it says nothing at all."""

    def change(body: Made) -> None:
        body["hourly_units"][name] = said
        if value is None:
            body["hourly"][name] = [None] * len(body["hourly"]["time"])

    return change


def without(name: str) -> Change:
    """No such column."""

    def change(body: Made) -> None:
        del body["hourly"][name]

    return change


def nulls_at_the_end(body: Made) -> None:
    """Where a model ends before what was asked for."""
    for name, values in body["hourly"].items():
        if name != "time":
            values[-18:] = [None] * 18


def rows(*kept: range) -> Change:
    """Other hours than all of them, once each."""

    def change(body: Made) -> None:
        places = [place for each in kept for place in each]
        body["hourly"] = {
            name: [values[place] for place in places] for name, values in body["hourly"].items()
        }

    return change


def local_time(body: Made) -> None:
    """As if `timezone=auto` had been asked for."""
    body["utc_offset_seconds"] = 3600
    body["timezone"] = "Europe/London"


def short(name: str) -> Change:
    """One column ends before the others."""

    def change(body: Made) -> None:
        del body["hourly"][name][-5:]

    return change


def members_below(count: int) -> Change:
    """Fewer futures; of none not even the control, which has no number."""

    def change(body: Made) -> None:
        for name in [one for one in body["hourly"] if one != "time"]:
            member = int(name[-2:]) if "_member" in name else 0
            if member >= count:
                del body["hourly"][name]

    return change


def thirstless(body: Made) -> None:
    """A model that says nothing of evaporation."""
    for name in [one for one in body["hourly"] if one.startswith(ET0)]:
        unit(name, "undefined", None)(body)


def drowned_members(body: Made) -> None:
    """Every future of rain is beyond what an hour can bring."""
    for name in body["hourly"]:
        if name.startswith(RAIN):
            body["hourly"][name] = [999.0] * len(body["hourly"]["time"])


def details(change: Callable[[int, Made], None]) -> Change:
    """Every step of the second service's answer changed, by its place."""

    def changed_steps(body: Made) -> None:
        for place, step in enumerate(body["properties"]["timeseries"]):
            change(place, step)

    return changed_steps


def without_temperature(*missing: int) -> Change:
    """Some steps lack a detail."""

    def change(place: int, step: Made) -> None:
        if place in missing:
            del step["data"]["instant"]["details"]["air_temperature"]

    return details(change)


def one_detail(name: str, value: object) -> Change:
    """One step has another value."""

    def change(place: int, step: Made) -> None:
        if place == 20:
            step["data"]["instant"]["details"][name] = value

    return details(change)


def damper_than_air_can_be(_: int, step: Made) -> None:
    """Dew point far above the temperature: either can be, not both."""
    step["data"]["instant"]["details"]["dew_point_temperature"] = 30.0


def backwards(body: Made) -> None:
    """Two steps changed places."""
    steps = body["properties"]["timeseries"]
    steps[3], steps[4] = steps[4], steps[3]


def empty(body: Made) -> None:
    """A forecast without steps."""
    body["properties"]["timeseries"] = []


def met_unit(name: str, said: str) -> Change:
    """A detail of the second service in another unit."""

    def change(body: Made) -> None:
        body["properties"]["meta"]["units"] = body["properties"]["meta"]["units"] | {name: said}

    return change
