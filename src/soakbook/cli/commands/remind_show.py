"""`remind show`: what a day's reminders say."""

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command


@click.command(
    "show",
    cls=Command,
    examples=(
        "soakbook remind show",
        "soakbook remind show --on yesterday",
        "soakbook remind show --specimen --on 2031-05-14",
    ),
)
@click.option("--on", metavar="DATE", help="The day; else today, up to now.")
@options.book
@options.specimen
@options.as_json
@options.schema("remind")
def show_command(on: str | None, book_path: str | None, specimen: bool, as_json: bool) -> None:
    """The reminders of a day, as they are decided; nothing is written, nothing sent."""
    from soakbook.reminders.showing import day_report
    from soakbook.services.books import where

    path = where(book_path, specimen)
    report = day_report(path, now=options.now(), on=on, specimen=specimen)
    if as_json:
        paper.put_json(report)
        return
    from soakbook.cli.remind_page import write_day

    page = paper.new_page()
    write_day(page, report)
    paper.put(page)
