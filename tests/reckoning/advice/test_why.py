"""The sums of a why add up, and are those the verdict was made from."""

from datetime import timedelta
from typing import Any

import pytest

from soakbook.errors import UnreckonedError
from soakbook.garden.entries import AnyEntry
from soakbook.reckoning.advice.rounds import Morning, morning_on, round_of
from soakbook.reckoning.advice.why import why_of
from soakbook.reckoning.advice.why_report import PlantingWhy, Why
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    call_of,
    feel,
    loss,
    mulch,
    pages,
    rain,
    roses,
    soak,
    weather,
)

NO_BALL = {"ball_volume_l": 0.0, "ball_diameter_m": 0.0}
DAY = PLANTED + timedelta(days=12)
BEFORE = DAY - timedelta(days=1)
EVENTS: tuple[AnyEntry, ...] = (
    mulch(PLANTED, 5.0),
    soak(at(BEFORE, 8), 12.0),
    soak(at(BEFORE, 19), 6.0),
    rain(at(DAY, 6, 30), 9.0, at(BEFORE, 18), kind="gentle"),
)


def morning(*entries: AnyEntry, **fields: Any) -> Morning:
    beds = [bed(place=fields.pop("place", "open"), soil=fields.pop("soil", "loam"))]
    days = weather(PLANTED - timedelta(days=5), 40, et0_mm=fields.pop("et0_mm", 3.0))
    day, members = fields.pop("day", DAY), fields.pop("members", 20)
    return morning_on(pages([roses(**fields)], entries, beds=beds, days=days), day, members)


def why(*entries: AnyEntry, **fields: Any) -> Why:
    return why_of(morning(*entries, **fields), "bed")


def one(of: Why) -> PlantingWhy:
    return of.plantings[0]


@pytest.mark.parametrize("entries", [(), EVENTS, EVENTS[:2]], ids=["dry", "eventful", "soaked"])
@pytest.mark.parametrize("place", ["open", "south wall foot"])
def test_the_balls_sums_add_up_from_yesterday_to_this_morning(
    entries: tuple[AnyEntry, ...], place: str
) -> None:
    ball = one(why(*entries, place=place)).ball
    assert ball is not None
    total = ball.yesterday_l + ball.given_l + ball.rain_l - ball.gone_l + ball.from_bed_l
    assert total == pytest.approx(ball.morning_l, abs=1e-12)
    assert 0 <= ball.morning_l <= ball.holds_at_most_l
    assert ball.tonight_l < ball.morning_l


@pytest.mark.parametrize("entries", [(), EVENTS], ids=["dry", "eventful"])
def test_the_beds_sums_add_up_and_what_it_gained_is_what_came(
    entries: tuple[AnyEntry, ...],
) -> None:
    sums = one(why(*entries)).bed
    assert sums.yesterday_l + sums.gained_l - sums.gone_l == pytest.approx(sums.morning_l)
    if not entries:
        assert sums.gained_l == pytest.approx(0.0, abs=0.02)  # what the ball passed to it overnight
    assert sums.gone_l >= 0


def test_what_the_hand_and_the_rain_brought_a_ball_are_told_apart() -> None:
    by_hand, by_rain = one(why(*EVENTS[:3])).ball, one(why(EVENTS[0], EVENTS[3])).ball
    assert by_hand is not None
    assert by_rain is not None
    assert (by_hand.given_l > 0, by_hand.rain_l) == (True, 0.0)
    assert (by_rain.rain_l > 0, by_rain.given_l) == (True, 0.0)


def test_where_the_rain_went_adds_up() -> None:
    """9 mm at a wall foot: 0.45 of it came; 5 cm of chip drank its share; the rest went in."""
    rained = why(EVENTS[0], EVENTS[3], place="south wall foot").rain
    assert rained is not None
    assert (rained.gauge_mm, rained.came_mm) == pytest.approx((9.0, 0.45 * 9.0))
    assert rained.came_mm == pytest.approx(
        rained.mulch_drank_mm + rained.ran_off_mm + rained.soil_mm
    )
    assert rained.mulch_drank_mm == pytest.approx(
        3.0, abs=0.1
    )  # five centimetres at 0.6, a little settled
    assert rained.balls_caught_l[0] == pytest.approx(rained.soil_mm * 3.14159 * 0.11**2, rel=1e-4)
    assert why().rain is None


def test_the_numbers_are_the_calls_own() -> None:
    of = morning()
    found, call = why_of(of, "bed"), call_of(round_of(of))
    assert (found.verdict, found.litres) == (call.verdict, call.litres)
    planting = call.plantings[0]
    assert (one(found).share_due, one(found).dose.said_l) == (
        planting.share_due,
        planting.litres_each,
    )
    assert one(found).roots.stage == planting.stage


def test_we_water_before_it_falls_below_patience_times_its_limit() -> None:
    """(33): 0.8 x (1 - (0.5 + 0.04 (5 - 0.7 x 3))) of the ball's 0.825 L, fair as gardens are by default."""
    ball = one(why(members=1)).ball
    assert ball is not None
    assert ball.water_below_l == pytest.approx(0.8 * (1 - (0.5 + 0.04 * (5 - 0.7 * 3.0))) * 0.825)


