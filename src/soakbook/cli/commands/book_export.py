"""`book export`: the whole book as a folder of plain files."""

import click

from soakbook.cli import options, told_page
from soakbook.cli.options import Command


@click.command(
    "export",
    cls=Command,
    examples=(
        "soakbook book export corrody-2031",
        "soakbook book export for-the-council --without-names",
    ),
)
@click.argument("folder", metavar="FOLDER")
@click.option(
    "--without-names", is_flag=True, help='"person 1", "person 2" in place of people\'s names.'
)
@options.specimen
@options.book
@options.as_json
@options.schema("told")
def export_command(
    folder: str, without_names: bool, specimen: bool, book_path: str | None, as_json: bool
) -> None:
    """Write the book into a new folder, for a spreadsheet, for another, or to keep.

    README.txt in it says what each file is. soakbook book import makes a book of it again.
    """
    from soakbook.services.books import from_home, where
    from soakbook.services.exporting import export

    path = where(book_path, specimen=specimen)
    answer = export(path, from_home(folder), without_names=without_names)
    told_page.say(answer, as_json=as_json)
