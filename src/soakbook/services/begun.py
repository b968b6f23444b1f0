"""A book begun, said back: where it lies, whose place it is, what is in it, and what nobody has said of the garden."""

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from soakbook.garden.records import Garden, Person
from soakbook.quantities import saying
from soakbook.quantities.places import said_place, to_a_kilometre
from soakbook.services.people import comes
from soakbook.services.told import Report, told


class Taken(NamedTuple):
    """Something of a garden that was taken for it; the option of `book new` that says it."""

    what: str
    value: str
    option: str


def begun(
    path: Path,
    garden: Garden,
    people: Sequence[Person],
    *,
    today: date,
    made: Path | None,
    unsaid: Collection[str],
) -> Report:
    """The answer to a book begun; of the place it has two decimals, about a kilometre.

    Parameters
    ----------
    path : Path
        Where it lies.
    garden : Garden
    people : sequence of Person
        Who is down to water.
    today : date
    made : Path or None
        The folder that was made for it.
    unsaid : collection of str
        Fields of the garden that nobody has said or confirmed.
    """
    north, east = to_a_kilometre(garden.latitude_deg), to_a_kilometre(garden.longitude_deg)
    say = (
        f"The book of {garden.name} lies at {path}.{f' Its folder {made} was made.' if made else ''}",
        f"{said_place(north, east)}, {garden.elevation_m:g} m above the sea, by the clock of "
        f"{garden.timezone}.",
        *(comes(person, today) for person in people),
    )
    changed = {
        "path": str(path),
        "uid": garden.uid,
        "garden": garden.name,
        "latitude_deg": north,
        "longitude_deg": east,
        "elevation_m": garden.elevation_m,
        "timezone": garden.timezone,
        "counts": {"taps": 0, "beds": 0, "plantings": 0, "people": len(people)},
        "guesses": [one for name, one in _fields(garden) if name in unsaid],
    }
    return told("book", None, say, changed)


def _fields(garden: Garden) -> Iterator[tuple[str, Taken]]:
    """What may have been taken for a garden, by the name of its field."""
    metres, hours = f"{garden.elevation_m:g}", garden.hours_by_default
    yield "elevation_m", Taken("height", f"{metres} m", f"--elevation {metres}")
    yield "timezone", Taken("clock", garden.timezone, f"--timezone {garden.timezone}")
    yield (
        "hours_by_default",
        Taken("hours", f"{saying.minutes(60 * hours)} a day", f"--hours {hours:g}h"),
    )
    yield "readiness", Taken("readiness", garden.readiness, f"--readiness {garden.readiness}")
    yield "can_l", Taken("can", saying.litres(garden.can_l), f"--can {garden.can_l:g}l")
    yield "gallon", Taken("gallon", garden.gallon, f"--gallon {garden.gallon}")