def test_the_soil_that_roots_have_reached_has_its_own_threshold() -> None:
    """(33): 0.8 x (1 - ps) of the reach of bare roots, where the bed leads."""
    found = one(why(members=1, origin="bare", plant_class="whip", **NO_BALL))
    values = {symbol.symbol: symbol.value for symbol in found.symbols}
    sums = found.bed
    assert sums.reach_holds_at_most_l == pytest.approx(values["TAW reach"])
    assert sums.reach_morning_l == pytest.approx(values["TAW reach"] - values["Dr reach"])
    assert sums.reach_water_below_l == pytest.approx(
        0.8 * (1 - values["p reach"]) * sums.reach_holds_at_most_l
    )
    assert sums.reach_morning_l < sums.morning_l
    assert sums.reach_holds_at_most_l < sums.holds_at_most_l


def test_what_is_lacking_is_of_the_same_run_as_the_table() -> None:
    found = one(why())
    assert found.ball is not None
    assert found.dose.ball_lacks_l == pytest.approx(
        found.ball.holds_at_most_l - found.ball.morning_l
    )


def dose_sentence(found: Why) -> str:
    """Why so many litres, in one line."""
    return next(one for one in found.say if one.startswith("Why "))


def test_the_need_stands_beside_the_floor_it_was_held_to() -> None:
    """A quarter of a 20 L pot is 5 L, more than it lacks after six days."""
    found = why(ball_volume_l=20.0, ball_diameter_m=0.34, day=PLANTED + timedelta(days=6))
    dose = one(found).dose
    assert dose.least_l == 5.0
    assert 3.0 < dose.needed_at_nozzle_l.p50 < 4.9
    assert dose_sentence(found).endswith(
        f": {dose.needed_at_nozzle_l.p50:.1f} L to pour, by the middle of all sums. "
        "Not less than a quarter of the pot: 5.0 L. "
        "Said as 5 L: by can at least ½ L, and up to what a hand can give."
    )


def test_a_ball_felt_drier_than_reckoned_says_why_it_is_given_more() -> None:
    soaked = soak(at(BEFORE, 8), 60.0)
    felt = feel(at(DAY, 6), ball="dry", bed="moist")
    assert ", felt drier than reckoned, lacks" in dose_sentence(why(soaked, felt))
    assert "felt drier" not in dose_sentence(why())


@pytest.mark.parametrize(
    ("count", "whom"),
    [(10, "each of the damask roses"), (1, "damask rose"), (2, "each of the damask roses")],
)
def test_one_plant_is_not_each_of_many(count: int, whom: str) -> None:
    found = why(name="damask rose", count=count)
    assert f" for {whom}: the ball lacks" in dose_sentence(found)


def test_bare_roots_have_no_ball_to_settle_in() -> None:
    bare = {"origin": "bare", "plant_class": "whip", **NO_BALL}
    young = why(day=PLANTED + timedelta(days=2), **bare)
    assert any("settling (no new roots yet)" in line for line in young.say)
    assert not any("ball" in line for line in (*young.say, *why(**bare).say) if "settling" in line)
    assert any("lives in its ball" in line for line in why(day=PLANTED + timedelta(days=2)).say)


def test_symbols_are_the_same_morning_in_the_terms_of_fao_56() -> None:
    found = one(why(*EVENTS))
    values = {symbol.symbol: symbol.value for symbol in found.symbols}
    assert found.ball is not None
    assert values["TAW ball"] == pytest.approx(found.ball.holds_at_most_l)
    assert values["Dr ball"] == pytest.approx(found.ball.holds_at_most_l - found.ball.morning_l)
    assert values["RAW ball"] == pytest.approx(values["p ball"] * values["TAW ball"])
    assert values["ET0"] == pytest.approx(3.0)
    assert 0 < values["Ks"] <= 1
    assert all(symbol.equation for symbol in found.symbols)


def test_what_came_overnight_is_among_the_symbols() -> None:
    """The evening's soak and rain stand in this morning's stores, so they are among what came."""
    values = {symbol.symbol: symbol.value for symbol in one(why(*EVENTS)).symbols}
    assert values["I"] == pytest.approx((12.0 + 6.0) / roses().count)
    assert values["P"] == pytest.approx(9.0)  # mm, over the square metre that each rose stands in


def test_on_the_planting_day_there_is_no_yesterday() -> None:
    found = one(why(day=PLANTED, planted_on=PLANTED))
    assert found.ball is not None
    assert found.ball.yesterday_l == found.ball.morning_l
    assert "Ks" not in {symbol.symbol for symbol in found.symbols}


def test_bare_roots_have_no_balls_sums() -> None:
    found = one(why(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0))
    assert found.ball is None
    assert "TAW ball" not in {symbol.symbol for symbol in found.symbols}


def test_a_bed_with_nothing_in_it_is_refused_by_name() -> None:
    with pytest.raises(UnreckonedError, match=r"^elsewhere: no living plants stand there"):
        why_of(morning(), "elsewhere")


def test_why_nothing_can_be_set_out_is_said_as_it_is() -> None:
    """No weather yet; weather from the 16th day after planting on; a bed whose plants were all lost."""
    day = PLANTED + timedelta(days=20)

    def refused(*entries: AnyEntry, first: int) -> str:
        book = pages([roses()], entries, days=weather(PLANTED + timedelta(days=first), 40))
        with pytest.raises(UnreckonedError) as error:
            why_of(morning_on(book, day, members=3), "bed")
        return str(error.value)

    assert refused(first=20).startswith("Bed: The book has no weather before this morning, so")
    assert refused(first=15).startswith("Bed: roses: planted 1 May, but the weather begins 16 May")
    dead = refused(loss(day - timedelta(days=1), 10), first=-5)
    assert dead == "Bed: no living plants stand there on 21 May"
