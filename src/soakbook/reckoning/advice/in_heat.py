"""What to do on the eve of heat and in it: what to soak and shade beforehand, whom to look at twice, and the people.

The litres are the reckoning's and come with the beds; whether heat is coming is `garden.heat`. On days before the eve
there is nothing to say here: the round's week says it.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from soakbook.garden.heat import HeatSpell
from soakbook.garden.heat_words import PEOPLE_IN_HEAT, heat_words
from soakbook.quantities.saying import litres, names
from soakbook.reckoning.advice.report import Stage

LIVING_IN_THEIR_BALLS: Stage = "settling"


class BedInHeat(NamedTuple):
    """A bed as it will stand tomorrow morning."""

    name: str
    litres: float
    """What it is likely to want then, by the reckoning; 0 where nothing."""
    under_four_weeks: bool
    """Whether anything in it was planted less than four weeks ago."""
    stage: Stage
    """Of its youngest planting: settling ones cannot drink from the bed and are shaded first."""


def said_in_heat(heat: HeatSpell | None, today: date, beds: Sequence[BedInHeat]) -> tuple[str, ...]:
    """What to say on the day before heat and on each of its days, a sentence or two each, the people last.

    The evening before or at dawn, nothing between 11 and 5 but a rescue, and plants under four weeks looked at twice:
    common practice, no source.

    Parameters
    ----------
    heat
        The heat that is there or ahead, if any.
    today
        The garden's day.
    beds
        In the order of the walk.
    """
    if heat is None or not (heat.eve or heat.first <= today):
        return ()
    young = [bed.name for bed in beds if bed.under_four_weeks]
    said = [heat_words(heat, today)]
    if heat.eve:
        said.append(_soaks(beds))
    said.append("No round between 11 and 5; only what collapses is helped at once.")
    shades = [bed.name for bed in beds if bed.stage == LIVING_IN_THEIR_BALLS]
    if heat.eve and shades:
        said.append(f"Shade what lives in its ball yet: {names(shades)}.")
    if young:
        said.append(f"Look twice a day at what is under 4 weeks in the ground: {names(young)}.")
    return (*said, PEOPLE_IN_HEAT)


def _soaks(beds: Sequence[BedInHeat]) -> str:
    soaks = [f"{bed.name} {litres(bed.litres)}" for bed in beds if bed.litres > 0]
    if not soaks:
        return "By the reckoning no bed wants water before it."
    return f"Soak this evening or by 8 tomorrow: {', '.join(soaks)}."
