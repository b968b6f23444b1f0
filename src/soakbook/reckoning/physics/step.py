"""The day: `next_day` takes one evening's stores to the next.

One source for numbers and arrays, in the order of DEVELOPERS.md, The balance by number. The equations
stand in `intake`, `skins`, `drinking` and `roots`; what a plot alone decides is in `settling`.
Four rules hold in these files: arithmetic and the words of `words` only; flat records of numbers;
a flux is limited before it is taken, so no store is clipped afterwards; what follows from the plot
is settled once a run.
"""

from typing import NamedTuple

from soakbook.reckoning.physics.drinking import exchange_to_ball, thresholds, transpire
from soakbook.reckoning.physics.intake import moisten
from soakbook.reckoning.physics.records import Flows, Ground, Hand, Number, Plot, Sky, Stores
from soakbook.reckoning.physics.roots import Geometry, canopy_m2, grow
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.physics.skins import Air, evaporate
from soakbook.reckoning.physics.words import greater


class Lost(NamedTuple):
    """What left ball, reach, beyond and mulch on a drying day; fields as in `Flows`."""

    transpired_l: Number
    soil_evaporated_l: Number
    mulch_evaporated_l: Number
    asked_l: Number
    ball_drunk_l: Number
    exchange_to_ball_l: Number


def next_day(
    sky: Sky, hand: Hand, ground: Ground, plot: Plot, fixed: Fixed, stores: Stores
) -> tuple[Stores, Flows]:
    """Stores of the next evening, and what moved on the way there.

    Parameters
    ----------
    sky, hand, ground : Sky, Hand, Ground
        The day's weather, what was given, and mulch and leaf as they stand.
    plot, fixed : Plot, Fixed
        The plot and what `settle` made of it.
    stores : Stores
        As the last evening left them.

    Returns
    -------
    tuple of Stores, Flows
        Every field has the shape its inputs broadcast to, or less.

    Notes
    -----
    (10) to (39). `moisten` alone gives the stores a morning shows.
    """
    moist, received, roots = moisten(sky, hand, ground, plot, fixed, stores)
    dried, lost = dry(sky, ground, plot, fixed, roots, moist)
    grown = grow(sky.soil_warmth_c, plot, fixed, roots, dried)
    flows = Flows(
        rain_l=received.rain_l,
        soak_l=received.soak_l,
        given_lost_l=received.given_lost_l,
        transpired_l=lost.transpired_l,
        soil_evaporated_l=lost.soil_evaporated_l,
        mulch_evaporated_l=lost.mulch_evaporated_l,
        drained_l=received.drained_l,
        run_off_l=received.run_off_l,
        asked_l=lost.asked_l,
        intake_mm=received.intake_mm,
        ball_from_soak_l=received.ball_from_soak_l,
        ball_from_rain_l=received.ball_from_rain_l,
        ball_drunk_l=lost.ball_drunk_l,
        exchange_to_ball_l=lost.exchange_to_ball_l,
        mulch_taken_mm=received.mulch_taken_mm,
    )
    return grown, flows


def dry(
    sky: Sky, ground: Ground, plot: Plot, fixed: Fixed, roots: Geometry, stores: Stores
) -> tuple[Stores, Lost]:
    """Stores after mulch and soil have dried, the plant has drunk, ball and reach evened out.

    Parameters
    ----------
    sky, ground : Sky, Ground
        The day.
    plot, fixed, roots : Plot, Fixed, Geometry
        The plot, what `settle` made of it, and this morning's geometry.
    stores : Stores
        After rain and soak, as `moisten` leaves them.

    Returns
    -------
    tuple of Stores, Lost
        The stores, and what left them.

    Notes
    -----
    (27) to (38).
    """
    E0 = sky.et0_mm * plot.exposure_factor  # (16)
    kcb = plot.kcb * ground.leaf_fraction
    canopy = canopy_m2(plot, fixed, stores.warm_days)
    kcb_canopy_m2 = kcb * canopy
    kcb_cell = kcb_canopy_m2 * fixed.per_cell  # (27)
    asked_l = kcb_canopy_m2 * E0  # (32)
    air = Air(
        et0_mm=E0,
        kc=greater(sky.kc_max, kcb_cell + 0.05),  # (27)
        kcb_cell=kcb_cell,
        canopy_m2=canopy,
    )
    dried, evaporated = evaporate(air, ground, plot, fixed, roots, stores)
    drunk = transpire(asked_l, thresholds(plot, kcb, E0), roots, dried)
    ball_l = dried.ball_store_l - drunk.from_ball_l
    reach_l = dried.reach_store_l - drunk.from_reach_l
    to_ball = exchange_to_ball(plot, roots, ball_l, reach_l)
    evened = Stores(
        mulch_store_mm=dried.mulch_store_mm,
        bowl_skin_depletion_mm=dried.bowl_skin_depletion_mm,
        open_skin_depletion_mm=dried.open_skin_depletion_mm,
        ball_store_l=ball_l + to_ball,
        reach_store_l=reach_l - to_ball,
        beyond_store_l=dried.beyond_store_l,
        warm_days=dried.warm_days,
    )
    lost = Lost(
        transpired_l=drunk.from_ball_l + drunk.from_reach_l,
        soil_evaporated_l=evaporated.soil_evaporated_l,
        mulch_evaporated_l=evaporated.mulch_evaporated_l,
        asked_l=asked_l,
        ball_drunk_l=drunk.from_ball_l + evaporated.ball_dried_l,
        exchange_to_ball_l=to_ball,
    )
    return evened, lost
