from math import pi

import numpy as np
import pytest

from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.physics.settling import settle


def test_a_usual_plot(plot: Plot) -> None:
    fixed = settle(plot)
    assert fixed.ball_radius_m == 0.14
    assert fixed.ball_m2 == pytest.approx(pi * 0.14**2)
    assert fixed.ball_capacity_l == pytest.approx(1.65)
    assert fixed.bowl_m2 == plot.bowl_m2
    assert fixed.ball_of_bowl_fraction == pytest.approx(0.4)
    assert fixed.soil_l == pytest.approx(0.9 * 350 - 10)
    assert fixed.furthest_root_m == pytest.approx((0.9 / pi) ** 0.5 - 0.14)
    assert fixed.no_ball == 0.0


def test_a_ball_deeper_than_the_bed_keeps_its_volume(plot: Plot) -> None:
    """A ball 0.40 m deep in 0.25 m of soil is 0.25 m deep and as much wider."""
    deep = plot._replace(ball_radius_m=0.15, ball_depth_m=0.40, bed_depth_m=0.25)
    fixed = settle(deep)
    assert fixed.ball_depth_m == 0.25
    assert fixed.ball_m2 * fixed.ball_depth_m == pytest.approx(pi * 0.15**2 * 0.40)
    wider = deep._replace(ball_radius_m=fixed.ball_radius_m, ball_depth_m=fixed.ball_depth_m)
    assert settle(wider) == fixed


def test_a_bowl_is_neither_inside_the_ball_nor_beyond_the_cell(plot: Plot) -> None:
    assert settle(plot._replace(bowl_m2=0.01)).bowl_m2 == pytest.approx(1.2 * pi * 0.14**2)
    assert settle(plot._replace(bowl_m2=3.0)).bowl_m2 == pytest.approx(0.999 * 0.9)


def test_a_ball_as_wide_as_its_cell_leaves_numbers(plot: Plot) -> None:
    fixed = settle(plot._replace(cell_m2=0.05))
    assert all(np.isfinite(value) for value in fixed)
    assert fixed.furthest_root_m == 0.0


def test_without_ball_or_draw_all_is_finite(plot: Plot) -> None:
    bare = plot._replace(ball_volume_l=0.0, ball_radius_m=0.0, ball_depth_m=0.25, draw_m=0.0)
    fixed = settle(bare)
    assert all(np.isfinite(value) for value in fixed)
    assert (fixed.no_ball, fixed.ball_capacity_l) == (1.0, 0.0)


def test_constants_are_no_larger_than_their_inputs(plot: Plot) -> None:
    many = plot._replace(
        cell_m2=np.array([[0.9], [1.2]]), root_mm_per_warm_day=np.full((2, 5), 2.5)
    )
    fixed = settle(many)
    assert np.shape(fixed.growth_m) == (2, 5)
    assert np.shape(fixed.open_m2) == (2, 1)
    assert np.shape(fixed.saturable_fraction) == ()
