"""`remind log`: what was sent to whom."""

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command


@click.command(
    "log", cls=Command, examples=("soakbook remind log", "soakbook remind log --all --json")
)
@click.option("--all", "every", is_flag=True, help="All of it; else the newest twenty.")
@options.book
@options.as_json
@options.schema("remind")
def log_command(every: bool, book_path: str | None, as_json: bool) -> None:
    """What was decided, for whom, and what became of it, newest last.

    Sent; waiting; lapsed, as too old by the time it could have been sent; withdrawn, as answered or switched off
    before; given up, as refused. Below it what the clock met with.
    """
    from soakbook.reminders.report import log_report
    from soakbook.services.books import where

    report = log_report(where(book_path, specimen=False), now=options.now(), every=every)
    if as_json:
        paper.put_json(report)
        return
    from soakbook.cli.remind_page import write_notices

    page = paper.new_page()
    write_notices(page, report)
    paper.put(page)
