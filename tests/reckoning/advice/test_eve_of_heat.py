"""What is said on the eve of heat, and only then."""

from datetime import date

import pytest

from soakbook.garden.heat import HeatSpell
from soakbook.garden.heat_words import PEOPLE_IN_HEAT
from soakbook.reckoning.advice.eve_of_heat import BedBeforeHeat, eve_of_heat

HEAT = HeatSpell(date(2031, 7, 8), date(2031, 7, 14), 34.0, 0, True, False)
BEDS = (
    BedBeforeHeat("Chapel Wall", 30.0, False, "settling"),
    BedBeforeHeat("Bakehouse Bank", 60.0, False, "knitting"),
    BedBeforeHeat("Well Court", 0.0, False, "rooting_out"),
    BedBeforeHeat("Schoolroom", 182.5, True, "settling"),
)


def test_what_to_soak_what_to_shade_and_the_people_last() -> None:
    said = eve_of_heat(HEAT, BEDS)
    assert said == (
        "Heat likely from Tue 8 to Mon 14, up to 34 °C.",
        "Soak this evening or by 8 tomorrow: Chapel Wall 30 L, Bakehouse Bank 60 L, Schoolroom 182 L.",
        "No round between 11 and 5; only what collapses is helped at once.",
        "Shade what lives in its ball yet: Chapel Wall and Schoolroom.",
        "Look twice a day at what is under 4 weeks in the ground: Schoolroom.",
        PEOPLE_IN_HEAT,
    )
    assert " ".join(said).count("call for medical help") == 1


def test_where_nothing_is_wanted_the_people_are_still_told() -> None:
    said = eve_of_heat(HEAT, [BEDS[2]])
    assert said[1] == "By the reckoning no bed wants water before it."
    assert not any("Shade" in one or "twice" in one for one in said)
    assert said[-1] == PEOPLE_IN_HEAT


@pytest.mark.parametrize("heat", [None, HEAT._replace(eve=False)])
def test_on_other_days_nothing_is_said(heat: HeatSpell | None) -> None:
    assert eve_of_heat(heat, BEDS) == ()
