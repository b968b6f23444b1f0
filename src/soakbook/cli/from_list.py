"""`--from` of `plant` and `bed`: a list brought in whole, from a file or pasted, and what it came to as a page."""

import sys
from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Entered
from soakbook.cli.paper import Page, Report
from soakbook.errors import InputError

Function = TypeVar("Function", bound=Callable[..., Any])

PASTED = "-"
NAME_OF_PASTED = "what was pasted"
HOW_TO_END = "paste the list, its column names first; then Enter and Ctrl-D end it (Windows: Enter, Ctrl-Z, Enter)"


class FromList(NamedTuple):
    """A list that is to be brought in, as typed."""

    file: str
    columns: tuple[str, ...]
    again: bool
    dry_run: bool
    dates: str | None


def list_options(*, again: bool) -> Callable[[Function], Function]:
    """Add --from, --column and --dry-run, and --again where a list can be planted once more."""
    about_again = "Plant once more what stands in the book already."

    def add(command: Function) -> Function:
        found: Any = command
        if again:
            found = click.option("--again", is_flag=True, help=about_again)(found)
            found = click.option(
                "--dates",
                type=click.Choice(["dmy", "mdy"]),
                help="Of a list: if days read two ways.",
            )(found)
        for option in (
            click.option("--dry-run", is_flag=True, help="Say how a list is read; write nothing."),
            click.option(
                "--column", "columns", multiple=True, metavar="WHAT=HEADER",
                help="What a column is, bed=Border; none=Price leaves it out.",
            ),
            click.option(
                "--from", "file", metavar="FILE", help="A whole list, as CSV; - for a pasted one."
            ),
        ):  # fmt: skip
            found = option(found)
        return found  # type: ignore[no-any-return]

    return add


def said_list(typed: dict[str, Any]) -> FromList | None:
    """The list that was said, taken out of the options typed; None where none was.

    Raises
    ------
    click.UsageError
        What is about a list, without one.
    """
    taken = {name: typed.pop(name, False) for name in ("columns", "again", "dry_run", "dates")}
    file = typed.pop("file", None)
    if file is None:
        for name, value in taken.items():
            if value:
                option = {"columns": "column"}.get(name, name.replace("_", "-"))
                raise click.UsageError(f"--{option} is about a list: name it with --from FILE")
        return None
    return FromList(
        file, tuple(taken["columns"]), taken["again"], taken["dry_run"], taken["dates"] or None
    )


def bring_in(said: FromList, entered: Entered, service: Callable[..., Report]) -> None:
    """Hand a list to the service that enters it, and print what it came to."""
    from soakbook.services.lists.sheet import Pasted

    name = NAME_OF_PASTED if said.file == PASTED else said.file
    pasted = Pasted(name, _content(said.file), said.columns, said.again, said.dry_run, said.dates)
    report = service(entered.path, pasted, now=options.now(), by=entered.by)
    if entered.as_json:
        paper.put_json(report)
        return
    page = paper.new_page()
    write_list(page, report)
    paper.put(page)


def write_list(page: Page, report: Report) -> None:
    """What a list came to; line by line where nothing was written yet."""
    if not report["written"]:
        taken = (
            f"{one['what'].replace('_', ' ')} from {one['header']!r}" for one in report["columns"]
        )
        page.text(f"Columns: {', '.join(taken)}.", hang=2)
        for bed in report["beds"]:
            tap = f", tap {bed['tap']}" if bed["tap"] else ""
            said = f"new bed {bed['bed']}: {bed['name']}, {bed['area_m2']:g} m²"
            page.text(
                f"line {bed['line']}: {said}, {bed['soil']}, {bed['place']}{tap}", indent=2, hang=2
            )
        for one in report["plantings"]:
            page.text(f"line {one['line']}: {one['say']}", indent=2, hang=2)
    for paragraph in report["say"]:
        page.text(paragraph)


def _content(file: str) -> bytes:
    """What stands in the file, or what is pasted."""
    from pathlib import Path

    from soakbook.services.lists.sheet import MOST_BYTES, content_of

    if file != PASTED:
        return content_of(Path(file))
    try:
        if sys.stdin.isatty():
            paper.put_error(HOW_TO_END)
        return sys.stdin.buffer.read(MOST_BYTES + 1)
    except (AttributeError, OSError) as error:  # closed, or nowhere to read from
        right = "a list on standard input, which is closed; or name its file"
        raise InputError("file", file, right) from error
