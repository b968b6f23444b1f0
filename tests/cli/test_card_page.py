"""The paper card: for a cold hand and a pencil."""

import pytest

from soakbook.cli.card_page import COLUMNS, cards
from tests.cli.reports import Report, a_round, call, planting, resting
from tests.cli.wet_morning import wet_morning
from tests.cli.words import amiss

ANNS = """\
THE ROUND                             Thursday 15 May 2031
The Corrody, Marl Hatherby                         for Ann
115 L, about 25 min in all
Tom has this card too: share it out before you start.

 1  CHAPEL WALL                               tap A, 5 min
    6 climbing roses                         2 L each, 9 s
    5 clematis and wall shrubs               1 L each, 4 s
    On the ball only.
    given [            ]   felt ball / bed [             ]

 2  INFIRMARY SHADE                          tap B, 7½ min
    Feel one first.
    28 hydrangeas and ferns                  1 L each, 5 s
    On the ball only.
    given [            ]   felt ball / bed [             ]

 3  SCHOOLROOM BED                 7 cans, rose on, 12 min
    140 perennials and grasses                    ½ L each
    On the ball only.
    given [            ]   felt ball / bed [             ]

Nothing on: Dole Bed (too wet).
Stop when water stands. Ball dry and bed wet: only the
ball. If in doubt, feel. Limp at three, look again at
dusk. Limp at dawn, tell ________________ ."""


def test_each_who_comes_has_a_card() -> None:
    anns, toms = map(str, cards(wet_morning()))
    assert anns == ANNS
    assert toms == ANNS.replace("for Ann", "for Tom").replace("Tom has", "Ann has")


def test_no_card_is_wider_than_its_sheet() -> None:
    long = call(name="The Border Along The Old Bowling Green And The Summer House")
    for card in (*cards(wet_morning()), *cards(a_round(calls=[long]))):
        assert amiss(str(card), COLUMNS) == []


def test_nobody_down_to_come_leaves_a_line_for_the_name() -> None:
    (card,) = cards(a_round(people=[]))
    assert str(card).splitlines()[1].endswith("  for ________________")


def test_nothing_to_water_is_a_card_too() -> None:
    (card,) = cards(a_round(calls=[resting()], people=["Ann"]))
    assert "Nothing to water." in str(card)
    assert "[" not in str(card)


def test_other_ways_of_giving_it() -> None:
    calls = [
        call(means="barrow", tanks=7, plantings=[planting(seconds_each=None)]),
        call(order=2, means="none", pours=2, pour_wait_min=20),
        call(order=3, verdict="feel", litres=0.0, aim=None, plantings=[]),
        call(order=4, plantings=[planting(), planting(planting="ferns", dropped=True)]),
    ]
    (card,) = cards(a_round(calls=calls))
    lines = str(card).splitlines()
    blank = lines.index("")
    assert lines[blank + 1] == " 1  CHAPEL WALL                      7 barrow tanks, 5 min"
    assert lines[blank + 2] == "    6 climbing roses                              2 L each"
    assert " 2  CHAPEL WALL" in lines
    assert "    6 climbing roses                  2 L each, 4 s a pour" in lines
    assert "    Two pours of 8½ L, 20 min apart." in lines
    assert " 3  CHAPEL WALL                                       feel" in lines
    assert "    Feel one first." in lines
    assert "ferns" not in str(card)


def test_a_bed_that_is_only_felt_has_no_box_for_what_was_given() -> None:
    (card,) = cards(a_round(calls=[call(verdict="feel", litres=0.0, aim=None)]))
    boxes = [line for line in str(card).splitlines() if "[" in line]
    assert boxes == ["    felt ball / bed [             ]"]


def test_a_drip_is_only_opened_and_closed() -> None:
    of = call(means="drip", minutes=40.0, pours=3, pour_wait_min=20)
    (card,) = cards(a_round(calls=[of]))
    lines = str(card).splitlines()
    assert " 1  CHAPEL WALL                drip, tap A open for 40 min" in lines
    assert "    6 climbing roses                              2 L each" in lines
    assert "pours" not in str(card)


