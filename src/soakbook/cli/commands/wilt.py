"""Limp leaves, and what is asked after them: `wilt`."""

import click

from soakbook.cli import asking, options
from soakbook.cli.commands.entries import bed_entry, several_beds
from soakbook.cli.commands.feel import ball_felt, bed_felt
from soakbook.cli.options import Command, Entered
from soakbook.cli.told_page import say
from soakbook.garden.records import FeltClass
from soakbook.services.cautions import CAUTIONS


@click.command(
    cls=Command,
    examples=(
        "soakbook wilt dole --at 15:00",
        "soakbook wilt infirm --planting hydrangeas --upright",
        "soakbook wilt dole --ball dry --bed wet",
    ),
    caution=CAUTIONS["wilt"],
)
@several_beds
@click.option("--upright", is_flag=True, help="Looked at again, and they stand.")
@ball_felt
@bed_felt
@bed_entry
def wilt_command(
    beds: tuple[str, ...],
    upright: bool,
    ball: FeltClass | None,
    bed: FeltClass | None,
    entered: Entered,
) -> None:
    """Enter limp leaves, with the hour; or that they stand again.

    At three in the sun they say little, at dawn much. What a finger found in the same sitting may be
    put in. At a terminal it asks on, bed by bed, until there is one thing to do; Enter leaves off.
    """
    from soakbook.services.entries import wilt

    asking.make_sure(entered, ball, bed)
    answers = wilt(
        entered.path,
        list(beds),
        planting=entered.planting,
        upright=upright,
        ball=ball,
        bed=bed,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    say(answers, as_json=entered.as_json)
    asking.ask_on(entered, answers)
