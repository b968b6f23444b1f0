"""`remind run`: the clock of a small always-on computer."""

import gc
import signal

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command


@click.command(
    "run",
    cls=Command,
    examples=("soakbook remind run", "soakbook remind run --calendar ~/corrody.ics"),
)
@click.option("--calendar", metavar="FILE", help="A calendar file that is kept up.")
@click.option("--offline", is_flag=True, envvar="SOAKBOOK_OFFLINE", help="Ask nobody for weather.")
@options.book
def run_command(calendar: str | None, offline: bool, book_path: str | None) -> int:
    """Wake up, look, send, day and night, until it is stopped.

    Weather is asked for every three hours by day, what is due is decided every five minutes and sent within half a
    minute. It may be killed at any moment: what was due is found at the next start. soakbook remind --unit prints what
    starts it with the computer.
    """
    from soakbook.reminders.waking import Waker
    from soakbook.services.books import from_home, where

    # It was put off for commands that end in a moment.
    gc.enable()
    file = None if calendar is None else from_home(calendar)
    waker = Waker(
        where(book_path, specimen=False),
        clock=options.now,
        say=paper.put_line,
        calendar=file,
        offline=offline,
    )
    for name in ("SIGTERM", "SIGINT"):
        signal.signal(getattr(signal, name), lambda *_: waker.stop())
    paper.put_line(f"Awake for {waker.garden_name}; weather at minute {waker.minute:02}.")
    waker.start()
    waker.wait()
    paper.put_line("Stopped.")
    return 0
