"""`book new`: begin the book of a garden, in one line or as a conversation that ends in the first round."""

from collections.abc import Collection
from pathlib import Path
from typing import Any

import click
from click.core import ParameterSource

from soakbook.cli import options, paper
from soakbook.cli.answers import broken_off
from soakbook.cli.new_garden import (
    GALLON,
    READERS,
    Answers,
    Asked,
    Beginning,
    check_typed,
    read_whole,
)
from soakbook.cli.options import Command, Word
from soakbook.errors import InputError
from soakbook.garden.records import Readiness
from soakbook.quantities.amounts import Amount, Measures, litres, parse_amount
from soakbook.quantities.names import check

USUAL_CAN_L = 10.0
READINESS = Word(Readiness)
HABITS = ("readiness", "can", "gallon")
NEEDED = (
    "a book begins with NAME, --lat, --lon, --elevation and --timezone; "
    "the last two may be left out where the weather service can be asked"
)
NOTHING_ASKED = "with --json nothing is asked"
LOOKED_UP = {"elevation": "elevation_m", "timezone": "timezone"}
"""What a weather service knows of a place, as the garden's record calls it."""
NEXT = """\
Next the taps, the beds and what was planted, each by a line of its own:
  soakbook tap A --fill 10l 43s
  soakbook bed chapel --area 18m2 --soil "sandy loam" --place open --tap A
  soakbook plant chapel "climbing rose" 6 --pot 7.5l --on 20mar
Then put a finger in two balls, and ask for the round:
  soakbook feel chapel --ball dry --bed moist
  soakbook round"""


@click.command(
    "new",
    cls=Command,
    examples=(
        'soakbook book new "The Corrody" --lat 52.3 --lon -0.4 --elevation 62 \\',
        "    --timezone Europe/London",
        "soakbook book new            asks for all of it: twenty minutes",
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
    "--gallon",
    metavar="WHOSE",
    type=GALLON,
    help=f"Whose a gal is that you type: {GALLON.listed}; else uk.",
)
@click.option(
    "--offline",
    is_flag=True,
    envvar="SOAKBOOK_OFFLINE",
    help="Ask no service for height and clock. SOAKBOOK_OFFLINE says the same.",
)
@options.book
@options.as_json
@options.schema("told")
def new_command(book_path: str | None, offline: bool, as_json: bool, **typed: str | None) -> None:
    """Begin the book of a garden. What is not said is asked, when somebody is there to answer.

    Then come its taps, its beds and what was planted, one a line, and the first round. Whoever breaks
    off has lost nothing. Height and clock may be left out: the weather service knows them for most
    places. With --json nothing is asked.
    """
    habits = _habits(options.said({name: typed.pop(name) for name in HABITS}))
    answers = Answers(**typed)
    asks = bool(answers.lacking()) and not as_json and paper.somebody_there()
    if not asks and not LOOKED_UP.keys() >= set(answers.lacking()):
        raise _lacking(answers, as_json)
    check_typed(answers)
    from soakbook.services.books import check_free, where

    path = where(book_path, specimen=False)
    check_free(path)
    if asks:
        _converse(path, Asked(answers, habits, offline, _also(book_path)))
        return
    looked_up = {LOOKED_UP[name] for name in answers.lacking()}
    begin = read_whole(_looked_up(answers, offline, as_json))
    report = _begun(path, begin, habits, looked_up)
    if as_json:
        paper.put_json(report)
    else:
        _put([*report["say"], NEXT])


def _converse(path: Path, asked: Asked) -> None:
    """Ask for the garden, then for what is in it, and end in the first round."""
    from soakbook.cli.first_round import put_first_round
    from soakbook.cli.new_beds import GO_ON, NewBeds

    with broken_off(asked.how_to_go_on):
        begin = asked.beginning()
    _put(_begun(path, begin, asked.habits)["say"])
    new = NewBeds(path, asked.habits.get("can_l", USUAL_CAN_L))
    with broken_off(lambda: GO_ON):
        new.ask_taps()
        new.ask_beds()
        new.ask_plantings()
        put_first_round(path, asked.offline, new.with_balls)


def _also(book_path: str | None) -> dict[str, str | None]:
    """Which book, and that nobody is to be asked outside, where that stood on the line and not in the environment."""
    source = click.get_current_context().get_parameter_source
    options_of = {"book": book_path, "offline": None}
    typed = {"book": source("book_path"), "offline": source("offline")}
    return {
        name: text
        for name, text in options_of.items()
        if typed[name] is ParameterSource.COMMANDLINE
    }


def _begun(
    path: Path, begin: Beginning, habits: dict[str, Any], looked_up: Collection[str] = ()
) -> paper.Report:
    """The book made; what is said of it."""
    from soakbook.services.books import new

    said = begin.fields() | habits
    return new(path, now=options.now(), looked_up=looked_up, **said)


def _lacking(answers: Answers, as_json: bool) -> click.UsageError:
    words = {"name": "NAME"}
    missing = [words.get(name, f"--{name}") for name in answers.lacking()]
    asked = f"; {NOTHING_ASKED}" if as_json else ""
    return click.UsageError(f"{NEEDED}; missing here: {', '.join(missing)}{asked}")


def _looked_up(answers: Answers, offline: bool, as_json: bool) -> Answers:
    """Answers with height and clock as the weather service knows them, where they were not said."""
    if not answers.lacking():
        return answers
    place = None
    if not offline:
        from soakbook.services.place import looked_up

        at = [
            READERS[name](text or "") for name, text in (("lat", answers.lat), ("lon", answers.lon))
        ]
        place = looked_up(*at, now=options.now())
    if place is None:
        raise _lacking(answers, as_json)
    return answers._replace(
        elevation=answers.elevation or f"{place.elevation_m:g}",
        timezone=answers.timezone or place.timezone,
    )


def _put(paragraphs: list[str]) -> None:
    page = paper.new_page()
    for paragraph in paragraphs:
        page.text(paragraph)
    paper.put(page)


def _habits(said: dict[str, str]) -> dict[str, Any]:
    """How the garden is used to doing things, where that was said; never asked."""
    habits: dict[str, Any] = {name: text for name, text in said.items() if name != "can"}
    if "can" in said:
        can_l = litres(_can(said), Measures(gallon=habits.get("gallon", "uk")), "can")
        habits["can_l"] = check("can_l", can_l, field="can", typed=said["can"])
    return habits


def _can(said: dict[str, str]) -> Amount:
    """What a can holds, as typed; a plain gallon is refused while nobody has said whose."""
    amount = parse_amount(said["can"], "can")
    if amount.unit == "gal" and "gallon" not in said:
        right = f"litres; or say whose gallon by --gallon: {GALLON.listed}"
        raise InputError("can", said["can"], right)
    return amount
