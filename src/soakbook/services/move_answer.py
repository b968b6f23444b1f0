"""What a move of plants changed: what stands where, and what to do on the day."""

from typing import NamedTuple

from soakbook.garden.entries import Loss
from soakbook.garden.records import Bed, Planting
from soakbook.quantities import saying
from soakbook.services import guesses
from soakbook.services.desk import Desk
from soakbook.services.plant_answer import caution_of, on_the_day, what_of
from soakbook.services.room import crowded
from soakbook.services.subjects import standing
from soakbook.services.told import Report, told

TAKEN_BALL = "The ball is taken as wide as it came: --ball says how wide it was cut."


class Moved(NamedTuple):
    """Plants that were moved: from which bed and planting to which, and the entry that they are gone there."""

    there: Bed
    old: Planting
    here: Bed
    new: Planting
    gone: Loss


def answer(desk: Desk, moved: Moved, ball_said: bool) -> Report:
    """The answer to plants that were moved: what stands where, and what to do on the day.

    Parameters
    ----------
    desk : Desk
        With the pages as they are now.
    moved : Moved
        What was moved, and to where.
    ball_said : bool
        Whether somebody has measured the ball.
    """
    there, old, here, new, gone = moved
    stand = standing(desk.pages, old)
    left = (
        f"{stand:,} of them {'stands' if stand == 1 else 'stand'} there still"
        if stand
        else "none of them stand there now"
    )
    taken = "" if ball_said or new.origin != "dug" else TAKEN_BALL
    cut = ", in the ball that was cut" if new.origin == "dug" else ""
    say = (
        f"{there.name}: {saying.plants_of(old.name, gone.count)} moved to {here.name}; {left}.",
        f"{here.name}: {what_of(new, desk.today)}. They begin anew there{cut}.",
        taken,
        on_the_day(desk, here, new),
        crowded(desk.pages, here),
        caution_of(desk, new),
    )
    changed = {
        "entries": [gone.uid],
        "planting": new.name,
        "moved": gone.count,
        "standing": stand,
        "to": here.key,
        "guesses": tuple(guesses.of_planting(here, new)),
    }
    return told("move", there.key, say, changed)
