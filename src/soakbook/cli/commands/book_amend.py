"""`book amend`: an entry corrected by another."""

from typing import Any

import click

from soakbook.cli import asking, options
from soakbook.cli.options import Command, Entered
from soakbook.cli.told_page import say


@click.command(
    "amend",
    cls=Command,
    examples=(
        "soakbook book amend last 20l",
        'soakbook book amend 3fa2 --at "yesterday 19:30" --by Ann',
        "soakbook book amend 3fa2 --in-bed dole --planting all",
        "soakbook book amend 77ab --ball dry --bed none",
    ),
)
@click.argument("handle", metavar="HANDLE")
@click.argument("amount", metavar="[AMOUNT]", required=False)
@options.at
@click.option("--in-bed", metavar="BED", help="The bed it was in.")
@click.option("--planting", metavar="P", help="One planting of the bed; all for all of it.")
@click.option("--done-by", metavar="WHO", help="Who did it; --by is who corrects it.")
@click.option("--note", metavar="TEXT", help='A note beside it; "" drops one.')
@click.option("--kind", metavar="KIND", help="Of a soak, of a mulch, or gentle or burst of rain.")
@click.option("--method", metavar="METHOD", help="Of a soak: can, lance, spray, drip, broadcast.")
@click.option("--from", "from_", metavar="TIME", help="Of rain: when it began.")
@click.option("--gauge", metavar="AMOUNT", help="Of a jam jar: what the gauge caught.")
@click.option("--ball", metavar="CLASS", help="Of a feel: in the ball; none drops it.")
@click.option("--bed", metavar="CLASS", help="Of a feel: in the bed; none drops it.")
@click.option("--unsure/--sure", default=None, help="Of a feel: whether it could be the next word.")
@click.option("--reason", metavar="TEXT", help="Of a bed left: why.")
@click.option("--count", metavar="COUNT", help="Of a loss: how many plants.")
@click.option("--cause", metavar="CAUSE", help="Of a loss: what killed them.")
@options.written()
def amend_command(handle: str, from_: str | None, entered: Entered, **typed: Any) -> None:
    """Correct an entry. What is not named stays as it was.

    HANDLE is the name of the entry in soakbook book log; or last, for the entry that was written
    last of those that stand, with --by by that person: what was taken back is passed over. An hour
    alone, --at 19:30, is of the day on which it was. The old entry stays in the book, superseded, and
    soakbook book log --all shows it.
    """
    from soakbook.services.amending import amend

    typed |= {"from": from_, "planting": entered.planting}
    said = {name: value for name, value in typed.items() if value is not None}
    wanted, sure = asking.amended_as_meant(entered, handle, said)
    if not wanted:
        return
    answer = amend(
        entered.path, handle, said, at=entered.at, by=entered.by, sure=sure, now=options.now()
    )
    say(answer, as_json=entered.as_json)
