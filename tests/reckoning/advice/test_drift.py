"""Feels that keep coming out to one side: when it is said, what to look at, and when it is let go."""

from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry, Feel
from soakbook.garden.records import FeltClass
from soakbook.reckoning.advice.drift import drifts
from soakbook.reckoning.advice.feel_first import why_feel
from soakbook.reckoning.advice.rounds import Morning, morning_on
from soakbook.reckoning.simulation.touches import Change, Squared
from tests.reckoning.gardens import PLANTED, at, bed, feel, pages, roses, soak, weather


def squared(innovation: float, **fields: Any) -> Squared:
    """A feel that lies so many standard deviations off."""
    given: dict[str, Any] = {
        "day": PLANTED,
        "feel_uid": "a feel",
        "bed_uid": "bed",
        "planting_uid": "bed/roses",
        "store": "bed",
        "felt": "dry",
        "sodden": (False, False),
        "limit": 0.4,
        "innovation": innovation,
        "change": lambda: Change(0.6, 0.5, {}),
    }
    return Squared(**given | fields)


def test_the_sum_of_what_lies_beyond_a_quarter() -> None:
    """e of -1.5 each: 1.25, 2.5, 3.75, 5.0, and above 5 with the fifth; then it begins anew."""
    found = list(drifts(squared(-1.5) for _ in range(10)))
    assert [len(one.feels) for one in found] == [5, 5]
    assert all(one.drier for one in found)
    assert not list(drifts(squared(-1.5) for _ in range(4)))


def test_feels_to_both_sides_are_no_drift() -> None:
    assert not list(drifts(squared(e) for e in (-1.5, 1.5) * 20))
    assert not list(drifts(squared(0.25) for _ in range(200)))


def test_wetter_is_the_other_side() -> None:
    (found,) = drifts(squared(1.5) for _ in range(5))
    assert not found.drier


def test_a_ball_is_summed_by_its_planting_and_soil_by_its_bed() -> None:
    """Ten feels of soil, alternately beside two plantings, are one bed's; ten of balls are five each of two."""
    soil = [squared(-1.0, planting_uid=f"bed/{n % 2}") for n in range(8)]
    assert len(list(drifts(soil))) == 1
    balls = [squared(-1.0, planting_uid=f"bed/{n % 2}", store="ball") for n in range(8)]
    assert not list(drifts(balls))


def morning(felt: FeltClass, *more: AnyEntry, after_days: int = 1, litres: float = 60.0) -> Morning:
    """A bed of loam soaked every other day, its soil felt every third, seven times the same; the last on 25 May."""
    first = PLANTED + timedelta(days=6)
    feels = [feel(at(first + timedelta(days=3 * n), 6), bed=felt) for n in range(7)]
    last = first + timedelta(days=18)
    soaks = [soak(at(PLANTED + timedelta(days=n), 8), litres) for n in range(0, 40, 2)]
    book = pages([roses()], [*soaks, *feels, *more], beds=[bed()], days=weather(days=90))
    return morning_on(book, last + timedelta(days=after_days))


def findings(found: Morning) -> list[str]:
    return [one.say for one in found.findings if one.kind == "feels_disagree"]


@pytest.mark.parametrize(
    ("felt", "litres", "side"), [("dust", 60.0, "drier"), ("sour", 5.0, "wetter")]
)
def test_it_is_said_which_way_and_where_to_look(felt: FeltClass, litres: float, side: str) -> None:
    (say,) = findings(morning(felt, litres=litres))
    assert f"keep coming out {side} than reckoned. Look first at " in say
    assert "no setting is changed but by you" in say


def test_balls_are_named_by_their_planting() -> None:
    """Given a can a plant every day, and found dust every morning."""
    shrubs, others = roses(name="shrub"), roses(name="rose", count=3)
    days = [PLANTED + timedelta(days=n) for n in range(3, 20)]
    feels = [feel(at(day, 6), ball="dust", planting_uid=others.uid) for day in days]
    soaks = [soak(at(day, 8), 130.0) for day in days]
    book = pages([shrubs, others], [*soaks, *feels], beds=[bed()], days=weather(days=90))
    (say,) = findings(morning_on(book, days[-1] + timedelta(days=1)))
    assert say.startswith("The feels of the balls of the roses keep coming out drier")


def test_after_soaks_alone_the_water_is_looked_at_first() -> None:
    """Soaked every other day and never rained on: the flow of the tap, before the soil."""
    (say,) = findings(morning("dust"))
    assert "Look first at the flow of the tap and where the water goes" in say


def test_nothing_is_said_where_feels_are_as_reckoned() -> None:
    assert findings(morning("wet")) == []


def test_a_fortnight_later_it_is_said_no_more() -> None:
    assert findings(morning("dust", after_days=1))
    assert findings(morning("dust", after_days=30)) == []


def test_settings_stay_as_they_were_entered() -> None:
    found = morning("dust")
    assert found.season is not None
    assert found.season.pages.beds[0] == bed()


def test_a_finger_is_asked_for_until_the_next_feel() -> None:
    """Not on the day or the day after a feel; then yes, until somebody felt again."""

    def asked(after_days: int, *more: Feel) -> bool:
        found = morning("dust", *more, after_days=after_days)
        assert found.judgement is not None
        return "to one side" in why_feel(found.judgement, found.calls[0])

    again = feel(at(date(2031, 5, 28), 18), bed="moist")
    assert [asked(days) for days in (1, 2, 5)] == [False, True, True]
    assert not asked(5, again)
