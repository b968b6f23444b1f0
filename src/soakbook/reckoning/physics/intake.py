"""Rain and soaks on their way into mulch, ball, reach and beyond; what drains or runs off again."""

from typing import NamedTuple

from soakbook.reckoning.physics.records import Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import Geometry, geometry
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.physics.words import greater, lesser, over


class Received(NamedTuple):
    """What came, and what of it left again at once; fields as in `Flows`."""

    rain_l: Number
    soak_l: Number
    given_lost_l: Number
    drained_l: Number
    run_off_l: Number
    intake_mm: Number
    ball_from_soak_l: Number
    ball_from_rain_l: Number
    mulch_taken_mm: Number


class Fallen(NamedTuple):
    """Rain and thrown water over the cell, as mulch and soil take it in."""

    rained_mm: Number  # rain alone, at the bed
    bed_mm: Number  # Pb, with what was thrown
    mulch_taken_mm: Number
    intake_mm: Number  # Pi
    shed_mm: Number  # more than the soil takes in the time


class Wetted(NamedTuple):
    """Where the water that went in has gone, litres."""

    ball_l: Number
    reach_l: Number
    beyond_l: Number
    no_room_l: Number  # found all three full
    ball_from_rain_l: Number


def moisten(
    sky: Sky, hand: Hand, ground: Ground, plot: Plot, fixed: Fixed, stores: Stores
) -> tuple[Stores, Received, Geometry]:
    """Stores after the day's rain and soak have gone in and the excess has drained.

    Nothing has dried, been drunk or grown yet: these are the stores a morning shows.

    Parameters
    ----------
    sky, hand, ground : Sky, Hand, Ground
        The day. What is the same for all members is cheapest in shape (planting, 1).
    plot, fixed : Plot, Fixed
        The plot and what `settle` made of it.
    stores : Stores
        As the last evening left them.

    Returns
    -------
    tuple of Stores, Received, Geometry
        The stores, the ledger so far, and this morning's geometry.

    Notes
    -----
    (16) to (26).
    """
    roots = geometry(plot, fixed, stores.warm_days)
    soaked = hand.soak_l * hand.soak_efficiency  # (19)
    thrown = hand.broadcast_l * hand.broadcast_efficiency
    fallen = fall(sky, thrown * fixed.per_cell, ground, plot, stores.mulch_store_mm)
    wetted = wet(fallen, soaked, hand.aim_fraction * soaked, fixed, roots, stores)
    reach_l = stores.reach_store_l + wetted.reach_l
    beyond_l = stores.beyond_store_l + wetted.beyond_l
    reach_over = greater(reach_l - roots.reach_capacity_l, 0.0)
    beyond_over = greater(beyond_l - roots.beyond_capacity_l, 0.0)
    reach_drained = plot.drain_fraction * reach_over  # (26)
    beyond_drained = plot.drain_fraction * beyond_over  # (26)
    bowl_left = stores.bowl_skin_depletion_mm - fallen.intake_mm - soaked * fixed.per_bowl
    open_left = stores.open_skin_depletion_mm - fallen.intake_mm
    moist = Stores(
        mulch_store_mm=stores.mulch_store_mm + fallen.mulch_taken_mm,
        bowl_skin_depletion_mm=greater(bowl_left, 0.0),  # (24)
        open_skin_depletion_mm=greater(open_left, 0.0),  # (25)
        ball_store_l=stores.ball_store_l + wetted.ball_l,
        reach_store_l=reach_l - reach_drained,
        beyond_store_l=beyond_l - beyond_drained,
        warm_days=stores.warm_days,
    )
    received = Received(
        rain_l=fallen.rained_mm * plot.cell_m2,
        soak_l=hand.soak_l + hand.broadcast_l,
        given_lost_l=(hand.soak_l - soaked) + (hand.broadcast_l - thrown),
        drained_l=reach_drained + beyond_drained,
        run_off_l=fallen.shed_mm * plot.cell_m2 + wetted.no_room_l,
        intake_mm=fallen.intake_mm,
        ball_from_soak_l=wetted.ball_l - wetted.ball_from_rain_l,
        ball_from_rain_l=wetted.ball_from_rain_l,
        mulch_taken_mm=fallen.mulch_taken_mm,
    )
    return moist, received, roots


def fall(sky: Sky, thrown_mm: Number, ground: Ground, plot: Plot, mulch_store_mm: Number) -> Fallen:
    """What mulch and soil take in of the rain and of water thrown over both."""
    rained = sky.rain_mm * plot.rain_share  # (16)
    Pb = rained + thrown_mm
    room = greater(ground.mulch_capacity_mm - mulch_store_mm, 0.0)
    taken = lesser(ground.mulch_cover_fraction * Pb, room)  # (17)
    Pn = Pb - taken
    Pi = lesser(Pn, plot.intake_mm_h * sky.rain_hours + plot.ponding_mm)  # (18)
    return Fallen(rained, Pb, taken, Pi, Pn - Pi)


def wet(
    fallen: Fallen, soaked_l: Number, aimed_l: Number, fixed: Fixed, roots: Geometry, stores: Stores
) -> Wetted:
    """Where the water goes: the ball to its capacity, then reach and beyond to saturation.

    A soak fills the ball with what is aimed at it; the rest of it goes into the bowl round the ball.
    """
    Pi, ab, ar = fallen.intake_mm, fixed.ball_m2, roots.reach_m2
    on_ball = Pi * ab
    offered = aimed_l + on_ball
    ball_room = greater(roots.ball_capacity_l - stores.ball_store_l, 0.0)
    to_ball = lesser(offered, ball_room)  # (20)
    rest = soaked_l + on_ball - to_ball  # (21)
    reach_of_rest = rest * (roots.reach_in_bowl_m2 * fixed.per_ring)  # (21)
    reach_offered = reach_of_rest + Pi * (ar - ab)
    reach_room = roots.reach_saturation_l - stores.reach_store_l
    into_reach = lesser(reach_offered, reach_room)  # (22)
    overflow = reach_offered - into_reach
    beyond_offered = rest - reach_of_rest + Pi * roots.beyond_m2 + overflow
    beyond_room = roots.beyond_saturation_l - stores.beyond_store_l
    into_beyond = lesser(beyond_offered, beyond_room)  # (23)
    natural = on_ball * over(fallen.rained_mm, fallen.bed_mm)
    return Wetted(
        ball_l=to_ball,
        reach_l=into_reach,
        beyond_l=into_beyond,
        no_room_l=beyond_offered - into_beyond,
        ball_from_rain_l=to_ball * over(natural, offered),
    )
