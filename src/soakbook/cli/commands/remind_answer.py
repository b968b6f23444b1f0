"""`remind done`, `half`, `could-not`, `left`: the answers to a reminder."""

from typing import Any

import click

from soakbook.cli import completing, options
from soakbook.cli.options import Command, Entered
from soakbook.cli.told_page import say
from soakbook.reminders.answering import Answer

HELP: dict[Answer, str] = {
    "done": "The beds of today's reminder were given the round's own dose.",
    "half": "They were given half of it.",
    "could-not": "Nobody could get to them: the next person is told.",
    "left": "They were looked at and need nothing.",
}
MORE = "Without BED it is every bed that WHO was told of today and has not answered for."


def _command(what: Answer) -> click.Command:
    beds = click.argument("beds", metavar="[BED]...", nargs=-1, shell_complete=completing.beds)
    reason = click.option("--reason", metavar="WHY", help="Why it was left: moist to the knuckle.")
    only_left = (reason,) if what == "left" else ()

    @options.written(options.at)
    def answered(beds: tuple[str, ...], entered: Entered, **more: Any) -> None:
        from soakbook.reminders.answering import answer

        answers = answer(
            entered.path,
            what,
            beds,
            reason=more.get("reason"),
            at=entered.at,
            by=entered.by,
            now=options.now(),
        )
        say(answers, as_json=entered.as_json)

    for decorate in (*only_left, beds):
        answered = decorate(answered)
    make = click.command(
        what,
        cls=Command,
        help=f"{HELP[what]}\n\n{MORE}",
        examples=(f"soakbook remind {what} --by Tom", f"soakbook remind {what} chapel bank"),
    )
    return make(answered)


done_command = _command("done")
half_command = _command("half")
could_not_command = _command("could-not")
left_command = _command("left")
