"""`book where`: where the book lies, and why there."""

from pathlib import Path

import click
from click.core import ParameterSource

from soakbook.cli import options, paper
from soakbook.cli.options import Command

WHY_THERE = {
    ParameterSource.COMMANDLINE: "As --book says.",
    ParameterSource.ENVIRONMENT: "As SOAKBOOK_BOOK says.",
    None: "In your data folder: neither --book nor SOAKBOOK_BOOK names another.",
}


@click.command("where", cls=Command, examples=("soakbook book where",))
@options.book
@click.pass_context
def where_command(context: click.Context, book_path: str | None) -> None:
    """Say where the book lies: as --book says, else SOAKBOOK_BOOK, else in the data folder.

    The first line is the path alone; then why there, and whether there is a book.
    """
    from soakbook.services.books import where

    path = where(book_path, specimen=False)
    source = context.get_parameter_source("book_path")
    paper.put_text(f"{path}\n{WHY_THERE.get(source, WHY_THERE[None])} {_there(path)}")


def _there(path: Path) -> str:
    try:
        path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return "Not begun yet: soakbook book new begins it."
    except OSError as error:  # a folder that is closed, a name too long
        return f"Nobody can look there: {error.strerror or error}."
    return "It is there."
