"""(41) and (42) by hand, and what a hand can do: rounding, pours, waits."""

from datetime import timedelta
from math import pi
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.records import Planting
from soakbook.garden.tables.soils import SOILS
from soakbook.reckoning.advice.dose import (
    Delivery,
    Need,
    floor_l,
    need_of,
    pours_of,
    rewet_pour_l,
    rounded_l,
    water_in_l,
)
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.simulation.ahead import Standing, standing
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.gardens import PLANTED, bed, pages, roses, season, weather

DUG = roses(origin="dug", ball_volume_l=30.0, ball_diameter_m=0.45)


def stood(planting: Planting, days: int = 1) -> tuple[Season, Standing]:
    laid_out = season(
        pages([planting], days=weather(PLANTED - timedelta(days=5), 90)),
        PLANTED + timedelta(days=days),
    )
    return laid_out, standing(run(laid_out)[0])


def need(
    planting: Planting = DUG,
    *,
    ball: float = 1.0,
    reach: float = 1.0,
    beyond: float = 1.0,
    **more: Any,
) -> tuple[dict[str, float], Season, Standing]:
    """The need of one planting whose stores are these shares of capacity."""
    laid_out, morning = stood(planting, more.pop("days", 1))
    roots = morning.roots
    stores = morning.stores._replace(
        ball_store_l=ball * np.asarray(roots.ball_capacity_l),
        reach_store_l=reach * np.asarray(roots.reach_capacity_l),
        beyond_store_l=beyond * np.asarray(roots.beyond_capacity_l),
    )
    morning = morning._replace(stores=stores)
    delivery = Delivery(
        np.array([[more.pop("aim", 0.6)]]), np.array([[more.pop("efficiency", 0.9)]])
    )
    felt = np.array([[more.pop("felt_ball", 0.0)]])
    found = need_of(laid_out.plot, laid_out.fixed, morning, delivery, felt)
    return (
        {name: float(value[0, 0]) for name, value in zip(Need._fields, found, strict=True)},
        laid_out,
        morning,
    )


def one(value: object) -> float:
    return float(np.asarray(value)[0, 0])


def test_full_stores_need_nothing() -> None:
    found, _, _ = need()
    assert (found["ball_l"], found["reach_l"], found["ring_l"], found["nozzle_l"]) == (
        0.0,
        0.0,
        0.0,
        0.0,
    )


def test_a_ball_alone_needs_what_it_lacks_over_aim_and_efficiency() -> None:
    """(41), (42): half of 30 L x 0.143 is 2.145 L; over 0.6 and 0.9 at the nozzle 3.97 L."""
    found, _, _ = need(ball=0.5)
    assert found["ball_l"] == pytest.approx(
        0.5 * 30 * 0.143, rel=5e-3
    )  # the table's printed digits
    assert found["nozzle_l"] == pytest.approx(found["ball_l"] / 0.6 / 0.9)
    by_drip, _, _ = need(ball=0.5, aim=0.9, efficiency=0.95)
    assert by_drip["nozzle_l"] == pytest.approx(found["ball_l"] / 0.9 / 0.95)


def test_a_reach_is_refilled_through_the_bowl() -> None:
    """The bowl of 2.5 ball areas reaches past the roots: of what goes beside the ball only fr is theirs."""
    found, laid_out, morning = need(reach=0.5, ball=0.9)
    ball_m2 = pi * 0.225**2
    reach_m2 = pi * (0.225 + 0.04) ** 2
    assert one(laid_out.fixed.bowl_m2) == pytest.approx(2.5 * ball_m2)
    fr = (reach_m2 - ball_m2) / (2.5 * ball_m2 - ball_m2)
    dr = 0.5 * one(morning.roots.reach_capacity_l)
    assert found["reach_l"] == pytest.approx(dr)
    assert found["nozzle_l"] == pytest.approx((found["ball_l"] + dr / fr) / 0.9)


def test_a_sliver_of_reach_counts_as_a_fifth_of_the_bowl() -> None:
    """fr at least 0.2, or a reach of a finger's breadth would ask for buckets."""
    whips = roses(
        origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0, bowl_m2=0.9
    )
    found, laid_out, morning = need(whips, reach=0.5)
    assert pi * 0.16**2 / one(laid_out.fixed.bowl_m2) < 0.2
    assert found["nozzle_l"] == pytest.approx(0.5 * one(morning.roots.reach_capacity_l) / 0.2 / 0.9)


