from math import pi

import numpy as np
import pytest

from soakbook.reckoning.physics.records import Plot, Stores
from soakbook.reckoning.physics.roots import canopy_m2, geometry, grow, warm_days_of
from soakbook.reckoning.physics.settling import settle

STORES = Stores(1.0, 2.0, 3.0, 1.0, 0.5, 20.0, 50.0)


def test_roots_wait_and_then_grow(plot: Plot) -> None:
    """2.5 mm a warm day after a lag of 7: nothing at 7, 25 mm at 17."""
    fixed = settle(plot)
    assert geometry(plot, fixed, 7.0).root_reach_m == 0.0
    assert geometry(plot, fixed, 17.0).root_reach_m == pytest.approx(0.025)


def test_young_roots_reach_the_soil_they_draw_from(plot: Plot) -> None:
    """Round a ball of 0.14 m radius 0.04 m of soil is in reach, as deep as the ball."""
    roots = geometry(plot, settle(plot), 0.0)
    assert roots.reach_radius_m == pytest.approx(0.18)
    assert roots.reach_m2 == pytest.approx(pi * 0.18**2)
    assert roots.reach_depth_m == plot.ball_depth_m
    litres = 1000 * pi * 0.18**2 * float(plot.ball_depth_m) - 10
    assert roots.reach_volume_l == pytest.approx(litres)
    assert roots.reach_capacity_l == pytest.approx(litres * 0.143)
    assert roots.reach_saturation_l == pytest.approx(litres * (0.143 + 0.179))
    assert (roots.contact_fraction, roots.ball_share_fraction) == (0.0, 1.0)


def test_the_ball_leads_less_as_roots_spread(plot: Plot) -> None:
    """At r = draw contact is whole, and fb = 10 / (10 + 0.35 Vr)."""
    roots = geometry(plot, settle(plot), 7 + 16.0)
    assert roots.contact_fraction == pytest.approx(1.0)
    expected = 10 / (10 + 0.35 * roots.reach_volume_l)
    assert roots.ball_share_fraction == pytest.approx(expected)
    ages = np.arange(0.0, 300.0)
    assert np.all(np.diff(geometry(plot, settle(plot), ages).ball_share_fraction) <= 0)


def test_grown_roots_have_exactly_the_cell(plot: Plot) -> None:
    shallow = plot._replace(bed_depth_m=0.25)
    roots = geometry(shallow, settle(shallow), 1000.0)
    assert roots.reach_m2 == plot.cell_m2
    assert roots.reach_depth_m == 0.25
    assert (roots.beyond_volume_l, roots.beyond_capacity_l, roots.beyond_m2) == (0.0, 0.0, 0.0)
    assert roots.root_reach_m == pytest.approx((0.9 / pi) ** 0.5 - 0.14)


def test_roots_go_three_tenths_as_deep_as_wide(plot: Plot) -> None:
    """In a deep bed the soil below a crowded cell is never reached."""
    deep = plot._replace(bed_depth_m=0.6)
    found = geometry(deep, settle(deep), 47.0).reach_depth_m
    assert found == pytest.approx(float(plot.ball_depth_m) + 0.3 * 0.1)
    oldest = geometry(deep, settle(deep), 1000.0)
    furthest = (0.9 / pi) ** 0.5 - 0.14
    assert oldest.reach_depth_m == pytest.approx(float(plot.ball_depth_m) + 0.3 * furthest)
    assert oldest.beyond_volume_l > 100


def test_reach_and_beyond_are_all_the_soil_there_is(plot: Plot) -> None:
    fixed = settle(plot)
    roots = geometry(plot, fixed, np.linspace(0, 300, 50))
    assert roots.reach_volume_l + roots.beyond_volume_l == pytest.approx(0.9 * 350 - 10)
    assert np.all(roots.beyond_volume_l >= 0)


def test_a_bare_root_starts_out_in_the_soil(plot: Plot) -> None:
    bare = plot._replace(
        ball_volume_l=0.0,
        ball_radius_m=0.0,
        ball_depth_m=0.25,
        root_start_m=0.12,
        bowl_m2=0.126,
    )
    roots = geometry(bare, settle(bare), 0.0)
    assert roots.root_reach_m == 0.12
    assert roots.reach_radius_m == pytest.approx(0.16)
    assert (roots.ball_share_fraction, roots.contact_fraction) == (0.0, 1.0)
    assert roots.reach_in_bowl_m2 == pytest.approx(pi * 0.16**2)
    from_stem = bare._replace(root_start_m=0.0)
    assert geometry(from_stem, settle(from_stem), 0.0).contact_fraction == 1.0


@pytest.mark.parametrize("nothing", ["root_density_ratio", "draw_m"])
def test_shares_stay_numbers_where_a_divisor_is_nothing(plot: Plot, nothing: str) -> None:
    none = plot._replace(**{nothing: 0.0})
    roots = geometry(none, settle(none), np.array([0.0, 7.0, 8.0, 500.0]))
    assert np.all((roots.ball_share_fraction >= 0) & (roots.ball_share_fraction <= 1))
    assert np.all((roots.contact_fraction >= 0) & (roots.contact_fraction <= 1))


def test_the_canopy_fills_out_and_ends_at_the_cell(plot: Plot) -> None:
    fixed = settle(plot)
    halfway = 7 * 5.6
    assert canopy_m2(plot, fixed, 0.0) == 0.20
    assert canopy_m2(plot, fixed, halfway) == pytest.approx(0.325)
    assert canopy_m2(plot, fixed, 500.0) == pytest.approx(0.45)
    wide = plot._replace(canopy_full_m2=2.0)
    assert canopy_m2(wide, settle(wide), 500.0) == 0.9


@pytest.mark.parametrize(
    ("warmth_c", "expected"), [(-3, 0), (6, 0), (12, 0.5), (18, 1), (20.4, 1.2), (30, 1.2)]
)
def test_warm_days(warmth_c: float, expected: float) -> None:
    assert warm_days_of(warmth_c) == pytest.approx(expected)


def test_growing_roots_take_soil_over_with_its_water(plot: Plot) -> None:
    fixed = settle(plot)
    before = geometry(plot, fixed, STORES.warm_days)
    grown = grow(18.0, plot, fixed, before, STORES)
    after = geometry(plot, fixed, grown.warm_days)
    assert grown.warm_days == 51.0
    assert grown.beyond_store_l / after.beyond_volume_l == pytest.approx(
        20.0 / before.beyond_volume_l
    )
    assert grown.reach_store_l + grown.beyond_store_l == pytest.approx(20.5)
    assert grown[:4] == STORES[:4]


def test_with_no_soil_left_nothing_is_taken_over(plot: Plot) -> None:
    shallow = plot._replace(bed_depth_m=0.25)
    fixed = settle(shallow)
    old = STORES._replace(warm_days=1000.0, beyond_store_l=0.0)
    grown = grow(18.0, shallow, fixed, geometry(shallow, fixed, 1000.0), old)
    assert (grown.reach_store_l, grown.beyond_store_l) == (0.5, 0.0)


def test_what_is_not_a_number_stays_so(plot: Plot) -> None:
    roots = geometry(plot, settle(plot), np.array([10.0, np.nan]))
    for field in (roots.reach_volume_l, roots.ball_share_fraction, roots.reach_radius_m):
        assert np.isnan(field).tolist() == [False, True]
