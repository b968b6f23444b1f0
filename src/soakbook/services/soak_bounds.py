"""What one plant can have been given: a soak that wets nothing, or drowns all, is a slip of the finger."""

from soakbook.errors import InputError
from soakbook.garden.entries import Loss, Soak
from soakbook.garden.records import Planting
from soakbook.quantities import saying
from soakbook.quantities.conversions import litres_from_depth
from soakbook.quantities.saying import plural
from soakbook.reckoning.advice.dose import water_in_l
from soakbook.reckoning.simulation.watering import soak_shares
from soakbook.services.desk import Desk
from soakbook.services.subjects import Subject

# common practice, no source
LEAST_L = 0.05
MUCH_L = 100.0
MOST_TIMES = 20
"""Refused is what is more than `MUCH_L` a plant and so many times what ball and bowl could want."""


def check_each(desk: Desk, about: Subject, soak: Soak) -> None:
    """Refuse a watering that no plant can have been given.

    Parameters
    ----------
    desk : Desk
    about : Subject
        What was watered.
    soak : Soak
        As it is to be entered.

    Raises
    ------
    InputError
        Names the litres each, how many plants, and what one could want.
    """
    losses = [one for one in desk.pages.entries if isinstance(one, Loss)]
    counts = {planting.uid: count for planting, count in about.living}
    shares = soak_shares(soak, desk.pages, losses, desk.zone)
    for planting, each_l in shares:
        those = (
            f"each of the {counts[planting.uid]:,} {plural(planting.name, counts[planting.uid])}"
        )
        if each_l < LEAST_L:
            least_l = soak.litres * LEAST_L / each_l
            right = f"at least {least_l:.2g} L, {LEAST_L:g} for {those}: that wets nothing"
            raise InputError("amount", soak.typed, right)
        most_l = max(MUCH_L, MOST_TIMES * could_want_l(planting))
        if each_l > most_l:
            right = (
                f"at most {saying.litres(soak.litres * most_l / each_l)}: it comes to "
                f"{saying.litres(each_l)} for {those}, and ball and bowl of one could want about "
                f"{saying.litres(could_want_l(planting))}"
            )
            raise InputError("amount", soak.typed, right)


def could_want_l(planting: Planting) -> float:
    """A ball's volume, or what puddles a plant in, and a bowlful on top."""
    bowl_mm = 1000 * (planting.bowl_depth_m or 0.0)
    bowl_l = litres_from_depth(bowl_mm, planting.bowl_m2 or 0.0)
    return max(planting.ball_volume_l, water_in_l(planting)) + bowl_l
