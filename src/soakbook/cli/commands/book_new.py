"""`book new`: begin the book of a garden, in one line or by questions."""

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command, Word
from soakbook.errors import InputError
from soakbook.garden.records import Gallon, Readiness
from soakbook.garden.sense import check_line
from soakbook.quantities.amounts import Measures, litres, parse_amount
from soakbook.quantities.measures import parse_length_m, parse_minutes
from soakbook.quantities.names import check
from soakbook.quantities.places import parse_latitude, parse_longitude, parse_place
from soakbook.quantities.spans import weekdays

Value = TypeVar("Value")

USUAL_HOURS = "2h"
READINESS, GALLON = Word(Readiness), Word(Gallon)
HABITS = ("readiness", "can", "gallon")
LACKING = (
    "a book begins with NAME, --lat, --lon, --elevation and --timezone; "
    "the last two may be left out where the weather service can be asked"
)
NEXT = """\
Next the taps, the beds and what was planted, each by a line of its own:
  soakbook tap A --fill 10l 43s
  soakbook bed chapel --area 18m2 --soil "sandy loam" --place open --tap A
  soakbook plant chapel "climbing rose" 6 --pot 7.5l --on 20mar
Then put a finger in two balls, and ask for the round:
  soakbook feel chapel --ball dry --bed moist
  soakbook round"""


class Answers(NamedTuple):
    """What a book begins with, as typed; None where nothing was said."""

    name: str | None
    lat: str | None
    lon: str | None
    elevation: str | None
    timezone: str | None
    hours: str | None


class Beginning(NamedTuple):
    """The same, read."""

    name: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    timezone: str
    hours: float


@click.command(
    "new",
    cls=Command,
    examples=(
        'soakbook book new "The Corrody" --lat 52.3 --lon -0.4 --elevation 62 \\',
        "    --timezone Europe/London",
        "soakbook book new            asks for what it needs",
    ),
)
@click.argument("name", metavar="[NAME]", required=False)
@click.option("--lat", metavar="DEG", help="Degrees north, 52.3; south with a minus or an S.")
@click.option("--lon", metavar="DEG", help="Degrees east; west with a minus, -0.4, or a W.")
@click.option("--elevation", metavar="M", help="Metres above the sea: 62.")
@click.option("--timezone", metavar="CLOCK", help="The garden's clock: Europe/London.")
@click.option("--hours", metavar="TIME", help="There is for the round in a day; else 2h.")
@click.option(
    "--readiness", metavar="WORD", type=READINESS, help=f"To soak: {READINESS.listed}; else fair."
)
@click.option("--can", metavar="AMOUNT", help="What your can holds; else 10l.")
@click.option(
    "--gallon", metavar="WHOSE", type=GALLON, help=f"A plain gal is {GALLON.listed}; else uk."
)
@click.option(
    "--offline",
    is_flag=True,
    envvar="SOAKBOOK_OFFLINE",
    help="Ask no service for height and clock. SOAKBOOK_OFFLINE says the same.",
)
@options.book
def new_command(book_path: str | None, offline: bool, **typed: str | None) -> None:
    """Begin the book of a garden. What is not said is asked, when somebody is there to answer.

    Height and clock may be left out: the weather service knows them for most places.
    """
    habits = _habits(options.said({name: typed.pop(name) for name in HABITS}))
    answers = Answers(**typed)
    if None in answers[:3] and not paper.somebody_there():
        raise click.UsageError(LACKING)
    _check_typed(answers)
    from soakbook.services.books import check_free, new, where

    path = where(book_path, specimen=False)
    check_free(path)
    begin = _beginning(answers, offline)
    if answers.name is None:
        habits |= _who_waters()
    answer: paper.Report = new(path, now=options.now(), **begin._asdict(), **habits)
    page = paper.new_page()
    for paragraph in answer["say"]:
        page.text(paragraph)
    page.text(NEXT)
    paper.put(page)


def _habits(said: dict[str, str]) -> dict[str, Any]:
    """How the garden is used to doing things, where that was said; never asked."""
    habits: dict[str, Any] = {name: text for name, text in said.items() if name != "can"}
    if "can" in said:
        can_l = litres(parse_amount(said["can"], "can"), Measures(), "can")
        habits["can_l"] = check("can_l", can_l, field="can", typed=said["can"])
    return habits


