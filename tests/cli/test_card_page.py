"""The paper card: for a cold hand and a pencil."""

from soakbook.cli.card_page import COLUMNS, cards
from tests.cli.reports import a_round, call, planting, resting
from tests.cli.wet_morning import wet_morning
from tests.cli.words import amiss

ANNS = """\
THE ROUND                             Thursday 15 May 2031
The Corrody, Marl Hatherby                         for Ann
115 L, about 25 min in all
Tom has this card too: share it out before you start.

 1  CHAPEL WALL                                      tap A
    6 climbing roses                         2 L each, 9 s
    5 clematis and wall shrubs               1 L each, 4 s
    On the ball only.
    given [            ]   felt ball / bed [             ]

 2  INFIRMARY SHADE                                  tap B
    28 hydrangeas and ferns                  1 L each, 5 s
    On the ball only.
    Feel one first.
    given [            ]   felt ball / bed [             ]

 3  SCHOOLROOM BED                         7 cans, rose on
    140 perennials and grasses                    ½ L each
    On the ball only.
    given [            ]   felt ball / bed [             ]

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
    assert lines[4] == " 1  CHAPEL WALL                             7 barrow tanks"
    assert lines[5] == "    6 climbing roses                              2 L each"
    assert " 2  CHAPEL WALL" in lines
    assert "    Two pours. Pour, wait 20 min, pour again." in lines
    assert " 3  CHAPEL WALL                                       feel" in lines
    assert "    Feel one first." in lines
    assert "ferns" not in str(card)
