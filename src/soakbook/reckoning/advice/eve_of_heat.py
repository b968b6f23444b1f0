"""What to do on the eve of heat: what to soak beforehand, what to shade, whom to look at twice, and the people.

The litres are the reckoning's and come with the beds; whether heat is coming is `garden.heat`. On any day but the eve
there is nothing to say here: the round says it.
"""

from collections.abc import Sequence
from typing import NamedTuple

from soakbook.garden.heat import HeatSpell
from soakbook.garden.heat_words import PEOPLE_IN_HEAT, heat_words
from soakbook.garden.runs import ONE_DAY
from soakbook.quantities.saying import litres, names
from soakbook.reckoning.advice.report import Stage

LIVING_IN_THEIR_BALLS: Stage = "settling"


class BedBeforeHeat(NamedTuple):
    """A bed as it will stand on the first hot morning."""

    name: str
    litres: float
    """What it is likely to want then, by the reckoning; 0 where nothing."""
    under_four_weeks: bool
    """Whether anything in it was planted less than four weeks ago."""
    stage: Stage
    """Of its youngest planting: settling ones cannot drink from the bed and are shaded first."""


def eve_of_heat(heat: HeatSpell | None, beds: Sequence[BedBeforeHeat]) -> tuple[str, ...]:
    """What to say on the day before heat, a sentence or two each, the people last; nothing on other days.

    The evening before or at dawn, nothing between 11 and 5 but a rescue, and plants under four weeks looked at twice:
    common practice, no source.

    Parameters
    ----------
    heat
        The heat ahead by the forecast, if any.
    beds
        In the order of the walk.
    """
    if heat is None or not heat.eve:
        return ()
    soaks = [f"{bed.name} {litres(bed.litres)}" for bed in beds if bed.litres > 0]
    shades = [bed.name for bed in beds if bed.stage == LIVING_IN_THEIR_BALLS]
    young = [bed.name for bed in beds if bed.under_four_weeks]
    said = [heat_words(heat, heat.first - ONE_DAY)]
    if soaks:
        said.append(f"Soak this evening or by 8 tomorrow: {', '.join(soaks)}.")
    else:
        said.append("By the reckoning no bed wants water before it.")
    said.append("No round between 11 and 5; only what collapses is helped at once.")
    if shades:
        said.append(f"Shade what lives in its ball yet: {names(shades)}.")
    if young:
        said.append(f"Look twice a day at what is under 4 weeks in the ground: {names(young)}.")
    return (*said, PEOPLE_IN_HEAT)
