"""What follows from a plot alone, worked out once a run so that no day does it again."""

from typing import NamedTuple

import numpy as np

from soakbook.reckoning.physics.records import Number, Plot
from soakbook.reckoning.physics.words import either, greater, lesser, over

LEAST_BOWL_IN_BALLS = 1.2
MOST_BOWL_OF_CELL = 0.999
DEEPER_BY_REACH = 0.3  # metres down for each metre out


class Fixed(NamedTuple):
    """Constants of a plot; `per_` is one over the thing, so that the day need not divide."""

    cell_radius_m: Number  # sqrt(A / pi), the furthest a root is reckoned to stand
    ball_radius_m: Number  # of the ball in the ground: wider if the bed is shallower than the ball
    ball_depth_m: Number  # at most the bed's depth
    ball_m2: Number  # ab
    ball_capacity_l: Number  # Cb
    bowl_m2: Number  # held within 1.2 x ball area and 0.999 A
    open_m2: Number  # the cell outside the bowl
    ball_in_bowl_m2: Number
    ball_of_bowl_fraction: Number  # sb
    soil_l: Number  # the bed's soil in the cell, without the ball
    saturable_fraction: Number  # SAT - WP
    growth_m: Number  # how far roots grow in one warm day
    furthest_root_m: Number  # the largest r the cell allows
    first_edge_m: Number  # where reach ends before any growth: ball, root start and draw
    deepest_m: Number  # the largest z
    no_ball: Number  # 1 without a ball, else 0
    skin_threshold_mm: Number  # TEW - REW
    canopy_gain_m2: Number
    per_canopy_day: Number
    per_draw: Number
    per_cell: Number
    per_bowl: Number
    per_ring: Number  # the bowl outside the ball
    per_open: Number


def settle(plot: Plot) -> Fixed:
    """Constants of a plot for `moisten`, `next_day` and `geometry`.

    A ball deeper than the bed is made wider and shallower; the bowl is held within 1.2 x ball area
    and 0.999 of the cell.

    Parameters
    ----------
    plot : Plot
        Fields of shape (planting, member) or (planting, 1), or numbers.

    Returns
    -------
    Fixed
        Each field has the least shape its own inputs need.
    """
    A, zbed = plot.cell_m2, plot.bed_depth_m
    cell_radius = square_root(A / np.pi)
    too_deep = greater(plot.ball_depth_m / zbed, 1.0)
    radius = lesser(plot.ball_radius_m * square_root(too_deep), cell_radius)
    depth = lesser(plot.ball_depth_m, zbed)
    ball = np.pi * radius * radius  # (11)
    bowl = lesser(greater(plot.bowl_m2, LEAST_BOWL_IN_BALLS * ball), MOST_BOWL_OF_CELL * A)
    ball_in_bowl = lesser(ball, bowl)
    furthest = cell_radius - radius  # (10)
    deeper = DEEPER_BY_REACH * greater(furthest - plot.root_start_m, 0.0)
    return Fixed(
        cell_radius_m=cell_radius,
        ball_radius_m=radius,
        ball_depth_m=depth,
        ball_m2=ball,
        bowl_m2=bowl,
        open_m2=A - bowl,
        ball_in_bowl_m2=ball_in_bowl,
        ball_of_bowl_fraction=ball_in_bowl / bowl,  # (15)
        soil_l=greater(1000.0 * A * zbed - plot.ball_volume_l, 0.0),  # (13)
        furthest_root_m=furthest,
        first_edge_m=radius + plot.root_start_m + plot.draw_m,
        deepest_m=lesser(depth + deeper, zbed),  # (12)
        no_ball=either(np.greater(plot.ball_volume_l, 0.0), 0.0, 1.0),
        skin_threshold_mm=plot.tew_mm - plot.rew_mm,
        canopy_gain_m2=plot.canopy_full_m2 - plot.canopy_start_m2,
        per_canopy_day=1.0 / plot.canopy_days,
        per_draw=over(1.0, plot.draw_m),
        per_cell=1.0 / A,
        per_bowl=1.0 / bowl,
        per_ring=over(1.0, bowl - ball_in_bowl),
        per_open=1.0 / (A - bowl),
        **of_soil_and_roots(plot),
    )


SOIL_AND_ROOTS = ("ball_capacity_l", "saturable_fraction", "growth_m")
"""The fields of `Fixed` that a feel can change."""


def of_soil_and_roots(plot: Plot) -> dict[str, Number]:
    """What of `Fixed` follows from soil, mix and roots alone: the fields of `SOIL_AND_ROOTS`."""
    return {
        "ball_capacity_l": plot.ball_volume_l * plot.ball_available_fraction,  # (14)
        "saturable_fraction": plot.available_fraction + plot.drainable_fraction,
        "growth_m": 0.001 * plot.root_mm_per_warm_day,
    }


def square_root(x: Number) -> Number:
    """Square root of a number or an array."""
    result: Number = np.sqrt(x)
    return result
