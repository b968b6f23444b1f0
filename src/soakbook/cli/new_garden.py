"""What a book begins with: read as typed, asked where it was not, and said back as a line to go on with."""

import os
import re
import shlex
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from soakbook.cli import options, paper
from soakbook.cli.answers import answer, is_right
from soakbook.cli.options import Word
from soakbook.errors import InputError
from soakbook.garden.records import Gallon
from soakbook.garden.sense import check_line
from soakbook.quantities.dates import WEEKDAYS
from soakbook.quantities.measures import parse_length_m, parse_minutes
from soakbook.quantities.names import check
from soakbook.quantities.places import parse_latitude, parse_longitude, parse_place
from soakbook.quantities.spans import weekdays

Value = TypeVar("Value")

USUAL_HOURS = "2h"
USUAL_DAYS = "every day"
USUAL_WHO = "the gardener"
EVERY_DAY = frozenset(range(7))
GALLON = Word(Gallon)
_DAYS_AND_HOURS = re.compile(
    r"(?P<days>.*?)[\s,;]*(?P<hours>[0-9½¼¾][0-9.½¼¾]*\s*(?:h|m|hour|min)[a-z0-9 ]*)?",
    re.IGNORECASE,
)

WHERE = "Where is it? (degrees, as 52.3 N 0.4 W; a town is not looked up)"
WHOSE_GALLON = (
    f"Litres and mm are shown; gallons and inches may be typed. Whose gallon? ({GALLON.listed})"
)
"""Honest of what becomes of the answer: it is how an amount may be typed, and nothing is shown in it."""


class Answers(NamedTuple):
    """What a book begins with, as typed; None where nothing was said."""

    name: str | None
    lat: str | None
    lon: str | None
    elevation: str | None
    timezone: str | None
    hours: str | None

    def needed(self) -> dict[str, str | None]:
        """Those without which there is no book."""
        return {name: text for name, text in self._asdict().items() if name != "hours"}

    def lacking(self) -> list[str]:
        """Those of them of which nothing was said."""
        return [name for name, text in self.needed().items() if text is None]


class Beginning(NamedTuple):
    """The same, read."""

    name: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    timezone: str
    hours_by_default: float | None = None
    """None where they are as usual."""

    def fields(self) -> dict[str, Any]:
        """The fields of the garden that were said."""
        return {name: value for name, value in self._asdict().items() if value is not None}


class Asked:
    """The questions of a garden, and what of it is answered so far."""

    def __init__(
        self,
        answers: Answers,
        habits: Mapping[str, Any],
        offline: bool,
        also: Mapping[str, str | None] | None = None,
    ) -> None:
        """`also` are options that were typed beside them, such as --book; None where one has no value."""
        self.answers = answers
        self.habits = dict(habits)
        self.offline = offline
        self.also = dict(also or {})
        self.so_far = {name: text for name, text in answers._asdict().items() if text is not None}

    def how_to_go_on(self) -> str:
        """The line that goes on from here, nothing being in a book yet."""
        if not self.so_far:
            return "Nothing is lost: soakbook book new begins again."
        name = self.so_far.get("name")
        words = ["soakbook book new", *([shlex.quote(name)] if name else [])]
        given = {**self.so_far, **_options_of(self.habits), **self.also}
        words += [
            f"--{option}" if text is None else f"--{option}={shlex.quote(text)}"
            for option, text in given.items()
            if option != "name"
        ]
        lines = ["There is no book yet. This goes on from here:", f"  {' '.join(words)}"]
        if "weekdays" in self.habits:
            days = ",".join(WEEKDAYS[day][:3].casefold() for day in sorted(self.habits["weekdays"]))
            lines += ["and once it is begun:", f"  soakbook person NAME --days {days}"]
        return "\n".join(lines)

    def beginning(self) -> Beginning:
        """Name, place, height and clock, and how long there is: what was not said is looked up or asked."""
        name = answer(self.answers.name, "What is the garden called?", read_name)
        self.so_far["name"] = name
        latitude_deg, longitude_deg = self._place()
        self.so_far |= {"lat": f"{latitude_deg:.8g}", "lon": f"{longitude_deg:.8g}"}
        elevation_m, timezone = self._height_and_clock(latitude_deg, longitude_deg)
        self.so_far["timezone"] = timezone
        if "gallon" not in self.habits:
            self.habits["gallon"] = answer(None, WHOSE_GALLON, _gallon, "uk")
        return Beginning(
            name, latitude_deg, longitude_deg, elevation_m, timezone, self._who_waters()
        )

    def _place(self) -> tuple[float, float]:
        """Degrees north and east."""
        lat, lon = self.answers.lat, self.answers.lon
        if lat is None and lon is None:
            return answer(None, WHERE, _sided(parse_place))
        longitude = parse_longitude if lon is not None else _sided(parse_longitude)
        latitude_deg = answer(lat, "How many degrees north?", parse_latitude)
        self.so_far["lat"] = f"{latitude_deg:.8g}"
        return latitude_deg, answer(lon, "How many degrees east? (west: 0.4 W)", longitude)

    def _height_and_clock(self, latitude_deg: float, longitude_deg: float) -> tuple[float, str]:
        """Read back from the service where it knows them; else asked."""
        high, clock = self.answers.elevation, self.answers.timezone
        known_high, known_clock = None, own_clock()
        if not self.offline and None in (high, clock):
            from soakbook.services.place import looked_up

            place = looked_up(latitude_deg, longitude_deg, now=options.now())
            if place is not None:
                known_high, known_clock = f"{place.elevation_m:g}", place.timezone
                if (high, clock) == (None, None) and is_right(
                    f"Height {known_high} m, clock {known_clock}."
                ):
                    high, clock = known_high, known_clock
        elevation_m = answer(high, "How high does it lie, in metres?", _metres, known_high)
        self.so_far["elevation"] = f"{elevation_m:g}"
        return elevation_m, answer(clock, "Which clock does it keep?", _clock, known_clock)

    def _who_waters(self) -> float:
        """Hours there are on a day; days, and somebody who comes on them, where it is not every day."""
        if self.answers.hours is None:
            question = "Which days can someone water, and how long?"
            days, hours = answer(None, question, days_and_hours, f"{USUAL_DAYS}, {USUAL_HOURS}")
        else:
            hours = _hours(self.answers.hours)
            days = answer(None, "Which days can someone water?", weekdays, USUAL_DAYS)
        self.so_far["hours"] = f"{hours:g}h"
        if days != EVERY_DAY:
            self.habits["weekdays"] = days
            who = "Who comes on those days? (one name; soakbook person adds others)"
            self.habits["waters"] = answer(None, who, read_name, USUAL_WHO)
        return hours