def test_the_ring_is_the_soil_a_fortnights_roots_will_reach() -> None:
    """(41): out to r(W + 11.2) or the bowl, at today's depth, as far as beyond is short."""
    found, laid_out, morning = need(DUG, beyond=0.4, days=60)
    roots, fixed = morning.roots, laid_out.fixed
    later = geometry(laid_out.plot, fixed, np.asarray(morning.stores.warm_days) + 11.2)
    radius = 0.225 + one(later.root_reach_m) + 0.04
    out = max(one(fixed.bowl_m2), pi * radius**2)
    assert one(roots.root_reach_m) > 0.05
    expected = 1000 * (out - one(roots.reach_m2)) * one(roots.reach_depth_m) * 0.143 * 0.6
    assert found["ring_l"] == pytest.approx(expected, rel=3e-3)
    assert found["nozzle_l"] == pytest.approx(found["ring_l"] / 0.9)


def test_the_ring_ends_at_the_cell() -> None:
    tight = roses(origin="dug", ball_volume_l=30.0, ball_diameter_m=0.45, cell_m2=0.5)
    found, _, morning = need(tight, beyond=0.0, days=80)
    roots = morning.roots
    expected = 1000 * (0.5 - one(roots.reach_m2)) * one(roots.reach_depth_m) * 0.143
    assert 0 < found["ring_l"] == pytest.approx(expected, rel=5e-3)


def test_the_larger_of_ball_and_bed_decides() -> None:
    """(42): max(db / aim, db + max(dr / fr, dr + dn)) / efficiency, term by term."""
    for ball, reach, beyond in ((0.1, 1.0, 1.0), (0.9, 0.2, 1.0), (0.6, 0.7, 0.3)):
        found, laid_out, morning = need(ball=ball, reach=reach, beyond=beyond, days=30)
        roots, fixed = morning.roots, laid_out.fixed
        fr = max(0.2, one(roots.reach_in_bowl_m2) / (one(fixed.bowl_m2) - pi * 0.225**2))
        db, dr, dn = found["ball_l"], found["reach_l"], found["ring_l"]
        assert found["nozzle_l"] == pytest.approx(max(db / 0.6, db + max(dr / fr, dr + dn)) / 0.9)


def test_a_reach_over_capacity_lacks_nothing_and_lends_nothing() -> None:
    found, _, _ = need(ball=0.5, reach=1.3, beyond=1.2)
    assert (found["reach_l"], found["ring_l"]) == (0.0, 0.0)
    assert found["nozzle_l"] == pytest.approx(found["ball_l"] / 0.6 / 0.9)


def test_what_a_finger_found_is_the_least_shortfall() -> None:
    """A ball felt dry: at least 1 - 0.35 of capacity, however full the reckoning; of the reach what is reckoned."""
    found, _, morning = need(felt_ball=0.65)
    assert found["ball_l"] == pytest.approx(0.65 * one(morning.roots.ball_capacity_l))
    assert found["reach_l"] == 0.0
    drier, _, morning = need(ball=0.1, felt_ball=0.65)
    assert drier["ball_l"] == pytest.approx(0.9 * one(morning.roots.ball_capacity_l))


def test_the_room_is_what_ball_and_reach_can_take() -> None:
    found, laid_out, morning = need(ball=0.5, reach=0.8)
    roots, fixed = morning.roots, laid_out.fixed
    fr = one(roots.reach_in_bowl_m2) / (one(fixed.bowl_m2) - pi * 0.225**2)
    room = one(roots.reach_saturation_l) - 0.8 * one(roots.reach_capacity_l)
    assert found["room_l"] == pytest.approx((found["ball_l"] + room / fr) / 0.9)


POT = roses()


@pytest.mark.parametrize(
    ("planting", "stage", "hours", "floor"),
    [
        (POT, "settling", None, 1.25),
        (POT, "knitting", 24.5, 1.25),
        (POT, "knitting", 24.0, 0.0),
        (POT, "settling", 3.0, 0.0),
        (POT, "rooting_out", None, 0.0),
        (POT, "own_feet", None, 0.0),
        (DUG, "settling", None, 0.0),
        (roses(origin="bare"), "settling", None, 0.0),
    ],
)
def test_a_young_pot_has_a_quarter_of_its_litres_at_least(
    planting: Planting, stage: str, hours: float | None, floor: float
) -> None:
    """0.25-0.33 of the pot: University of Minnesota Extension, "Watering newly planted trees and shrubs"."""
    assert floor_l(planting, stage, hours) == floor


