"""`book log`: what was written, by whom and when."""

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command


@click.command(
    "log",
    cls=Command,
    examples=(
        "soakbook book log",
        "soakbook book log chapel --since 1may --all",
        "soakbook book log --by Tom --since mon",
    ),
)
@click.argument("bed", metavar="[BED]", required=False)
@click.option("--by", metavar="WHO", help="Only what they did, said or corrected.")
@click.option("--since", metavar="DATE", help="From that day on, all of it.")
@click.option("--until", metavar="DATE", help="Up to that day, all of it.")
@click.option("--all", "every", is_flag=True, help="What was corrected or taken back, too.")
@options.book
@options.specimen
@options.as_json
@options.schema("log")
def log_command(
    every: bool, as_json: bool, book_path: str | None, specimen: bool, **wanted: str | None
) -> None:
    """What was written in the book, newest last.

    Entries and changes of beds, plantings, taps and people stand by when they happened. The letters
    before an entry name it for soakbook book amend and soakbook book undo; they stay the same.
    Without --since or --until it is the newest twenty.
    """
    from soakbook.services.book_log import Wanted, log_report
    from soakbook.services.books import where

    asked = Wanted(**wanted, every=every)
    report = log_report(where(book_path, specimen), asked, now=options.now())
    if as_json:
        paper.put_json(report)
        return
    from soakbook.cli.log_page import write_log

    page = paper.new_page()
    write_log(page, report)
    paper.put(page)
