"""What the garden is: `plant`, `tap`, `person`, `restriction`, `rate`.

Options are passed on as typed; what they mean is read by the services.
"""

from typing import Any

import click

from soakbook.cli import completing, options, paper
from soakbook.cli.exits import NOTHING_CAME
from soakbook.cli.from_list import bring_in, list_options, said_list
from soakbook.cli.options import Command, Entered, Word
from soakbook.cli.told_page import say
from soakbook.errors import InputError
from soakbook.garden.records import FeltClass, HandMethod, Leaf, RestrictedSource, Source, Tool
from soakbook.services.cautions import CAUTIONS

YES = "yes"
ASKED = "-"
"""An address that is asked for, so that no shell remembers it."""
WATERED = {None: None, "watered_in": YES, "not_watered_in": "no"}
FELT = Word(FeltClass)
MOVE_SAYS = {"ball", "deep", "bare", "on", "name"}
"""Options of plants that were moved."""
WORDS = ("BED", "KIND", "COUNT")


def _plant_schema(typed: dict[str, Any]) -> str:
    """Which report these words ask for."""
    return "list" if "file" in typed else "told"


@click.command(
    cls=Command,
    examples=(
        'soakbook plant chapel "climbing rose" 6 --pot 7.5l --on 20mar',
        'soakbook plant dole "shrub rose" 14 --ball 45cm --on 3apr',
        'soakbook plant ride "hornbeam whip" 120 --bare --on 22jan',
        "soakbook plant dole clematis 2 --moved-from chapel --ball 30cm",
        "soakbook plant --from plan.csv --dry-run",
    ),
    caution=CAUTIONS["plant"],
)
@click.argument("bed", metavar="BED", required=False, shell_complete=completing.beds)
@click.argument("kind", metavar="KIND", required=False)
@click.argument("count", metavar="COUNT", required=False)
@click.option("--pot", metavar="SIZE", help="Out of a pot: 7.5l, 9cm.")
@click.option("--ball", metavar="WIDTH", help="Dug with a ball, a spade's depth: 45cm.")
@click.option("--deep", flag_value=YES, help="The ball was dug deeper than a spade.")
@click.option("--bare", flag_value=YES, help="Bare root.")
@click.option("--on", metavar="DATE", help="The day it was planted; else today.")
@click.option("--instead-of", metavar="DATE", help="The wrong day that --on puts right.")
@click.option("--name", metavar="NAME", help="What to call it, if not by its kind.")
@click.option("--as", "plant_class", metavar="CLASS", help="Drinks like: shrub, perennial, tree.")
@click.option("--mix", metavar="MIX", help="What is in the pot: peat-free, loam-based.")
@click.option("--dug-from", metavar="SOIL", help="The soil of a dug ball.")
@click.option("--leaves", metavar="WIDTH", help="Across now, one plant: 35cm.")
@click.option("--leaves-full", metavar="WIDTH", help="Across when grown: 90cm.")
@click.option("--weeks", metavar="WEEKS", help="Until then.")
@click.option(
    "--leaf",
    metavar="KIND",
    type=Word(Leaf),
    help=f"{Word(Leaf).listed}.",
)
@click.option("--leaf-out", metavar="DATE", help="The day its leaf is out.")
@click.option("--leaf-fall", metavar="DATE", help="The day its leaf is off.")
@click.option("--spacing", metavar="SIZE", help="Ground of one plant: 0.25m2, 50cm.")
@click.option("--usual", metavar="AMOUNT", help="Your usual dose for one plant: 7l.")
@click.option("--watered-in", is_flag=True, help="A pot's volume, slowly.")
@click.option("--not-watered-in", is_flag=True, help="Not watered in.")
@click.option("--bowl", metavar="FOUND", help="A bowl of earth round each: made, none.")
@click.option("--heft", metavar="FOUND", help="The pots lifted before planting: light, heavy.")
@click.option("--ball-felt", metavar="CLASS", type=FELT, help="The ball, felt when planted.")
@click.option("--bed-felt", metavar="CLASS", type=FELT, help="The bed, felt when planted.")
@click.option("--right", flag_value=YES, help="What is guessed of ball and leaves is right.")
@click.option("--replaces", metavar="P", help="The planting whose dead these stand in for.")
@click.option(
    "--moved-from",
    metavar="BED",
    shell_complete=completing.beds,
    help="The bed from which they were dug up; KIND is their name there.",
)
@list_options(again=True)
@options.written(report=_plant_schema)
def plant_command(
    bed: str | None,
    kind: str | None,
    count: str | None,
    watered_in: bool,
    not_watered_in: bool,
    entered: Entered,
    **typed: Any,
) -> None:
    """Enter what was planted: so many like plants in one bed; or a whole list.

    What is not said is taken from the tables of the trade, and shown as a guess. A list is a CSV
    file, or pasted, with a line of column names; it goes in whole or not at all.
    """
    from soakbook.services.setup import plant, plant_list

    listed = said_list(typed)
    if listed is not None:
        if bed or watered_in or not_watered_in or options.said(typed):
            raise click.UsageError("a list says all of it: only --from and what is about it")
        bring_in(listed, entered, plant_list)
        return
    if bed is None or kind is None or count is None:
        missing = next(
            word for word, said in zip(WORDS, (bed, kind, count), strict=True) if not said
        )
        raise click.UsageError(f"Missing argument {missing!r}: BED KIND COUNT, or --from FILE")
    watered = options.either(watered_in=watered_in, not_watered_in=not_watered_in)
    said = options.said({**typed, "watered_in": WATERED[watered]})
    if "moved_from" in said:
        answer = _moved(entered, (bed, kind, count), said)
    else:
        answer = plant(entered.path, bed, kind, count, now=options.now(), by=entered.by, **said)
    say(answer, as_json=entered.as_json)


