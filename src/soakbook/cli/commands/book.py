"""`book`: the commands about the book itself."""

import click

from soakbook.cli.on_demand import OnDemand

COMMANDS = {
    "new": "book_new",
    "where": "book_where",
    "log": "book_log",
    "amend": "book_amend",
    "undo": "book_undo",
    "check": "book_check",
    "copy": "book_copy",
    "export": "book_export",
    "import": "book_import",
}
"""Command -> its module under `commands`."""


@click.command("book", cls=OnDemand, modules=COMMANDS)
def book_command() -> None:
    """Begin a book, read its history, correct it, check and copy it, take it out into plain files and in again."""
