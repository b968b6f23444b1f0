"""Evaporation: mulch first, then the two skins of bare soil, out of the stores below them."""

from typing import NamedTuple

from soakbook.reckoning.physics.drinking import drink
from soakbook.reckoning.physics.records import Ground, Number, Plot, Stores
from soakbook.reckoning.physics.roots import Geometry
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.physics.words import greater, lesser, over

MULCH_SHARE_OF_ENERGY = 0.5  # 0.25 to 1; one lysimeter's first day agrees with the half


class Air(NamedTuple):
    """What the air asks of one plant's cell on one day."""

    et0_mm: Number  # E0, at the bed
    kc: Number  # Kc of (27), the most leaves and ground together can lose
    kcb_cell: Number  # Kcb over the cell, what the leaves ask of it
    canopy_m2: Number


class Skin(NamedTuple):
    """The evaporating layer of one part of the cell, as millimetres over the whole cell."""

    exposed_fraction: Number  # of the cell: xb or xo
    wet_mm: Number  # what it can still lose
    threshold_mm: Number  # below this it dries ever more slowly


class Dried(NamedTuple):
    """What each skin drew from each store under it, litres; the ball lies under the bowl."""

    from_ball_l: Number
    bowl_from_reach_l: Number
    open_from_reach_l: Number
    bowl_from_beyond_l: Number
    open_from_beyond_l: Number


class Evaporated(NamedTuple):
    """What dried in one day, litres a plant."""

    soil_evaporated_l: Number
    mulch_evaporated_l: Number
    ball_dried_l: Number


def evaporate(
    air: Air, ground: Ground, plot: Plot, fixed: Fixed, roots: Geometry, stores: Stores
) -> tuple[Stores, Evaporated]:
    """Stores after mulch and bare soil have dried for a day, before the plant drinks.

    Parameters
    ----------
    air, ground : Air, Ground
        The day.
    plot, fixed, roots : Plot, Fixed, Geometry
        The plot, what `settle` made of it, and this morning's geometry.
    stores : Stores
        After rain and soak.

    Returns
    -------
    tuple of Stores, Evaporated
        The stores, and what left them.

    Notes
    -----
    (28) to (31): FAO-56's evaporation layer twice, over the bowl that a hand waters and over the
    open ground that only rain wets.
    """
    energy = (air.kc - air.kcb_cell) * air.et0_mm  # (29)
    to_mulch = MULCH_SHARE_OF_ENERGY * ground.mulch_cover_fraction * energy
    mulch_dried = drink(stores.mulch_store_mm, ground.mulch_capacity_mm, to_mulch)  # (29)

    bowl_bare, open_bare = bare_m2(air.canopy_m2, plot, fixed)
    bowl = skin(bowl_bare * fixed.per_cell, stores.bowl_skin_depletion_mm, plot, fixed)
    open_ground = skin(open_bare * fixed.per_cell, stores.open_skin_depletion_mm, plot, fixed)
    room = energy - mulch_dried
    Eb, Eo = skin_evaporation(air, ground.mulch_factor, room, bowl, open_ground)

    lost = out_of_stores(Eb * plot.cell_m2, Eo * plot.cell_m2, fixed, roots, stores)
    bowl_lost = lost.from_ball_l + lost.bowl_from_reach_l + lost.bowl_from_beyond_l
    open_lost = lost.open_from_reach_l + lost.open_from_beyond_l
    dried = Stores(
        mulch_store_mm=stores.mulch_store_mm - mulch_dried,
        bowl_skin_depletion_mm=stores.bowl_skin_depletion_mm + over(bowl_lost, bowl_bare),  # (31)
        open_skin_depletion_mm=stores.open_skin_depletion_mm + over(open_lost, open_bare),  # (31)
        ball_store_l=stores.ball_store_l - lost.from_ball_l,
        reach_store_l=stores.reach_store_l - lost.bowl_from_reach_l - lost.open_from_reach_l,
        beyond_store_l=stores.beyond_store_l - lost.bowl_from_beyond_l - lost.open_from_beyond_l,
        warm_days=stores.warm_days,
    )
    return dried, Evaporated(bowl_lost + open_lost, mulch_dried * plot.cell_m2, lost.from_ball_l)


