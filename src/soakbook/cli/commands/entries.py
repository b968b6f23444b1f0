"""What happened: `soak`, `rain`, `left`, `loss`, `mulch`."""

import re
from typing import cast

import click

from soakbook.cli import asking, completing, options
from soakbook.cli.options import Command, Entered, Word
from soakbook.cli.told_page import say
from soakbook.errors import InputError
from soakbook.garden.entries import RainKind, SoakKind
from soakbook.garden.records import HandMethod
from soakbook.services.cautions import CAUTIONS

KIND, METHOD = Word(SoakKind), Word(HandMethod)

one_bed = click.argument("bed", metavar="BED", shell_complete=completing.beds)
SO_MANY = re.compile(r"[0-9.]*[0-9½¼¾]")
"""A number that stands apart from its unit."""

several_beds = click.argument(
    "beds", metavar="BED...", nargs=-1, required=True, shell_complete=completing.beds
)
bed_entry = options.written(options.planting, options.at)


@click.command(
    cls=Command,
    examples=(
        "soakbook soak chapel 17l",
        "soakbook soak chapel bank 5cans --by Ann --at 07:40",
        "soakbook soak warden 12min --planting hydrangeas",
        "soakbook soak school advised",
    ),
    caution=CAUTIONS["soak"],
)
@several_beds
@click.argument("amount", metavar="AMOUNT")
@click.option(
    "--kind",
    metavar="KIND",
    type=KIND,
    default="soak",
    help=f"{KIND.listed}; else the first.",
)
@click.option(
    "--method",
    metavar="METHOD",
    type=METHOD,
    help=f"{METHOD.listed}; else as the tap has it.",
)
@bed_entry
def soak_command(
    beds: tuple[str, ...],
    amount: str,
    kind: SoakKind,
    method: HandMethod | None,
    entered: Entered,
) -> None:
    """Enter a watering.

    The last word is the amount, in litres, cans or minutes of the tap, or "advised" for what the
    round said; each bed named was given it. It is shared over a bed's plantings by count and size
    of pot, unless one planting is named.
    """
    if SO_MANY.fullmatch(beds[-1]) and amount.isalpha() and amount != "advised":
        typed = f"{beds[-1]} {amount}"
        raise InputError("amount", typed, f"write {beds[-1]}{amount}, the unit close behind")
    left, sure = asking.as_meant(entered, beds, amount, kind=kind, method=method)
    if not left:
        return
    from soakbook.services.entries import soak

    answers = soak(
        entered.path,
        left,
        amount,
        planting=entered.planting,
        kind=kind,
        method=method,
        at=entered.at,
        by=entered.by,
        sure=sure,
        now=options.now(),
    )
    say(answers, as_json=entered.as_json)


@click.command(
    cls=Command,
    examples=(
        "soakbook rain 15.6mm --gentle",
        "soakbook rain 22.4mm --burst --from 16:10 --to 16:50",
        "soakbook rain 0.6in --from yesterday --to 06:30",
    ),
)
@click.argument("amount", metavar="AMOUNT")
@click.option("--from", "from_", metavar="TIME", help="When it began; else the last reading.")
@click.option("--to", metavar="TIME", help="When the gauge was read; else now.")
@click.option("--gentle", is_flag=True, help="It fell gently, over hours.")
@click.option("--burst", is_flag=True, help="It came down hard, and some ran off.")
@options.written(options.at)
def rain_command(
    amount: str, from_: str | None, to: str | None, entered: Entered, **kinds: bool
) -> None:
    """Enter what the gauge caught.

    The gauge stands in the open; what each bed got of it is reckoned.
    """
    from soakbook.services.entries import rain

    kind = cast("RainKind | None", options.either(**kinds))
    answer = rain(
        entered.path,
        amount,
        from_=from_,
        to=to,
        kind=kind,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    say(answer, as_json=entered.as_json)


@click.command(
    cls=Command,
    examples=(
        'soakbook left bank "no time" --at yesterday',
        'soakbook left chapel warden "moist to the knuckle" --by Tom',
    ),
)
@several_beds
@click.argument("reason", metavar="REASON")
@bed_entry
def left_command(beds: tuple[str, ...], reason: str, entered: Entered) -> None:
    """Enter beds looked at and left.

    The last word is the reason; in quotes when it is several.
    """
    from soakbook.services.entries import left

    answers = left(
        entered.path,
        list(beds),
        reason,
        planting=entered.planting,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    say(answers, as_json=entered.as_json)


@click.command(cls=Command, examples=('soakbook loss bank "sun shrubs" 2 "dry ball"',))
@one_bed
@click.argument("of", metavar="PLANTING", shell_complete=completing.plantings)
@click.argument("count", metavar="COUNT")
@click.argument("cause", metavar="CAUSE")
@options.written(options.at)
def loss_command(bed: str, of: str, count: str, cause: str, entered: Entered) -> None:
    """Enter plants lost, and what you think killed them."""
    from soakbook.services.entries import loss

    answer = loss(
        entered.path,
        bed,
        of,
        count,
        cause,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    say(answer, as_json=entered.as_json)


@click.command(
    cls=Command,
    examples=(
        "soakbook mulch chapel bark 5cm --wet --on 24mar",
        "soakbook mulch school bark 34sacks --dry",
    ),
    caution=CAUTIONS["mulch"],
)
@several_beds
@click.argument("kind", metavar="KIND")
@click.argument("amount", metavar="DEPTH|SACKS")
@click.option("--wet", is_flag=True, help="The soil was wet under it.")
@click.option("--dry", is_flag=True, help="It was laid on dry soil.")
@click.option("--on", metavar="DATE", help="The day it was laid.")
@options.written(options.at)
def mulch_command(
    beds: tuple[str, ...],
    kind: str,
    amount: str,
    on: str | None,
    entered: Entered,
    **wetness: bool,
) -> None:
    """Enter a mulch laid.

    Its kind, and its depth by the ruler or the sacks it took.
    """
    from soakbook.services.entries import mulch

    if SO_MANY.fullmatch(kind) and len(beds) > 1:  # `bark 12 sacks`, the amount in two words
        beds, kind, amount = beds[:-1], beds[-1], kind + amount
    under = options.either(**wetness)
    answers = mulch(
        entered.path,
        list(beds),
        kind,
        amount,
        wet=None if under is None else under == "wet",
        on=on,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    say(answers, as_json=entered.as_json)
