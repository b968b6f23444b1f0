"""`feel`: what a finger found, or a hole dug to look."""

import click

from soakbook.cli import asking, options
from soakbook.cli.commands.entries import bed_entry, several_beds
from soakbook.cli.options import FELT, Command, Entered
from soakbook.cli.told_page import say
from soakbook.garden.records import FeltClass
from soakbook.services.cautions import CAUTIONS

ball_felt = click.option(
    "--ball", metavar="CLASS", type=FELT, help="A finger in the root ball, two knuckles down."
)
bed_felt = click.option(
    "--bed", metavar="CLASS", type=FELT, help="A hand's breadth outside the ball."
)


@click.command(
    cls=Command,
    examples=(
        "soakbook feel chapel --ball dry --bed moist",
        "soakbook feel dole --ball wet --bed sour --planting roses",
        "soakbook feel bank --ball moist --unsure",
        "soakbook feel chapel --look 20cm      a hole an hour after watering",
    ),
    caution=CAUTIONS["feel"],
)
@several_beds
@ball_felt
@bed_felt
@click.option("--unsure", is_flag=True, help="It could be the next word too.")
@click.option("--look", "wet_to", metavar="DEPTH", help="A hole there is wet down to this: 20cm.")
@bed_entry
def feel_command(
    beds: tuple[str, ...],
    ball: FeltClass | None,
    bed: FeltClass | None,
    unsure: bool,
    wet_to: str | None,
    entered: Entered,
) -> None:
    """Enter what a finger found: dust, dry, moist, wet or sour.

    Or, by --look, what a hole shows a hand's breadth from a plant: how far down the soil is wet.
    """
    if wet_to is not None:
        if ball or bed or unsure:
            raise click.UsageError("a look is entered by itself: leave out --ball, --bed, --unsure")
        _look(beds, wet_to, entered)
        return
    from soakbook.services.entries import feel

    asking.make_sure(entered, ball, bed)
    answers = feel(
        entered.path,
        list(beds),
        ball=ball,
        bed=bed,
        planting=entered.planting,
        unsure=unsure,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    say(answers, as_json=entered.as_json)


def _look(beds: tuple[str, ...], wet_to: str, entered: Entered) -> None:
    from soakbook.services.entries import look

    answers = look(
        entered.path,
        list(beds),
        wet_to,
        planting=entered.planting,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    say(answers, as_json=entered.as_json)
