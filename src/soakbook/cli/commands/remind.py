"""`remind`: reminders of what is due: run, once, their settings and log, and the answers to them."""

from typing import Any

import click

from soakbook.cli import options, paper
from soakbook.cli.exits import NOTHING_CAME
from soakbook.cli.on_demand import OnDemand

COMMANDS = {
    "once": "remind_once",
    "run": "remind_run",
    "settings": "remind_settings",
    "log": "remind_log",
    "show": "remind_show",
    "done": "remind_answer",
    "half": "remind_answer",
    "could-not": "remind_answer",
    "left": "remind_answer",
}
"""Command -> its module under `commands`."""

EVERYBODY = "everybody"
UNITS = ("systemd", "launchd", "cron")


@click.command(
    "remind",
    cls=OnDemand,
    modules=COMMANDS,
    invoke_without_command=True,
    examples=(
        "soakbook remind --test Ann",
        "soakbook remind once",
        "soakbook remind done chapel bank",
        "soakbook remind --unit systemd",
    ),
)
@click.option(
    "--test",
    "test_whom",
    metavar="[NAME]",
    is_flag=False,
    flag_value=EVERYBODY,
    help="Send a test to somebody, or to everybody who has an address.",
)
@click.option(
    "--unit",
    metavar="KIND",
    type=click.Choice(UNITS),
    help="Print what makes a computer run the reminders: systemd, launchd, cron.",
)
@click.option("--calendar", metavar="FILE", help="With --unit: a calendar file that is kept up.")
@options.book
@click.pass_context
def remind_command(context: click.Context, /, book_path: str | None, **asked: Any) -> int:
    """Reminders of what is due: once each, on time, and then silence.

    Whoever has an address (soakbook person Ann --mail ann@example.org) is told of the round, of dry spells and heat,
    of rain that did not come, of rules, and of beds that nobody was heard of. A bed is one person's at a time: its
    keeper's, then the next one's who comes, then the head's.
    """
    if context.invoked_subcommand is not None:
        if any(asked.values()):
            raise click.UsageError("--test, --unit and --calendar stand by themselves")
        return 0
    if asked["unit"]:
        _print_unit(asked["unit"], book_path, asked["calendar"])
        return 0
    if asked["test_whom"]:
        return _test(book_path, asked["test_whom"])
    paper.put_text(context.get_help())
    return 0


def _test(book_path: str | None, whom: str) -> int:
    from soakbook.reminders.reaching import send_tests
    from soakbook.services.books import where

    only = None if whom == EVERYBODY else whom
    say, well = send_tests(where(book_path, specimen=False), options.now(), only)
    page = paper.new_page()
    for sentence in say:
        page.text(sentence)
    paper.put(page)
    return 0 if well else NOTHING_CAME


def _print_unit(kind: str, book_path: str | None, calendar: str | None) -> None:
    import sys

    from soakbook.reminders.units import Run, unit_text
    from soakbook.services.books import from_home, where

    book = where(book_path, specimen=False).absolute()
    file = None if calendar is None else str(from_home(calendar).absolute())
    paper.put_text(unit_text(kind, Run(sys.executable, str(book), file)).rstrip())