def bare_m2(canopy_m2: Number, plot: Plot, fixed: Fixed) -> tuple[Number, Number]:
    """Ground in the sun, of the bowl and of the rest; the canopy shades the bowl first."""
    over_bowl = lesser(canopy_m2, fixed.bowl_m2)
    bowl_bare = fixed.bowl_m2 - plot.canopy_shade_fraction * over_bowl  # (27)
    open_bare = fixed.open_m2 - plot.canopy_shade_fraction * (canopy_m2 - over_bowl)  # (27)
    return bowl_bare, open_bare


def skin(exposed_fraction: Number, depletion_mm: Number, plot: Plot, fixed: Fixed) -> Skin:
    """One part of the ground as a skin at this depletion."""
    return Skin(
        exposed_fraction=exposed_fraction,
        wet_mm=exposed_fraction * (plot.tew_mm - depletion_mm),  # (28)
        threshold_mm=exposed_fraction * fixed.skin_threshold_mm,  # (30)
    )


def skin_evaporation(
    air: Air,
    mulch_factor: Number,
    room_mm: Number,
    bowl: Skin,
    open_ground: Skin,
    drink_start_of_day: bool = False,
) -> tuple[Number, Number]:
    """What bowl and open ground evaporate in one day, each in mm over the whole cell.

    Parameters
    ----------
    air : Air
        The day.
    mulch_factor : number or array
        What evaporation keeps under the mulch [0-1].
    room_mm : number or array
        Energy that leaves and mulch have left over [mm, >= 0].
    bowl, open_ground : Skin
        The two skins after rain and soak.
    drink_start_of_day : bool
        As in `drink`.

    Returns
    -------
    tuple of two numbers or arrays
        Eb and Eo.

    References
    ----------
    FAO Irrigation and Drainage Paper 56, eqs 71 and 74. Allen et al. (2005), J. Irrig. Drain. Eng.
    131(1), for the split of energy between two parts wetted differently (from memory).
    """
    most = mulch_factor * air.et0_mm
    spare = air.kc - air.kcb_cell
    to_bowl = spare * over(bowl.wet_mm, bowl.wet_mm + open_ground.wet_mm)  # (28)
    eb = most * lesser(to_bowl, bowl.exposed_fraction * air.kc)  # (30)
    eo = most * lesser(spare - to_bowl, open_ground.exposed_fraction * air.kc)  # (30)
    Eb = drink(bowl.wet_mm, bowl.threshold_mm, eb, drink_start_of_day)  # (30)
    Eo = drink(open_ground.wet_mm, open_ground.threshold_mm, eo, drink_start_of_day)  # (30)
    kept = lesser(over(room_mm, Eb + Eo), 1.0)
    return Eb * kept, Eo * kept


def out_of_stores(
    bowl_l: Number, open_l: Number, fixed: Fixed, roots: Geometry, stores: Stores
) -> Dried:
    """What each store under the skins really gives of what they ask.

    Each part of the ground dries the stores under it by area. A store gives at most what it has;
    with too little for both skins it cuts both alike.
    """
    ball_under_bowl = fixed.ball_of_bowl_fraction  # (15)
    reach_under_bowl = roots.reach_in_bowl_m2 * fixed.per_bowl  # (15)
    reach_under_open = greater(roots.reach_m2 - fixed.bowl_m2, 0.0) * fixed.per_open
    bowl_of_reach = bowl_l * reach_under_bowl
    open_of_reach = open_l * reach_under_open
    bowl_of_beyond = bowl_l * (1.0 - ball_under_bowl) - bowl_of_reach
    open_of_beyond = open_l - open_of_reach
    reach_gives = share_given(bowl_of_reach + open_of_reach, stores.reach_store_l)
    beyond_gives = share_given(bowl_of_beyond + open_of_beyond, stores.beyond_store_l)
    return Dried(
        from_ball_l=lesser(bowl_l * ball_under_bowl, stores.ball_store_l),  # (31)
        bowl_from_reach_l=bowl_of_reach * reach_gives,
        open_from_reach_l=open_of_reach * reach_gives,
        bowl_from_beyond_l=bowl_of_beyond * beyond_gives,
        open_from_beyond_l=open_of_beyond * beyond_gives,
    )


def share_given(asked_l: Number, store_l: Number) -> Number:
    """Share of what is asked of a store that it can give."""
    return lesser(over(store_l, asked_l), 1.0)  # (31)
