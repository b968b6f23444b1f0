"""`book where`: where the book lies, and why there."""

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
    there = "It is there." if path.exists() else "Not begun yet: soakbook book new begins it."
    paper.put_text(f"{path}\n{WHY_THERE.get(source, WHY_THERE[None])} {there}")
