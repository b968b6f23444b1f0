"""`weather`: ask services for what is due, read a file, show what the book has and how it came."""

from pathlib import Path
from typing import Any

import click

from soakbook.cli import options, paper
from soakbook.cli.exits import NOTHING_CAME
from soakbook.cli.options import Command
from soakbook.cli.told_page import say


def _schema(typed: dict[str, Any]) -> str:
    """Which report these words ask for."""
    if typed.get("file"):
        return "told"
    return "promises" if typed.get("promises") else "weather"


@click.command(
    cls=Command,
    examples=(
        "soakbook weather             ask for what is due, show what the book has",
        "soakbook weather --promises  how the service kept its word of rain",
        "soakbook weather shed-2031.csv",
        "soakbook weather export.csv --column tmax=High:F --column tmin=Low:F \\",
        "    --column rain=Precip:in --column wind=Wind:km/h@10m",
    ),
)
@click.argument(
    "file",
    metavar="[FILE]",
    required=False,
)
@click.option(
    "--column",
    "columns",
    metavar="COLUMN",
    multiple=True,
    help="A quantity, its column and its unit, as rain=Precip:in. A header that says both itself, "
    "as tmin_c, needs none. date=COLUMN is the day's; wind=- leaves one out.",
)
@click.option(
    "--dates",
    metavar="ORDER",
    type=click.Choice(["ymd", "dmy", "mdy"]),
    help="ymd, dmy or mdy, if days read two ways.",
)
@click.option(
    "--comma/--point",
    "comma",
    default=None,
    help="Numbers are written with a comma, 12,5; or, as where nothing is said, with a point, 12.5.",
)
@click.option(
    "--rain-day", metavar="WHEN", help='When rain is read and booked: midnight, or "09:00 before".'
)
@click.option(
    "--clock",
    metavar="CLOCK",
    type=click.Choice(["local", "standard", "utc"]),
    help="What times are written by, in a file of hours: local, standard (no summer time) or utc.",
)
@click.option(
    "--offline",
    is_flag=True,
    envvar="SOAKBOOK_OFFLINE",
    help="Ask nobody: show what the book has, and what is kept. SOAKBOOK_OFFLINE says the same.",
)
@click.option("--promises", is_flag=True, help="How services kept their promises of rain.")
@click.option(
    "--ask",
    "ask_whom",
    metavar="SERVICE",
    type=click.Choice(["first", "second", "none"]),
    help="Whom to ask from now on: first (the usual one, the second where it fails), second, none.",
)
@click.option("--heat", metavar="DEGREES", help="From how warm a day on is heat here: 27c, 80f.")
@click.option("--gaps", is_flag=True, help="Days may be missing: up to three are filled.")
@click.option("--name", metavar="NAME", help="Whose weather it is; the next file is read alike.")
@click.option("--keep", is_flag=True, help="Read the file again whenever weather is asked for.")
@options.by
@options.book
@options.specimen
@options.as_json
@options.schema(_schema)
def weather_command(
    file: str | None, book_path: str | None, specimen: bool, as_json: bool, **how: Any
) -> int:
    """Ask for weather and show what the book has; or read a file of measured weather.

    Without a FILE the service is asked for what is due, and files that were kept are read again.
    A file, or its address, has one row a day, or rows of hours or minutes. Reference evaporation is
    reckoned as weather arrives.
    """
    from soakbook.services.books import where

    path = where(book_path, specimen)
    about = {name: how.pop(name) for name in ("offline", "promises", "ask_whom", "heat")}
    if file is None:
        _refuse_how(how)
        return _show(path, specimen, as_json, how["by"], about)
    if specimen:
        raise click.UsageError("the specimen garden is only read: leave out --specimen")
    _refuse_about(about)
    from soakbook.services.weather import bring

    how["columns"] = list(how["columns"])
    keep = how.pop("keep")
    answer = bring(path, file, keep=keep, offline=about["offline"], now=options.now(), **how)
    say(answer, as_json=as_json)
    return 0


def _refuse_how(how: dict[str, Any]) -> None:
    """Refuse what says how to read a file where there is none."""
    said = [name for name, value in how.items() if value not in (None, False, ()) and name != "by"]
    if how["comma"] is False:
        said.append("point")
    if said:
        option = {"columns": "column"}.get(said[0], said[0].replace("_", "-"))
        raise click.UsageError(f"--{option} is about a file: name the FILE before it")


def _refuse_about(about: dict[str, Any]) -> None:
    """Refuse, beside a file, what is about services."""
    said = [
        name for name, value in about.items() if value not in (None, False) and name != "offline"
    ]
    if said:
        option = {"ask_whom": "ask"}.get(said[0], said[0])
        raise click.UsageError(f"--{option} is not about a file: say it by itself")


def _show(path: Path, specimen: bool, as_json: bool, by: str | None, about: dict[str, Any]) -> int:
    """Print what the book has; the exit status."""
    from soakbook.cli.lists_page import write_promises, write_weather
    from soakbook.services.weather import ask, promises_report, set_weather, weather_report

    now = options.now()
    asked: list[str] = []
    status = 0
    settings = {name: about[name] for name in ("ask_whom", "heat") if about[name] is not None}
    if specimen and settings:
        raise click.UsageError("the specimen garden is only read: leave out --specimen")
    if settings and about["promises"]:
        raise click.UsageError("--promises shows, --ask and --heat change: say them one by one")
    if settings:
        asked += set_weather(path, now=now, by=by, **settings)
    if about["promises"]:
        report, write = promises_report(path, now=now, specimen=specimen), write_promises
    else:
        if not specimen:
            came = ask(path, now=now, by=by, offline=about["offline"])
            asked += came.say
            status = NOTHING_CAME if came.nothing_came else 0
        report = weather_report(path, now=now, specimen=specimen, asked=asked)
        write = write_weather
    if as_json:
        paper.put_json(report)
        return status
    page = paper.new_page()
    write(page, report)
    paper.put(page)
    return status