def check_typed(answers: Answers) -> None:
    """Read what was typed before anything is asked: nobody answers six questions for nothing."""
    for name, text in answers._asdict().items():
        if text is not None:
            READERS[name](text)


def read_whole(answers: Answers) -> Beginning:
    """What a book begins with, where all of it was typed."""
    needed = (READERS[name](text or "") for name, text in answers.needed().items())
    begin = Beginning(*needed)
    return (
        begin if answers.hours is None else begin._replace(hours_by_default=_hours(answers.hours))
    )


def days_and_hours(text: str) -> tuple[frozenset[int], float]:
    """Weekdays and hours of `mon-sat 2h`; what is left out is as usual.

    Raises
    ------
    InputError
        No weekdays, or no stretch of time.
    """
    found = _DAYS_AND_HOURS.fullmatch(text.strip())
    if found is None:
        raise InputError("days", text, "days and how long: mon-sat 2h")
    return weekdays(found["days"] or USUAL_DAYS), _hours(found["hours"] or USUAL_HOURS)


def read_name(text: str) -> str:
    """A name of a garden or a person, on one line.

    Raises
    ------
    InputError
        Nothing in it, or no line of a page.
    """
    if not text.strip():
        raise InputError("name", text, "at least a letter")
    check_line("name", text.strip())
    return text.strip()


def own_clock() -> str | None:
    """The clock of this machine, where its settings name one."""
    named = (
        os.environ.get("TZ", "").removeprefix(":"),
        os.path.realpath("/etc/localtime").partition("zoneinfo/")[2],
        _first_line(Path("/etc/timezone")),
    )
    return next((name for name in named if name and _is_clock(name)), None)


def _options_of(habits: Mapping[str, Any]) -> dict[str, str]:
    """What was said of habits, as the options of `book new`."""
    options_of = {name: str(habits[name]) for name in ("readiness", "gallon") if name in habits}
    return options_of | ({"can": f"{habits['can_l']:g}l"} if "can_l" in habits else {})


def _sided(read: Callable[[str], Value]) -> Callable[[str], Value]:
    """Read a place, and say that it is taken as east where neither letter nor sign says so."""

    def read_it(text: str) -> Value:
        value = read(text)
        if not any(mark in text.casefold() for mark in ("e", "w", "-")):
            paper.put_error("taken as degrees east; west of Greenwich is written 0.4 W")
        return value

    return read_it


def _gallon(text: str) -> str:
    return GALLON.read(text, "gallon")


def _metres(text: str) -> float:
    try:
        height_m = float(text)
    except ValueError:
        height_m = parse_length_m(text, "elevation")
    return check("elevation_m", height_m, field="elevation", typed=text)


def _hours(text: str) -> float:
    return check("hours", parse_minutes(text, "hours") / 60, field="hours", typed=text)


def _clock(text: str) -> str:
    if not _is_clock(text.strip()):
        raise InputError("timezone", text, "a zone such as Europe/London")
    return text.strip()


def _is_clock(name: str) -> bool:
    from zoneinfo import ZoneInfo

    try:
        ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        return False
    return True


def _first_line(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8").partition("\n")[0].strip()
    except (OSError, UnicodeDecodeError):
        return ""


READERS: Mapping[str, Callable[[str], Any]] = {
    "name": read_name,
    "lat": parse_latitude,
    "lon": parse_longitude,
    "elevation": _metres,
    "timezone": _clock,
    "hours": _hours,
}
"""What reads each answer."""
