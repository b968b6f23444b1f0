"""`book`: begin a book, and say where it lies."""

import os
import re
from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command, Word
from soakbook.errors import InputError
from soakbook.garden.records import Gallon, Readiness
from soakbook.quantities.amounts import Measures, litres, parse_amount
from soakbook.quantities.measures import parse_length_m, parse_minutes
from soakbook.quantities.names import check

Value = TypeVar("Value")

PLACE = re.compile(r"(?P<lat>.+?[NSns]|[^\s,;]+)(?:[\s;]+|,\s+|,(?=.*\.))(?P<lon>.+)")
"""A bare comma parts two numbers only where a point stands: `52,3` may be one number."""
DEGREES = re.compile(
    r"(?P<sign>-?)(?P<number>\d+(?:\.\d+)?)\s*°?\s*(?P<end>[NSEW]?)", re.IGNORECASE
)
SIGNS = {
    "latitude_deg": {"": 1, "N": 1, "S": -1},
    "longitude_deg": {"": 1, "E": 1, "W": -1},
}
USUAL_HOURS = "2h"
READINESS, GALLON = Word(Readiness), Word(Gallon)
HABITS = ("readiness", "can", "gallon")
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


@click.group()
def book_command() -> None:
    """Begin a book, or say where it lies."""


@book_command.command(
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
@options.book
def new_command(book_path: str | None, **typed: str | None) -> None:
    """Begin the book of a garden. What is not said is asked, when somebody is there to answer."""
    habits = _habits(options.said({name: typed.pop(name) for name in HABITS}))
    answers = Answers(**typed)
    if None in answers[:-1] and not paper.somebody_there():
        raise click.UsageError("a book begins with NAME, --lat, --lon, --elevation and --timezone")
    begin = _beginning(answers)
    name, days = _who_waters() if answers.name is None else ("", "")

    from soakbook.services.books import new, where

    path = where(book_path, specimen=False)
    told: list[paper.Report] = [new(path, now=options.now(), **begin._asdict(), **habits)]
    if name:
        from soakbook.services.setup import person

        hours = f"{begin.hours:g}h"
        told.append(person(path, name, now=options.now(), by=None, days=days, hours=hours))
    page = paper.new_page()
    for paragraph in [paragraph for answer in told for paragraph in answer["say"]]:
        page.text(paragraph)
    page.text(NEXT)
    paper.put(page)


@book_command.command("where", cls=Command, examples=("soakbook book where",))
@options.book
def where_command(book_path: str | None) -> None:
    """Say where the book lies: as --book says, else SOAKBOOK_BOOK, else in the data folder."""
    from soakbook.services.books import where

    paper.put_text(str(where(book_path, specimen=False)))


def _habits(said: dict[str, str]) -> dict[str, Any]:
    """How the garden is used to doing things, where that was said; never asked."""
    habits: dict[str, Any] = {name: text for name, text in said.items() if name != "can"}
    if "can" in said:
        can_l = litres(parse_amount(said["can"], "can"), Measures(), "can")
        habits["can_l"] = check("can_l", can_l, field="can", typed=said["can"])
    return habits


def _beginning(answers: Answers) -> Beginning:
    """What the book begins with, read; what was not said is asked."""
    name = _answer(answers.name, "What is the garden called?", _not_empty)
    latitude_deg, longitude_deg = _place(answers)
    elevation_m = _answer(answers.elevation, "How high does it lie, in metres?", _metres)
    timezone = _answer(answers.timezone, "Which clock does it keep?", _not_empty, _own_clock())
    long = USUAL_HOURS if answers.hours is None and answers.name is not None else answers.hours
    hours = _answer(long, "How long is there for the round in a day?", _hours, USUAL_HOURS)
    return Beginning(name, latitude_deg, longitude_deg, elevation_m, timezone, hours)


def _who_waters() -> tuple[str, str]:
    """A name, and the days; both empty where nobody is named yet."""
    name = paper.ask("Who waters? (Enter for nobody yet)", "").strip()
    return name, paper.ask("On which days?", "every day") if name else ""


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
        return _answer(None, "Where is it? (degrees, as 52.3 N 0.4 W)", _both)
    return (
        _answer(answers.lat, "How many degrees north?", _latitude),
        _answer(answers.lon, "How many degrees east? (west: 0.4 W)", _longitude),
    )


def _both(text: str) -> tuple[float, float]:
    found = PLACE.fullmatch(text.strip())
    if found is None:
        raise InputError("place", text, "degrees north and east: 52.3 N 0.4 W, or 52.3, -0.4")
    return _latitude(found["lat"]), _longitude(found["lon"])


def _latitude(text: str) -> float:
    return _degrees(text, "latitude_deg", "degrees north: 52.3, 52.3 N, or 33.9 S")


def _longitude(text: str) -> float:
    return _degrees(text, "longitude_deg", "degrees east: 4.9, 4.9 E, or 0.4 W")


def _degrees(text: str, name: str, right: str) -> float:
    found = DEGREES.fullmatch(text.strip())
    field = name.removesuffix("_deg")
    if found is None or found["end"].upper() not in SIGNS[name] or (found["sign"] and found["end"]):
        raise InputError(field, text, right)
    sign = -1 if found["sign"] else SIGNS[name][found["end"].upper()]
    return check(name, sign * float(found["number"]), field=field, typed=text)


def _metres(text: str) -> float:
    try:
        height_m = float(text)
    except ValueError:
        height_m = parse_length_m(text, "elevation")
    return check("elevation_m", height_m, field="elevation", typed=text)


def _hours(text: str) -> float:
    return check("hours", parse_minutes(text, "hours") / 60, field="hours", typed=text)


def _not_empty(text: str) -> str:
    if not text.strip():
        raise InputError("name", text, "at least a letter")
    return text.strip()


def _own_clock() -> str | None:
    """The clock of this machine, where its settings name one."""
    return os.path.realpath("/etc/localtime").partition("zoneinfo/")[2] or None
