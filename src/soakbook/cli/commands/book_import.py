"""`book import`: a folder that `book export` wrote becomes a book again, or its book learns from it."""

import click

from soakbook.cli import options, told_page
from soakbook.cli.options import Command


@click.command(
    "import",
    cls=Command,
    examples=(
        "soakbook book import corrody-2031 --dry-run",
        "soakbook book import corrody-2031",
        "soakbook book import corrody-2031 --new --book again.book",
    ),
)
@click.argument("folder", metavar="FOLDER")
@click.option("--new", is_flag=True, help="Begin a new book of it, where none lies yet.")
@click.option("--dry-run", is_flag=True, help="Say what would change, and write nothing.")
@options.book
@options.as_json
@options.schema("told")
def import_command(
    folder: str, new: bool, dry_run: bool, book_path: str | None, as_json: bool
) -> None:
    """Take in a folder that soakbook book export wrote, of the same garden.

    What the book does not know is added and nothing is removed. What was set differently there
    and here, such as a bed's soil, holds as it was changed last. All of the folder is taken, or nothing.
    """
    from soakbook.services.books import from_home, where
    from soakbook.services.importing import bring_back

    path = where(book_path, specimen=False)
    answer = bring_back(path, from_home(folder), new=new, dry_run=dry_run)
    told_page.say(answer, as_json=as_json)
