"""What several commands share: the book, the entry options, reports for machines, and the clock.

The only place where soakbook reads the clock is `now`.
"""

from collections.abc import Callable
from datetime import UTC, datetime
from functools import wraps
from pathlib import Path
from typing import Any, NamedTuple, TypeVar, cast, get_args

import click
from click.core import ParameterSource

from soakbook.cli import completing, paper
from soakbook.cli.completing import TYPED
from soakbook.cli.examples import Exampled
from soakbook.errors import InputError
from soakbook.garden.records import FeltClass

Function = TypeVar("Function", bound=Callable[..., Any])

BOOK = "soakbook.book"
"""Where the book that was named is kept for who asks after a command has failed."""

SCHEMAS = Path(__file__).parent.parent / "schemas"


class Command(Exampled):
    """A command that reads a book or writes in it."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the words; a book named beside --specimen contradicts it."""
        ctx.meta[TYPED] = tuple(args)
        left = super().parse_args(ctx, args)
        named = ctx.get_parameter_source("book_path") is ParameterSource.COMMANDLINE
        if ctx.params.get("specimen") and named:
            raise click.UsageError("either --specimen or --book, not both", ctx)
        return left


class Word(click.Choice[str]):
    """One of a record's words: written with a hyphen or with an underline, in any case."""

    def __init__(self, literal: object) -> None:
        super().__init__([word.replace("_", "-") for word in get_args(literal)])

    @property
    def listed(self) -> str:
        """`can, lance, spray`."""
        return ", ".join(self.choices)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The record's word; anything else is refused."""
        return self.read(value, param.name if param is not None and param.name else self.name)

    def read(self, value: str, field: str) -> str:
        """The record's word, of an answer as of an option."""
        word = value.strip().casefold().replace("_", "-")
        if word not in self.choices:
            raise InputError(field, value, f"one of {self.listed}")
        return word.replace("-", "_")


FELT = Word(FeltClass)
"""What a finger finds."""


def now() -> datetime:
    """The present moment, zone-aware, in UTC."""
    return datetime.now(UTC)


def _remember(context: click.Context, _: click.Parameter, path: str | None) -> str | None:
    context.meta[BOOK] = path
    return path


book = click.option(
    "--book",
    "book_path",
    callback=_remember,
    envvar="SOAKBOOK_BOOK",
    metavar="PATH",
    help="The book. Without it SOAKBOOK_BOOK names it, else it lies in your data folder.",
)
specimen = click.option(
    "--specimen", is_flag=True, help="Read the invented specimen garden; nothing is written."
)
by = click.option(
    "--by", metavar="WHO", shell_complete=completing.people, help="Who did it, or who says so."
)
at = click.option("--at", metavar="TIME", help='When it was: 07:40, yesterday, "1apr 19:30".')
planting = click.option(
    "--planting",
    metavar="P",
    shell_complete=completing.plantings,
    help="One planting of the bed, by its name; else all of it.",
)
as_json = click.option("--json", "as_json", is_flag=True, help="For machines, and nothing else.")


class Entered(NamedTuple):
    """What comes with anything written in the book."""

    book_path: str | None
    as_json: bool
    by: str | None
    at: str | None = None
    planting: str | None = None

    @property
    def path(self) -> Path:
        """The book it is written in."""
        from soakbook.services.books import where

        return where(self.book_path, specimen=False)


Named = str | Callable[[dict[str, Any]], str]
"""The name of a schema; or what tells it from the words, by the names of the parameters they are for."""


def written(*more: Callable[[Any], Any], report: Named = "told") -> Callable[[Function], Function]:
    """Add --by, --book, --json, --json-schema and `more`, such as `at`; what is about writing comes as `Entered`."""
    decorators = (*more, by, book, as_json, schema(report))

    def add(command: Function) -> Function:
        @wraps(command)
        def pack(**typed: Any) -> Any:
            taken = {name: typed.pop(name) for name in Entered._fields if name in typed}
            return command(entered=Entered(**taken), **typed)

        packed: Any = pack
        for decorator in reversed(decorators):
            packed = decorator(packed)
        return cast("Function", packed)

    return add


def schema(name: Named) -> Callable[[Function], Function]:
    """Add --json-schema, which prints the schema of what the words beside it would print with --json."""

    def show(context: click.Context, _: click.Parameter, wanted: bool) -> None:
        if wanted:
            found = name if isinstance(name, str) else name(_words(context))
            paper.put_text((SCHEMAS / f"{found}.json").read_text(encoding="utf-8").rstrip())
            context.exit()

    return click.option(
        "--json-schema",
        is_flag=True,
        is_eager=True,
        expose_value=False,
        callback=show,
        help="Print the JSON Schema of the report.",
    )


def _words(context: click.Context) -> dict[str, Any]:
    """What was typed for each parameter, as text; --json-schema comes before they are held to their types."""
    typed, _, _ = context.command.make_parser(context).parse_args(list(context.meta[TYPED]))
    asked = {one.name for one in context.command.params if one.expose_value}
    return {
        name: text
        for name, text in typed.items()
        if name in asked and isinstance(text, str | bool | list)
    }


def either(**flags: bool) -> str | None:
    """The flag that was given, None where none was; two of them contradict each other."""
    given = [name for name, is_given in flags.items() if is_given]
    if len(given) > 1:
        words = [f"--{name.replace('_', '-')}" for name in given]
        raise click.UsageError(
            f"either {' or '.join(words)}, not both", click.get_current_context()
        )
    return given[0] if given else None


def said(typed: dict[str, str | None]) -> dict[str, str]:
    """The options that were given, as typed."""
    return {name: text for name, text in typed.items() if text is not None}
