"""What the specimen garden was planted to show, from the book that ships and by the engine alone."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.reckoning.advice.judging import moved_yesterday
from soakbook.reckoning.advice.rounds import Morning, morning_on, round_of
from tests.properties.followed import specimen
from tests.reckoning.gardens import call_of
from tests.stories import corrody
from tests.stories.corrody import mornings, soaked

WET_MORNING = date(2031, 5, 15)


@pytest.fixture(scope="module")
def wet_morning() -> Morning:
    return morning_on(specimen(), WET_MORNING)


def from_rain(of: Morning, key: str) -> dict[str, float]:
    """How much of its ball's capacity each planting had from the rain of the evening, middle member."""
    judgement = of.judgement
    assert judgement is not None
    caught = np.asarray(judgement.morning.received.ball_from_rain_l)
    capacity = np.asarray(judgement.morning.roots.ball_capacity_l)
    rows = {one.planting.name: one.row for one in judgement.judged if one.bed.key == key}
    return {name: float(np.median(caught[row] / capacity[row])) for name, row in rows.items()}


def test_the_wet_evening_leaves_the_wall_foots_balls_as_they_were(wet_morning: Morning) -> None:
    """0.1-0.2 L a ball, computed; the wall and the mulch keep the rest: still called on the 15th."""
    gained = from_rain(wet_morning, "chapel")
    assert len(gained) == 2
    assert max(gained.values()) < 0.25
    assert call_of(round_of(wet_morning), "chapel").verdict == "soak"


def test_the_same_evening_lets_the_long_border_off(wet_morning: Morning) -> None:
    """It was called on the 14th, or would be on the 15th without the rain; on the 15th nothing is given there."""
    border = call_of(round_of(wet_morning), "warden")
    assert border.verdict in ("leave", "feel")
    assert border.litres == 0.0
    assert border.rain_reached_mm > 9
    around = {one.day: one.call("warden") for one in mornings()}
    called = [day for day, call in around.items() if call and call.going]
    assert any(WET_MORNING - timedelta(days=4) <= day < WET_MORNING for day in called)


def test_the_plain_sums_of_that_evening(wet_morning: Morning) -> None:
    """The rain after five is in the step of the 15th, in no step before it."""
    judgement = wet_morning.judgement
    assert judgement is not None
    for one in judgement.judged:
        moved = moved_yesterday(judgement, one.row)
        assert moved is not None
        assert moved.rain_l == 0.0


def test_the_low_clay_is_held_back_after_the_neighbour() -> None:
    """A can a rose from 24 April to 1 May: held back by 30 April, and on the morning after the last of them."""
    held = [
        one.day for one in mornings() if (call := one.call("dole")) and call.verdict == "held_back"
    ]
    assert any(date(2031, 4, 25) <= day <= date(2031, 4, 30) for day in held)
    assert date(2031, 5, 2) in held
    assert not any(day < date(2031, 4, 24) and day > date(2031, 4, 5) for day in held)


def test_the_well_court_is_seldom_called() -> None:
    """Less than once a week in its 37 weeks, and a third as often as the wall foot at the most."""
    assert 0 < len(soaked("wellct")) < 37
    assert len(soaked("wellct")) <= len(soaked("chapel")) / 3


def test_the_hedge_is_a_sink_of_labour() -> None:
    """Over an hour a time, and more of the hours than of the water: common practice, no source."""
    everything = [call for one in mornings() for call in one.calls if call.going]
    ride = [call for call in everything if call.bed.key == "ride"]
    assert ride
    assert min(call.work.minutes_on_foot for call in ride) > 60
    hours = sum(call.work.minutes_on_foot for call in ride) / sum(
        call.work.minutes_on_foot for call in everything
    )
    litres = sum(call.litres for call in ride) / sum(call.litres for call in everything)
    assert hours > 1.3 * litres


def test_few_soaks_are_left_by_late_september() -> None:
    """Laid by from about the 20th: common practice, no source. Bed visits a week, against those of July."""

    def visits(first: date, last: date) -> int:
        walked = [one for one in mornings() if first <= one.day <= last]
        return sum(bool(call.going) for one in walked for call in one.calls)

    july, late = (
        visits(date(2031, 7, 1), date(2031, 7, 28)),
        visits(date(2031, 9, 20), date(2031, 10, 17)),
    )
    assert july > 40
    assert late <= 0.25 * july


def test_the_hose_is_barred_from_18_july_to_5_september() -> None:
    """The rule as it was typed: cans at the hosed beds on every morning it holds, and on no other."""
    barred = (date(2031, 7, 18), date(2031, 9, 5))
    for one in mornings():
        for call in one.calls:
            if call.bed.tap in ("A", "B") and not call.rose_on:
                holds = barred[0] <= one.day <= barred[1]
                assert call.supply.means == ("cans" if holds else "hose")


def test_doses_are_what_a_hand_can_do_on_every_morning() -> None:
    """Half litres to 2 L, whole ones above; by hose at least 1 L a plant."""
    for one in mornings():
        for call in one.calls:
            for dosed in call.going:
                each = dosed.litres_each
                by_can = call.supply.means == "cans" or dosed.judged.dose_kind == "re_wet"
                if dosed.judged.dose_kind != "re_wet":
                    assert each * 2 == int(each * 2)
                    assert each <= 2 or each == int(each)
                assert each >= (0.5 if by_can else 1.0)


def test_every_round_of_the_season_can_be_asked_for() -> None:
    """A few whole mornings, from the first bare hedge to the last leaf."""
    for day in (
        corrody.FIRST,
        date(2031, 4, 12),
        date(2031, 7, 12),
        date(2031, 8, 12),
        date(2031, 10, 31),
    ):
        assert round_of(morning_on(specimen(), day, members=20)).calls
