"""Ground and plants that change: `part` a bed in two, `move` plants to another bed, lay a bed to `rest`.

Options are passed on as typed; what they mean is read by the services.
"""

from typing import Any

import click

from soakbook.cli import completing, options
from soakbook.cli.options import Command, Entered
from soakbook.cli.told_page import say
from soakbook.services.cautions import CAUTIONS

YES = "yes"


@click.command(
    cls=Command,
    examples=(
        'soakbook part warden west --area 12m2 --plants "shrub rose 6, hydrangea"',
        "soakbook part warden west --area 12m2 --plants hydrangea \\",
        '    --name "West Border" --on tomorrow',
    ),
)
@click.argument("bed", metavar="BED", shell_complete=completing.beds)
@click.argument("key", metavar="KEY")
@click.option("--area", metavar="SIZE", required=True, help="Of the part: 12m2 or 130sqft.")
@click.option(
    "--plants",
    metavar="NAMES",
    required=True,
    help="What stands on it, parted by commas, with how many where it is not all of them.",
)
@click.option("--name", metavar="NAME", help="What the part is called, if not by its key.")
@click.option("--on", metavar="DATE", help="The first day on which they are two; else today.")
@options.written()
def part_command(bed: str, key: str, entered: Entered, **typed: Any) -> None:
    """Make a part of a bed a bed of its own, with the plants on it.

    Nothing happens to the plants: they keep their water and their past. Where the bed was watered
    today as one, they are two from tomorrow.
    """
    from soakbook.services.setup import part

    said = options.said(typed)
    answer = part(entered.path, bed, key, now=options.now(), by=entered.by, **said)
    say(answer, as_json=entered.as_json)


@click.command(
    cls=Command,
    examples=(
        "soakbook move chapel clematis dole",
        'soakbook move chapel "climbing rose" dole 2 --ball 40cm --on 3may',
    ),
    caution=CAUTIONS["plant"],
)
@click.argument("bed", metavar="BED", shell_complete=completing.beds)
@click.argument("which", metavar="PLANTING", shell_complete=completing.plantings)
@click.argument("to", metavar="TO", shell_complete=completing.beds)
@click.argument("count", metavar="[COUNT]", required=False)
@click.option("--ball", metavar="WIDTH", help="Dug with a ball, a spade's depth: 45cm.")
@click.option("--deep", flag_value=YES, help="The ball was dug deeper than a spade.")
@click.option("--bare", flag_value=YES, help="The earth fell off: bare root.")
@click.option("--on", metavar="DATE", help="The day they were moved; else today.")
@click.option("--name", metavar="NAME", help="What to call them there, if not the same.")
@options.written()
def move_command(bed: str, which: str, entered: Entered, **typed: Any) -> None:
    """Enter plants of a bed as dug up and moved TO another: all that stand, or COUNT of them.

    They begin anew there, in the ball that was cut. Where they stood their ground is free for
    others: soakbook plant ... --replaces.
    """
    from soakbook.services.setup import move

    said = options.said(typed)
    answer = move(entered.path, bed, which, now=options.now(), by=entered.by, **said)
    say(answer, as_json=entered.as_json)


@click.command(
    cls=Command,
    examples=(
        "soakbook rest school",
        "soakbook rest school --on 1oct",
        "soakbook rest school --end",
    ),
)
@click.argument("bed", metavar="BED", shell_complete=completing.beds)
@click.option("--on", metavar="DATE", help="The first day of its rest; else today.")
@click.option("--end", is_flag=True, help="End its rest: from today it is on the round again.")
@options.written()
def rest_command(bed: str, on: str | None, end: bool, entered: Entered) -> None:
    """Lay a bed to rest: no round asks for it, and it takes no entry. Its past stays in the book."""
    from soakbook.services.setup import rest

    if end and on is not None:
        raise click.UsageError("--end is from today on: leave out --on")
    answer = rest(entered.path, bed, now=options.now(), by=entered.by, on=on, end=end)
    say(answer, as_json=entered.as_json)
