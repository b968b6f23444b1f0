from math import exp

import numpy as np
import pytest

from soakbook.reckoning.physics.records import Ground, Plot, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.physics.skins import (
    Air,
    Evaporated,
    Skin,
    bare_m2,
    evaporate,
    out_of_stores,
    skin_evaporation,
)

AIR = Air(et0_mm=4.0, kc=1.2, kcb_cell=0.2, canopy_m2=0.25)
MULCHED = Ground(3.0, 1.0, 0.4, 1.0)
WET = Stores(0.0, 0.0, 0.0, 1.5, 2.0, 30.0, 30.0)


@pytest.fixture
def roots(plot: Plot) -> Geometry:
    return geometry(plot, settle(plot), 30.0)


def day(
    plot: Plot, ground: Ground, stores: Stores = WET, air: Air = AIR
) -> tuple[Stores, Evaporated]:
    fixed = settle(plot)
    return evaporate(air, ground, plot, fixed, geometry(plot, fixed, 30.0), stores)


def test_the_canopy_shades_the_bowl_first(plot: Plot) -> None:
    fixed = settle(plot)
    bowl, rest = float(fixed.bowl_m2), float(fixed.open_m2)
    assert bare_m2(0.0, plot, fixed) == (bowl, rest)
    assert bare_m2(0.1, plot, fixed) == pytest.approx((bowl - 0.07, rest))
    wide = bare_m2(0.5, plot, fixed)
    assert wide == pytest.approx((0.3 * bowl, rest - 0.7 * (0.5 - bowl)))


def test_wet_ground_takes_all_the_energy_leaves_leave() -> None:
    """Both skins wet: (1.2 - 0.2) x 4 mm, shared by how wet and wide they are."""
    bowl, rest = Skin(0.2, 0.2 * 20, 0.2 * 12), Skin(0.7, 0.7 * 20, 0.7 * 12)
    Eb, Eo = skin_evaporation(AIR, 1.0, 4.0, bowl, rest)
    assert Eb + Eo == pytest.approx(4.0)
    assert Eb / Eo == pytest.approx(0.2 / 0.7)


def test_a_small_wet_bowl_cannot_take_it_all() -> None:
    """Open ground dry: the bowl gives no more than its share of the ground times Kc."""
    Eb, Eo = skin_evaporation(AIR, 1.0, 4.0, Skin(0.2, 4.0, 2.4), Skin(0.7, 0.0, 8.4))
    assert Eb == pytest.approx(0.2 * 1.2 * 4)
    assert Eo == 0.0


def test_a_drying_skin_gives_ever_less() -> None:
    """Below its threshold the rate falls with what is left: 2 (1 - exp(-4.8 / 8)) of 4.8 mm."""
    leafless = AIR._replace(kcb_cell=0.0)
    bowl, none = Skin(1.0, 2.0, 8.0), Skin(0.0, 0.0, 0.0)
    Eb, _ = skin_evaporation(leafless, 1.0, 9.0, bowl, none)
    assert Eb == pytest.approx(2 * (1 - exp(-4.8 / 8)))
    Eb, _ = skin_evaporation(leafless, 1.0, 9.0, bowl, none, drink_start_of_day=True)
    assert Eb == pytest.approx(2 / 8 * 4.8)


def test_both_skins_give_way_alike_to_mulch() -> None:
    bowl, rest = Skin(0.2, 4.0, 2.4), Skin(0.7, 14.0, 8.4)
    free = skin_evaporation(AIR, 1.0, 4.0, bowl, rest)
    held = skin_evaporation(AIR, 1.0, 1.0, bowl, rest)
    assert np.array(held) == pytest.approx(np.array(free) / 4)


def test_mulch_dries_first_at_half_the_energy(plot: Plot) -> None:
    """A full 3 mm asked 0.5 x 4 mm dries by 3 (1 - exp(-2 / 3))."""
    after, evaporated = day(plot, MULCHED, WET._replace(mulch_store_mm=3.0))
    assert after.mulch_store_mm == pytest.approx(3 * exp(-2 / 3))
    assert evaporated.mulch_evaporated_l == pytest.approx(3 * (1 - exp(-2 / 3)) * 0.9)


def test_mulch_above_its_capacity_dries_at_full_rate(plot: Plot) -> None:
    after, _ = day(plot, MULCHED, WET._replace(mulch_store_mm=6.0))
    assert after.mulch_store_mm == pytest.approx(4.0)


def test_mulch_keeps_the_ground_wet(plot: Plot, ground: Ground) -> None:
    _, bare = day(plot, ground)
    _, mulched = day(plot, MULCHED._replace(mulch_capacity_mm=0.0))
    assert mulched.soil_evaporated_l == pytest.approx(0.4 * bare.soil_evaporated_l)


def test_skins_dry_what_lies_under_them(plot: Plot, ground: Ground) -> None:
    after, evaporated = day(plot, ground)
    lost = np.array(WET[3:6]) - np.array(after[3:6])
    assert lost.sum() == pytest.approx(evaporated.soil_evaporated_l)
    assert np.all(lost > 0)
    assert evaporated.ball_dried_l == pytest.approx(lost[0])


def test_depletion_is_what_the_bare_part_lost(plot: Plot, ground: Ground) -> None:
    after, evaporated = day(plot, ground)
    bowl_bare, open_bare = bare_m2(AIR.canopy_m2, plot, settle(plot))
    lost = after.bowl_skin_depletion_mm * bowl_bare + after.open_skin_depletion_mm * open_bare
    assert lost == pytest.approx(evaporated.soil_evaporated_l)


def test_empty_stores_keep_the_skins_as_they_are(plot: Plot, ground: Ground) -> None:
    empty = WET._replace(ball_store_l=0.0, reach_store_l=0.0, beyond_store_l=0.0)
    after, evaporated = day(plot, ground, empty)
    assert after == empty
    assert evaporated.soil_evaporated_l == 0.0


def test_a_short_store_cuts_both_skins_alike(plot: Plot, roots: Geometry) -> None:
    fixed = settle(plot)
    older = geometry(plot, fixed, 100.0)
    rich = out_of_stores(0.2, 0.6, fixed, older, WET)
    wanted = float(rich.bowl_from_reach_l + rich.open_from_reach_l)
    poor = out_of_stores(0.2, 0.6, fixed, older, WET._replace(reach_store_l=wanted / 2))
    assert rich.open_from_reach_l > 0
    assert poor.bowl_from_reach_l == pytest.approx(rich.bowl_from_reach_l / 2)
    assert poor.open_from_reach_l == pytest.approx(rich.open_from_reach_l / 2)
    assert poor.from_ball_l == rich.from_ball_l


def test_a_fully_shaded_bowl_loses_nothing(plot: Plot, ground: Ground) -> None:
    dense = plot._replace(canopy_shade_fraction=1.0)
    after, _ = day(dense, ground)
    assert after.bowl_skin_depletion_mm == 0.0
    assert after.open_skin_depletion_mm > 0


def test_each_lane_dries_by_itself(plot: Plot, ground: Ground) -> None:
    many = AIR._replace(et0_mm=np.array([0.0, 4.0, np.nan]))
    after, evaporated = day(plot, ground, WET, many)
    one, _ = day(plot, ground)
    assert isinstance(after.beyond_store_l, np.ndarray)
    assert after.beyond_store_l[:2].tolist() == [30.0, one.beyond_store_l]
    assert np.isnan(evaporated.soil_evaporated_l).tolist() == [False, False, True]