def _moved(entered: Entered, words: tuple[str, str, str], said: dict[str, str]) -> dict[str, Any]:
    """Enter plants that stood in another bed."""
    from soakbook.services.setup import move

    there, (to, kind, count) = said.pop("moved_from"), words
    if said.keys() - MOVE_SAYS:
        raise click.UsageError(
            "--moved-from goes with --ball, --deep, --bare, --on and --name; all else is as it was"
        )
    return move(
        entered.path, there, kind, to=to, count=count, now=options.now(), by=entered.by, **said
    )


@click.command(
    cls=Command,
    examples=(
        "soakbook tap A --fill 10l 43s",
        "soakbook tap B --flow 11l/min --method lance --reach 30m",
        "soakbook tap barrow --source barrow --tank 60l --flow 6l/min",
    ),
    caution=CAUTIONS["tap"],
)
@click.argument("key", metavar="KEY")
@click.option("--flow", metavar="FLOW", help="With the lance you use: 14l/min.")
@click.option("--fill", nargs=2, metavar="AMOUNT TIME", help="A can filled with it: 10l 43s.")
@click.option("--on", metavar="DATE", help="The day of that test; else today.")
@click.option(
    "--source",
    metavar="SOURCE",
    type=Word(Source),
    help=f"{Word(Source).listed}.",
)
@click.option(
    "--method",
    metavar="METHOD",
    type=Word(HandMethod),
    help=f"{Word(HandMethod).listed}.",
)
@click.option("--tank", metavar="AMOUNT", help="What a butt, tank or barrow holds: 210l.")
@click.option("--reach", metavar="WAY", help="As far as its hose goes: 30m.")
@options.written()
def tap_command(
    key: str, fill: tuple[str, str] | None, entered: Entered, **typed: str | None
) -> None:
    """Add a tap, or enter a new test of its flow; with its key alone, say what is known of it.

    A new tap needs its flow, a fill, its source or its tank.
    """
    from soakbook.services.setup import tap

    said = options.said({**typed, "fill": " ".join(fill) if fill else None})
    if "flow" in said and "fill" in said:
        raise InputError("flow", said["flow"], "either --flow or --fill, not both")
    answer = tap(entered.path, key, now=options.now(), by=entered.by, **said)
    say(answer, as_json=entered.as_json)


