"""`book`: the commands about the book itself."""

import click

from soakbook.cli.on_demand import OnDemand

COMMANDS = {
    "new": "book_new",
    "where": "book_where",
    "export": "book_export",
    "import": "book_import",
}
"""Command -> its module under `commands`."""


@click.command("book", cls=OnDemand, modules=COMMANDS)
def book_command() -> None:
    """Begin a book, say where it lies, take it out into plain files and in again."""
