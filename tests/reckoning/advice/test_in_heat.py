"""What is said on the eve of heat and in it, and on no day before."""

from datetime import date

import pytest

from soakbook.garden.heat import HeatSpell
from soakbook.garden.heat_words import PEOPLE_IN_HEAT
from soakbook.reckoning.advice.in_heat import BedInHeat, said_in_heat

HEAT = HeatSpell(date(2031, 7, 8), date(2031, 7, 14), 34.0, 0, True, False)
EVE = date(2031, 7, 7)
BEDS = (
    BedInHeat("Chapel Wall", 30.0, False, "settling"),
    BedInHeat("Bakehouse Bank", 60.0, False, "knitting"),
    BedInHeat("Well Court", 0.0, False, "rooting_out"),
    BedInHeat("Schoolroom", 182.5, True, "settling"),
)


def test_what_to_soak_what_to_shade_and_the_people_last() -> None:
    said = said_in_heat(HEAT, EVE, BEDS)
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
    said = said_in_heat(HEAT, EVE, [BEDS[2]])
    assert said[1] == "By the reckoning no bed wants water before it."
    assert not any("Shade" in one or "twice" in one for one in said)
    assert said[-1] == PEOPLE_IN_HEAT


@pytest.mark.parametrize(
    ("today", "begun"), [(8, "Heat from today"), (10, "Heat since Tue 8")], ids=["first", "third"]
)
def test_on_each_day_of_it_until_when_and_whom_to_look_at(today: int, begun: str) -> None:
    """What was to be soaked and shaded beforehand is the round's own by then."""
    said = said_in_heat(HEAT._replace(eve=False), date(2031, 7, today), BEDS)
    assert said == (
        f"{begun}, likely to Mon 14, up to 34 °C.",
        "No round between 11 and 5; only what collapses is helped at once.",
        "Look twice a day at what is under 4 weeks in the ground: Schoolroom.",
        PEOPLE_IN_HEAT,
    )


def test_before_the_eve_and_without_heat_nothing_is_said() -> None:
    assert said_in_heat(None, EVE, BEDS) == ()
    assert said_in_heat(HEAT._replace(eve=False), date(2031, 7, 6), BEDS) == ()