@pytest.mark.parametrize(
    ("litres", "by_hose", "by_can"),
    [
        (0.0, 1.0, 0.5),
        (0.3, 1.0, 0.5),
        (0.5, 1.0, 0.5),
        (0.51, 1.0, 1.0),
        (1.0, 1.0, 1.0),
        (1.01, 1.5, 1.5),
        (1.5, 1.5, 1.5),
        (1.9, 2.0, 2.0),
        (2.0, 2.0, 2.0),
        (2.01, 3.0, 3.0),
        (2.4, 3.0, 3.0),
        (7.0, 7.0, 7.0),
        (7.1, 8.0, 8.0),
    ],
)
def test_doses_are_rounded_up_to_what_a_hand_can_do(
    litres: float, by_hose: float, by_can: float
) -> None:
    """By hose at least 1 L, by can half a litre; to 2 L in half litres, above in whole ones."""
    assert rounded_l(litres, by_can=False) == by_hose
    assert rounded_l(litres, by_can=True) == by_can


@given(litres=st.floats(0, 60), by_can=st.booleans())
def test_rounding_is_up_by_less_than_a_step_and_keeps_order(litres: float, by_can: bool) -> None:
    said = rounded_l(litres, by_can)
    assert said >= litres - 1e-5
    assert said - litres < 1.0 or said == rounded_l(0.0, by_can)
    assert rounded_l(litres + 0.25, by_can) >= said
    assert rounded_l(said, by_can) == said


def bowl(planting: Planting) -> float:
    return planting.bowl_m2 or 2.5 * pi * 0.11**2


MADE = roses(bowl_m2=0.1)


@pytest.mark.parametrize(
    ("soil", "slope", "planting", "litres", "pours", "wait_min"),
    [
        ("clay", 0.0, MADE, 5.0, 1, 93.75),
        ("clay", 0.0, MADE, 5.1, 2, 93.75),
        ("loam", 0.0, MADE, 12.0, 3, 25.0),
        ("sand", 0.0, MADE, 12.0, 3, 20.0),
        ("loam", 0.2, MADE, 5.0, 2, 20.0),
        ("loam", 0.0, POT, 1.9, 1, 20.0),
        ("loam", 0.0, POT, 2.4, 1, 20.0),
        ("loam", 0.0, POT, 2.5, 2, 20.0),
        ("clay", 0.0, POT, 4.0, 2, 37.5),
        ("clay", 0.0, roses(bowl_m2=0.1, bowl_depth_m=0.1), 10.0, 1, 187.5),
        ("clay", 0.0, roses(bowl_m2=0.1, bowl_depth_m=0.2), 10.0, 1, 240.0),
    ],
)
def test_pours_and_waits(
    soil: str, slope: float, planting: Planting, litres: float, pours: int, wait_min: float
) -> None:
    """A bowl of 0.1 m2 made 5 cm deep holds 5 L; clay drinks half of it in 1.6 h, loam in 25 min; none made: 2 cm
    and three tenths more, 1.9 x 1.3 = 2.47 L for a 5 L pot. common practice, no source.
    """
    ground = bed(soil=soil, slope_fraction=slope)
    found, wait = pours_of(ground, planting, bowl(planting), litres, SOILS[soil].intake_mm_h)
    assert found == pours
    assert wait == pytest.approx(wait_min)


def test_clay_waits_an_hour_and_a_half_and_loam_twenty_five_minutes() -> None:
    """As the balance says it in words: clay 1.6 h, loam 25 min."""
    _, clay = pours_of(bed(), MADE, 0.1, 9.0, SOILS["clay"].intake_mm_h)
    _, loam = pours_of(bed(), MADE, 0.1, 9.0, SOILS["loam"].intake_mm_h)
    assert round(clay / 60, 1) == 1.6
    assert loam == 25.0


def test_a_rewet_pour_is_a_quarter_of_the_shortfall_at_least_a_twentieth_of_the_ball() -> None:
    """30 L: 1.5 L at least; 4 L short over 4 x 0.6 x 0.9 is 1.85 L."""
    assert rewet_pour_l(DUG, 1.0, 0.6, 0.9) == 1.5
    assert rewet_pour_l(DUG, 4.0, 0.6, 0.9) == pytest.approx(4.0 / (4 * 0.6 * 0.9))


def test_watering_in_is_a_potful_half_a_dug_ball_a_bowlful_for_bare_roots() -> None:
    """Common practice, no source."""
    assert [water_in_l(one) for one in (POT, DUG, roses(origin="bare"))] == [5.0, 15.0, 2.5]
