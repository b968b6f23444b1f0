"""`weather`: read a file of measured weather, or show what the book has and how gaps were filled."""

from pathlib import Path
from typing import Any

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command
from soakbook.cli.told_page import say


@click.command(
    cls=Command,
    examples=(
        "soakbook weather             what the book has, and from where",
        "soakbook weather shed-2031.csv",
        "soakbook weather export.csv --column tmax=High:F --column tmin=Low:F \\",
        "    --column rain=Precip:in --column wind=Wind:km/h@10m",
    ),
)
@click.argument(
    "file",
    metavar="[FILE]",
    required=False,
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
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
    "--rain-day", metavar="WHEN", help='When rain is read and booked: midnight, or "09:00 before".'
)
@click.option(
    "--clock",
    metavar="CLOCK",
    type=click.Choice(["local", "standard", "utc"]),
    help="What times are written by, in a file of hours: local, standard (no summer time) or utc.",
)
@click.option("--gaps", is_flag=True, help="Days may be missing: up to three are filled.")
@click.option("--name", metavar="NAME", help="Whose weather it is; the next file is read alike.")
@options.by
@options.book
@options.specimen
@options.as_json
@options.schema("weather")
def weather_command(
    file: Path | None, book_path: str | None, specimen: bool, as_json: bool, **how: Any
) -> None:
    """Read weather from a file, or show what the book has.

    A file has one row a day, or rows of hours or minutes, of which days are made. Reference
    evaporation is reckoned as it arrives, and how the file was read is remembered.
    """
    from soakbook.services.books import where

    path = where(book_path, specimen)
    if file is None:
        _refuse_how(how)
        _show(path, specimen, as_json)
        return
    if specimen:
        raise click.UsageError("the specimen garden is only read: leave out --specimen")
    from soakbook.services.weather_files import import_file

    answer = import_file(
        path,
        file,
        columns=list(how["columns"]),
        dates=how["dates"],
        rain_day=how["rain_day"],
        clock=how["clock"],
        gaps=how["gaps"],
        name=how["name"],
        by=how["by"],
        now=options.now(),
    )
    say(answer, as_json=as_json)


def _refuse_how(how: dict[str, Any]) -> None:
    """Refuse what says how to read a file, or who brings it, where there is none."""
    said = [name for name, value in how.items() if value]
    if said:
        option = {"columns": "column"}.get(said[0], said[0].replace("_", "-"))
        raise click.UsageError(f"--{option} is about a file: name the FILE before it")


def _show(path: Path, specimen: bool, as_json: bool) -> None:
    from soakbook.cli.lists_page import write_weather
    from soakbook.services.weather_files import weather_report

    report = weather_report(path, now=options.now(), specimen=specimen)
    if as_json:
        paper.put_json(report)
        return
    page = paper.new_page()
    write_weather(page, report)
    paper.put(page)