@click.command(
    cls=Command,
    examples=(
        "soakbook person Ann --days mon,wed,fri --hours 2h",
        "soakbook person Ann --away 9jul..17jul",
        "soakbook person Joe --from 9jul --until 17jul --hours 45min",
        "soakbook person Tom --mail tom@example.org     a test message goes there",
        "soakbook person Tom --push -                   asks for the address, unseen",
    ),
)
@click.argument("name", metavar="NAME")
@click.option("--days", metavar="DAYS", help='mon-sat; else "every day".')
@click.option("--hours", metavar="TIME", help="For the round, in a day: 2h.")
@click.option("--away", metavar="SPAN", help="Days on which they cannot come: 9jul..17jul.")
@click.option("--from", "first", metavar="DATE", help="They come from this day on.")
@click.option("--until", "last", metavar="DATE", help="They come up to this day.")
@click.option("--head", flag_value=YES, help="Told what concerns the whole garden.")
@click.option("--mail", metavar="ADDRESS", help='Where reminders go; "" takes it away.')
@click.option("--push", metavar="URL", help="The same for a phone or a webhook; - asks for it.")
@options.written()
def person_command(
    name: str, mail: str | None, push: str | None, entered: Entered, **typed: str | None
) -> int:
    """Add somebody who waters, or change when they come and where reminders reach them.

    Addresses lie in a file of your own, never in the book. A push address is one of Apprise's, such as ntfys://TOPIC
    or jsons://HOST/PATH. Whoever gets an address gets a test message.
    """
    from soakbook.services.setup import person

    said = options.said(typed)
    if mail is None and push is None:
        answer = person(entered.path, name, now=options.now(), by=entered.by, **said)
        say(answer, as_json=entered.as_json)
        return 0
    from soakbook.reminders.reaching import check_reach, reach, send_tests

    if push == ASKED:
        push = paper.ask_hidden("Where do pushes go")
    check_reach(mail, push)
    answer = person(entered.path, name, now=options.now(), by=entered.by, **said)
    known = reach(entered.path, name, mail=mail, push=push)
    came, well = send_tests(entered.path, options.now(), known) if mail or push else ([], True)
    say({**answer, "say": [*answer["say"], *came]}, as_json=entered.as_json)
    return 0 if well else NOTHING_CAME


@click.command(
    cls=Command,
    examples=(
        "soakbook restriction 18jul 5sep --tool hose --source mains \\",
        '    --text "No hosepipe from the mains in gardens."',
    ),
    caution=CAUTIONS["restriction"],
)
@click.argument("first", metavar="FROM")
@click.argument("last", metavar="UNTIL")
@click.option(
    "--tool",
    metavar="TOOL",
    type=Word(Tool),
    help=f"What is barred: {Word(Tool).listed}.",
)
@click.option(
    "--source",
    metavar="SOURCE",
    type=Word(RestrictedSource),
    help=f"Drawing on {Word(RestrictedSource).listed}.",
)
@click.option("--text", metavar="TEXT", help="The rule in its own words.")
@options.written()
def restriction_command(first: str, last: str, entered: Entered, **typed: str | None) -> None:
    """Enter a rule on watering, which the round then keeps to.

    Both days are included.
    """
    from soakbook.services.setup import restriction

    said = options.said(typed)
    answer = restriction(entered.path, first, last, now=options.now(), by=entered.by, **said)
    say(answer, as_json=entered.as_json)


@click.command(
    cls=Command,
    examples=("soakbook rate 1apr water 4.00", "soakbook rate 1apr hour 14.00 --currency GBP"),
)
@click.argument("day", metavar="DATE")
@click.argument("what", metavar="water|hour", type=click.Choice(["water", "hour"]))
@click.argument("price", metavar="PRICE")
@click.option("--currency", metavar="CODE", help="As last said, at first GBP.")
@options.written()
def rate_command(day: str, what: str, price: str, entered: Entered, **typed: str | None) -> None:
    """Enter the price of water or work from a day on.

    Water by the cubic metre, work by the hour.
    """
    from soakbook.services.setup import rate

    said = options.said(typed)
    answer = rate(entered.path, day, what, price, now=options.now(), by=entered.by, **said)
    say(answer, as_json=entered.as_json)
