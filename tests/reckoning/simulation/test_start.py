"""The water a planting starts with."""

from datetime import timedelta
from typing import Any

import numpy as np
import pytest

from soakbook.garden.records import Planting
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.start import (
    CLASS_MIDS,
    pot_reserve_l,
    replacing_stores,
    starting_stores,
)
from tests.reckoning.gardens import (
    PLANTED,
    bed,
    pages,
    plot_of,
    roses,
    row_of,
    season,
    stacked,
    weather,
)


def begun(planting: Planting, soil: str = "loam") -> tuple[Stores, Geometry]:
    plot = stacked([plot_of(bed(soil=soil), planting, 1.0, 1)], 1)
    roots = geometry(plot, settle(plot), 0.0)
    return starting_stores(planting, roots), roots


def wet(store: Any, capacity: Any) -> float:
    return float(np.max(store / capacity))


def test_watered_in_the_ball_is_full_and_the_bed_at_085() -> None:
    stores, roots = begun(roses(origin="dug", ball_volume_l=30.0, ball_diameter_m=0.45))
    assert wet(stores.ball_store_l, roots.ball_capacity_l) == pytest.approx(1.0)
    assert wet(stores.reach_store_l, roots.reach_capacity_l) == pytest.approx(0.85)
    assert wet(stores.beyond_store_l, roots.beyond_capacity_l) == pytest.approx(0.85)
    assert [np.max(field) for field in (*stores[:3], stores.warm_days)] == [0.0] * 4


def test_not_watered_in_the_ball_is_half_full() -> None:
    stores, roots = begun(roses(watered_in=False))
    assert wet(stores.ball_store_l, roots.ball_capacity_l) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("felt", "mid"), [("dust", 0.10), ("dry", 0.35), ("moist", 0.68), ("wet", 0.97)]
)
def test_what_a_finger_found_at_planting_counts(felt: Any, mid: float) -> None:
    """Mids of the felt classes: (44)."""
    stores, roots = begun(roses(origin="dug", ball_felt=felt, bed_felt=felt))
    assert wet(stores.ball_store_l, roots.ball_capacity_l) == pytest.approx(mid)
    assert wet(stores.reach_store_l, roots.reach_capacity_l) == pytest.approx(mid)
    assert wet(stores.beyond_store_l, roots.beyond_capacity_l) == pytest.approx(mid)


def test_a_sour_bed_is_over_its_capacity_and_a_ball_never_is() -> None:
    stores, roots = begun(roses(origin="dug", ball_felt="sour", bed_felt="sour"))
    assert CLASS_MIDS["sour"] == 1.15
    assert wet(stores.ball_store_l, roots.ball_capacity_l) == pytest.approx(1.0)
    assert wet(stores.beyond_store_l, roots.beyond_capacity_l) == pytest.approx(1.15)


def test_a_pots_reserve_is_never_credited_to_the_ball_but_goes_to_the_soil_round_it() -> None:
    """5 L x 0.30 x (1 - 0.55) = 0.675 L above the 0.825 L the ball keeps."""
    planting = roses()
    assert pot_reserve_l(planting) == pytest.approx(0.675)
    stores, roots = begun(planting)
    dry, _ = begun(roses(origin="dug"))
    assert float(np.max(roots.ball_capacity_l)) == pytest.approx(5 * 0.165)
    assert wet(stores.ball_store_l, roots.ball_capacity_l) == pytest.approx(1.0)
    gained = (
        np.max(stores.reach_store_l - dry.reach_store_l),
        np.max(stores.beyond_store_l - dry.beyond_store_l),
    )
    assert gained == pytest.approx((0.675, 0.0))


@pytest.mark.parametrize(("mix", "reserve_l"), [("peat-based", 0.72), ("loam-based", 0.22)])
def test_the_reserve_is_the_mixs(mix: str, reserve_l: float) -> None:
    """5 x 0.32 x 0.45 and 5 x 0.22 x 0.20: the mixes of `garden.tables.balls`."""
    assert pot_reserve_l(roses(mix=mix)) == pytest.approx(reserve_l)


@pytest.mark.parametrize("planting", [roses(origin="dug"), roses(origin="bare")])
def test_only_a_pot_has_a_reserve(planting: Planting) -> None:
    assert pot_reserve_l(planting) == 0.0


def test_what_finds_the_reach_full_goes_beyond() -> None:
    """A wet clay round a large pot has less room in the reach than the pot gives."""
    stores, roots = begun(roses(ball_volume_l=60.0, ball_diameter_m=0.5, bed_felt="sour"), "clay")
    plain, _ = begun(
        roses(origin="dug", ball_volume_l=60.0, ball_diameter_m=0.5, bed_felt="sour"), "clay"
    )
    reserve = 60 * 0.30 * 0.45
    assert wet(stores.reach_store_l, roots.reach_saturation_l) == pytest.approx(1.0)
    gained = float(np.max(stores.beyond_store_l - plain.beyond_store_l))
    room = float(np.max(roots.reach_saturation_l - plain.reach_store_l))
    assert 0 < gained == pytest.approx(reserve - room)


def test_a_replacement_takes_over_the_ground_as_wet_as_it_is() -> None:
    """Its own ball is full; mulch and skins stay; reach and beyond are as wet as the dead plant's cell."""
    dug = roses(origin="dug")
    own, new = begun(dug)
    taken = own._replace(
        mulch_store_mm=np.array([[1.5]]),
        bowl_skin_depletion_mm=np.array([[3.0]]),
        open_skin_depletion_mm=np.array([[7.0]]),
        reach_store_l=0.2 * np.asarray(new.reach_capacity_l),
        beyond_store_l=0.2 * np.asarray(new.beyond_capacity_l),
    )
    found = replacing_stores(dug, own, taken, new, new)
    assert np.array_equal(found.ball_store_l, own.ball_store_l)
    assert wet(found.reach_store_l, new.reach_capacity_l) == pytest.approx(0.2)
    assert wet(found.beyond_store_l, new.beyond_capacity_l) == pytest.approx(0.2)
    assert [float(np.max(field)) for field in found[:3]] == [1.5, 3.0, 7.0]
    assert np.max(found.warm_days) == 0.0


def test_a_replacement_in_a_season_finds_the_bed_the_dead_left() -> None:
    """Thirty dry days after the first planting; a newcomer beside it finds its own bed at 0.85."""
    later = PLANTED + timedelta(days=30)
    first = roses(canopy_start_m2=0.4)
    second = roses(name="second", planted_on=later, replaces="bed/roses", count=2, origin="dug")
    beside = roses(name="beside", planted_on=later)
    laid_out = season(pages([first, second, beside], days=weather(et0_mm=6.0)), later, members=5)
    dawn = run(laid_out)[0]
    roots = geometry(laid_out.plot, laid_out.fixed, dawn.stores.warm_days)
    capacity = np.asarray(roots.reach_capacity_l + roots.beyond_capacity_l)
    wetness = np.asarray(dawn.stores.reach_store_l + dawn.stores.beyond_store_l) / capacity
    dead, new, other = (row_of(laid_out, f"bed/{name}") for name in ("roses", "second", "beside"))
    assert np.all(wetness[dead] < 0.8)
    assert np.allclose(wetness[new], wetness[dead])
    assert np.all(wetness[other] > 0.85)  # 0.85 and the pot's reserve