def _beginning(answers: Answers, offline: bool) -> Beginning:
    """What the book begins with, read; what was not said is looked up or asked."""
    name = _answer(answers.name, "What is the garden called?", _name)
    latitude_deg, longitude_deg = _place(answers)
    high, clock = answers.elevation, answers.timezone
    known_high, known_clock = None, _own_clock()
    if not offline and None in (high, clock):
        from soakbook.services.place import looked_up

        place = looked_up(latitude_deg, longitude_deg, now=options.now())
        if place is not None:
            known_high, known_clock = f"{place.elevation_m:g}", place.timezone
            if not paper.somebody_there():
                high, clock = high or known_high, clock or known_clock
    if None in (high, clock) and not paper.somebody_there():
        raise click.UsageError(LACKING)
    elevation_m = _answer(high, "How high does it lie, in metres?", _metres, known_high)
    timezone = _answer(clock, "Which clock does it keep?", _clock, known_clock)
    long = USUAL_HOURS if answers.hours is None and answers.name is not None else answers.hours
    hours = _answer(long, "How long is there for the round in a day?", _hours, USUAL_HOURS)
    return Beginning(name, latitude_deg, longitude_deg, elevation_m, timezone, hours)


def _check_typed(answers: Answers) -> None:
    """Read what was typed before anything is asked: nobody answers six questions for nothing."""
    for name, text in answers._asdict().items():
        if text is not None:
            READERS[name](text)


def _who_waters() -> dict[str, Any]:
    """Who comes and on which days; nothing where nobody is named yet."""
    name = _answer(None, "Who waters? (Enter for nobody yet)", _person, "")
    if not name:
        return {}
    return {"waters": name, "weekdays": _answer(None, "On which days?", weekdays, "every day")}


def _answer(
    typed: str | None, question: str, read: Callable[[str], Value], default: str | None = None
) -> Value:
    """What was typed, read; or what is answered, asked again until it can be right."""
    if typed is not None:
        return read(typed)
    while True:
        try:
            return read(paper.ask(question, default))
        except InputError as error:
            paper.put_error(str(error))


def _place(answers: Answers) -> tuple[float, float]:
    """Degrees north and east."""
    if answers.lat is None and answers.lon is None:
        return _answer(None, "Where is it? (degrees, as 52.3 N 0.4 W)", _sided(parse_place))
    longitude = parse_longitude if answers.lon is not None else _sided(parse_longitude)
    return (
        _answer(answers.lat, "How many degrees north?", parse_latitude),
        _answer(answers.lon, "How many degrees east? (west: 0.4 W)", longitude),
    )


def _sided(read: Callable[[str], Value]) -> Callable[[str], Value]:
    """Read a place, and say that it is taken as east where neither letter nor sign says so."""

    def read_it(text: str) -> Value:
        value = read(text)
        if not any(mark in text.casefold() for mark in ("e", "w", "-")):
            paper.put_error("taken as degrees east; west of Greenwich is written 0.4 W")
        return value

    return read_it


def _metres(text: str) -> float:
    try:
        height_m = float(text)
    except ValueError:
        height_m = parse_length_m(text, "elevation")
    return check("elevation_m", height_m, field="elevation", typed=text)


def _hours(text: str) -> float:
    return check("hours", parse_minutes(text, "hours") / 60, field="hours", typed=text)


def _name(text: str) -> str:
    if not text.strip():
        raise InputError("name", text, "at least a letter")
    return _person(text)


def _person(text: str) -> str:
    check_line("name", text.strip())
    return text.strip()


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


def _own_clock() -> str | None:
    """The clock of this machine, where its settings name one."""
    named = (
        os.environ.get("TZ", "").removeprefix(":"),
        os.path.realpath("/etc/localtime").partition("zoneinfo/")[2],
        _first_line(Path("/etc/timezone")),
    )
    return next((name for name in named if name and _is_clock(name)), None)


def _first_line(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8").partition("\n")[0].strip()
    except (OSError, UnicodeDecodeError):
        return ""


READERS: Mapping[str, Callable[[str], object]] = {
    "name": _name,
    "lat": parse_latitude,
    "lon": parse_longitude,
    "elevation": _metres,
    "timezone": _clock,
    "hours": _hours,
}
"""What reads each answer."""
