"""`book copy`: a copy of the book in one file."""

import click

from soakbook.cli import options, told_page
from soakbook.cli.options import Command


@click.command(
    "copy",
    cls=Command,
    examples=(
        "soakbook book copy /media/stick/garden-may.book",
        "soakbook book copy garden-may.book --book ~/abbey.book",
    ),
)
@click.argument("target", metavar="PATH")
@options.book
@options.specimen
@options.as_json
@options.schema("told")
def copy_command(target: str, book_path: str | None, specimen: bool, as_json: bool) -> None:
    """Copy the book as it stands into one file; others may write in it meanwhile.

    The copy is there whole or not at all, nothing is written over, and you alone may read it.
    """
    from soakbook.services.books import where
    from soakbook.services.copying import copy

    told_page.say(copy(where(book_path, specimen), target), as_json=as_json)
