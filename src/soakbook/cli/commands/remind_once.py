"""`remind once`: look, decide, send, and end; for cron."""

import click

from soakbook.cli import options, paper
from soakbook.cli.exits import NOTHING_CAME
from soakbook.cli.options import Command


@click.command(
    "once",
    cls=Command,
    examples=(
        "soakbook remind once",
        "soakbook remind once --quiet --calendar ~/corrody.ics     as cron has it",
    ),
)
@click.option("--calendar", metavar="FILE", help="A calendar file that is brought up, too.")
@click.option("--offline", is_flag=True, envvar="SOAKBOOK_OFFLINE", help="Ask nobody for weather.")
@click.option("--quiet", is_flag=True, help="Say nothing but what is wrong here: for cron.")
@click.option(
    "--clock-is-right",
    is_flag=True,
    help="The clock was wrong before, and is right now: go on from here.",
)
@options.book
@options.as_json
@options.schema("remind")
def once_command(
    calendar: str | None,
    offline: bool,
    quiet: bool,
    clock_is_right: bool,
    book_path: str | None,
    as_json: bool,
) -> int:
    """Decide what fell due since the last look, send it, and end.

    The outbox is the same as if soakbook remind run had been at it. Weather is asked for where it is three hours old.
    What was not sent waits, and says why; the exit status is 3 where a channel failed.
    """
    from soakbook.reminders.once import once, trust_the_clock
    from soakbook.services.books import from_home, where

    path = where(book_path, specimen=False)
    if clock_is_right:
        trust_the_clock(path, options.now())
    file = None if calendar is None else from_home(calendar)
    report = once(path, options.now, offline=offline, calendar=file)
    if as_json:
        paper.put_json(report)
    elif not quiet:
        from soakbook.cli.remind_page import write_once

        page = paper.new_page()
        write_once(page, report)
        paper.put(page)
    failed = any(one["state"] == "due" and one["tries"] for one in report["notices"])
    return NOTHING_CAME if failed and not quiet else 0