def test_beds_held_back_and_those_there_is_no_time_for_stand_at_the_foot() -> None:
    """A bed to be re-wetted is held back too, but it is on the walk."""
    held = {"verdict": "held_back", "plantings": [planting(litres_each=0.0)]}
    one = planting(planting="The Maple", count=1, litres_each=60.0, dropped=True)
    ferns = planting(planting="fern", count=8, dropped=True)
    calls = [
        call(verdict="held_back", dose_kind="re_wet"),
        resting(name="Dole Bed", **held),
        resting(name="Low Bed", **held),
        resting(name="Ride", verdict="soak", dropped=True, plantings=[one, ferns, planting()]),
    ]
    (card,) = cards(a_round(calls=calls))
    foot = " ".join(str(card).rpartition("\n\n")[2].splitlines())
    assert foot.startswith(
        "Nothing on: Dole Bed and Low Bed (too wet). "
        "If there is time: Ride, 1 The Maple 60 L, 8 ferns 2 L each. Stop when"
    )


def test_heat_ahead_is_told_to_who_has_only_the_card_and_who_made_the_weather_is_named() -> None:
    finding: Report = {
        "kind": "heat",
        "bed": None,
        "say": "Heat: 31 degrees likely tomorrow.",
        "names": [],
    }
    other = {"kind": "no_word", "bed": "low", "say": "Low Bed: no word.", "names": ["Low Bed"]}
    weather = a_round()["weather"] | {"credits": ["Weather data by Open-Meteo.com."]}
    (card,) = cards(a_round(findings=[other, finding], weather=weather))
    foot = " ".join(str(card).rpartition("\n\n")[2].splitlines())
    assert foot.startswith("Heat: 31 degrees likely tomorrow. Stop when")
    assert foot.endswith(" . Weather data by Open-Meteo.com.")
    assert "no word" not in str(card)


NO_WEATHER = {"kind": "no_weather", "bed": None, "say": "No weather.", "names": ["Wall", "Low Bed"]}
NOT_RECKONED = {"kind": "not_reckoned", "bed": "ride", "say": "Too late.", "names": ["Ride"]}


def test_where_nothing_is_known_the_card_has_the_beds_to_feel_and_not_that_nothing_is_wanted() -> (
    None
):
    (card,) = cards(a_round(calls=[], findings=[NO_WEATHER]))
    assert "Nothing to water" not in str(card)
    assert "Feel Wall and Low Bed: water what is dry." in " ".join(str(card).split())
    lines = str(card).splitlines()
    place = lines.index(" -  LOW BED                                           feel")
    assert lines[place + 1] == "    given [            ]   felt ball / bed [             ]"
    assert amiss(str(card), COLUMNS) == []


@pytest.mark.parametrize("calls", [[call()], [resting()]])
def test_a_bed_that_is_not_reckoned_stands_beside_those_that_are(calls: list[Report]) -> None:
    (card,) = cards(a_round(calls=calls, findings=[NOT_RECKONED]))
    assert "Nothing can be said of Ride: feel it, and water what" in str(card)
    assert " -  RIDE " in str(card)
    assert "Nothing to water." not in str(card)


def test_what_there_is_no_time_for_is_not_nothing() -> None:
    totals = {**a_round()["totals"], "dropped": 1}
    calls = [resting(verdict="soak", dropped=True, plantings=[planting(dropped=True)])]
    (card,) = cards(a_round(calls=calls, totals=totals))
    assert "No time for 1 planting that wants water." in str(card)
    assert "Nothing to water" not in str(card)


@pytest.mark.parametrize(
    ("measured_to", "words"),
    [("2031-05-06", "No weather since Tue 6: trust"), (None, "No weather measured: trust")],
)
def test_old_weather_and_what_will_not_last_are_told(measured_to: str | None, words: str) -> None:
    old: Report = {
        "kind": "weather_old",
        "bed": None,
        "say": "The book has seen none.",
        "names": [],
    }
    short: Report = {
        "kind": "will_not_last",
        "bed": "low",
        "say": "Will not.",
        "names": ["Low Bed"],
    }
    other = {**short, "bed": "dole", "names": ["Dole Bed"]}
    weather = {**a_round()["weather"], "measured_to": measured_to}
    (card,) = cards(a_round(findings=[short, other, old], weather=weather))
    foot = " ".join(str(card).rpartition("\n\n")[2].splitlines())
    assert (
        f"{words} your finger first. Will not last to the next visit: Low Bed and Dole Bed. Soak"
        in foot
    )
