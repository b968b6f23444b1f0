"""`book undo`: what was written last taken back, or the entry that is named."""

import click

from soakbook.cli import options
from soakbook.cli.options import Command, Entered
from soakbook.cli.told_page import say


@click.command(
    "undo",
    cls=Command,
    examples=(
        "soakbook book undo",
        "soakbook book undo --by Tom       what Tom wrote last",
        "soakbook book undo 3fa2           the entry of that name in soakbook book log",
    ),
)
@click.argument("handle", metavar="[HANDLE]", default="last")
@options.written()
def undo_command(handle: str, entered: Entered) -> None:
    """Undo what was written last: all that one line entered, on several beds too.

    An entry is taken back, a correction gives way to what stood before it, and what was taken back
    is brought back: undo once more undoes the undoing. An entry that is named by its HANDLE is
    taken back altogether. Nothing is removed from the book, and soakbook book log --all shows it.
    Beds, plantings, taps and people are not entries: they are corrected by their own commands.
    """
    from soakbook.services.undoing import undo

    answer = undo(entered.path, handle, by=entered.by, now=options.now())
    say(answer, as_json=entered.as_json)
