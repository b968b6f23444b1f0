"""How a plant drinks from ball and reach within one day, and how the two even out overnight."""

from typing import NamedTuple

from soakbook.reckoning.physics.records import Number, Plot, Stores
from soakbook.reckoning.physics.roots import Geometry
from soakbook.reckoning.physics.words import greater, lesser, one_minus_exp, over

LEAST_DEPLETION_FRACTION = 0.1
MOST_DEPLETION_FRACTION = 0.8


class Thresholds(NamedTuple):
    """Share of a store that is drunk at full rate on this day, (33)."""

    ball_depletion_fraction: Number  # pb
    bed_depletion_fraction: Number  # ps


class Drunk(NamedTuple):
    """What the plant drank in one day, litres, by store."""

    from_ball_l: Number
    from_reach_l: Number


def drink(
    store: Number, threshold: Number, demand: Number, drink_start_of_day: bool = False
) -> Number:
    """What one day takes from a store: full rate down to the threshold, ever slower below it.

    Parameters
    ----------
    store : number or array
        Water the morning finds [any unit, >= 0].
    threshold : number or array
        Store below which less is drawn than asked [same unit, >= 0]; with 0, all or nothing.
    demand : number or array
        Asked over the day [same unit, >= 0].
    drink_start_of_day : bool
        For published checks only: the rate of the morning all day, as FAO-56's tables have it.

    Returns
    -------
    number or array
        Taken, never more than the store or the demand.

    Notes
    -----
    The exact solution over one day of dS/dt = -D min(1, S / threshold). A store that one day could
    empty is never overdrawn, and nothing is clipped afterwards.

    References
    ----------
    FAO Irrigation and Drainage Paper 56, eqs 74 and 84, for the rate below the threshold.
    """
    if drink_start_of_day:  # a choice of method, the same for every lane
        return lesser(store, lesser(over(store, threshold), 1.0) * demand)
    full = lesser(demand, greater(store - threshold, 0.0))
    slow = one_minus_exp(over(demand - full, threshold))
    return full + lesser(store, threshold) * slow  # (35)


def depletion_fraction(table_p: Number, demand_mm: Number) -> Number:
    """Share of a store that is drunk at full rate on a day that asks this much.

    Parameters
    ----------
    table_p : number or array
        For a day that asks 5 mm [-, 0 to 1].
    demand_mm : number or array
        Asked by the canopy [mm, >= 0].

    Returns
    -------
    number or array
        [-, 0.1 to 0.8]

    References
    ----------
    FAO Irrigation and Drainage Paper 56, table 22, note 2.
    """
    p = table_p + 0.04 * (5.0 - demand_mm)
    return lesser(greater(p, LEAST_DEPLETION_FRACTION), MOST_DEPLETION_FRACTION)  # (33)


def thresholds(plot: Plot, kcb: Number, et0_mm: Number) -> Thresholds:
    """Depletion fractions of ball and bed on a day.

    Parameters
    ----------
    plot : Plot
        For the p of ball and bed.
    kcb : number or array
        Basal coefficient of the canopy on the day: that of the plot, less when bare of leaf [-].
    et0_mm : number or array
        ET0 at the bed: that of the gauge x exposure [mm].

    Returns
    -------
    Thresholds
    """
    demand_mm = kcb * et0_mm
    return Thresholds(
        ball_depletion_fraction=depletion_fraction(plot.ball_p, demand_mm),
        bed_depletion_fraction=depletion_fraction(plot.bed_p, demand_mm),
    )


def transpire(asked_l: Number, limits: Thresholds, roots: Geometry, stores: Stores) -> Drunk:
    """What the plant drinks: from the ball, from the reach, then each helps the other out.

    Parameters
    ----------
    asked_l : number or array
        T0, the day's demand [L a plant, >= 0].
    limits : Thresholds
        Depletion fractions of the day.
    roots, stores : Geometry, Stores
        This morning's geometry; the stores after rain, soak and skins.

    Returns
    -------
    Drunk
        Never more than was asked, nor than the stores hold.

    Notes
    -----
    Whichever store is still above its threshold makes up what the other could not give.
    """
    Sb, Sr = stores.ball_store_l, stores.reach_store_l
    ball_threshold = roots.ball_capacity_l * (1.0 - limits.ball_depletion_fraction)
    reach_threshold = roots.reach_capacity_l * (1.0 - limits.bed_depletion_fraction)
    of_ball = roots.ball_share_fraction * asked_l
    of_reach = asked_l - of_ball
    ub = drink(Sb, ball_threshold, of_ball)  # (36)
    ur = drink(Sr, reach_threshold, of_reach)  # (36)
    ball_spare = greater(Sb - ub - ball_threshold, 0.0)
    reach_spare = greater(Sr - ur - reach_threshold, 0.0)
    reach_helps = lesser(roots.contact_fraction * (of_ball - ub), reach_spare)  # (37)
    ball_helps = lesser(of_reach - ur, ball_spare)  # (37)
    return Drunk(from_ball_l=ub + ball_helps, from_reach_l=ur + reach_helps)


def exchange_to_ball(plot: Plot, roots: Geometry, ball_l: Number, reach_l: Number) -> Number:
    """What the ball gains overnight from the reach around it; below 0 it loses [L].

    Notes
    -----
    k Cb Cr / (Cb + Cr) (Sr / Cr - Sb / Cb), at most Cb - Sb, multiplied out so that a store of no
    capacity divides nothing.
    """
    Cb, Cr = roots.ball_capacity_l, roots.reach_capacity_l
    even = plot.exchange_per_day * over(Cb * reach_l - Cr * ball_l, Cb + Cr)
    return lesser(even, Cb - ball_l)  # (38)
