"""What a hand does in each pour, and the waits between pours."""

import pytest

from soakbook.cli import pouring
from soakbook.cli.paper import Page
from soakbook.cli.round_page import write_round
from tests.cli.reports import ROUND, Report, a_round, call, planting
from tests.cli.test_round_page import printed_call

POURED = {"pours": 4, "pour_wait_min": 38, "litres": 62.0, "minutes": 4.5}
CLIMBERS = [
    planting(litres_each=7.0, seconds_each=30),
    planting(planting="clematis and wall shrubs", count=5, litres_each=4.0, seconds_each=17),
]


def head(*calls: Report) -> str:
    """The sum of a round of these beds."""
    page = Page(80)
    minutes = sum(one["minutes_on_foot"] for one in calls)
    totals = {**ROUND["totals"], "minutes_on_foot": minutes, "hours_available": 5.0}
    write_round(page, a_round(calls=list(calls), totals=totals))
    return str(page).split("\n\n")[1].replace("\n", " ")


def test_seconds_and_litres_are_those_of_one_pour() -> None:
    """7 L and 30 s in four pours are 7½, said as 8 s each time; 62 L are 15½ L a pour."""
    lines = printed_call(plantings=CLIMBERS, **POURED)
    assert lines[1] == (
        "    6 climbing roses 7 L each, 8 s a pour; 5 clematis and wall shrubs 4 L, 4 s"
    )
    assert "    Four pours of 15½ L, 40 min apart. " in "\n".join(lines)


def test_the_seconds_of_all_pours_make_the_litres() -> None:
    """At 14 L/min, as near as whole seconds come."""
    seconds = [int(pouring.by_the_plant(call(**POURED), one).split()[0]) for one in CLIMBERS]
    poured = sum(4 * s * one["count"] * 14 / 60 for s, one in zip(seconds, CLIMBERS, strict=True))
    assert poured == pytest.approx(62.0, rel=0.05)


def test_by_can_a_pour_is_litres() -> None:
    of = planting(litres_each=3.0, seconds_each=None)
    lines = printed_call(
        means="cans", pours=2, pour_wait_min=20, litres=18.0, plantings=[of], pour_meanwhile="Ride"
    )
    assert lines[1] == "    6 climbing roses 3 L each, 1½ L a pour"
    assert "Two pours of 9 L, 20 min apart: go on as far as Ride between them." in lines[3]


def test_a_pour_that_is_not_even_is_about_so_much() -> None:
    lines = printed_call(pours=3, pour_wait_min=20, litres=62.0)
    assert "Three pours of about 21 L, 20 min apart." in lines[3]
    assert "Seven pours" in printed_call(pours=7, pour_wait_min=20)[3]


def test_a_barrow_has_no_minutes_of_hose_in_a_pour() -> None:
    text = " ".join(line.strip() for line in printed_call(means="barrow", tanks=7, **POURED))
    assert "hose" not in text
    assert "Four pours of 15½ L" in text


def test_by_drip_there_are_no_pours_and_no_seconds() -> None:
    lines = printed_call(means="drip", plantings=CLIMBERS, **POURED)
    assert lines[0].endswith("  62 L    drip, tap A open for 4½ min")
    assert lines[1] == "    6 climbing roses 7 L each; 5 clematis and wall shrubs 4 L"
    assert not any("pour" in line for line in lines)


def test_waits_that_nothing_fills_are_said_beside_the_work() -> None:
    """Two waits of 40 min at the last bed; 6 min of work come after the first of a walk of two."""
    wet = call(pours=3, pour_wait_min=40, minutes_on_foot=9.0)
    after = call(order=2, minutes_on_foot=6.0)
    assert head(after, wet) == (
        "2 beds to soak: 34 L, about 15 min in all and about 1 h 20 of waiting between pours. "
        "You have 5 h."
    )
    assert pouring.waiting_min([wet, after]) == 80 - 6
    assert pouring.waiting_min([wet, wet]) == 80


@pytest.mark.parametrize(
    "calls",
    [
        [call(pours=2, pour_wait_min=20), call(order=2, minutes_on_foot=15.0)],
        [call(pours=2, pour_wait_min=20), call(order=2, minutes_on_foot=60.0)],
        [call(pours=3, pour_wait_min=60, means="drip")],
        [call()],
    ],
    ids=["filled but for five minutes", "filled", "drip", "one pour"],
)
def test_waits_that_hardly_add_to_the_work_are_not_said(calls: list[Report]) -> None:
    assert "waiting" not in head(*calls)
